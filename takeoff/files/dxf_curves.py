"""Readers of lines, arcs, circles, ellipses and splines."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from takeoff.errors import OutlineError, UnreadableError
from takeoff.files.dxf_gathered import Gathered
from takeoff.files.dxf_placing import moved, object_axes
from takeoff.files.dxf_rules import DxfRules
from takeoff.files.dxf_tags import Record
from takeoff.files.dxf_values import number_of, numbers_of, point_of, points_of, whole_of
from takeoff.files.dxf_walk import Placed
from takeoff.geometry.curves import ellipse_run_m, spline_run_m, spline_through

Array = NDArray[np.float64]

_CLOSED = 1


def read_line(here: Placed, gathered: Gathered) -> None:
    """Read a LINE."""
    record = here.entity.record
    ends = np.array([point_of(record, 10), point_of(record, 11)])
    note_thickness(here, gathered)
    gathered.add_run(ends, np.zeros(1), here.matrix, here)


def read_arc(here: Placed, gathered: Gathered) -> None:
    """Read an ARC: counter-clockwise in its own plane from one angle to the other."""
    record = here.entity.record
    start_deg = number_of(record, 50)
    turn_deg = turn_between_deg(start_deg, number_of(record, 51), gathered.rules)
    _add_round(here, gathered, start_deg, turn_deg)


def read_circle(here: Placed, gathered: Gathered) -> None:
    """Read a CIRCLE."""
    _add_round(here, gathered, -90.0, 360.0)


def _add_round(here: Placed, gathered: Gathered, start_deg: float, turn_deg: float) -> None:
    """Take up an arc of a circle as one or two arcs with bulges."""
    record = here.entity.record
    centre, radius = point_of(record, 10), number_of(record, 40)
    note_thickness(here, gathered)
    if radius <= 0.0:
        gathered.skip(here, "has no radius")
        return
    count = 2 if turn_deg > 180.0 else 1
    angles_deg = start_deg + turn_deg * np.arange(count + 1) / count
    angles = np.radians(angles_deg)
    points = centre + radius * np.column_stack([np.cos(angles), np.sin(angles), 0.0 * angles])
    bulges = np.full(count, np.tan(np.radians(turn_deg / count) / 4.0))
    if turn_deg == 360.0:
        points[-1] = points[0]
        bulges[:] = 1.0
    gathered.add_run(points, bulges, here.matrix @ object_axes(record), here)


def read_ellipse(here: Placed, gathered: Gathered) -> None:
    """Read an ELLIPSE or a stretch of one, by parameter from start to end."""
    record = here.entity.record
    centre, major = point_of(record, 10), point_of(record, 11)
    normal = point_of(record, 210, (0.0, 0.0, 1.0))
    length = float(np.linalg.norm(normal))
    if not major.any() or length == 0.0 or number_of(record, 40) <= 0.0:
        gathered.skip(here, "has no width")
        return
    minor = number_of(record, 40) * np.cross(normal / length, major)
    start_deg = float(np.degrees(number_of(record, 41, 0.0)))
    end_deg = float(np.degrees(number_of(record, 42, 2.0 * np.pi)))
    turn_deg = turn_between_deg(start_deg, end_deg, gathered.rules)
    start_deg %= 360.0
    corners = np.array([centre + a * major + b * minor for a in (-1, 1) for b in (-1, 1)])
    if gathered.plan_m(corners, here.matrix, here) is None:
        return
    unit_m = gathered.metres_per_unit
    axes_m = (np.array([major, minor]) @ here.matrix[:3, :3].T)[:, :2] * unit_m
    centre_m = (moved(centre[None, :], here.matrix) * unit_m)[0, :2]
    span_deg = np.array([start_deg, start_deg + turn_deg])
    [(points_m, bulges)] = gathered.fitted_once(
        (axes_m, span_deg),
        lambda: [ellipse_run_m(np.zeros(2), axes_m, *span_deg, rules=gathered.rules.outlines)],
    )
    points_m = points_m + centre_m
    if turn_deg == 360.0:
        points_m[-1] = points_m[0]
    gathered.add_curve((points_m, bulges), here)


def turn_between_deg(start_deg: float, end_deg: float, rules: DxfRules) -> float:
    """Give how far an arc turns from one angle on to another, a full turn where they are one.

    Parameters
    ----------
    start_deg, end_deg : float
        Angle at the start and at the end, counter-clockwise; whole turns do not count. [deg]
    rules : DxfRules
        How much beyond a full turn is rounding.

    Returns
    -------
    float
        Turn, above 0 and at most a full turn. [deg]

    Notes
    -----
    A full turn is often written a digit short of exact, so that it ends just beyond its start; a
    turn as small as that is meant only where the end is written just beyond the start itself.

    Examples
    --------
    >>> turn_between_deg(350.0, 10.0, DxfRules()), turn_between_deg(0.0, 360.0000001, DxfRules())
    (20.0, 360.0)
    """
    turn_deg = (end_deg - start_deg) % 360.0
    is_full = turn_deg <= rules.full_turn_deg and not 0.0 < end_deg - start_deg < 180.0
    return 360.0 if is_full else turn_deg


def read_spline(here: Placed, gathered: Gathered) -> None:
    """Read a SPLINE: by its control points, or through its fit points where it has no others.

    Raises
    ------
    UnreadableError
        If its counts do not fit each other, or a figure cannot be read.
    """
    record = here.entity.record
    if gathered.plan_m(points_of(record, 11), here.matrix, here) is None:
        return
    try:
        degree, knots, controls = _spline_of(record, gathered.metres_per_unit)
        controls_m = gathered.plan_m(controls, here.matrix, here)
        if controls_m is None:
            return
        weights = numbers_of(record, 41)
        shape_m = controls_m - controls_m[0]
        [(points_m, bulges)] = gathered.fitted_once(
            (np.array([degree]), knots, shape_m.round(15), weights),
            lambda: [
                spline_run_m(
                    degree,
                    knots,
                    shape_m,
                    weights if len(weights) else None,
                    rules=gathered.rules.outlines,
                )
            ],
        )
    except OutlineError as fault:
        raise UnreadableError(f"{here.place}: {fault.text}") from None
    gathered.add_curve((points_m + controls_m[0], bulges), here)


def _spline_of(record: Record, unit_m: float) -> tuple[int, Array, Array]:
    """Give degree, knots and control points of a SPLINE, in the unit of the drawing."""
    controls = points_of(record, 10)
    if len(controls):
        return whole_of(record, 71), numbers_of(record, 40), controls
    through = points_of(record, 11)
    knots, controls_m = spline_through(
        through * unit_m,
        closed=bool(whole_of(record, 70) & _CLOSED),
        start_direction=_direction(record, 12),
        end_direction=_direction(record, 13),
    )
    return 3, knots, controls_m / unit_m


def _direction(record: Record, code: int) -> Array | None:
    """Give the unit direction told for the end of a spline."""
    told = point_of(record, code, (0.0, 0.0, 0.0))
    length = float(np.linalg.norm(told))
    return told / length if length > 0.0 else None


def note_thickness(here: Placed, gathered: Gathered) -> None:
    """Take down that an entity is drawn with a thickness, which is not read."""
    thickness = number_of(here.entity.record, 39, 0.0)
    if thickness:
        gathered.thicknesses_m.append(abs(thickness) * gathered.metres_per_unit)
