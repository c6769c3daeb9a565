"""Runs of lines and circular arcs, each arc given by its two ends and its bulge."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray


def turns_deg(bulges: NDArray[np.float64]) -> NDArray[np.float64]:
    """Give the angle that each arc turns through.

    Parameters
    ----------
    bulges : ndarray of float, shape (k,)
        Tangent of a quarter of the turn, positive to the left. [-]

    Returns
    -------
    ndarray of float, shape (k,)
        Turn, positive to the left. [deg]

    Examples
    --------
    >>> [round(float(turn), 9) for turn in turns_deg(np.array([0.0, 1.0, -1.0]))]
    [0.0, 180.0, -180.0]
    """
    return np.degrees(4.0 * np.arctan(bulges))


def run_lengths_m(
    points_m: NDArray[np.float64], bulges: NDArray[np.float64]
) -> NDArray[np.float64]:
    """Give the length of each line or arc of a run.

    Parameters
    ----------
    points_m : ndarray of float, shape (k + 1, 2)
        Points of the run. [m]
    bulges : ndarray of float, shape (k,)
        Bulge between each two points. [-]

    Returns
    -------
    ndarray of float, shape (k,)
        Lengths along the line or arc. [m]

    Examples
    --------
    >>> half_circle = np.array([[0.0, 0.0], [2.0, 0.0]])
    >>> round(float(run_lengths_m(half_circle, np.array([1.0]))[0]), 6)
    3.141593
    """
    chords_m = np.hypot(*np.diff(points_m, axis=0).T)
    size = np.abs(bulges)
    safe = np.where(size > 0.0, size, 1.0)
    stretch = np.where(size > 0.0, (1.0 + safe**2) * np.arctan(safe) / safe, 1.0)
    lengths: NDArray[np.float64] = chords_m * stretch
    return lengths


def segment_areas_m2(
    points_m: NDArray[np.float64], bulges: NDArray[np.float64]
) -> NDArray[np.float64]:
    r"""Give the signed area between each arc and its chord.

    .. math:: A = \frac{c^2}{8 b^2} \left((1 + b^2)^2 \arctan b - b (1 - b^2)\right)

    Parameters
    ----------
    points_m : ndarray of float, shape (k + 1, 2)
        Points of the run. [m]
    bulges : ndarray of float, shape (k,)
        Bulge :math:`b` between each two points. [-]

    Returns
    -------
    ndarray of float, shape (k,)
        Area, positive where the arc turns left: what it adds to a counter-clockwise loop. [m²]

    Notes
    -----
    The form follows from :math:`\frac{r^2}{2}(\theta - \sin\theta)` with
    :math:`\theta = 4 \arctan b`. It cancels for flat arcs, where its power series is used.

    Examples
    --------
    >>> half_circle = np.array([[0.0, 0.0], [2.0, 0.0]])
    >>> round(float(segment_areas_m2(half_circle, np.array([-1.0]))[0]), 6)
    -1.570796
    """
    chords_squared = np.square(np.diff(points_m, axis=0)).sum(axis=1)
    flat = np.abs(bulges) < 0.02
    b = np.where(flat, 1.0, bulges)
    closed = ((1.0 + b**2) ** 2 * np.arctan(b) - b * (1.0 - b**2)) / (8.0 * b**2)
    series = bulges / 3.0 + bulges**3 / 15.0 - bulges**5 / 105.0
    areas: NDArray[np.float64] = chords_squared * np.where(flat, series, closed)
    return areas


def run_area_m2(points_m: NDArray[np.float64], bulges: NDArray[np.float64]) -> float:
    """Give the signed area of a closed run, positive when it runs counter-clockwise.

    Parameters
    ----------
    points_m : ndarray of float, shape (k + 1, 2)
        Points of the run, the last one being the first. [m]
    bulges : ndarray of float, shape (k,)
        Bulge between each two points. [-]

    Returns
    -------
    float
        Area. [m²]

    Notes
    -----
    The points are taken from the first one on, so that a run far from the origin loses nothing.

    Examples
    --------
    >>> circle = np.array([[0.0, 0.0], [2.0, 0.0], [0.0, 0.0]])
    >>> round(run_area_m2(circle, np.array([1.0, 1.0])), 6)
    3.141593
    """
    local = points_m - points_m[0]
    x, y = local[:, 0], local[:, 1]
    polygon = 0.5 * float(np.dot(x[:-1], y[1:]) - np.dot(x[1:], y[:-1]))
    return polygon + float(segment_areas_m2(points_m, bulges).sum())


def arc_middles_m(
    points_m: NDArray[np.float64], bulges: NDArray[np.float64]
) -> NDArray[np.float64]:
    """Give the point half way along each line or arc.

    Parameters
    ----------
    points_m : ndarray of float, shape (k + 1, 2)
        Points of the run. [m]
    bulges : ndarray of float, shape (k,)
        Bulge between each two points. [-]

    Returns
    -------
    ndarray of float, shape (k, 2)
        Points half way. [m]

    Examples
    --------
    >>> arc_middles_m(np.array([[0.0, 0.0], [2.0, 0.0]]), np.array([1.0])).tolist()
    [[1.0, -1.0]]
    """
    chords = np.diff(points_m, axis=0)
    to_right = np.column_stack([chords[:, 1], -chords[:, 0]])
    middles: NDArray[np.float64] = (
        0.5 * (points_m[:-1] + points_m[1:]) + 0.5 * bulges[:, None] * to_right
    )
    return middles


def arc_centres_m(
    points_m: NDArray[np.float64], bulges: NDArray[np.float64]
) -> NDArray[np.float64]:
    """Give the centre of each arc, not finite where the bulge is 0.

    Parameters
    ----------
    points_m : ndarray of float, shape (k + 1, 2)
        Points of the run. [m]
    bulges : ndarray of float, shape (k,)
        Bulge between each two points. [-]

    Returns
    -------
    ndarray of float, shape (k, 2)
        Centres. [m]

    Examples
    --------
    >>> arc_centres_m(np.array([[0.0, 0.0], [2.0, 0.0]]), np.array([1.0])).tolist()
    [[1.0, 0.0]]
    """
    chords = np.diff(points_m, axis=0)
    to_left = np.column_stack([-chords[:, 1], chords[:, 0]])
    with np.errstate(divide="ignore", invalid="ignore"):
        rise = np.where(bulges == 0.0, np.inf, (1.0 - bulges**2) / (4.0 * bulges))
        centres: NDArray[np.float64] = (
            0.5 * (points_m[:-1] + points_m[1:]) + rise[:, None] * to_left
        )
    return centres


def bulge_through(
    start_m: NDArray[np.float64], middle_m: NDArray[np.float64], end_m: NDArray[np.float64]
) -> NDArray[np.float64]:
    """Give the bulge of the arcs that run from start to end through a point between.

    Parameters
    ----------
    start_m, middle_m, end_m : ndarray of float, shape (k, 2)
        Three points of each arc. [m]

    Returns
    -------
    ndarray of float, shape (k,)
        Bulges, 0 where the three points lie on a line. [-]

    Examples
    --------
    >>> ends = np.array([[0.0, 0.0]]), np.array([[1.0, -1.0]]), np.array([[2.0, 0.0]])
    >>> round(float(bulge_through(*ends)[0]), 9)
    1.0
    """
    to_start, to_end = start_m - middle_m, end_m - middle_m
    cross = to_start[:, 0] * to_end[:, 1] - to_start[:, 1] * to_end[:, 0]
    dot = (to_start * to_end).sum(axis=1)
    half_turn = np.pi - np.abs(np.arctan2(cross, dot))
    bulges: NDArray[np.float64] = np.where(
        cross == 0.0, 0.0, -np.sign(cross) * np.tan(0.5 * half_turn)
    )
    return bulges


def flattened_run_m(
    points_m: NDArray[np.float64], bulges: NDArray[np.float64], *, chord_m: float
) -> NDArray[np.float64]:
    """Give a run as points alone, no chord further from its arc than told.

    Parameters
    ----------
    points_m : ndarray of float, shape (k + 1, 2)
        Points of the run. [m]
    bulges : ndarray of float, shape (k,)
        Bulge between each two points. [-]
    chord_m : float
        Furthest that a chord may lie from its arc. [m]

    Returns
    -------
    ndarray of float, shape (n, 2)
        Points, those of the run among them. [m]

    Notes
    -----
    A circle of more than a hundred metres is followed less closely, by some three thousand chords.

    Examples
    --------
    >>> half_circle = np.array([[0.0, 0.0], [2.0, 0.0]])
    >>> len(flattened_run_m(half_circle, np.array([1.0]), chord_m=0.1))
    5
    """
    return chords_along(points_m, bulges, chord_m=chord_m)[0] if bulges.any() else points_m


def chords_along(
    points_m: NDArray[np.float64], bulges: NDArray[np.float64], *, chord_m: float
) -> tuple[NDArray[np.float64], NDArray[np.intp]]:
    """Give a run as points alone, with the number of chords for each line or arc.

    Parameters
    ----------
    points_m : ndarray of float, shape (k + 1, 2)
        Points of the run. [m]
    bulges : ndarray of float, shape (k,)
        Bulge between each two points. [-]
    chord_m : float
        Furthest that a chord may lie from its arc. [m]

    Returns
    -------
    flat_m : ndarray of float, shape (n + 1, 2)
        Points, those of the run among them. [m]
    counts : ndarray of int, shape (k,)
        Chords put in place of each line or arc, n together. [-]

    Examples
    --------
    >>> run = np.array([[0.0, 0.0], [2.0, 0.0], [3.0, 0.0]]), np.array([1.0, 0.0])
    >>> chords_along(*run, chord_m=0.1)[1].tolist()
    [4, 1]
    """
    centres_m = arc_centres_m(points_m, bulges)
    spokes_m = np.where(np.isfinite(centres_m), points_m[:-1] - centres_m, 0.0)
    radii_m = np.sqrt(np.square(spokes_m).sum(axis=1))
    turns = np.where(radii_m > 0.0, 4.0 * np.arctan(bulges), 0.0)
    steps = 2.0 * np.arccos(np.maximum(1.0 - chord_m / np.maximum(radii_m, chord_m), 0.5))
    steps = np.maximum(steps, 0.002)  # some three thousand chords a circle, however large
    counts = np.maximum(np.ceil(np.abs(turns) / steps).astype(np.intp), 1)
    owner = np.repeat(np.arange(len(counts)), counts)
    first = np.cumsum(counts) - counts
    angles = turns[owner] * (np.arange(len(owner)) - first[owner]) / counts[owner]
    x, y = spokes_m[owner].T
    cos, sin = np.cos(angles), np.sin(angles)
    flat_m: NDArray[np.float64] = points_m[np.append(owner, len(counts))].copy()
    flat_m[:-1, 0] += x * (cos - 1.0) - y * sin
    flat_m[:-1, 1] += x * sin + y * (cos - 1.0)
    return flat_m, counts


def run_bounds_m(
    points_m: NDArray[np.float64], bulges: NDArray[np.float64]
) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """Give the lowest and highest coordinates that a run reaches, arcs included.

    Parameters
    ----------
    points_m : ndarray of float, shape (k + 1, 2)
        Points of the run. [m]
    bulges : ndarray of float, shape (k,)
        Bulge between each two points. [-]

    Returns
    -------
    low, high : ndarray of float, shape (2,)
        Corners of the box about it. [m]

    Examples
    --------
    >>> low, high = run_bounds_m(np.array([[0.0, 0.0], [2.0, 0.0]]), np.array([1.0]))
    >>> low.tolist(), high.tolist()
    ([0.0, -1.0], [2.0, 0.0])
    """
    reached = [points_m]
    bent = np.flatnonzero(bulges)
    if len(bent):
        centres_m = arc_centres_m(points_m, bulges)[bent]
        spokes_m = points_m[:-1][bent] - centres_m
        radii_m = np.hypot(*spokes_m.T)
        turns = 4.0 * np.arctan(bulges[bent])
        starts = np.arctan2(spokes_m[:, 1], spokes_m[:, 0])
        for quarter, axis in enumerate(np.array([[1, 0], [0, 1], [-1, 0], [0, -1]])):
            ahead = np.sign(turns) * (0.5 * np.pi * quarter - starts) % (2.0 * np.pi)
            hit = ahead < np.abs(turns)
            reached.append(centres_m[hit] + radii_m[hit, None] * axis)
    everything = np.concatenate(reached)
    return everything.min(axis=0), everything.max(axis=0)
