"""Eased arrises: where a round or a chamfer is divided, and how far it lowers the wall."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from takeoff.geometry.sums import summed
from takeoff.piece.bending import Bends
from takeoff.piece.flats import Flats
from takeoff.piece.rules import SurfaceRules
from takeoff.piece.zones import Reason, Zone, Zones

FloatArray = NDArray[np.float64]
IntArray = NDArray[np.integer]
BoolArray = NDArray[np.bool_]


@dataclass(frozen=True, slots=True, eq=False)
class Easing:
    """What eased arrises do to the flats.

    Parameters
    ----------
    facing_share : ndarray of float, shape (n,)
        Share of each flat this side of 45 degrees: 1 for show face, 0 for wall and back,
        between for the flats of an eased arris that the 45 degree line crosses. [-]
    drop_m : ndarray of float, shape (n,)
        How far the eased arris that the flat is part of lowers the top of a wall beside it (or
        raises its foot) from the plane of the face it eases; 0 elsewhere. [m]
    eased : ndarray of bool, shape (n,)
        Flats of eased arrises.
    """

    facing_share: FloatArray
    drop_m: FloatArray
    eased: BoolArray

    def on(self, former: IntArray) -> Easing:
        """Give the same on flats taken apart, by the former flat of each."""
        return Easing(self.facing_share[former], self.drop_m[former], self.eased[former])


def ease(zones: Zones, bends: Bends, *, rules: SurfaceRules = SurfaceRules()) -> Easing:
    """Divide eased arrises at 45 degrees and measure how deep they reach.

    Parameters
    ----------
    zones : Zones
        Flats sorted by tilt, hidden and curved ones settled.
    bends : Bends
        How the flats bend.
    rules : SurfaceRules, optional
        How wide an eased arris may be.

    Returns
    -------
    Easing
        Shares and drops.

    Notes
    -----
    The drop is the integral of the slope over the area of the arris above (below) the wall,
    divided by its length: 0.29 r for a round, the full height of a
    chamfer, whatever the facets.

    Examples
    --------
    A chamfer of 10 mm all round belongs half to the show face:

    >>> import trimesh
    >>> from takeoff.geometry.mesh import Mesh
    >>> from takeoff.piece.bending import bends_of
    >>> from takeoff.piece.flats import flats_of
    >>> from takeoff.piece.zones import zones_of
    >>> corners = [[x, y, z] for x, y, z in np.ndindex(2, 2, 2)]
    >>> low, high = np.array(corners) * [0.5, 0.4, 0.05], np.array(corners) * [0.48, 0.38, 0]
    >>> tile = trimesh.convex.convex_hull(np.vstack([low, high + [0.01, 0.01, 0.06]]))
    >>> flats = flats_of(Mesh.from_trimesh(tile, unit="m"))
    >>> easing = ease(zones_of(flats, np.array([0.0, 0.0, 1.0])), bends_of(flats))
    >>> np.sort(easing.facing_share).round(3).tolist()
    [0.0, 0.0, 0.0, 0.0, 0.0, 0.5, 0.5, 0.5, 0.5, 1.0]
    >>> round(float(easing.drop_m.max()), 4)
    0.01
    """
    facing = zones.are(Zone.FACING)
    share = _divided(zones, bends, rules)
    plain = zones.reason != Reason.CURVED
    top = plain & facing & (zones.tilt_deg > rules.face_angle_deg - rules.band_deg)
    foot = zones.are(Zone.AWAY) & (zones.reason != Reason.HIDDEN)
    foot &= zones.tilt_deg < rules.away_angle_deg + rules.face_angle_deg
    drop_m = _drops_m(zones, top, rules) + _drops_m(zones, foot, rules)
    divided = (share > 0.0) & (share < 1.0)
    return Easing(share, drop_m, divided | (top & (drop_m > 0.0)))


def _divided(zones: Zones, bends: Bends, rules: SurfaceRules) -> FloatArray:
    """Share of each flat this side of 45 degrees."""
    share = zones.are(Zone.FACING).astype(np.float64)
    low, high = _spans_deg(zones, bends, rules)
    inside = (low < rules.face_angle_deg) & (high > rules.face_angle_deg)
    inside &= (zones.reason != Reason.CURVED) & (zones.zone != Zone.AWAY)
    inside &= _width_m(zones.flats, inside) < rules.blend_radius_m
    part = (rules.face_angle_deg - low[inside]) / (high[inside] - low[inside])
    share[inside] = part
    return share


def _spans_deg(zones: Zones, bends: Bends, rules: SurfaceRules) -> tuple[FloatArray, FloatArray]:
    """Range of tilt that each flat stands for: half way to its smooth neighbours."""
    joints, tilt = zones.flats.joints, zones.tilt_deg
    low, high = tilt - rules.ramp_deg, tilt + rules.ramp_deg
    close = np.abs(tilt - rules.face_angle_deg) < rules.smooth_deg / 2.0
    near = bends.smooth & (close[joints.left] | close[joints.right])
    left, right = joints.left[near], joints.right[near]
    middle = (tilt[left] + tilt[right]) / 2.0
    for flat in (left, right):
        np.minimum.at(low, flat, middle)
        np.maximum.at(high, flat, middle)
    return low, high


def _width_m(flats: Flats, chosen: BoolArray) -> FloatArray:
    """Mean width of the connected strip that each chosen flat is part of."""
    region = flats.regions(chosen)
    area_m2 = summed(region[chosen], flats.area_m2[chosen], flats.count)
    joints = flats.joints
    border = chosen[joints.left] != chosen[joints.right]
    at = np.where(chosen[joints.left], region[joints.left], region[joints.right])[border]
    border_m = summed(at, joints.length_m[border], flats.count)
    known = border_m > 0.0
    width_m = np.where(known, 2.0 * area_m2 / np.where(known, border_m, 1.0), np.inf)
    return width_m[region]


def _drops_m(zones: Zones, chosen: BoolArray, rules: SurfaceRules) -> FloatArray:
    """How far the eased arris of each chosen flat reaches along the show direction."""
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
