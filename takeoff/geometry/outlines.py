"""Closed outlines in the plane: sides of lines and arcs, with holes."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from takeoff.geometry.arcs import flattened_run_m, run_area_m2, run_bounds_m, run_lengths_m
from takeoff.geometry.outline_rules import OutlineRules


@dataclass(frozen=True, slots=True, eq=False)
class Side:
    """One side of an outline: a straight run or one curve.

    Parameters
    ----------
    id : str
        ``E1``, ``E2`` ... counter-clockwise from the lowest, then leftmost corner.
    points_m : ndarray of float, shape (k + 1, 2)
        Points along the side, the first and last being its corners. [m]
    bulges : ndarray of float, shape (k,)
        Tangent of a quarter of the turn of the arc between two points, 0 for a line,
        positive for a turn to the left. [-]
    """

    id: str
    points_m: NDArray[np.float64]
    bulges: NDArray[np.float64]


@dataclass(frozen=True, slots=True, eq=False)
class Outline:
    """A flat region: one outer loop (counter-clockwise) and its holes (clockwise).

    Parameters
    ----------
    outer : tuple of Side
        The outer loop.
    holes : tuple of tuple of Side
        One loop for each hole, largest first.
    """

    outer: tuple[Side, ...]
    holes: tuple[tuple[Side, ...], ...]


Loop = tuple[Side, ...]


def is_straight(side: Side, *, rules: OutlineRules = OutlineRules()) -> bool:
    """Tell whether a side is one straight run.

    Parameters
    ----------
    side : Side
        A side of an outline.
    rules : OutlineRules, optional
        How far its points may lie from the chord between its corners.

    Returns
    -------
    bool
        True for a straight run, False for a curve.

    Examples
    --------
    >>> is_straight(Side("E1", np.array([[0.0, 0.0], [2.0, 0.0]]), np.array([0.0])))
    True
    """
    chord_m = side.points_m[-1] - side.points_m[0]
    length_m = float(np.hypot(*chord_m))
    if side.bulges.any() or not length_m:
        return False
    from_start_m = side.points_m - side.points_m[0]
    across_m = (from_start_m[:, 0] * chord_m[1] - from_start_m[:, 1] * chord_m[0]) / length_m
    return bool(np.abs(across_m).max() <= rules.join_m)


def side_length_m(side: Side) -> float:
    """Give the length of a side, along its arcs.

    Parameters
    ----------
    side : Side
        A side of an outline.

    Returns
    -------
    float
        Length. [m]

    Examples
    --------
    >>> side_length_m(Side("E1", np.array([[0.0, 0.0], [2.4, 0.0]]), np.array([0.0])))
    2.4
    """
    return float(run_lengths_m(side.points_m, side.bulges).sum())


def loop_run(loop: Loop) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """Give a loop as one run of points and bulges, the last point being the first.

    Parameters
    ----------
    loop : tuple of Side
        The outer loop or a hole.

    Returns
    -------
    points_m : ndarray of float, shape (k + 1, 2)
        Points of the loop. [m]
    bulges : ndarray of float, shape (k,)
        Bulge between each two points. [-]

    Examples
    --------
    >>> points_m, bulges = loop_run(rectangle(2.0, 1.0).outer)
    >>> points_m.shape, bulges.shape
    ((5, 2), (4,))
    """
    points_m = [side.points_m[:-1] for side in loop]
    return (
        np.concatenate([*points_m, loop[0].points_m[:1]]),
        np.concatenate([side.bulges for side in loop]),
    )


def loop_length_m(loop: Loop) -> float:
    """Give the length around a loop.

    Parameters
    ----------
    loop : tuple of Side
        The outer loop or a hole.

    Returns
    -------
    float
        Length. [m]

    Examples
    --------
    >>> loop_length_m(rectangle(2.0, 1.0).outer)
    6.0
    """
    return sum(side_length_m(side) for side in loop)


def loop_area_m2(loop: Loop) -> float:
    """Give the area inside a loop, whichever way round it runs.

    Parameters
    ----------
    loop : tuple of Side
        The outer loop or a hole.

    Returns
    -------
    float
        Area. [m²]

    Examples
    --------
    >>> loop_area_m2(rectangle(2.0, 1.0).outer)
    2.0
    """
    return abs(run_area_m2(*loop_run(loop)))


def outline_area_m2(outline: Outline) -> float:
    """Give the area of an outline, net of its holes.

    Parameters
    ----------
    outline : Outline
        The outline.

    Returns
    -------
    float
        Area. [m²]

    Examples
    --------
    >>> outline_area_m2(rectangle(2.0, 1.0))
    2.0
    """
    return loop_area_m2(outline.outer) - sum(loop_area_m2(hole) for hole in outline.holes)


def perimeter_m(outline: Outline) -> float:
    """Give the length around the outer loop.

    Parameters
    ----------
    outline : Outline
        The outline.

    Returns
    -------
    float
        Length. [m]

    Examples
    --------
    >>> perimeter_m(rectangle(2.0, 1.0))
    6.0
    """
    return loop_length_m(outline.outer)


def opening_perimeter_m(outline: Outline) -> float:
    """Give the length around all holes together.

    Parameters
    ----------
    outline : Outline
        The outline.

    Returns
    -------
    float
        Length, 0 where there is no hole. [m]

    Examples
    --------
    >>> opening_perimeter_m(rectangle(2.0, 1.0))
    0.0
    """
    return sum((loop_length_m(hole) for hole in outline.holes), 0.0)


def bounds_m(outline: Outline) -> tuple[tuple[float, float], tuple[float, float]]:
    """Give the lowest and highest coordinates that an outline reaches, arcs included.

    Parameters
    ----------
    outline : Outline
        The outline.

    Returns
    -------
    low, high : tuple of float
        Two corners of the box about it. [m]

    Examples
    --------
    >>> bounds_m(rectangle(2.0, 1.0))
    ((0.0, 0.0), (2.0, 1.0))
    """
    low, high = run_bounds_m(*loop_run(outline.outer))
    return (float(low[0]), float(low[1])), (float(high[0]), float(high[1]))


def flattened_side_m(side: Side, *, chord_m: float) -> NDArray[np.float64]:
    """Give a side as points alone, no chord further from its arc than told.

    Parameters
    ----------
    side : Side
        A side of an outline.
    chord_m : float
        Furthest that a chord may lie from its arc. [m]

    Returns
    -------
    ndarray of float, shape (n, 2)
        Points, both corners among them. [m]

    Examples
    --------
    >>> arc = Side("E1", np.array([[0.0, 0.0], [2.0, 0.0]]), np.array([1.0]))
    >>> len(flattened_side_m(arc, chord_m=0.1))
    5
    """
    return flattened_run_m(side.points_m, side.bulges, chord_m=chord_m)


def flattened_loop_m(loop: Loop, *, chord_m: float) -> NDArray[np.float64]:
    """Give a loop as points alone, the first one not repeated at the end.

    Parameters
    ----------
    loop : tuple of Side
        The outer loop or a hole.
    chord_m : float
        Furthest that a chord may lie from its arc. [m]

    Returns
    -------
    ndarray of float, shape (n, 2)
        Points of the polygon. [m]

    Examples
    --------
    >>> len(flattened_loop_m(rectangle(2.0, 1.0).outer, chord_m=0.1))
    4
    """
    return flattened_run_m(*loop_run(loop), chord_m=chord_m)[:-1]


def within_outline(
    outline: Outline, points_m: NDArray[np.float64], *, chord_m: float
) -> NDArray[np.bool_]:
    """Tell which points lie in an outline, outside its holes.

    Parameters
    ----------
    outline : Outline
        The outline.
    points_m : ndarray of float, shape (n, 2)
        The points. [m]
    chord_m : float
        Furthest that a chord may lie from its arc while this is found. [m]

    Returns
    -------
    ndarray of bool, shape (n,)
        True for each point within.

    Examples
    --------
    >>> points_m = np.array([[1.0, 0.5], [3.0, 0.5]])
    >>> within_outline(rectangle(2.0, 1.0), points_m, chord_m=0.1).tolist()
    [True, False]
    """
    import shapely

    polygon = shapely.Polygon(
        flattened_loop_m(outline.outer, chord_m=chord_m),
        [flattened_loop_m(hole, chord_m=chord_m) for hole in outline.holes],
    )
    shapely.prepare(polygon)
    return np.asarray(shapely.contains_xy(polygon, points_m))


def narrowest_m(loop: Loop, *, chord_m: float) -> float:
    """Give the least width of a loop: the narrowest gap between parallels that it fits through.

    Parameters
    ----------
    loop : tuple of Side
        The outer loop or a hole.
    chord_m : float
        Furthest that a chord may lie from its arc while this is found. [m]

    Returns
    -------
    float
        Least width. [m]

    Examples
    --------
    >>> narrowest_m(rectangle(2.0, 1.0).outer, chord_m=0.1)
    1.0
    """
    from scipy.spatial import ConvexHull

    points_m = flattened_loop_m(loop, chord_m=chord_m)
    hull_m = points_m[ConvexHull(points_m - points_m.mean(axis=0)).vertices]
    edges_m = np.roll(hull_m, -1, axis=0) - hull_m
    across = np.column_stack([-edges_m[:, 1], edges_m[:, 0]])
    across /= np.hypot(*across.T)[:, None]
    reach_m = across @ hull_m.T
    return float((reach_m.max(axis=1) - reach_m.min(axis=1)).min())


def rectangle(length_m: float, width_m: float) -> Outline:
    """Give a plain rectangle with one corner at the origin.

    Parameters
    ----------
    length_m, width_m : float
        Size along x and y. [m]

    Returns
    -------
    Outline
        Four sides E1 to E4, no hole.

    Examples
    --------
    >>> [side.id for side in rectangle(2.0, 1.0).outer]
    ['E1', 'E2', 'E3', 'E4']
    """
    corners_m = np.array(
        [[0.0, 0.0], [length_m, 0.0], [length_m, width_m], [0.0, width_m], [0.0, 0.0]]
    )
    sides = (
        Side(f"E{number + 1}", corners_m[number : number + 2], np.zeros(1)) for number in range(4)
    )
    return Outline(tuple(sides), ())
