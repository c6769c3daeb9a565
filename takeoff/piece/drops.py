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


def drops_m(
    zones: Zones,
    chosen: BoolArray,
    *,
    wall_deg: float,
    rules: SurfaceRules = SurfaceRules(),
) -> FloatArray:
    """Measure how far eased arrises reach along the show direction.

    Parameters
    ----------
    zones : Zones
        The flats.
    chosen : ndarray of bool, shape (n,)
        Flats of eased arrises, on one side of the walls.
    wall_deg : float
        Tilt at which the walls begin or end on that side. [°]
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
    >>> np.unique(drops_m(zones, chamfer, wall_deg=45.0).round(4)).tolist()
    [0.0, 0.01]
    """
    flats, joints = zones.flats, zones.flats.joints
    drop_m = np.zeros(flats.count)
    wall = zones.are(Zone.WALL)
    left, right = chosen.take(joints.left), chosen.take(joints.right)
    border = np.flatnonzero(left != right)
    ends = (joints.left.take(border), joints.right.take(border))
    walled = wall.take(ends[0]) | wall.take(ends[1])
    if not walled.any():
        return drop_m
    region = flats.regions(chosen)
    at = region.take(np.where(left.take(border), *ends))
    beside = np.bincount(at[walled], minlength=flats.count) > 0
    line_m = summed(at, joints.length_m.take(border), flats.count) / 2.0
    own = np.flatnonzero(chosen)
    at, area_m2, tilt_deg = region.take(own), flats.area_m2.take(own), zones.tilt_deg.take(own)
    total_m2 = summed(at, area_m2, flats.count)
    narrow = beside & (total_m2 < rules.blend_radius_m * line_m)
    if not narrow.any():
        return drop_m
    fall_m2 = summed(at, area_m2 * np.sin(np.radians(tilt_deg)), flats.count)
    divisor_m = np.where(narrow, line_m, 1.0)
    width_m, fall_m = total_m2 / divisor_m, fall_m2 / divisor_m
    steepest_deg = np.minimum(wall_deg, 180.0 - wall_deg)
    rest_m = _rest_of_round_m(width_m, fall_m, _bent(at, tilt_deg, narrow, rules), steepest_deg)
    drop_m[own] = np.where(narrow, fall_m + rest_m, 0.0).take(at)
    return drop_m


def _bent(
    region: IntArray, tilt_deg: FloatArray, narrow: BoolArray, rules: SurfaceRules
) -> BoolArray:
    """Tell the narrow regions that are round, not a single slope."""
    low, high = np.full(len(narrow), np.inf), np.full(len(narrow), -np.inf)
    held = narrow.take(region)
    np.minimum.at(low, region[held], tilt_deg[held])
    np.maximum.at(high, region[held], tilt_deg[held])
    bent: BoolArray = narrow & (high - low > 2.0 * rules.ramp_deg)
    return bent


def _rest_of_round_m(
    width_m: FloatArray, fall_m: FloatArray, bent: BoolArray, steepest_deg: float
) -> FloatArray:
    """Give what a round reaches further, from where it was measured to the face it eases.

    Its mean slope tells at which angle the measured part begins, its width then the radius.
    """
    at = np.flatnonzero(bent)
    slope = fall_m.take(at) / width_m.take(at)
    first_deg = 2.0 * np.degrees(np.arcsin(np.clip(slope, 0.0, 1.0))) - steepest_deg
    first_deg = np.clip(first_deg, 0.0, steepest_deg / 2.0)
    radius_m = width_m.take(at) / np.radians(steepest_deg - first_deg)
    rest_m = np.zeros(len(bent))
    rest_m[at] = radius_m * (1.0 - np.cos(np.radians(first_deg)))
    return rest_m
