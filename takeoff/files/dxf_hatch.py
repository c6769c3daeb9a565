"""Readers of hatches and of polygons with holes: the loops that bound them."""

from __future__ import annotations

from collections.abc import Callable, Iterator

import numpy as np
from numpy.typing import NDArray

from takeoff.errors import OutlineError, UnreadableError
from takeoff.files.dxf_curves import turn_between_deg
from takeoff.files.dxf_gathered import Gathered
from takeoff.files.dxf_placing import object_axes
from takeoff.files.dxf_rules import DxfRules
from takeoff.files.dxf_tags import Record
from takeoff.files.dxf_values import (
    number_of,
    numbers_of,
    point_of,
    points_of,
    vertices_of,
    whole_of,
)
from takeoff.files.dxf_walk import Placed
from takeoff.geometry.chaining import chained
from takeoff.geometry.curves import Run, ellipse_run_m, spline_run_m
from takeoff.geometry.strokes import Stroke

Array = NDArray[np.float64]

_POLYLINE_PATH = 2
_TEXT_BOX_PATH = 8


def read_hatch(here: Placed, gathered: Gathered) -> None:
    """Read the loops that bound a HATCH, for a drawing that has no other outlines."""
    before = len(gathered.strokes)
    for path in _paths(here):
        first = len(gathered.strokes)
        _add_path(path, here, gathered)
        drawn = gathered.strokes[first:]
        del gathered.strokes[first:]
        _take_up_path(drawn, here, gathered)
    del gathered.strokes[before:]


def read_mpolygon(here: Placed, gathered: Gathered) -> None:
    """Read the loops of an MPOLYGON, which is drawn like a hatch but is an outline itself."""
    record = here.entity.record
    offset = np.array([number_of(record, code, 0.0) for code in (11, 21)])
    for path in _paths(here):
        _add_path(path, here, gathered, offset=offset)


def _paths(here: Placed) -> Iterator[Record]:
    """Give the boundary paths of a hatch, the boxes about texts left out."""
    for path in _parted(here.entity.record, (91,), 92, (75, 76)):
        if not whole_of(path, 92) & _TEXT_BOX_PATH:
            yield path


def _add_path(
    path: Record, here: Placed, gathered: Gathered, *, offset: Array | None = None
) -> None:
    """Add the lines, arcs and curves of one path to the strokes."""
    record = here.entity.record
    height = float(point_of(record, 10, (0.0, 0.0, 0.0))[2])
    matrix = here.matrix @ object_axes(record)
    for (points, bulges), curve in _runs(path, whole_of(path, 92), gathered):
        moved = points if offset is None else points + offset
        at_height = np.column_stack([moved, np.full(len(points), height)])
        gathered.add_run(at_height, bulges, matrix, here, curve=curve)


def _take_up_path(drawn: list[Stroke], here: Placed, gathered: Gathered) -> None:
    """Keep the loops that one path of a hatch makes."""
    found = chained(drawn, rules=gathered.rules.outlines)
    gathered.hatches += found.loops
    if found.open_chains or found.branches_m:
        gathered.skip(here, "has a boundary that does not close")


def _parted(
    record: Record, after: tuple[int, ...], head: int, until: tuple[int, ...]
) -> Iterator[Record]:
    """Part the tags of a record at each head code, from one code to another."""
    started = False
    body: list[tuple[int, bytes]] = []
    for code, value in record.tags:
        if not started:
            started = code in after
        elif code in until:
            break
        elif code == head:
            if body:
                yield Record(record.kind, body, record.line)
            body = [(code, value)]
        elif body:
            body.append((code, value))
    if body:
        yield Record(record.kind, body, record.line)


def _runs(path: Record, flags: int, gathered: Gathered) -> Iterator[tuple[Run, bool]]:
    """Give the runs of one path in the unit of the drawing, and which stand for one curve."""
    if flags & _POLYLINE_PATH:
        vertices = vertices_of(path, path.tags)
        if len(vertices.points):
            closed = np.concatenate([vertices.points, vertices.points[:1]])
            yield (closed, vertices.bulges), False
        return
    for edge in _parted(path, (93,), 72, ()):
        kind = whole_of(edge, 72)
        reader = _EDGES.get(kind)
        if reader is None:
            raise UnreadableError(f"{path.place} has a boundary edge of an unknown kind")
        try:
            yield reader(edge, gathered), kind in _CURVED_EDGES
        except OutlineError as fault:
            raise UnreadableError(f"{path.place}: {fault.text}") from None


def _line(edge: Record, _: Gathered) -> Run:
    return np.array([point_of(edge, 10)[:2], point_of(edge, 11)[:2]]), np.zeros(1)


def _span_deg(edge: Record, rules: DxfRules) -> tuple[float, float]:
    """Give where a curved edge starts and how far it turns; clockwise ones count downwards."""
    handed = 1.0 if whole_of(edge, 73, 1) else -1.0
    start_deg, end_deg = number_of(edge, 50, 0.0), number_of(edge, 51, 360.0)
    return handed * start_deg, handed * turn_between_deg(start_deg, end_deg, rules)


def _arc(edge: Record, gathered: Gathered) -> Run:
    start_deg, turn_deg = _span_deg(edge, gathered.rules)
    angles = np.radians(start_deg + turn_deg * np.array([0.0, 0.5, 1.0]))
    spokes = number_of(edge, 40) * np.column_stack([np.cos(angles), np.sin(angles)])
    return point_of(edge, 10)[:2] + spokes, np.full(2, np.tan(np.radians(turn_deg) / 8.0))


def _ellipse(edge: Record, gathered: Gathered) -> Run:
    start_deg, turn_deg = _span_deg(edge, gathered.rules)
    ratio = number_of(edge, 40)
    major = point_of(edge, 11)[:2]
    axes = np.array([major, ratio * np.array([-major[1], major[0]])])
    params = np.degrees(
        [_parameter(np.radians(at), ratio) for at in (start_deg, start_deg + turn_deg)]
    )
    if abs(turn_deg) == 360.0:
        params[1] = params[0] + turn_deg
    unit_m = gathered.metres_per_unit
    points_m, bulges = ellipse_run_m(
        point_of(edge, 10)[:2] * unit_m, axes * unit_m, *params, rules=gathered.rules.outlines
    )
    return points_m / unit_m, bulges


def _parameter(angle: float, ratio: float) -> float:
    """Give the parameter of an ellipse at an angle about its centre, on the same turn."""
    if ratio <= 0.0:
        raise OutlineError("an ellipse has no width")
    within = np.arctan2(np.sin(angle) / ratio, np.cos(angle))
    return float(within + 2.0 * np.pi * np.round((angle - within) / (2.0 * np.pi)))


def _spline(edge: Record, gathered: Gathered) -> Run:
    weights = numbers_of(edge, 42)
    unit_m = gathered.metres_per_unit
    points_m, bulges = spline_run_m(
        whole_of(edge, 94),
        numbers_of(edge, 40),
        points_of(edge, 10)[:, :2] * unit_m,
        weights if len(weights) else None,
        rules=gathered.rules.outlines,
    )
    return points_m / unit_m, bulges


_LINE, _ARC, _ELLIPSE, _SPLINE = 1, 2, 3, 4
_CURVED_EDGES = (_ELLIPSE, _SPLINE)
_EDGES: dict[int, Callable[[Record, Gathered], Run]] = {
    _LINE: _line,
    _ARC: _arc,
    _ELLIPSE: _ellipse,
    _SPLINE: _spline,
}
