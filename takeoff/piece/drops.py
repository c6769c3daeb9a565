"""How far eased arrises reach along the show direction."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from takeoff.geometry.sums import summed
from takeoff.piece.rules import SurfaceRules
from takeoff.piece.zones import Zone, Zones

FloatArray = NDArray[np.float64]
IntArray = NDArray[np.integer]
BoolArray = NDArray[np.bool_]


def drops_m(zones: Zones, chosen: BoolArray, *, rules: SurfaceRules = SurfaceRules()) -> FloatArray:
    """Measure how far eased arrises reach along the show direction.

    Parameters
    ----------
    zones : Zones
        The flats.
    chosen : ndarray of bool, shape (n,)
        Flats of eased arrises, on one side of the walls.
    rules : SurfaceRules, optional
        How wide an eased arris may be.

    Returns
    -------
    ndarray of float, shape (n,)
        For each chosen flat, the height of the arris it is part of; 0 for others and for
        arrises that are too wide or border no wall. [m]

    Notes
    -----
    It is the integral of the slope over the area, divided by the length: 0.29 r for the half of
    a round, the full height of a chamfer, whatever the facets.

    Examples
    --------
    >>> import trimesh
    >>> from takeoff.geometry.mesh import Mesh
    >>> from takeoff.piece.flats import flats_of
    >>> from takeoff.piece.zones import zones_of
    >>> corners = [[x, y, z] for x, y, z in np.ndindex(2, 2, 2)]
    >>> low, high = np.array(corners) * [0.5, 0.4, 0.05], np.array(corners) * [0.48, 0.38, 0]
    >>> tile = trimesh.convex.convex_hull(np.vstack([low, high + [0.01, 0.01, 0.06]]))
    >>> flats = flats_of(Mesh.from_trimesh(tile, unit="m"))
    >>> zones = zones_of(flats, np.array([0.0, 0.0, 1.0]))
    >>> chamfer = np.abs(zones.tilt_deg - 45.0) < 1.0
    >>> np.unique(drops_m(zones, chamfer).round(4)).tolist()
    [0.0, 0.01]
    """
    flats, joints = zones.flats, zones.flats.joints
    drop_m = np.zeros(flats.count)
    region = flats.regions(chosen)
    wall = zones.are(Zone.WALL)
    left, right = chosen[joints.left], chosen[joints.right]
    border = left != right
    at = np.where(left, region[joints.left], region[joints.right])
    walled = border & (wall[joints.left] | wall[joints.right])
    beside = np.bincount(at[walled], minlength=flats.count) > 0
    line_m = summed(at[border], joints.length_m[border], flats.count) / 2.0
    at = region[chosen]
    area_m2, tilt_deg = flats.area_m2[chosen], zones.tilt_deg[chosen]
    slope = np.sin(np.radians(tilt_deg))
    total_m2 = summed(at, area_m2, flats.count)
    fall_m2 = summed(at, area_m2 * slope, flats.count)
    narrow = beside & (total_m2 < rules.blend_radius_m * line_m)
    divisor_m = np.where(narrow, line_m, 1.0)
    rest_m = _rest_of_round_m(at, tilt_deg, area_m2, divisor_m, rules)
    drop_m[chosen] = np.where(narrow, fall_m2 / divisor_m + rest_m, 0.0)[at]
    return drop_m


def _rest_of_round_m(
    region: IntArray,
    tilt_deg: FloatArray,
    area_m2: FloatArray,
    line_m: FloatArray,
    rules: SurfaceRules,
) -> FloatArray:
    """Give what a round reaches further, from where it was measured to the face it eases."""
    count = len(line_m)
    low, high = np.full(count, np.inf), np.full(count, -np.inf)
    np.minimum.at(low, region, tilt_deg)
    np.maximum.at(high, region, tilt_deg)
    angle_deg = high - low
    is_round = np.isfinite(angle_deg) & (angle_deg > 2.0 * rules.ramp_deg)
    width_m = summed(region, area_m2, count) / line_m
    radius_m = width_m / np.radians(np.where(is_round, angle_deg, 1.0))
    rest = 1.0 - np.cos(np.radians(rules.face_angle_deg - rules.band_deg))
    return np.where(is_round, radius_m * rest, 0.0)
