"""Eased arrises: where a round or a chamfer is divided, and how far it lowers the wall."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from takeoff.geometry.sums import summed
from takeoff.piece.bending import Bends
from takeoff.piece.curving import Curves, spans_deg
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


def ease(
    zones: Zones,
    bends: Bends,
    *,
    curves: Curves | None = None,
    rules: SurfaceRules = SurfaceRules(),
) -> Easing:
    """Divide eased arrises at 45 and 120 degrees and measure how deep they reach.

    Parameters
    ----------
    zones : Zones
        Flats sorted by tilt, hidden and curved ones settled.
    bends : Bends
        How the flats bend.
    curves : Curves, optional
        Their curves, where they are known already.
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
    low, high = _spans_deg(zones, bends, curves, rules)
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


def _spans_deg(
    zones: Zones, bends: Bends, curves: Curves | None, rules: SurfaceRules
) -> tuple[FloatArray, FloatArray]:
    """Range of tilt that each flat stands for, whatever has been settled since of its zone."""
    if curves is None:
        return spans_deg(zones, bends, rules=rules)
    return curves.low_deg, curves.high_deg


def _crossing(
    chosen: BoolArray, low: FloatArray, high: FloatArray, at_deg: float
) -> tuple[BoolArray, FloatArray]:
    """Tell the flats whose range of tilt holds an angle, and their share below it."""
    crossing = chosen & (low < at_deg) & (high > at_deg)
    at = np.flatnonzero(crossing)
    share = np.zeros(len(chosen))
    share[at] = np.clip((at_deg - low[at]) / (high[at] - low[at]), 0.0, 1.0)
    return crossing, share


def _long_beside_wall(zones: Zones, chosen: BoolArray, rules: SurfaceRules) -> BoolArray:
    """Keep the chosen flats that make narrow strips with a wall along one side."""
    if not chosen.any():
        return chosen
    flats, joints, wall = zones.flats, zones.flats.joints, zones.are(Zone.WALL)
    region = flats.regions(chosen)
    left, right = chosen.take(joints.left), chosen.take(joints.right)
    border = np.flatnonzero(left != right)
    left, ends = left.take(border), (joints.left.take(border), joints.right.take(border))
    inner, outer = np.where(left, *ends), np.where(left, *ends[::-1])
    length_m = joints.length_m.take(border)
    border_m = summed(region.take(inner), length_m, flats.count)
    wall_m = summed(region.take(inner), length_m * wall.take(outer), flats.count)
    long = wall_m >= rules.least_side_share * border_m
    kept: BoolArray = chosen & long.take(region)
    if kept.any():
        kept &= flats.strip_widths_m(region, chosen) < rules.blend_radius_m
    return kept
