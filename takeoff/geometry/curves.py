"""Ellipses and splines as runs of circular arcs that keep within a told distance of them."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
from numpy.typing import NDArray

from takeoff.errors import OutlineError
from takeoff.geometry.arcs import bulge_through
from takeoff.geometry.outline_rules import OutlineRules

Run = tuple[NDArray[np.float64], NDArray[np.float64]]
_STRETCHES = 8  # of a quarter of an ellipse, to begin with
Curve = Callable[[NDArray[np.float64]], NDArray[np.float64]]


def fitted_run_m(
    curve: Curve, breaks: NDArray[np.float64], *, rules: OutlineRules = OutlineRules()
) -> Run:
    """Put arcs in place of a curve, each through three of its points.

    Parameters
    ----------
    curve : callable
        Gives the points, shape (n, 2), at an array of parameters. [m]
    breaks : ndarray of float, shape (b,)
        Rising parameters between which the curve is smooth, from its start to its end. [-]
    rules : OutlineRules, optional
        How near the arcs must keep to the curve, how far one may turn, and how many there may be.

    Returns
    -------
    points_m : ndarray of float, shape (k + 1, 2)
        Points on the curve. [m]
    bulges : ndarray of float, shape (k,)
        Bulge between each two points. [-]

    Raises
    ------
    OutlineError
        If more arcs are needed than the rules allow.

    Notes
    -----
    An arc through start, middle and end leaves the curve on one side before the middle and on the
    other side after it, so that area and length agree far better than the distance does.

    Examples
    --------
    >>> half_circle = lambda t: np.column_stack([np.cos(t), np.sin(t)])
    >>> points_m, bulges = fitted_run_m(half_circle, np.array([0.0, np.pi]))
    >>> len(bulges), round(float(bulges[0]), 6)
    (16, 0.049127)
    """
    largest_bulge = float(np.tan(np.radians(rules.arc_turn_deg) / 4.0))
    params = np.asarray(breaks, dtype=np.float64)
    chord_m, point_m = _lengths_for(curve, params, rules)
    settled = np.zeros(len(params) - 1, dtype=bool)
    bulges = np.zeros(len(params) - 1)
    for _ in range(rules.halvings_count):
        waiting = np.flatnonzero(~settled)
        if not len(waiting):
            break
        if len(params) + len(waiting) > rules.curve_arcs_count:
            raise OutlineError(
                f"a curve needs more than {rules.curve_arcs_count} arcs to be followed to "
                f"{chord_m * 1000.0:.3g} mm; redraw it with fewer bends"
            )
        low, high = params[waiting], params[waiting + 1]
        found, distance_m, reach_m = _arcs_through(curve, low, high)
        near = (distance_m <= chord_m) & (np.abs(found) <= largest_bulge)
        found[reach_m <= point_m] = 0.0
        near |= reach_m <= point_m
        bulges[waiting] = found
        settled[waiting] = near
        split = waiting[~near]
        params = np.insert(params, split + 1, 0.5 * (params[split] + params[split + 1]))
        bulges = np.insert(bulges, split, 0.0)
        settled = np.insert(settled, split, False)
    return curve(params), bulges


def _lengths_for(
    curve: Curve, params: NDArray[np.float64], rules: OutlineRules
) -> tuple[float, float]:
    """Give how far chords may lie off a curve of this size, and what is one point of it [m]."""
    middles = 0.5 * (params[:-1] + params[1:])
    points_m = curve(np.concatenate([params, middles]))
    overall_m = float(np.hypot(*np.ptp(points_m, axis=0)))
    return (
        min(rules.chord_m, rules.chord_share * overall_m),
        min(rules.same_point_m, rules.same_point_share * overall_m),
    )


def _arcs_through(
    curve: Curve, low: NDArray[np.float64], high: NDArray[np.float64]
) -> tuple[NDArray[np.float64], NDArray[np.float64], NDArray[np.float64]]:
    """Give the bulge of an arc over each stretch, how far the curve strays from it, its reach."""
    shares = np.array([[0.0], [0.25], [0.5], [0.75], [1.0]])
    params = low + shares * (high - low)
    quarters = curve(params.ravel()).reshape(len(shares), len(low), 2)
    start_m, middle_m, end_m = quarters[0], quarters[2], quarters[4]
    bulges = bulge_through(start_m, middle_m, end_m)
    half_chord = 0.5 * (end_m - start_m)
    half_m = np.hypot(*half_chord.T)
    to_right = np.column_stack([half_chord[:, 1], -half_chord[:, 0]])
    safe_m = np.where(half_m > 0.0, half_m, 1.0)
    distance_m = np.zeros(len(low))
    for point_m in (quarters[1], quarters[3]):
        from_middle = point_m - 0.5 * (start_m + end_m)
        out_m = (from_middle * to_right).sum(axis=1) / safe_m
        square_m2 = (from_middle**2).sum(axis=1) - half_m**2
        off = bulges * square_m2 / safe_m + (1.0 - bulges**2) * out_m
        off = np.where(half_m > 0.0, np.abs(off) / (1.0 + bulges**2), np.hypot(*from_middle.T))
        distance_m = np.maximum(distance_m, off)
    from_start_m = quarters[1:] - start_m
    reach_m = np.hypot(from_start_m[..., 0], from_start_m[..., 1]).max(axis=0)
    return bulges, distance_m, reach_m


def ellipse_run_m(
    centre_m: NDArray[np.float64],
    axes_m: NDArray[np.float64],
    start_deg: float,
    end_deg: float,
    *,
    rules: OutlineRules = OutlineRules(),
) -> Run:
    """Put arcs in place of an ellipse or a stretch of one.

    Parameters
    ----------
    centre_m : ndarray of float, shape (2,)
        Centre. [m]
    axes_m : ndarray of float, shape (2, 2)
        Two conjugate half axes u and v; the curve is centre + u cos t + v sin t. [m]
    start_deg, end_deg : float
        Parameter t at the start and at the end, either may be the greater. [deg]
    rules : OutlineRules, optional
        How near the arcs must keep to the curve.

    Returns
    -------
    points_m : ndarray of float, shape (k + 1, 2)
        Points on the ellipse. [m]
    bulges : ndarray of float, shape (k,)
        Bulge between each two points. [-]

    Raises
    ------
    OutlineError
        If more arcs are needed than the rules allow.

    Notes
    -----
    Where the axes are equal and square to each other the arcs are exact quarters of a circle.

    Examples
    --------
    >>> points_m, bulges = ellipse_run_m(np.zeros(2), np.eye(2), 0.0, 360.0)
    >>> len(bulges), round(float(bulges[0]), 6)
    (4, 0.414214)
    """
    start, end = np.radians(start_deg), np.radians(end_deg)

    def point_m(t: NDArray[np.float64]) -> NDArray[np.float64]:
        points: NDArray[np.float64] = (
            centre_m + np.outer(np.cos(t), axes_m[0]) + np.outer(np.sin(t), axes_m[1])
        )
        return points

    count = max(1, int(np.ceil(round(abs(end - start) / (0.5 * np.pi), 9))))
    if not _is_circle(axes_m, rules):
        stretches = _STRETCHES * count  # near what they will be halved to in any case
        return fitted_run_m(point_m, np.linspace(start, end, stretches + 1), rules=rules)
    breaks = np.linspace(start, end, count + 1)
    handed = np.sign(axes_m[0, 0] * axes_m[1, 1] - axes_m[0, 1] * axes_m[1, 0])
    return point_m(breaks), handed * np.tan(np.diff(breaks) / 4.0)


def _is_circle(axes_m: NDArray[np.float64], rules: OutlineRules) -> bool:
    """Tell whether two conjugate half axes are those of a circle."""
    first_m, second_m = np.hypot(*axes_m.T)
    slack_m = min(rules.same_point_m, float(first_m) * rules.join_share)
    square = abs(float(axes_m[0] @ axes_m[1])) <= slack_m * float(max(first_m, second_m))
    return square and abs(float(first_m - second_m)) <= slack_m


def spline_run_m(
    degree: int,
    knots: NDArray[np.float64],
    controls_m: NDArray[np.float64],
    weights: NDArray[np.float64] | None = None,
    *,
    rules: OutlineRules = OutlineRules(),
) -> Run:
    """Put arcs in place of a B-spline, rational where weights are given.

    Parameters
    ----------
    degree : int
        Degree of the pieces.
    knots : ndarray of float, shape (n + degree + 1,)
        Knots, never falling. [-]
    controls_m : ndarray of float, shape (n, 2)
        Control points. [m]
    weights : ndarray of float, shape (n,), optional
        Weight of each control point, above 0. [-]
    rules : OutlineRules, optional
        How near the arcs must keep to the curve.

    Returns
    -------
    points_m : ndarray of float, shape (k + 1, 2)
        Points on the curve. [m]
    bulges : ndarray of float, shape (k,)
        Bulge between each two points, all 0 for degree 1. [-]

    Raises
    ------
    OutlineError
        If the counts do not fit each other, a weight is not above 0, the knots fall, or more arcs
        are needed than the rules allow.

    Examples
    --------
    >>> knots, controls_m = np.array([0.0, 0, 0, 1, 1, 1]), np.array([[1.0, 0], [1, 1], [0, 1]])
    >>> points_m, bulges = spline_run_m(2, knots, controls_m, np.array([1.0, 0.5**0.5, 1.0]))
    >>> bool(np.allclose(np.hypot(*points_m.T), 1.0))
    True
    """
    from scipy.interpolate import BSpline

    count = len(controls_m)
    weights = np.ones(count) if weights is None else weights
    _refuse_odd_spline(degree, knots, controls_m, weights, rules)
    knots = (knots - knots[0]) / (knots[-1] - knots[0])
    weights = weights / weights.max()
    homogeneous = np.column_stack([controls_m * weights[:, None], weights])
    spline = BSpline(knots, homogeneous, degree)
    breaks = np.unique(knots[degree : count + 1])

    def point_m(t: NDArray[np.float64]) -> NDArray[np.float64]:
        projected: NDArray[np.float64] = spline(t)
        return projected[:, :2] / projected[:, 2:]

    if degree == 1:
        return point_m(breaks), np.zeros(len(breaks) - 1)
    return fitted_run_m(point_m, breaks, rules=rules)


def _refuse_odd_spline(
    degree: int,
    knots: NDArray[np.float64],
    controls_m: NDArray[np.float64],
    weights: NDArray[np.float64],
    rules: OutlineRules,
) -> None:
    """Refuse a spline whose figures contradict each other."""
    count = len(controls_m)
    if degree < 1 or count <= degree or len(knots) != count + degree + 1:
        raise OutlineError(
            f"a spline of degree {degree} has {count} control points and {len(knots)} knots; "
            f"it needs more than {degree} control points and {count + degree + 1} knots"
        )
    if (np.diff(knots) < 0.0).any() or knots[degree] >= knots[count]:
        raise OutlineError("the knots of a spline fall, or do not rise at all")
    if len(weights) != count or (weights <= weights.max() * rules.weight_share).any():
        raise OutlineError("a spline has a weight that is not above 0, or too few weights")


def spline_through(
    through_m: NDArray[np.float64],
    *,
    closed: bool = False,
    start_direction: NDArray[np.float64] | None = None,
    end_direction: NDArray[np.float64] | None = None,
    rules: OutlineRules = OutlineRules(),
) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """Find the cubic B-spline that runs through given points.

    Parameters
    ----------
    through_m : ndarray of float, shape (n, d)
        Points that the curve runs through. [m]
    closed : bool, default False
        True where the curve runs on smoothly from its last point to its first.
    start_direction, end_direction : ndarray of float, shape (d,), optional
        Unit vectors along the curve at its ends; no bend there where not given.
    rules : OutlineRules, optional
        Which points are one: a point that repeats the one before is passed over.

    Returns
    -------
    knots : ndarray of float, shape (m + 4,)
        Knots. [-]
    controls_m : ndarray of float, shape (m, d)
        Control points. [m]

    Raises
    ------
    OutlineError
        If there are fewer than two points apart.

    Notes
    -----
    The parameter runs with the length of the chords. Directions are left out of account where the
    curve is closed.

    Examples
    --------
    >>> knots, controls_m = spline_through(np.array([[0.0, 0.0], [1.0, 0.0], [3.0, 0.0]]))
    >>> controls_m[[0, -1]].tolist()
    [[0.0, 0.0], [3.0, 0.0]]
    """
    from scipy.interpolate import make_interp_spline

    if closed:
        through_m = np.concatenate([through_m, through_m[:1]])
    steps_m = np.linalg.norm(np.diff(through_m, axis=0), axis=1)
    apart = np.append(steps_m > rules.same_point_m, True)[: len(through_m)]
    through_m = through_m[apart]
    if len(through_m) < 2:
        raise OutlineError("a spline through points needs two or more points apart")
    steps_m = np.linalg.norm(np.diff(through_m, axis=0), axis=1)
    params = np.concatenate([[0.0], np.cumsum(steps_m)])
    ends: object = "periodic"
    if not closed or len(through_m) < 4:
        free = np.zeros(through_m.shape[1])
        told = ((2, free) if at is None else (1, at) for at in (start_direction, end_direction))
        ends = tuple([end] for end in told)
    spline = make_interp_spline(params, through_m, k=3, bc_type=ends)
    return np.asarray(spline.t, dtype=np.float64), np.asarray(spline.c, dtype=np.float64)
