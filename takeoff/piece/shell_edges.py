"""Edges of curved shells: square to the show face beside them, whichever way they face."""

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
    One long side of the strip meets the show face in an arris of 55 to 120 degrees, which may
    be eased; the other meets the back. Strips that stand beside the show direction would pass
    for deep walls where the shell is steep: their width is their depth.

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
    away = zones.are(Zone.AWAY) & (zones.reason != Reason.HIDDEN)
    eased = (bends.radius_m < rules.blend_radius_m) & (bends.bend_m > 0.0)
    plain = (away | zones.are(Zone.WALL)) & ~eased
    show = _show_beside(zones, (away | zones.are(Zone.WALL)) & eased)
    region = np.where(plain, flats.regions(plain, bends.smooth), -1)
    side_m, round_m = np.zeros(count), np.zeros(count)
    for here, there in ((joints.left, joints.right), (joints.right, joints.left)):
        border = np.flatnonzero(plain[here] & (region[here] != region[there]))
        own, other, length_m = here[border], there[border], joints.length_m[border]
        beside_m = np.where(_square(zones, show, own, other, rules), length_m, 0.0)
        round_m += summed(region[own], length_m, count)
        side_m += summed(region[own], beside_m, count)
    area_m2 = summed(region[plain], flats.area_m2[plain], count)
    long = (side_m > rules.least_side_share * round_m) & (side_m < rules.most_side_share * round_m)
    mean_m = area_m2 / np.where(long, side_m, 1.0)
    width_m = np.where(long & (mean_m < rules.shell_edge_m), mean_m, 0.0)
    return _with_arris(zones, np.where(plain, width_m[region], 0.0), away & show.known)


@dataclass(frozen=True, slots=True, eq=False)
class _ShowBeside:
    """The show face that each flat of an eased arris eases."""

    known: BoolArray
    curved: BoolArray
    normals: FloatArray


def _show_beside(zones: Zones, eased: BoolArray) -> _ShowBeside:
    """Find the show face beside every eased arris; show faces stand for themselves."""
    flats, joints = zones.flats, zones.flats.joints
    facing = zones.are(Zone.FACING)
    normals = np.where(facing[:, None], flats.normals, 0.0)
    curved = facing & (zones.reason == Reason.CURVED)
    if eased.any():
        arris = np.where(eased, flats.regions(eased), -1)
        for own, other in ((joints.left, joints.right), (joints.right, joints.left)):
            at = np.flatnonzero(eased[own] & facing[other])
            length_m = joints.length_m[at]
            own_arris, shown = arris[own[at]], other[at]
            normals += _sums(
                own_arris, length_m[:, None] * flats.normals[shown], flats.count, arris
            )
            touched = np.zeros(flats.count, dtype=np.bool_)
            touched[own_arris[curved[shown]]] = True
            curved |= eased & touched[arris]
    length = np.linalg.norm(normals, axis=1)
    known = length > 0.0
    return _ShowBeside(known, curved, normals / np.where(known, length, 1.0)[:, None])


def _sums(group: IntArray, rows: FloatArray, count: int, at: IntArray) -> FloatArray:
    """Add up rows of three by group, and give every member of a group the sum."""
    total = np.column_stack([summed(group, rows[:, axis], count) for axis in range(3)])
    return np.where((at >= 0)[:, None], total[at], 0.0)


def _square(
    zones: Zones, show: _ShowBeside, own: IntArray, other: IntArray, rules: SurfaceRules
) -> BoolArray:
    """Tell joints at which a flat stands square to the show face beside it."""
    normals = zones.flats.normals
    cosine = np.clip(np.einsum("ij,ij->i", normals[own], show.normals[other]), -1.0, 1.0)
    angle_deg = np.degrees(np.arccos(cosine))
    square = show.known[other] & (angle_deg > 90.0 - rules.square_deg)
    square &= angle_deg <= rules.away_angle_deg + rules.tie_deg
    beside: BoolArray = square & (zones.are(Zone.AWAY)[own] | show.curved[other])
    return beside


def _with_arris(zones: Zones, width_m: FloatArray, arris: BoolArray) -> FloatArray:
    """Let the part of an eased arris that faces away belong to the edge it leads to."""
    joints = zones.flats.joints
    for own, other in ((joints.left, joints.right), (joints.right, joints.left)):
        at = np.flatnonzero(arris[own] & (width_m[other] > 0.0))
        width_m[own[at]] = width_m[other[at]]
    return width_m
