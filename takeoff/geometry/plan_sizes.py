"""The rectangles that hold points seen along a direction, each with a side along their hull."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

FloatArray = NDArray[np.float64]


def plan_sizes_m(
    points_m: FloatArray, view_direction: FloatArray
) -> tuple[tuple[float, float], ...]:
    """Give the sizes a body takes in plan, turned so that one side of its hull lies square.

    Of all such rectangles only those are given that no other beats both in length and in width.

    Parameters
    ----------
    points_m : ndarray of float, shape (n, 3)
        Corners of the body, at least one. [m]
    view_direction : ndarray of float, shape (3,)
        Direction that it is seen along; of any length but 0. [-]

    Returns
    -------
    tuple of (float, float)
        Length and width of each, the narrowest first. [m]

    Examples
    --------
    >>> box_m = np.array([(x, y, z) for x in (0.0, 3.0) for y in (0.0, 1.0) for z in (0.0, 0.5)])
    >>> plan_sizes_m(box_m, np.array([0.0, 0.0, 1.0]))
    ((3.0, 1.0),)
    >>> plan_sizes_m(box_m, np.array([1.0, 0.0, 0.0]))
    ((1.0, 0.5),)
    """
    corners_m = _hull_m(points_m @ _across(view_direction).T)
    if len(corners_m) < 3:
        return ((float(np.hypot(*np.ptp(corners_m, axis=0))), 0.0),)
    sides_m = np.roll(corners_m, -1, axis=0) - corners_m
    along = sides_m / np.hypot(*sides_m.T)[:, None]
    across = np.column_stack([-along[:, 1], along[:, 0]])
    spans_m = np.column_stack([_spans_m(corners_m, along, one) for one in (along, across)])
    spans_m.sort(axis=1)
    return tuple(_unbeaten(sorted(map(tuple, spans_m.tolist()))))


def _across(view_direction: FloatArray) -> FloatArray:
    """Two unit vectors across a direction, the first along the axis it leans to least."""
    direction = view_direction / np.linalg.norm(view_direction)
    axis = np.eye(3)[np.argmin(np.abs(direction))]
    first = axis - direction * (axis @ direction)
    first /= np.linalg.norm(first)
    return np.array([first, np.cross(direction, first)])


def _hull_m(flat_m: FloatArray) -> FloatArray:
    """Corners of the hull, counter-clockwise; two for points in a line, one for a single point."""
    import shapely

    hull = shapely.MultiPoint(flat_m).convex_hull
    if not isinstance(hull, shapely.Polygon):
        return np.asarray(hull.coords)
    corners_m = np.asarray(hull.exterior.coords)[:-1]
    return corners_m if hull.exterior.is_ccw else corners_m[::-1]


def _spans_m(corners_m: FloatArray, along: FloatArray, directions: FloatArray) -> FloatArray:
    """How far a hull reaches along directions; its sides point along unit vectors.

    The furthest corner is where the sides turn past square to a direction. It is looked up among
    the turns of the sides, not tried against all corners: a hull may have tens of thousands.
    """
    base_rad, start = _where_it_turns_most(along)
    turns_rad = np.roll((_angles_rad(along) - base_rad) % (2.0 * np.pi), -start)
    ends_m = []
    for sign in (1.0, -1.0):
        square_rad = _angles_rad(sign * directions) + 0.5 * np.pi
        place = np.searchsorted(turns_rad, (square_rad - base_rad) % (2.0 * np.pi))
        ends_m.append(corners_m[(place + start) % len(corners_m)])
    spans_m: FloatArray = np.einsum("ij,ij->i", ends_m[0] - ends_m[1], directions)
    return spans_m


def _where_it_turns_most(along: FloatArray) -> tuple[float, int]:
    """Give an angle halfway round the sharpest corner, clear of all sides, and the next side."""
    angles_rad = _angles_rad(along)
    turns_rad = (angles_rad - np.roll(angles_rad, 1)) % (2.0 * np.pi)
    turns_rad[turns_rad > np.pi] = 0.0  # a turn back can only be rounding
    start = int(np.argmax(turns_rad))
    return float(angles_rad[start] - 0.5 * turns_rad[start]), start


def _angles_rad(vectors: FloatArray) -> FloatArray:
    """Angle of each vector from the first axis."""
    angles_rad: FloatArray = np.arctan2(vectors[:, 1], vectors[:, 0])
    return angles_rad


def _unbeaten(narrowest_first: list[tuple[float, float]]) -> list[tuple[float, float]]:
    """Turn (width, length) round, leaving out those that a narrower one is not longer than."""
    kept: list[tuple[float, float]] = []
    for width_m, length_m in narrowest_first:
        if not kept or length_m < kept[-1][0]:
            kept.append((length_m, width_m))
    return kept
