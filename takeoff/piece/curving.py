"""Curved show faces: barrels, domes, columns, shallow bowls."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from takeoff.geometry.sums import summed
from takeoff.piece.bending import Bends
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
    """

    region: IntArray
    radius_m: FloatArray
    area_m2: FloatArray
    convex: BoolArray

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
    The radius is the area over the length of the 45 degree line and over the angle that
    the area spans: an integral, so it does not depend on the facets. The line zigzags along
    their edges; only what runs level counts. Convex and concave, and
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
    flats = zones.flats
    band = np.abs(zones.tilt_deg - rules.face_angle_deg) < rules.band_deg
    band &= zones.zone != Zone.AWAY
    sort = _bend_sort(bends, rules)
    like = sort[flats.joints.left] == sort[flats.joints.right]
    label = flats.regions(band, bends.smooth & like)
    used, region_of_band = np.unique(label[band], return_inverse=True)
    region = np.full(flats.count, -1, dtype=np.int64)
    region[band] = region_of_band
    area_m2 = summed(region_of_band, flats.area_m2[band], len(used))
    bend_m = summed(region_of_band, bends.bend_m[band], len(used))
    return Curves(region, _radii_m(zones, region, area_m2, rules), area_m2, bend_m > 0.0)


def _bend_sort(bends: Bends, rules: SurfaceRules) -> NDArray[np.int8]:
    """Sort flats into straight, convex and concave, the latter two into tight and wide."""
    limit_m = np.where(bends.bend_m > 0.0, rules.blend_radius_m, rules.bowl_radius_m)
    wide = bends.radius_m > limit_m / 2.0
    bent = np.where(bends.bend_m > 0.0, 1, 3) + wide
    return np.where(bends.bend_m == 0.0, 0, bent).astype(np.int8)


def _radii_m(
    zones: Zones, region: IntArray, area_m2: FloatArray, rules: SurfaceRules
) -> FloatArray:
    """Area over the 45 degree line and the angle spanned, for each region."""
    joints, count = zones.flats.joints, len(area_m2)
    left, right = region[joints.left], region[joints.right]
    facing = zones.tilt_deg < rules.face_angle_deg
    crossing = (left == right) & (left >= 0) & (facing[joints.left] != facing[joints.right])
    at = left[crossing]
    line_m = np.abs(summed(at, _level_runs_m(zones, crossing, facing), count))
    edge_m = summed(at, joints.length_m[crossing], count)
    turn = np.abs(joints.turn_deg[crossing]) * joints.length_m[crossing]
    step_deg = summed(at, turn, count) / np.where(edge_m > 0.0, edge_m, 1.0)
    low, high = np.full(count, np.inf), np.full(count, -np.inf)
    band = region >= 0
    np.minimum.at(low, region[band], zones.tilt_deg[band])
    np.maximum.at(high, region[band], zones.tilt_deg[band])
    angle_rad = np.radians(np.clip(high - low + step_deg, 1.0, 2.0 * rules.band_deg))
    return np.where(line_m > 0.0, area_m2 / np.where(line_m > 0.0, line_m, 1.0) / angle_rad, 0.0)


def _level_runs_m(zones: Zones, crossing: BoolArray, facing: BoolArray) -> FloatArray:
    """Signed length of the chosen joints along the 45 degree line, show side to the left."""
    joints, normals = zones.flats.joints, zones.flats.normals
    points_m = zones.flats.mesh.points_m
    left, right = joints.left[crossing], joints.right[crossing]
    level = np.cross(zones.show_direction, normals[left] + normals[right])
    level /= np.linalg.norm(level, axis=1)[:, None]
    along_m = points_m[joints.end[crossing]] - points_m[joints.start[crossing]]
    run_m: FloatArray = np.einsum("ij,ij->i", along_m, level)
    return np.where(facing[left], run_m, -run_m)


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
    curved = wide[curves.region]
    if not curved.any():
        return zones
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
    height_m = flats.mesh.points_m @ zones.show_direction
    facets = np.flatnonzero(chosen[flats.of_facet])
    corner_m = height_m[flats.mesh.triangles[facets]]
    at = region[flats.of_facet[facets]]
    low, high = np.full(flats.count, np.inf), np.full(flats.count, -np.inf)
    np.minimum.at(low, at, corner_m.min(axis=1))
    np.maximum.at(high, at, corner_m.max(axis=1))
    return np.where(np.isfinite(low), high - low, 0.0)
