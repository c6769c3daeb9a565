"""Readers of polylines, the present kind and the old one with its vertices apart."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from takeoff.errors import UnreadableError
from takeoff.files.dxf_curves import note_thickness
from takeoff.files.dxf_gathered import Gathered
from takeoff.files.dxf_meshes import read_face_grid, read_polyface
from takeoff.files.dxf_placing import object_axes
from takeoff.files.dxf_tags import Record
from takeoff.files.dxf_values import Vertices, number_of, point_of, vertices_of, whole_of
from takeoff.files.dxf_walk import Placed

Array = NDArray[np.float64]

CLOSED = 1
_SPLINE_FIT = 4
_IN_SPACE = 8
_FACE_GRID = 16
_POLYFACE = 64
_FRAME_VERTEX = 16


def read_lwpolyline(here: Placed, gathered: Gathered) -> None:
    """Read an LWPOLYLINE with its bulges.

    Raises
    ------
    UnreadableError
        If it has more or fewer corners than it says, or a figure cannot be read.
    """
    record = here.entity.record
    vertices = vertices_of(record, record.tags)
    told = whole_of(record, 90, len(vertices.points))
    if told != len(vertices.points):
        raise UnreadableError(
            f"{here.place} says it has {told} corners, and has {len(vertices.points)}; the file is "
            "damaged: export the drawing again"
        )
    _add_vertices(here, gathered, vertices, height=number_of(record, 38, 0.0))


def read_polyline(here: Placed, gathered: Gathered) -> None:
    """Read a POLYLINE: flat with bulges, in space, or one of the two kinds of mesh."""
    flags = whole_of(here.entity.record, 70)
    if flags & _POLYFACE:
        read_polyface(here, gathered)
    elif flags & _FACE_GRID:
        read_face_grid(here, gathered)
    elif flags & _IN_SPACE:
        _read_in_space(here, gathered)
    else:
        _read_flat(here, gathered)


def _drawn_vertices(here: Placed) -> list[Record]:
    """Give the vertices that are drawn: those that only steer a fitted spline left out."""
    return [part for part in here.entity.parts if not whole_of(part, 70) & _FRAME_VERTEX]


def _read_flat(here: Placed, gathered: Gathered) -> None:
    """Read a flat POLYLINE, the vertices of a fitted curve in place of its frame."""
    record = here.entity.record
    drawn = _drawn_vertices(here)
    points = np.array([point_of(part, 10)[:2] for part in drawn]).reshape(-1, 2)
    bulges = np.array([number_of(part, 42, 0.0) for part in drawn])
    widths = [number_of(part, code, 0.0) for part in (record, *drawn) for code in (40, 41)]
    vertices = Vertices(points, bulges, max(widths))
    height = float(point_of(record, 10, (0.0, 0.0, 0.0))[2])
    _add_vertices(here, gathered, vertices, height=height)
    if whole_of(record, 70) & _SPLINE_FIT and len(vertices.points) > 2:
        gathered.chord_errors_m.append(_chord_error(vertices.points) * gathered.metres_per_unit)


def _add_vertices(here: Placed, gathered: Gathered, vertices: Vertices, *, height: float) -> None:
    """Take up flat vertices, closed where the flag says so."""
    record = here.entity.record
    if vertices.widest > 0.0:
        gathered.widths_m.append(vertices.widest * gathered.metres_per_unit)
    note_thickness(here, gathered)
    if len(vertices.points) < 2:
        gathered.skip(here, "has fewer than two corners")
        return
    heights = np.full(len(vertices.points), height)
    points = np.column_stack([vertices.points, heights])
    bulges = vertices.bulges
    if whole_of(record, 70) & CLOSED:
        points = np.concatenate([points, points[:1]])
    else:
        bulges = bulges[:-1]
    gathered.add_run(points, bulges, here.matrix @ object_axes(record), here)


def _read_in_space(here: Placed, gathered: Gathered) -> None:
    """Read a POLYLINE in space, which counts where it lies flat."""
    points = np.array([point_of(part, 10) for part in _drawn_vertices(here)]).reshape(-1, 3)
    if len(points) < 2:
        gathered.skip(here, "has fewer than two corners")
        return
    if whole_of(here.entity.record, 70) & CLOSED:
        points = np.concatenate([points, points[:1]])
    gathered.add_run(points, np.zeros(len(points) - 1), here.matrix, here)


def _chord_error(points: Array) -> float:
    """Estimate how far the chords of a tessellated curve lie from it."""
    chords = np.diff(points, axis=0)
    lengths = np.hypot(*chords.T)
    directions = np.arctan2(chords[:, 1], chords[:, 0])
    turns = np.abs((np.diff(directions) + np.pi) % (2.0 * np.pi) - np.pi)
    return float((np.minimum(lengths[1:], lengths[:-1]) * np.tan(turns / 4.0) / 2.0).max())
