"""How tightly the surface bends at every flat, from the turns at its joints."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from takeoff.geometry.sums import summed
from takeoff.piece.flats import Flats
from takeoff.piece.rules import SurfaceRules

FloatArray = NDArray[np.float64]
BoolArray = NDArray[np.bool_]


@dataclass(frozen=True, slots=True, eq=False)
class Bends:
    """Bending of the flats.

    Parameters
    ----------
    smooth : ndarray of bool, shape (j,)
        Joints that are steps of a curve, not edges.
    bend_m : ndarray of float, shape (n,)
        Half the turn times length of the smooth joints round each flat, in radians: above 0
        where the surface is convex. [m]
    radius_m : ndarray of float, shape (n,)
        Area over bend: the radius of a cylinder, half that of a sphere; infinite where
        nothing bends. [m]
    """

    smooth: BoolArray
    bend_m: FloatArray
    radius_m: FloatArray


def bends_of(flats: Flats, *, rules: SurfaceRules = SurfaceRules()) -> Bends:
    """Find how tightly the surface bends at every flat.

    Parameters
    ----------
    flats : Flats
        The flats.
    rules : SurfaceRules, optional
        What counts as a step of a curve.

    Returns
    -------
    Bends
        Smooth joints, bend and radius.

    Examples
    --------
    >>> import trimesh
    >>> from takeoff.geometry.mesh import Mesh
    >>> from takeoff.piece.flats import flats_of
    >>> tube = trimesh.creation.cylinder(0.2, 1.0, sections=64)
    >>> bends = bends_of(flats_of(Mesh.from_trimesh(tube, unit="m")))
    >>> round(float(np.median(bends.radius_m)), 3)
    0.2
    """
    turn_deg = flats.joints.turn_deg
    smooth = np.abs(turn_deg) < rules.smooth_deg
    half = np.radians(turn_deg) * flats.joints.length_m / 2.0
    bend_m = flats.joints.sums(half, smooth, flats.count)
    bent = bend_m != 0.0
    radius_m = np.full(flats.count, np.inf)
    radius_m[bent] = flats.area_m2[bent] / np.abs(bend_m[bent])
    return Bends(smooth, bend_m, radius_m)


def are_tighter(flats: Flats, bends: Bends, limit_m: float) -> BoolArray:
    """Tell the flats that bend tighter than a radius, whichever way.

    Parameters
    ----------
    flats : Flats
        The flats.
    bends : Bends
        How they bend.
    limit_m : float
        The radius. [m]

    Returns
    -------
    ndarray of bool, shape (n,)
        True for those that do.

    Notes
    -----
    The sum of two curvatures is at most twice the greater one: where it tells already, nothing
    more is measured.

    Examples
    --------
    >>> import trimesh
    >>> from takeoff.geometry.mesh import Mesh
    >>> from takeoff.piece.flats import flats_of
    >>> ball = flats_of(Mesh.from_trimesh(trimesh.creation.icosphere(4, 0.5), unit="m"))
    >>> bends = bends_of(ball)
    >>> [float(are_tighter(ball, bends, limit).mean()) for limit in (0.4, 0.6, 1.2)]
    [0.0, 1.0, 1.0]
    """
    sure: BoolArray = bends.radius_m < limit_m / 2.0
    rest = replace(bends, radius_m=np.where(sure, np.inf, bends.radius_m))
    return sure | (tightest_radii_m(flats, rest, limit_m) < limit_m)


def tightest_radii_m(flats: Flats, bends: Bends, below_m: float) -> FloatArray:
    """Find the tightest radius at every flat, whichever way the surface bends.

    Parameters
    ----------
    flats : Flats
        The flats.
    bends : Bends
        How they bend.
    below_m : float
        Only where the radius may be below this; elsewhere it comes out infinite. [m]

    Returns
    -------
    ndarray of float, shape (n,)
        The smaller of the two principal radii. [m]

    Notes
    -----
    The turns round a flat, times the directions of their edges, add up to a tensor whose
    greatest eigenvalue over the area is the greatest curvature.

    References
    ----------
    D. Cohen-Steiner and J.-M. Morvan, Restricted Delaunay triangulations and normal cycle, 2003
    (from memory).

    Examples
    --------
    >>> import trimesh
    >>> from takeoff.geometry.mesh import Mesh
    >>> from takeoff.piece.flats import flats_of
    >>> ball = flats_of(Mesh.from_trimesh(trimesh.creation.icosphere(4, 0.5), unit="m"))
    >>> bends = bends_of(ball)
    >>> round(float(np.median(bends.radius_m)), 2)
    0.25
    >>> round(float(np.median(tightest_radii_m(ball, bends, 1.0))), 1)
    0.5
    """
    joints, mesh = flats.joints, flats.mesh
    radius_m = np.full(flats.count, np.inf)
    asked = np.flatnonzero(bends.radius_m < below_m)
    if not len(asked):
        return radius_m
    number = np.full(flats.count, -1, dtype=np.int64)
    number[asked] = np.arange(len(asked))
    left, right = number.take(joints.left), number.take(joints.right)
    near = np.flatnonzero(bends.smooth & ((left >= 0) | (right >= 0)))
    start, end, length_m = (
        joints.start.take(near),
        joints.end.take(near),
        joints.length_m.take(near),
    )
    along = [
        column.take(end) - column.take(start) for column in np.ascontiguousarray(mesh.points_m.T)
    ]
    half = np.radians(joints.turn_deg.take(near)) / 2.0
    weight = half / np.where(length_m > 0.0, length_m, 1.0)
    left, right = left.take(near), right.take(near)
    on_left, on_right = np.flatnonzero(left >= 0), np.flatnonzero(right >= 0)
    flat = np.concatenate([left.take(on_left), right.take(on_right)])
    joint = np.concatenate([on_left, on_right])
    squares = np.zeros(len(asked))
    for first, second, times in ((0, 0, 1), (1, 1, 1), (2, 2, 1), (0, 1, 2), (1, 2, 2), (2, 0, 2)):
        value = weight * along[first] * along[second]
        squares += times * summed(flat, value.take(joint), len(asked)) ** 2
    half_trace = np.abs(bends.bend_m[asked]) / 2.0
    spread = np.sqrt(np.maximum(squares / 2.0 - half_trace**2, 0.0))
    radius_m[asked] = flats.area_m2[asked] / (half_trace + spread)
    return radius_m
