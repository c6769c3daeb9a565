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
    if not plain.any():
        return np.zeros(count)
    show = _show_beside(zones, (away | zones.are(Zone.WALL)) & eased)
    if not _may_be_square(zones, show, plain):
        return np.zeros(count)
    region = flats.regions(plain, bends.smooth)
    side_m, round_m = np.zeros(count), np.zeros(count)
    left, right = (np.where(plain, region, -1).take(flat) for flat in (joints.left, joints.right))
    apart = left != right
    for here, there, of_here in (
        (joints.left, joints.right, left),
        (joints.right, joints.left, right),
    ):
        border = np.flatnonzero(apart & (of_here >= 0))
        own, other, length_m = here.take(border), there.take(border), joints.length_m.take(border)
        at = of_here.take(border)
        round_m += summed(at, length_m, count)
        side_m += summed(at, length_m * _square(zones, show, own, other, rules), count)
    long = (side_m > rules.least_side_share * round_m) & (side_m < rules.most_side_share * round_m)
    if not long.any():
        return np.zeros(count)
    area_m2 = summed(region, flats.area_m2 * plain, count)
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
    curved = facing & (zones.reason == Reason.CURVED)
    if not eased.any():
        return _ShowBeside(facing, curved, flats.normals)
    known, normals = facing.copy(), flats.normals.copy()
    arris = flats.regions(eased)
    total = np.zeros((flats.count, 3))
    for own, other in ((joints.left, joints.right), (joints.right, joints.left)):
        at = np.flatnonzero(eased.take(own) & facing.take(other))
        own_arris, shown = arris.take(own.take(at)), other.take(at)
        weighted = joints.length_m.take(at)[:, None] * flats.normals.take(shown, axis=0)
        for axis in range(3):
            total[:, axis] += summed(own_arris, weighted[:, axis], flats.count)
        touched = np.zeros(flats.count, dtype=np.bool_)
        touched[own_arris[curved.take(shown)]] = True
        curved |= eased & touched.take(arris)
    at = np.flatnonzero(eased)
    beside = total.take(arris.take(at), axis=0)
    length = np.linalg.norm(beside, axis=1)
    known[at] = length > 0.0
    normals[at] = beside / np.where(length > 0.0, length, 1.0)[:, None]
    return _ShowBeside(known, curved, normals)


def _may_be_square(zones: Zones, show: _ShowBeside, plain: BoolArray) -> bool:
    """Whether any chosen flat has a joint at which it may stand square to the show face."""
    joints = zones.flats.joints
    away = plain & zones.are(Zone.AWAY)
    for own, other in ((joints.left, joints.right), (joints.right, joints.left)):
        if (away.take(own) & show.known.take(other)).any():
            return True
        if show.curved.any() and (plain.take(own) & show.curved.take(other)).any():
            return True
    return False


def _square(
    zones: Zones, show: _ShowBeside, own: IntArray, other: IntArray, rules: SurfaceRules
) -> BoolArray:
    """Tell joints at which a flat stands square to the show face beside it."""
    square = show.known.take(other)
    square &= zones.are(Zone.AWAY).take(own) | show.curved.take(other)
    at = np.flatnonzero(square)
    normals = zones.flats.normals.take(own.take(at), axis=0)
    shown = show.normals.take(other.take(at), axis=0)
    cosine = np.clip(np.einsum("ij,ij->i", normals, shown), -1.0, 1.0)
    angle_deg = np.degrees(np.arccos(cosine))
    square[at] = angle_deg > 90.0 - rules.square_deg
    square[at] &= angle_deg <= rules.away_angle_deg + rules.tie_deg
    return square


def _with_arris(zones: Zones, width_m: FloatArray, arris: BoolArray) -> FloatArray:
    """Let the part of an eased arris that faces away belong to the edge it leads to."""
    joints = zones.flats.joints
    if not (arris.any() and width_m.any()):
        return width_m
    for own, other in ((joints.left, joints.right), (joints.right, joints.left)):
        at = np.flatnonzero(arris.take(own) & (width_m.take(other) > 0.0))
        width_m[own.take(at)] = width_m.take(other.take(at))
    return width_m
