"""Parts of flats gathered into the connected surfaces of a piece."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from takeoff.piece.joining import joined
from takeoff.piece.judging import CAST_WALLS, ClassColumn
from takeoff.piece.keys import renumbered, sorted_runs
from takeoff.piece.parts import Parts
from takeoff.piece.rules import SurfaceRules
from takeoff.piece.settling import Settled
from takeoff.piece.zones import Reason

FloatArray = NDArray[np.float64]
IntArray = NDArray[np.integer]
BoolArray = NDArray[np.bool_]


@dataclass(frozen=True, slots=True, eq=False)
class _Pairs:
    """Parts that hang together, gathered step by step."""

    first: list[IntArray]
    second: list[IntArray]

    def add(self, first: IntArray, second: IntArray) -> None:
        self.first.append(first)
        self.second.append(second)


def group_parts(
    settled: Settled, opening: IntArray, *, rules: SurfaceRules = SurfaceRules()
) -> IntArray:
    """Give the number of the surface each part belongs to.

    Parameters
    ----------
    settled : Settled
        The surface, divided.
    opening : ndarray of int, shape (n,)
        Opening each flat is the wall of, -1 for none.
    rules : SurfaceRules, optional
        What is smooth.

    Returns
    -------
    ndarray of int, shape (p,)
        Surface of every part, from 0.

    Notes
    -----
    Parts of one class hang together over smooth joints, over eased arrises and, in a show face
    with relief, over every joint; a patch of wall hangs together in itself. The wall of an
    opening is apart.

    Examples
    --------
    >>> import trimesh
    >>> from takeoff.geometry.mesh import Mesh
    >>> from takeoff.piece.flats import flats_of
    >>> from takeoff.piece.settling import settle
    >>> box = flats_of(Mesh.from_trimesh(trimesh.creation.box((3.0, 2.0, 0.1)), unit="m"))
    >>> settled = settle(box, np.array([0.0, 0.0, 1.0]))
    >>> len(np.unique(group_parts(settled, np.full(6, -1))))
    6
    """
    parts = settled.parts
    pairs = _Pairs([], [])
    _pair_patches(parts, opening, pairs)
    _pair_over_joints(settled, opening, pairs, rules)
    label = joined(len(parts.flat), np.concatenate(pairs.first), np.concatenate(pairs.second))
    return renumbered(label)[0]


def _pair_patches(parts: Parts, opening: IntArray, pairs: _Pairs) -> None:
    """Pair the parts of one patch, and of one class on one flat."""
    cut = np.flatnonzero(parts.patch >= 0)
    within = opening.take(parts.flat.take(cut)) + 1
    key = parts.patch.take(cut) * np.int64(int(opening.max()) + 2) + within
    order, first = sorted_runs(key)
    same = np.ones(len(order), dtype=np.bool_)
    same[first] = False
    at = np.flatnonzero(same)
    pairs.add(cut.take(order.take(at - 1)), cut.take(order.take(at)))
    shared = parts.sharing()
    cell = parts.flat.take(shared) * 4 + parts.column.take(shared)
    order = np.lexsort((-parts.share[shared], parts.patch[shared] < 0, cell))
    cell, shared = cell[order], shared[order]
    same = (cell[1:] == cell[:-1]) & (parts.patch[shared[1:]] < 0)
    pairs.add(shared[:-1][same], shared[1:][same])


def _pair_over_joints(
    settled: Settled, opening: IntArray, pairs: _Pairs, rules: SurfaceRules
) -> None:
    """Pair the parts of one class on both sides of a joint."""
    parts, joints, count = settled.parts, settled.flats.joints, settled.flats.count
    cut = np.bincount(_patched_flats(parts), minlength=count) > 1
    own, sort = _sorts(parts, opening, (np.bincount(parts.flat, minlength=count) == 1) & ~cut)
    here, there = sort.take(joints.left), sort.take(joints.right)
    linked, carved = _linking(settled, rules), _carved(settled)
    alone = (here >= 0) & (there >= 0)
    on = linked | (carved & (here == ClassColumn.SHOW_FACE))
    at = np.flatnonzero(alone & (here == there) & on)
    pairs.add(own.take(joints.left.take(at)), own.take(joints.right.take(at)))
    rest = np.flatnonzero(~alone & (linked | carved))
    if len(rest):
        going_on = rest[linked.take(rest)]
        for column in ClassColumn:
            at = rest if column is ClassColumn.SHOW_FACE else going_on
            _pair_shared(_finder(settled, column, cut, rules), opening, at, pairs)


def _sorts(parts: Parts, opening: IntArray, lone: BoolArray) -> tuple[IntArray, IntArray]:
    """Give a part of each flat; and its sort: class, and opening of a wall, -1 if not alone."""
    own = np.zeros(len(lone), dtype=np.int64)
    own[parts.flat] = np.arange(len(parts.flat))
    sort = parts.column.take(own)
    walls = np.flatnonzero((sort == CAST_WALLS[0]) | (sort == CAST_WALLS[1]))
    sort[walls] += len(ClassColumn) * (opening.take(walls) + 1)
    sort[~lone] = -1
    return own, sort.astype(np.int32)


def _carved(settled: Settled) -> BoolArray:
    """Tell the joints of relief, over which a show face goes on however sharp they are."""
    parts, joints = settled.parts, settled.flats.joints
    relief = np.zeros(settled.flats.count, dtype=np.bool_)
    relief[parts.flat[parts.reason == Reason.RELIEF]] = True
    if not relief.any():
        return np.zeros(len(joints.left), dtype=np.bool_)
    carved: BoolArray = relief.take(joints.left) | relief.take(joints.right)
    return carved


def _pair_shared(finder: _PatchFinder, opening: IntArray, at: IntArray, pairs: _Pairs) -> None:
    """Pair the parts of one class over joints at which a flat has several parts or patches."""
    joints, sector = finder.settled.flats.joints, finder.settled.sectors.of_flat
    single = (finder.number == 1) & ~finder.cut
    left, right = joints.left.take(at), joints.right.take(at)
    both = (finder.number.take(left) > 0) & (finder.number.take(right) > 0)
    if finder.column in CAST_WALLS:
        both &= opening.take(left) == opening.take(right)
    at, left, right = at[both], left[both], right[both]
    plain = single.take(left) & single.take(right)
    pairs.add(finder.some_part.take(left[plain]), finder.some_part.take(right[plain]))
    at, left, right = at[~plain], left[~plain], right[~plain]
    several = at[(sector[left] != sector[right]) | (sector[left] < 0)]
    if len(several):
        _pair_several(finder, several, pairs)


def _patched_flats(parts: Parts) -> IntArray:
    """Give the flat of every patch on it: flats of several patches come up several times."""
    patched = np.flatnonzero(parts.patch >= 0)
    if not len(patched):
        return patched
    pitch = np.int64(int(parts.patch.max()) + 1)
    cell = np.sort(parts.flat[patched] * pitch + parts.patch[patched])
    flat: IntArray = cell[np.append(True, cell[1:] != cell[:-1])] // pitch
    return flat


def _linking(settled: Settled, rules: SurfaceRules) -> BoolArray:
    """Tell joints over which a surface of one class goes on."""
    joints, eased = settled.flats.joints, settled.easing.eased
    turn = np.abs(joints.turn_deg)
    linking: BoolArray = turn < rules.smooth_deg
    if eased.any():
        either = eased.take(joints.left) | eased.take(joints.right)
        linking |= either & (turn < rules.face_angle_deg + rules.ramp_deg)
    return linking


@dataclass(frozen=True, slots=True, eq=False)
class _PatchFinder:
    """Finds which of several patches of one class on a flat a joint touches."""

    settled: Settled
    column: ClassColumn
    number: IntArray
    some_part: IntArray
    cut: BoolArray
    rules: SurfaceRules

    def parts_at(self, flat: IntArray, facet: IntArray, joint: IntArray) -> IntArray:
        """Part of each flat that touches a joint; -1 where it is not found."""
        patch = self._patches_at(flat, facet, joint)
        parts = self.settled.parts
        order = np.lexsort((parts.patch, parts.flat))
        pitch = np.int64(int(parts.patch.max()) + 2)
        key = parts.flat[order] * pitch + parts.patch[order] + 1
        wanted = flat * pitch + patch + 1
        place = order[np.minimum(np.searchsorted(key, wanted), len(key) - 1)]
        hit = (parts.flat[place] == flat) & (parts.patch[place] == patch)
        hit &= parts.column[place] == self.column
        return np.where(self.cut[flat], np.where(hit, place, -1), self.some_part[flat])

    def _patches_at(self, flat: IntArray, facet: IntArray, joint: IntArray) -> IntArray:
        """Patch of wall just inside each joint; -2 where there is none."""
        sectors, columns = self.settled.sectors, self.settled.columns
        mesh, joints = self.settled.flats.mesh, self.settled.flats.joints
        middle_m = (mesh.points_m[joints.start[joint]] + mesh.points_m[joints.end[joint]]) / 2.0
        centre_m = mesh.points_m[mesh.triangles[facet]].mean(axis=1)
        inside_m = middle_m + (centre_m - middle_m) * self.rules.doubt_share
        sector = np.maximum(sectors.of_flat[flat], 0)
        strip = columns.strips.at(sector, sectors.run_of_m(inside_m, sector))
        slack_m = self.rules.clearance_m
        found = columns.at(strip, sectors.height_of_m(inside_m), slack_m=slack_m)
        return np.append(self.settled.walls.patch, -2)[found]


def _finder(
    settled: Settled, column: ClassColumn, cut: BoolArray, rules: SurfaceRules
) -> _PatchFinder:
    """Count the parts of one class on each flat, and note one of them."""
    parts, count = settled.parts, settled.flats.count
    own = np.flatnonzero(parts.column == column)
    number = np.bincount(parts.flat[own], minlength=count)
    some_part = np.full(count, -1, dtype=np.int64)
    some_part[parts.flat[own]] = own
    return _PatchFinder(settled, column, number, some_part, cut, rules)


def _pair_several(finder: _PatchFinder, at: IntArray, pairs: _Pairs) -> None:
    """Pair over joints where a flat has several patches: those that the joint touches."""
    joints = finder.settled.flats.joints
    left = finder.parts_at(joints.left[at], joints.left_facet[at], at)
    right = finder.parts_at(joints.right[at], joints.right_facet[at], at)
    both = (left >= 0) & (right >= 0)
    pairs.add(left[both], right[both])
