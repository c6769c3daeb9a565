"""Walls on which no column decides: they go the way of the walls beside them."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from takeoff.geometry.sums import summed
from takeoff.piece.flats import Flats
from takeoff.piece.judging import ClassColumn
from takeoff.piece.keys import numbered
from takeoff.piece.rules import SurfaceRules
from takeoff.piece.sectors import Sectors
from takeoff.piece.zones import Zone

FloatArray = NDArray[np.float64]
IntArray = NDArray[np.integer]
BoolArray = NDArray[np.bool_]


def fill(
    sectors: Sectors,
    decided_share: FloatArray,
    open_share: FloatArray,
    *,
    rules: SurfaceRules = SurfaceRules(),
) -> tuple[FloatArray, BoolArray]:
    """Divide the undecided share of every wall flat among the classes.

    Parameters
    ----------
    sectors : Sectors
        The walls.
    decided_share : ndarray of float, shape (n, 4)
        Share of each flat in each class that columns decided. [-]
    open_share : ndarray of float, shape (n,)
        Share on which none did. [-]
    rules : SurfaceRules, optional
        How far decided walls speak for others.

    Returns
    -------
    tuple of ndarray of float, shape (n, 4), and ndarray of bool, shape (n,)
        The undecided shares by class, rows summing to ``open_share``, and the flats for which
        their own sector did not speak. [-]

    Notes
    -----
    First by the decided area of the same sector, if that is enough of it, then by
    the walls next to it, from joint to joint. What is left is return where its wall
    touches a show face, else back.

    Examples
    --------
    >>> import trimesh
    >>> from takeoff.geometry.mesh import Mesh
    >>> from takeoff.piece.bending import bends_of
    >>> from takeoff.piece.easing import ease
    >>> from takeoff.piece.flats import flats_of
    >>> from takeoff.piece.sectors import sectors_of
    >>> from takeoff.piece.zones import zones_of
    >>> box = flats_of(Mesh.from_trimesh(trimesh.creation.box((3.0, 2.0, 0.1)), unit="m"))
    >>> zones = zones_of(box, np.array([0.0, 0.0, 1.0]))
    >>> sectors = sectors_of(zones, ease(zones, bends_of(box)))
    >>> undecided = (sectors.of_flat >= 0).astype(float)
    >>> shares, doubtful = fill(sectors, np.zeros((6, 4)), undecided)
    >>> shares.sum(axis=0).tolist(), int(doubtful.sum())
    ([0.0, 4.0, 0.0, 0.0], 4)
    """
    way, known = _of_sector(sectors, decided_share, rules)
    wall = sectors.of_flat >= 0
    left = wall & (open_share > 0.0) & ~known
    if not left.any():
        return way * open_share[:, None], left
    doubtful = left.copy()
    share = decided_share + open_share[:, None] * way
    spread_share, reached = spread(sectors.zones.flats, share, wall & ~left, left, rules=rules)
    way[reached] = spread_share[reached]
    left &= ~reached
    if left.any():
        way[left] = _by_touch(sectors)[left]
    return way * open_share[:, None], doubtful


def spread(
    flats: Flats,
    share: FloatArray,
    known: BoolArray,
    wanted: BoolArray,
    *,
    rules: SurfaceRules = SurfaceRules(),
) -> tuple[FloatArray, BoolArray]:
    """Hand shares on from flat to flat, over the joints, weighed by their length.

    Parameters
    ----------
    flats : Flats
        The flats.
    share : ndarray of float, shape (n, 4)
        Shares of the known flats. [-]
    known, wanted : ndarray of bool, shape (n,)
        Flats that have shares, and flats that are to get some.
    rules : SurfaceRules, optional
        Over how many joints.

    Returns
    -------
    tuple of ndarray of float, shape (n, 4), and ndarray of bool, shape (n,)
        The shares, those of the known flats unchanged, and the wanted flats reached.

    Notes
    -----
    A flat that known ones merely touch at its narrow ends waits for those along its sides.

    Examples
    --------
    >>> import trimesh
    >>> from takeoff.geometry.mesh import Mesh
    >>> from takeoff.piece.flats import flats_of
    >>> box = flats_of(Mesh.from_trimesh(trimesh.creation.box((1.0, 1.0, 1.0)), unit="m"))
    >>> first = np.arange(6) == 0
    >>> shares, reached = spread(box, np.eye(6, 4), first, ~first)
    >>> int(reached.sum()), shares[:, 0].tolist()
    (5, [1.0, 1.0, 1.0, 1.0, 1.0, 1.0])
    """
    if not wanted.any():
        return share, wanted
    joints, share, known = flats.joints, share.copy(), known.copy()
    to_left, to_right = (np.flatnonzero(wanted.take(side)) for side in (joints.left, joints.right))
    giver = np.concatenate([joints.right.take(to_left), joints.left.take(to_right)])
    length_m = joints.length_m.take(np.concatenate([to_left, to_right]))
    place = np.cumsum(wanted) - 1
    taker = place.take(np.concatenate([joints.left.take(to_left), joints.right.take(to_right)]))
    flat = np.flatnonzero(wanted)
    border_m, left = summed(taker, length_m, len(flat)), np.ones(len(flat), dtype=np.bool_)
    for _ in range(rules.fill_round_count):
        between = np.flatnonzero(left.take(taker) & known.take(giver))
        if not len(between):
            break
        weight, given = length_m.take(between), share.take(giver.take(between), axis=0)
        number, got = numbered(taker.take(between))
        got = taker.take(between.take(got))
        taken = np.column_stack([summed(number, weight * given[:, c], len(got)) for c in range(4)])
        total_m = taken.sum(axis=1)
        beside = total_m >= rules.least_side_share * border_m.take(got)
        if beside.any():
            got, taken, total_m = got[beside], taken[beside], total_m[beside]
        share[flat.take(got)] = taken / total_m[:, None]
        known[flat.take(got)] = True
        left[got] = False
    reached = wanted.copy()
    reached[flat[left]] = False
    return share, reached


def _of_sector(
    sectors: Sectors, decided_share: FloatArray, rules: SurfaceRules
) -> tuple[FloatArray, BoolArray]:
    """Shares of the decided area of the sector, and where there is enough of it."""
    wall = np.flatnonzero(sectors.of_flat >= 0)
    sector, wall_m2 = sectors.of_flat.take(wall), sectors.zones.flats.area_m2.take(wall)
    decided = decided_share.take(wall, axis=0)
    area_m2 = np.column_stack(
        [summed(sector, decided[:, c] * wall_m2, sectors.count) for c in range(4)]
    )
    total_m2 = area_m2.sum(axis=1)
    enough = total_m2 > rules.decided_share * sectors.area_m2
    way = np.zeros_like(decided_share)
    known = np.zeros(len(decided_share), dtype=np.bool_)
    known[wall] = enough.take(sector)
    own = np.flatnonzero(known)
    total_m2[~enough] = 1.0
    way[own] = (area_m2 / total_m2[:, None]).take(sectors.of_flat.take(own), axis=0)
    return way, known


def _by_touch(sectors: Sectors) -> FloatArray:
    """Return for walls that touch a show face anywhere, back for others."""
    zones, joints = sectors.zones, sectors.zones.flats.joints
    wall, facing = zones.are(Zone.WALL), zones.are(Zone.FACING)
    region = zones.flats.regions(wall)
    touching = np.zeros(zones.flats.count, dtype=np.bool_)
    for one, other in ((joints.left, joints.right), (joints.right, joints.left)):
        touching[region[one[wall[one] & facing[other]]]] = True
    way = np.zeros((zones.flats.count, 4))
    touches = touching[region]
    way[touches, ClassColumn.RETURN] = 1.0
    way[~touches, ClassColumn.BACK] = 1.0
    return way
