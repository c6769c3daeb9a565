"""The sides of a closed loop: where its corners are, and which number each side gets."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TypeVar

import numpy as np
from numpy.typing import NDArray

from takeoff.geometry.arcs import arc_centres_m, run_area_m2, run_bounds_m, run_lengths_m
from takeoff.geometry.chaining import Chain
from takeoff.geometry.nesting import Region
from takeoff.geometry.outline_rules import OutlineRules
from takeoff.geometry.outlines import Loop, Outline, Side

Array = NDArray[np.float64]
_Kind = TypeVar("_Kind", bound=np.generic)


def sides_of(
    loop: Chain,
    *,
    counter_clockwise: bool,
    first_number: int = 1,
    rules: OutlineRules = OutlineRules(),
) -> Loop:
    """Part a closed loop into sides, numbered from its lowest, then leftmost corner.

    Parameters
    ----------
    loop : Chain
        A closed chain.
    counter_clockwise : bool
        Which way round the sides are to run: True for an outer loop, False for a hole.
    first_number : int, default 1
        Number of the first side.
    rules : OutlineRules, optional
        What is a corner, and what is a curve drawn as short chords.

    Returns
    -------
    tuple of Side
        One side for each straight run and each curve.

    Notes
    -----
    Lines in one direction are one side, so are arcs that carry on the same circle, the stretches
    of one ellipse or spline, and a run of short chords that turn a little each the same way. A
    loop without any corner is one side, and starts at its lowest, then leftmost point.

    Examples
    --------
    >>> square = np.array([[1.0, 1.0], [0.0, 1.0], [0.0, 0.0], [1.0, 0.0], [1.0, 1.0]])
    >>> loop = Chain(square, np.zeros(4), np.full(4, -1, dtype=np.int32), (0,))
    >>> [side.points_m[0].tolist() for side in sides_of(loop, counter_clockwise=True)]
    [[0.0, 0.0], [1.0, 0.0], [1.0, 1.0], [0.0, 1.0]]
    """
    points_m, bulges, curves = loop.points_m, loop.bulges, loop.curves
    if len(bulges) == 2 and (np.abs(bulges) == 1.0).all() and bulges[0] == bulges[1]:
        return (_circle_side(points_m, f"E{first_number}", counter_clockwise=counter_clockwise),)
    if (run_area_m2(points_m, bulges) > 0.0) != counter_clockwise:
        points_m, bulges, curves = points_m[::-1], -bulges[::-1], curves[::-1]
    points_m, bulges, curves = _without_idle_points(points_m, bulges, curves, rules)
    corners = np.flatnonzero(_corners(points_m, bulges, curves, rules))
    if not len(corners):
        points_m, bulges = _opened_at_lowest(points_m, bulges, rules)
        return (Side(f"E{first_number}", points_m, bulges),)
    first = _lowest_leftmost(points_m[corners], rules)
    corners = np.roll(corners, -first)
    sides = []
    for number, (start, end) in enumerate(zip(corners, np.roll(corners, -1), strict=True)):
        count = (end - start) % len(bulges) or len(bulges)
        picked = (start + np.arange(count + 1)) % len(bulges)
        sides.append(Side(f"E{first_number + number}", points_m[picked], bulges[picked[:-1]]))
    return tuple(sides)


def outline_of(
    loops: Sequence[Chain], region: Region, *, rules: OutlineRules = OutlineRules()
) -> Outline:
    """Make an outline of a region: its sides numbered round the outer loop, then on the holes.

    Parameters
    ----------
    loops : sequence of Chain
        The closed chains that the region numbers.
    region : Region
        Outer loop and holes.
    rules : OutlineRules, optional
        What is a corner.

    Returns
    -------
    Outline
        The region with its sides.

    Examples
    --------
    >>> square = np.array([[0.0, 0.0], [1.0, 0.0], [1.0, 1.0], [0.0, 1.0], [0.0, 0.0]])
    >>> loop = Chain(square, np.zeros(4), np.full(4, -1, dtype=np.int32), (0,))
    >>> len(outline_of([loop], Region(0, (), 0)).outer)
    4
    """
    outer = sides_of(loops[region.outer], counter_clockwise=True, rules=rules)
    holes: list[Loop] = []
    number = len(outer) + 1
    for hole in region.holes:
        holes.append(
            sides_of(loops[hole], counter_clockwise=False, first_number=number, rules=rules)
        )
        number += len(holes[-1])
    return Outline(outer, tuple(holes))


def _circle_side(points_m: Array, name: str, *, counter_clockwise: bool) -> Side:
    """Make the one side of a circle that two half circles draw, from its lowest point on."""
    centre_m = 0.5 * (points_m[0] + points_m[1])
    up_m = np.array([0.0, 0.5 * float(np.hypot(*(points_m[1] - points_m[0])))])
    handed = 1.0 if counter_clockwise else -1.0
    lowest_m = centre_m - up_m
    return Side(name, np.array([lowest_m, centre_m + up_m, lowest_m]), np.full(2, handed))


def _before(values: NDArray[_Kind]) -> NDArray[_Kind]:
    """Give for each place round a loop the value of the place before."""
    return np.concatenate([values[-1:], values[:-1]])


def _after(values: NDArray[_Kind]) -> NDArray[_Kind]:
    """Give for each place round a loop the value of the place after."""
    return np.concatenate([values[1:], values[:1]])


def _lowest_leftmost(points_m: Array, rules: OutlineRules) -> int:
    """Find the lowest point, of several equally low the leftmost."""
    low = np.flatnonzero(points_m[:, 1] <= points_m[:, 1].min() + rules.same_point_m)
    return int(low[np.argmin(points_m[low, 0])])


def _without_idle_points(
    points_m: Array, bulges: Array, curves: NDArray[np.int32], rules: OutlineRules
) -> tuple[Array, Array, NDArray[np.int32]]:
    """Leave out points that repeat the one before, and points on the line between neighbours."""
    long = run_lengths_m(points_m, bulges) > rules.same_point_m
    points_m, bulges, curves = points_m[:-1][long], bulges[long], curves[long]
    idle = True
    while idle and len(points_m) > 3:
        before, after = _before(points_m), _after(points_m)
        chord_m = after - before
        across_m2 = chord_m[:, 0] * (points_m - before)[:, 1]
        across_m2 -= chord_m[:, 1] * (points_m - before)[:, 0]
        ahead = ((points_m - before) * (after - points_m)).sum(axis=1) > 0.0
        straight = (bulges == 0.0) & (_before(bulges) == 0.0) & (curves == _before(curves))
        on_line = np.abs(across_m2) <= rules.same_point_m * np.hypot(*chord_m.T)
        drop = straight & ahead & on_line
        drop &= ~_before(drop)  # never two neighbours at once: they are judged again
        idle = bool(drop.any())
        points_m, bulges, curves = points_m[~drop], bulges[~drop], curves[~drop]
    return np.concatenate([points_m, points_m[:1]]), bulges, curves


def _directions(points_m: Array, bulges: Array) -> tuple[Array, Array]:
    """Give the direction at the start and at the end of each line or arc, in radians."""
    chords = np.diff(points_m, axis=0)
    along = np.arctan2(chords[:, 1], chords[:, 0])
    half_turns = 2.0 * np.arctan(bulges)
    return along - half_turns, along + half_turns


def _corners(
    points_m: Array, bulges: Array, curves: NDArray[np.int32], rules: OutlineRules
) -> NDArray[np.bool_]:
    """Tell for each point whether two sides meet there."""
    starts, ends = _directions(points_m, bulges)
    turns_deg = np.degrees((starts - _before(ends) + np.pi) % (2.0 * np.pi) - np.pi)
    if not (np.abs(turns_deg) <= rules.smooth_turn_deg).any():
        return np.ones(len(bulges), dtype=np.bool_)
    line, line_before = bulges == 0.0, _before(bulges == 0.0)
    carries_on = np.abs(turns_deg) <= rules.straight_turn_deg
    one_curve = (curves >= 0) & (curves == _before(curves))
    one_curve &= np.abs(turns_deg) <= rules.smooth_turn_deg
    smooth = one_curve | (line & line_before & carries_on)
    smooth |= _same_circle(points_m, bulges, rules) & carries_on
    free_line = line & line_before & (curves < 0) & (_before(curves) < 0)
    if np.count_nonzero(free_line) >= rules.smooth_chords_count - 1:
        smooth |= _tessellated(points_m, bulges, turns_deg, free_line, rules)
    corners: NDArray[np.bool_] = ~smooth
    return corners


def _same_circle(points_m: Array, bulges: Array, rules: OutlineRules) -> NDArray[np.bool_]:
    """Tell for each point whether the arcs before and after it lie on one circle."""
    centres_m = arc_centres_m(points_m, bulges)
    bent = bulges * _before(bulges) > 0.0
    apart_m = np.full(len(bulges), np.inf)
    step_m = centres_m[bent] - _before(centres_m)[bent]
    apart_m[bent] = np.hypot(*step_m.T)
    return np.asarray(apart_m <= rules.join_m)


def _tessellated(
    points_m: Array,
    bulges: Array,
    turns_deg: Array,
    free_line: NDArray[np.bool_],
    rules: OutlineRules,
) -> NDArray[np.bool_]:
    """Tell for each point whether it is inside a run of short chords that stand for a curve."""
    lengths_m = run_lengths_m(points_m, bulges)
    before_m = _before(lengths_m)
    alike = np.maximum(lengths_m, before_m) <= rules.chord_length_ratio * np.minimum(
        lengths_m, before_m
    )
    gentle = free_line & alike & (np.abs(turns_deg) <= rules.smooth_turn_deg)
    inside = np.zeros(len(bulges), dtype=bool)
    for side_of_turn in (1.0, -1.0):
        run = gentle & (side_of_turn * turns_deg > 0.0)
        if run.all():
            return run
        first = int(np.argmin(run))
        rolled = np.roll(run, -first)
        cuts = np.flatnonzero(np.diff(np.concatenate([[False], rolled, [False]]).astype(int)))
        for start, end in cuts.reshape(-1, 2):
            if end - start + 1 >= rules.smooth_chords_count:
                inside[(first + np.arange(start, end)) % len(run)] = True
    return inside


def _opened_at_lowest(points_m: Array, bulges: Array, rules: OutlineRules) -> tuple[Array, Array]:
    """Turn a smooth loop so that it starts at its lowest, then leftmost point."""
    low_m, _ = run_bounds_m(points_m, bulges)
    if points_m[:, 1].min() > low_m[1] + rules.same_point_m:
        for number in np.flatnonzero(bulges):
            reach_m, _ = run_bounds_m(points_m[number : number + 2], bulges[number : number + 1])
            if reach_m[1] <= low_m[1] + rules.same_point_m:
                points_m, bulges = _split_at_lowest(points_m, bulges, int(number))
                break
    first = _lowest_leftmost(points_m[:-1], rules)
    turned_m = np.roll(points_m[:-1], -first, axis=0)
    return np.concatenate([turned_m, turned_m[:1]]), np.roll(bulges, -first)


def _split_at_lowest(points_m: Array, bulges: Array, number: int) -> tuple[Array, Array]:
    """Part an arc in two at the lowest point of its circle."""
    run_m, bulge = points_m[number : number + 2], bulges[number : number + 1]
    centre_m = arc_centres_m(run_m, bulge)[0]
    spokes_m = run_m - centre_m
    radius_m = float(np.hypot(*spokes_m[0]))
    handed = float(np.sign(bulge[0]))
    start, end = np.arctan2(spokes_m[:, 1], spokes_m[:, 0])
    to_low = handed * (-0.5 * np.pi - start) % (2.0 * np.pi)
    from_low = handed * (end + 0.5 * np.pi) % (2.0 * np.pi)
    parted = handed * np.tan(np.array([to_low, from_low]) / 4.0)
    lowest_m = centre_m - np.array([0.0, radius_m])
    return (
        np.insert(points_m, number + 1, lowest_m, axis=0),
        np.concatenate([bulges[:number], parted, bulges[number + 1 :]]),
    )
