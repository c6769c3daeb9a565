"""Edges of curved shells: square to the show face beside them, whichever way they face."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from takeoff.geometry.sums import summed
from takeoff.piece.bending import Bends
from takeoff.piece.rules import SurfaceRules
from takeoff.piece.zones import Reason, Zone, Zones

FloatArray = NDArray[np.float64]
IntArray = NDArray[np.integer]
BoolArray = NDArray[np.bool_]


def shell_edges_m(
    zones: Zones, bends: Bends, *, rules: SurfaceRules = SurfaceRules()
) -> FloatArray:
    """Find strips that are the cast edge of a curved shell, even where they face away.

    Parameters
    ----------
    zones : Zones
        Flats, curved show faces settled.
    bends : Bends
        How the flats bend.
    rules : SurfaceRules, optional
        How wide such a strip may be.

    Returns
    -------
    ndarray of float, shape (n,)
        Width of the strip each flat is part of, which is its depth behind the show face; 0
        for all other flats. [m]

    Notes
    -----
    One long side of the strip meets the show face in an arris of 55 to 120 degrees; the
    other meets the back. Strips that stand beside the show direction would pass for deep
    walls where the shell is steep: their width is their depth.

    Examples
    --------
    The rim of a dome 25 mm thick looks straight down:

    >>> import trimesh
    >>> from takeoff.geometry.mesh import Mesh
    >>> from takeoff.piece.bending import bends_of
    >>> from takeoff.piece.curving import curve, curves_of
    >>> from takeoff.piece.flats import flats_of
    >>> from takeoff.piece.zones import zones_of
    >>> angle = np.radians(np.arange(0.0, 91.0, 5.0))
    >>> section = np.column_stack([np.sin(angle), np.cos(angle)])
    >>> dome = trimesh.creation.revolve(np.vstack([0.975 * section, section[::-1]]))
    >>> flats = flats_of(Mesh.from_trimesh(dome, unit="m"))
    >>> zones, bends = zones_of(flats, np.array([0.0, 0.0, 1.0])), bends_of(flats)
    >>> zones = curve(zones, bends, curves_of(zones, bends))
    >>> width_m = shell_edges_m(zones, bends)
    >>> float(width_m.max().round(3)), int((width_m > 0.0).sum())
    (0.025, 1)
    """
    flats, joints, count = zones.flats, zones.flats.joints, zones.flats.count
    chosen = (zones.are(Zone.AWAY) & (zones.reason != Reason.HIDDEN)) | zones.are(Zone.WALL)
    region = np.where(chosen, flats.regions(chosen, bends.smooth), -1)
    left, right = region[joints.left], region[joints.right]
    square = joints.turn_deg > 90.0 - rules.square_deg
    square &= joints.turn_deg <= rules.away_angle_deg + rules.tie_deg
    side_m, round_m = np.zeros(count), np.zeros(count)
    for at, own, other in ((left, joints.left, joints.right), (right, joints.right, joints.left)):
        border = (left != right) & (at >= 0)
        round_m += summed(at[border], joints.length_m[border], count)
        beside = border & square & _beside_show(zones, own, other)
        side_m += summed(at[beside], joints.length_m[beside], count)
    area_m2 = summed(region[chosen], flats.area_m2[chosen], count)
    long = (side_m > rules.least_side_share * round_m) & (side_m < rules.most_side_share * round_m)
    mean_m = area_m2 / np.where(long, side_m, 1.0)
    width_m = np.where(long & (mean_m < rules.shell_edge_m), mean_m, 0.0)
    return np.where(chosen, width_m[region], 0.0)


def _beside_show(zones: Zones, own: IntArray, other: IntArray) -> BoolArray:
    """Tell joints to the show face; walls count only beside a curved one."""
    beside = zones.are(Zone.FACING)[other]
    beside &= zones.are(Zone.AWAY)[own] | (zones.reason[other] == Reason.CURVED)
    return beside
