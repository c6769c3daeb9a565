"""Curved show faces: barrels, domes, columns, shallow bowls."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from takeoff.geometry.sums import summed
from takeoff.piece.bending import Bends
from takeoff.piece.keys import renumbered
from takeoff.piece.plan_axes import across_m, heights_m
from takeoff.piece.rules import SurfaceRules
from takeoff.piece.zones import Reason, Zone, Zones

FloatArray = NDArray[np.float64]
IntArray = NDArray[np.integer]
BoolArray = NDArray[np.bool_]


@dataclass(frozen=True, slots=True, eq=False)
class Curves:
    """Regions of like curvature on both sides of 45 degrees.

    Parameters
    ----------
    region : ndarray of int, shape (n,)
        Region of each flat, -1 outside the band.
    radius_m : ndarray of float, shape (r,)
        Radius of each region along its slope; 0 where it does not cross 45 degrees. [m]
    area_m2 : ndarray of float, shape (r,)
        Area of each region within the band. [m²]
    convex : ndarray of bool, shape (r,)
        True where it bulges.
    low_deg, high_deg : ndarray of float, shape (n,)
        Range of tilt that each flat stands for, see `spans_deg`. [°]
    """

    region: IntArray
    radius_m: FloatArray
    area_m2: FloatArray
    convex: BoolArray
    low_deg: FloatArray
    high_deg: FloatArray

    def limits_m(self, rules: SurfaceRules) -> FloatArray:
        """Give the radius above which each region is show face."""
        return np.where(self.convex, rules.blend_radius_m, rules.bowl_radius_m)


def curves_of(zones: Zones, bends: Bends, *, rules: SurfaceRules = SurfaceRules()) -> Curves:
    """Measure the curves that pass 45 degrees.

    Parameters
    ----------
    zones : Zones
        Flats sorted by tilt, hidden ones away.
    bends : Bends
        How the flats bend.
    rules : SurfaceRules, optional
        How far round 45 degrees a curve is measured.

    Returns
    -------
    Curves
        The regions.

    Notes
    -----
    The radius is the area over the sum of all turns along the slope times the lengths of their
    edges: an integral, so it does not depend on the facets. Convex and concave, and
    tight and wide bends are kept apart, so that an eased arris does not dilute the curve
    that it borders.

    Examples
    --------
    >>> import trimesh
    >>> from takeoff.geometry.mesh import Mesh
    >>> from takeoff.piece.bending import bends_of
    >>> from takeoff.piece.flats import flats_of
    >>> from takeoff.piece.zones import zones_of
    >>> ball = flats_of(Mesh.from_trimesh(trimesh.creation.icosphere(4, 0.5), unit="m"))
    >>> zones = zones_of(ball, np.array([0.0, 0.0, 1.0]))
    >>> curves = curves_of(zones, bends_of(ball))
    >>> curves.radius_m.round(1).tolist(), curves.convex.tolist()
    ([0.5], [True])
    """
    flats, at_deg = zones.flats, rules.face_angle_deg
    low, high = spans_deg(zones, bends, rules=rules)
    band = np.abs(zones.tilt_deg - at_deg) < rules.band_deg
    band &= zones.zone != Zone.AWAY
    region = np.full(flats.count, -1, dtype=np.int64)
    if not ((low < at_deg) & band).any() or not ((high > at_deg) & band).any():
        nothing = np.empty(0)
        return Curves(region, nothing, nothing, nothing > 0.0, low, high)
    sort = _bend_sort(bends, rules)
    like = sort.take(flats.joints.left) == sort.take(flats.joints.right)
    at = np.flatnonzero(band)
    number, count = renumbered(flats.regions(band, bends.smooth & like).take(at))
    region[at] = number
    crossing = _any_of(number, low.take(at) < at_deg, count)
    crossing &= _any_of(number, high.take(at) > at_deg, count)
    measured = band.copy()
    measured[at] = crossing.take(number)
    area_m2 = summed(number, flats.area_m2.take(at), count)
    bend_m = summed(number, _slope_bends_m(zones, bends, measured).take(at), count)
    crossing &= bend_m != 0.0
    radius_m = np.divide(area_m2, np.abs(bend_m), where=crossing, out=np.zeros(count))
    return Curves(region, radius_m, area_m2, bend_m > 0.0, low, high)


def _any_of(number: IntArray, chosen: BoolArray, count: int) -> BoolArray:
    """Tell the groups that have a chosen member."""
    any_of = np.zeros(count, dtype=np.bool_)
    any_of[number[chosen]] = True
    return any_of


def spans_deg(
    zones: Zones, bends: Bends, *, rules: SurfaceRules = SurfaceRules()
) -> tuple[FloatArray, FloatArray]:
    """Give the range of tilt that each flat of a curve stands for, near 45 and 120 degrees.

    Parameters
    ----------
    zones : Zones
        Flats sorted by tilt.
    bends : Bends
        How the flats bend.
    rules : SurfaceRules, optional
        Where facing ends and facing away begins.

    Returns
    -------
    tuple of ndarray of float, shape (n,)
        Least and greatest tilt: half way to the smooth neighbours; the tilt itself on a
        flat face. [°]

    Examples
    --------
    >>> import trimesh
    >>> from takeoff.geometry.mesh import Mesh
    >>> from takeoff.piece.bending import bends_of
    >>> from takeoff.piece.flats import flats_of
    >>> from takeoff.piece.zones import zones_of
    >>> tube = trimesh.creation.cylinder(0.5, 2.0, sections=18)
    >>> flats = flats_of(Mesh.from_trimesh(tube, unit="m"))
    >>> zones = zones_of(flats, np.array([1.0, 0.0, 0.0]))
    >>> low, high = spans_deg(zones, bends_of(flats))
    >>> near = np.abs(zones.tilt_deg - 50.0) < 1.0
    >>> set(low[near].round(6).tolist()), set(high[near].round(6).tolist())
    ({40.0}, {60.0})
    """
    joints, tilt = zones.flats.joints, zones.tilt_deg
    low, high = tilt.copy(), tilt.copy()
    reach_deg = rules.smooth_deg / 2.0 + rules.ramp_deg
    near = np.abs(tilt - rules.face_angle_deg) < reach_deg
    near |= np.abs(tilt - rules.away_angle_deg) < reach_deg
    if not near.any():
        return low, high
    beside = near.take(joints.left)
    beside |= near.take(joints.right)
    beside &= bends.smooth
    at = np.flatnonzero(beside)
    left, right = joints.left.take(at), joints.right.take(at)
    middle = (tilt.take(left) + tilt.take(right)) / 2.0
    for flat in (left, right):
        np.minimum.at(low, flat, middle)
        np.maximum.at(high, flat, middle)
    return low, high


def _bend_sort(bends: Bends, rules: SurfaceRules) -> NDArray[np.int8]:
    """Sort flats into straight, convex and concave, the latter two into tight and wide."""
    limit_m = np.where(bends.bend_m > 0.0, rules.blend_radius_m, rules.bowl_radius_m)
    wide = bends.radius_m > limit_m / 2.0
    bent = np.where(bends.bend_m > 0.0, 1, 3) + wide
    return np.where(bends.bend_m == 0.0, 0, bent).astype(np.int8)


def _slope_bends_m(zones: Zones, bends: Bends, band: BoolArray) -> FloatArray:
    """Half the turn times length of the smooth joints round chosen flats, along the slope."""
    flats, joints = zones.flats, zones.flats.joints
    at = np.flatnonzero(bends.smooth & (band.take(joints.left) | band.take(joints.right)))
    left, right, start, end = (
        part.take(at) for part in (joints.left, joints.right, joints.start, joints.end)
    )
    length_m, turn_deg = joints.length_m.take(at), joints.turn_deg.take(at)
    first, second = across_m(flats.normals, zones.show_direction)
    u, v = first.take(left) + first.take(right), second.take(left) + second.take(right)
    first_m, second_m = across_m(flats.mesh.points_m, zones.show_direction)
    level_m = (second_m.take(end) - second_m.take(start)) * u
    level_m -= (first_m.take(end) - first_m.take(start)) * v
    divisor_m = np.hypot(u, v) * length_m
    share = level_m / np.where(divisor_m > 0.0, divisor_m, 1.0)
    half = np.radians(turn_deg) * length_m * share**2 / 2.0
    return summed(left, half, flats.count) + summed(right, half, flats.count)


def curve(
    zones: Zones, bends: Bends, curves: Curves, *, rules: SurfaceRules = SurfaceRules()
) -> Zones:
    """Put wide curves wholly into the show face, their steep ends included.

    Parameters
    ----------
    zones : Zones
        Flats sorted by tilt, hidden ones away.
    bends : Bends
        How the flats bend.
    curves : Curves
        The curves that pass 45 degrees.
    rules : SurfaceRules, optional
        How wide a curve must be.

    Returns
    -------
    Zones
        The same, with curved show faces facing.

    Examples
    --------
    All of a barrel vault is show face, down to its upright sides:

    >>> import trimesh
    >>> from takeoff.geometry.mesh import Mesh
    >>> from takeoff.piece.bending import bends_of
    >>> from takeoff.piece.flats import flats_of
    >>> from takeoff.piece.zones import zones_of
    >>> vault = trimesh.creation.cylinder(0.5, 2.0, sections=64)
    >>> vault.update_faces((vault.face_normals[:, 0] > 0.0) & (vault.face_normals[:, 2] == 0.0))
    >>> flats = flats_of(Mesh.from_trimesh(vault, unit="m"))
    >>> zones, bends = zones_of(flats, np.array([1.0, 0.0, 0.0])), bends_of(flats)
    >>> curved = curve(zones, bends, curves_of(zones, bends))
    >>> bool(curved.are(Zone.FACING).all()), bool(zones.are(Zone.FACING).all())
    (True, False)
    """
    wide = np.append(curves.radius_m > curves.limits_m(rules), False)
    if not wide.any():
        return zones
    curved = wide[curves.region]
    radius_m = np.append(curves.radius_m, 0.0)[curves.region]
    steep = np.abs(zones.tilt_deg - 90.0) <= 90.0 - rules.face_angle_deg - rules.band_deg
    steep &= (zones.tilt_deg <= 90.0 + rules.overhang_deg) & ~zones.are(Zone.AWAY)
    joined = _steep_ends(
        zones, bends, curved=curved, steep=steep & ~curved, radius_m=radius_m, rules=rules
    )
    return zones.moved(curved | joined, Zone.FACING, Reason.CURVED)


def _steep_ends(
    zones: Zones,
    bends: Bends,
    *,
    curved: BoolArray,
    steep: BoolArray,
    radius_m: FloatArray,
    rules: SurfaceRules,
) -> BoolArray:
    """Steep flats that end a curve smoothly, without the straight wall that may follow."""
    flats, count = zones.flats, zones.flats.count
    region = flats.regions(curved | steep, bends.smooth)
    of_curve = np.zeros(count, dtype=np.bool_)
    of_curve[region[curved]] = True
    ends = steep & of_curve[region]
    if not ends.any():
        return ends
    widest_m = np.zeros(count)
    np.maximum.at(widest_m, region[curved], radius_m[curved])
    rise_m = _rise_m(zones, region, ends)
    drop = np.cos(np.radians(rules.face_angle_deg + rules.band_deg))
    wall = rise_m > rules.wall_ratio * drop * widest_m + rules.wall_rise_m
    kept: BoolArray = ends & (~wall[region] | (zones.tilt_deg < rules.steep_deg))
    return kept


def _rise_m(zones: Zones, region: IntArray, chosen: BoolArray) -> FloatArray:
    """How far the chosen flats of each region reach along the show direction."""
    flats = zones.flats
    height_m = heights_m(flats.mesh.points_m, zones.show_direction)
    facets = np.flatnonzero(chosen[flats.of_facet])
    corner_m = height_m[flats.mesh.triangles[facets]]
    at = region[flats.of_facet[facets]]
    low, high = np.full(flats.count, np.inf), np.full(flats.count, -np.inf)
    np.minimum.at(low, at, corner_m.min(axis=1))
    np.maximum.at(high, at, corner_m.max(axis=1))
    return np.where(np.isfinite(low), high - low, 0.0)
