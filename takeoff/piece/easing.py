"""Eased arrises: where a round or a chamfer is divided, and how far it lowers the wall."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from takeoff.geometry.sums import summed
from takeoff.piece.bending import Bends
from takeoff.piece.curving import spans_deg
from takeoff.piece.drops import drops_m
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
    away_share : ndarray of float, shape (n,)
        Share of each flat beyond 120 degrees, likewise. [-]
    drop_m : ndarray of float, shape (n,)
        How far the eased arris that the flat is part of lowers the top of a wall beside it (or
        raises its foot) from the plane of the face it eases; 0 elsewhere. [m]
    eased : ndarray of bool, shape (n,)
        Flats of eased arrises at the show face.
    """

    facing_share: FloatArray
    away_share: FloatArray
    drop_m: FloatArray
    eased: BoolArray

    def on(self, former: IntArray) -> Easing:
        """Give the same on flats taken apart, by the former flat of each."""
        return Easing(
            self.facing_share[former],
            self.away_share[former],
            self.drop_m[former],
            self.eased[former],
        )


def ease(zones: Zones, bends: Bends, *, rules: SurfaceRules = SurfaceRules()) -> Easing:
    """Divide eased arrises at 45 and 120 degrees and measure how deep they reach.

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
    Every flat of a round stands for a range of tilt, half way to its neighbours on both sides;
    the part of the range beyond the line goes to the wall. So a round of few facets is divided
    like one of many.

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
    """
    facing, away = zones.are(Zone.FACING), zones.are(Zone.AWAY)
    plain = (zones.reason != Reason.CURVED) & (zones.reason != Reason.HIDDEN)
    first = facing.astype(np.float64)
    low, high = spans_deg(zones, bends, rules=rules)
    crossing, share = _crossing(
        plain & ~away,
        np.minimum(low, zones.tilt_deg - rules.ramp_deg),
        np.maximum(high, zones.tilt_deg + rules.ramp_deg),
        rules.face_angle_deg,
    )
    crossing = _long_beside_wall(zones, crossing, rules)
    first[crossing] = share[crossing]
    last = away.astype(np.float64)
    leaving, share = _crossing(plain & ~facing, low, high, rules.away_angle_deg)
    leaving = _long_beside_wall(zones, leaving, rules)
    last[leaving] = 1.0 - share[leaving]
    top = plain & facing & (zones.tilt_deg > rules.face_angle_deg - rules.band_deg)
    foot = plain & away & (zones.tilt_deg < rules.away_angle_deg + rules.face_angle_deg)
    drop_m = drops_m(zones, top, wall_deg=rules.face_angle_deg, rules=rules)
    eased = crossing | (drop_m > 0.0)
    foot_m = drops_m(zones, foot, wall_deg=rules.away_angle_deg, rules=rules)
    return Easing(first, last, drop_m + foot_m, eased)


def _crossing(
    chosen: BoolArray, low: FloatArray, high: FloatArray, at_deg: float
) -> tuple[BoolArray, FloatArray]:
    """Tell the flats whose range of tilt holds an angle, and their share below it."""
    crossing = chosen & (low < at_deg) & (high > at_deg)
    span = np.where(crossing, high - low, 1.0)
    return crossing, np.clip((at_deg - low) / span, 0.0, 1.0)


def _long_beside_wall(zones: Zones, chosen: BoolArray, rules: SurfaceRules) -> BoolArray:
    """Keep the chosen flats that make narrow strips with a wall along one side."""
    if not chosen.any():
        return chosen
    flats, joints, wall = zones.flats, zones.flats.joints, zones.are(Zone.WALL)
    region = flats.regions(chosen)
    border = chosen[joints.left] != chosen[joints.right]
    inner = np.where(chosen[joints.left], joints.left, joints.right)[border]
    outer = np.where(chosen[joints.left], joints.right, joints.left)[border]
    length_m = joints.length_m[border]
    border_m = summed(region[inner], length_m, flats.count)
    wall_m = summed(region[inner], np.where(wall[outer], length_m, 0.0), flats.count)
    long = wall_m >= rules.least_side_share * border_m
    return chosen & long[region] & (flats.widths_m(chosen) < rules.blend_radius_m)
