"""Facets that lie in two surfaces cut along the border, so that each is in one."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from takeoff.geometry.components import component_labels
from takeoff.geometry.dihedrals import lengths_m
from takeoff.geometry.edges import EdgeTable, edge_table
from takeoff.geometry.facets import facets_of
from takeoff.geometry.mesh import Mesh
from takeoff.geometry.sums import summed
from takeoff.piece.borders import border_on
from takeoff.piece.flats import Flats, flats_of
from takeoff.piece.joining import lists_of
from takeoff.piece.pattern_rules import PatternRules
from takeoff.piece.slicing import sliced
from takeoff.piece.surfaces import SurfaceClass, Surfaces

FloatArray = NDArray[np.float64]
IntArray = NDArray[np.integer]
BoolArray = NDArray[np.bool_]

_CLASSES = tuple(SurfaceClass)


@dataclass(frozen=True, slots=True, eq=False)
class Divided:
    """A piece whose facets each lie in one surface.

    Parameters
    ----------
    mesh : Mesh
        The mesh, with the points of the cuts at the end.
    owner : ndarray of int, shape (k,)
        Place in the list of surfaces of the one that each facet lies in, -1 for none.
    """

    mesh: Mesh
    owner: IntArray


def divide(surfaces: Surfaces, *, rules: PatternRules = PatternRules()) -> Divided:
    """Cut the facets that lie in two surfaces.

    Parameters
    ----------
    surfaces : Surfaces
        The piece, told apart.
    rules : PatternRules, optional
        How exactly a cut gives the areas.

    Returns
    -------
    Divided
        The piece with those facets cut. Where no line gives the areas that were found, the
        facets stay with the surface that holds most of them.

    Notes
    -----
    A wall is cut upright where it grows deeper than a return may be; an eased arris is cut
    level between the show face and the wall below.

    Examples
    --------
    >>> import trimesh
    >>> from takeoff.piece.classifying import classify
    >>> from takeoff.piece.surfaces import ModelKind
    >>> slab = Mesh.from_trimesh(trimesh.creation.box((0.4, 0.3, 0.05)), unit="m")
    >>> told = classify(slab, kind=ModelKind.PIECE, show_direction=np.array([0.0, 0.0, 1.0]))
    >>> np.bincount(divide(told).owner).tolist()
    [2, 2, 2, 2, 2, 2]
    """
    mesh = surfaces.mesh
    owner = np.full(len(mesh.triangles), -1, dtype=np.int64)
    for number, surface in enumerate(surfaces.surfaces):
        owner[surface.facets] = number
    mixed = surfaces.shares.max(axis=1) < 1.0 - rules.border_share
    if not mixed.any():
        return Divided(mesh, owner)
    flats = flats_of(mesh, rules=surfaces.rules)
    found = (
        _cut(surfaces, flats, facets, owner, rules) for facets in _mixed_flats(flats, mixed, rules)
    )
    cuts = [cut for cut in found if cut is not None]
    kept = np.ones(len(mesh.triangles), dtype=np.bool_)
    for cut in cuts:
        kept[cut.facets] = False
    whole = _together(mesh, kept, cuts, rules)
    owners = np.concatenate([owner[kept], *(cut.owner for cut in cuts)])
    former = np.concatenate([owner[kept], *(cut.former for cut in cuts)])
    return Divided(whole, _settled(surfaces, whole, owners, former))


def _mixed_flats(flats: Flats, mixed: BoolArray, rules: PatternRules) -> list[IntArray]:
    """Facets of each flat that lies in two surfaces, the largest ones."""
    found = np.unique(flats.of_facet[mixed])
    largest = found[np.argsort(-flats.area_m2[found], kind="stable")][: rules.cut_count]
    place = np.full(flats.count, len(largest))
    place[largest] = np.arange(len(largest))
    return lists_of(place[flats.of_facet], len(largest) + 1)[:-1]


@dataclass(frozen=True, slots=True, eq=False)
class _Cut:
    """Facets of a flat, and what they were cut into.

    Owners below -1 are classes, from `_owner_of_class`, of which the surface is not known yet.
    """

    facets: IntArray
    points_m: FloatArray
    triangles: IntArray
    owner: IntArray
    former: IntArray


def _owner_of_class(column: IntArray) -> IntArray:
    """Mark of a facet of a class whose surface is not known yet, and back."""
    return -2 - column


def _cut(
    surfaces: Surfaces, flats: Flats, facets: IntArray, owner: IntArray, rules: PatternRules
) -> _Cut | None:
    """Cut the facets of one flat; points of the mesh keep their numbers, new ones are below 0."""
    mesh, shares = surfaces.mesh, surfaces.shares[facets]
    source, number = np.unique(mesh.triangles[facets], return_inverse=True)
    flat = Mesh(mesh.points_m[source], number.reshape(-1, 3).astype(np.int32))
    area_m2 = facets_of(flat).area_m2
    border = border_on(
        flat,
        shares,
        surfaces.show_direction,
        show_below=_is_show_below(surfaces, flats, int(flats.of_facet[facets[0]])),
        rules=rules,
    )
    if border is None:
        return None
    slices = sliced(flat, border.axis, border.cuts_m, within_m=rules.line_m)
    column = border.columns[slices.band]
    cell = slices.source * len(_CLASSES) + column
    cut_m2 = facets_of(slices.mesh).area_m2
    found_m2 = summed(cell, cut_m2, shares.size).reshape(shares.shape)
    off_m2 = float(np.abs(found_m2 - area_m2[:, None] * shares).sum())
    upright = SurfaceClass.SHOW_FACE not in {_CLASSES[at] for at in border.columns.tolist()}
    if upright and off_m2 > rules.border_off_share * float(area_m2.sum()):
        return None
    added = len(slices.mesh.points_m) - len(source)
    former = owner[facets][slices.source]
    numbers: IntArray = np.append(source, -1 - np.arange(added))
    return _Cut(
        facets=facets,
        points_m=slices.mesh.points_m[len(source) :],
        triangles=numbers[slices.mesh.triangles],
        owner=_owners(surfaces, slices.mesh, column, former),
        former=former,
    )


def _is_show_below(surfaces: Surfaces, flats: Flats, flat: int) -> bool:
    """Tell whether the show face that a flat borders lies below the wall, as in a basin."""
    joints, height_m = flats.joints, flats.mesh.points_m @ surfaces.show_direction
    mean_m: dict[bool, float] = {}
    for show in (True, False):
        weighed_m2, whole_m = 0.0, 0.0
        for own, beyond in (
            (joints.left, joints.right_facet),
            (joints.right, joints.left_facet),
        ):
            at = np.flatnonzero(own == flat)
            share = surfaces.shares[beyond[at], _CLASSES.index(SurfaceClass.SHOW_FACE)]
            weight_m = joints.length_m[at] * (share if show else 1.0 - share)
            ends_m = height_m[joints.start[at]] + height_m[joints.end[at]]
            weighed_m2 += float(weight_m @ ends_m) / 2.0
            whole_m += float(weight_m.sum())
        mean_m[show] = weighed_m2 / whole_m if whole_m else np.inf
    return mean_m[True] < mean_m[False]


def _owners(surfaces: Surfaces, flat: Mesh, column: IntArray, former: IntArray) -> IntArray:
    """Surface of every piece of a flat: what it hangs together with of its class."""
    of_class = _columns(surfaces)
    area_m2 = facets_of(flat).area_m2
    edges = edge_table(flat)
    same = column[edges.left] == column[edges.right]
    patch = component_labels(len(column), edges.left, edges.right, linked=same)
    owner = _owner_of_class(column)
    for own in lists_of(patch, int(patch.max()) + 1):
        right = own[of_class[former[own]] == column[own[0]]]
        if len(right):
            owner[own] = int(np.bincount(former[right], area_m2[right]).argmax())
    return owner


def _together(mesh: Mesh, kept: BoolArray, cuts: Sequence[_Cut], rules: PatternRules) -> Mesh:
    """Put whole and cut facets together, new points in one place being one."""
    if not cuts:
        return mesh
    from scipy.spatial import KDTree

    points_m = np.concatenate([cut.points_m for cut in cuts])
    first = np.cumsum([0, *(len(cut.points_m) for cut in cuts)])
    rows = [
        np.where(cut.triangles < 0, len(mesh.points_m) + start - 1 - cut.triangles, cut.triangles)
        for cut, start in zip(cuts, first[:-1].tolist(), strict=True)
    ]
    triangles = np.concatenate([mesh.triangles[kept], *rows])
    near = KDTree(points_m).query_pairs(rules.seam_m, output_type="ndarray")
    label = component_labels(len(points_m), near[:, 0], near[:, 1])
    _, one = np.unique(label, return_index=True)
    number = np.append(np.arange(len(mesh.points_m)), len(mesh.points_m) + label)
    whole_m = np.concatenate([mesh.points_m, points_m[one]])
    return Mesh(whole_m, number[triangles].astype(np.int32))


def _settled(surfaces: Surfaces, mesh: Mesh, owner: IntArray, former: IntArray) -> IntArray:
    """Give the pieces that have no surface yet to theirs.

    That is a surface without a facet of its own that is as large and meets the one they were
    cut from; else the one of their class that they border longest; else they stay.
    """
    loose = owner < -1
    if not loose.any():
        return owner
    column = np.where(owner >= 0, _columns(surfaces)[owner], _owner_of_class(owner))
    edges = edge_table(mesh)
    same = column[edges.left] == column[edges.right]
    within = same & loose[edges.left] & loose[edges.right]
    patch = component_labels(len(owner), edges.left, edges.right, linked=within)
    patch_m2 = summed(patch, facets_of(mesh).area_m2, int(patch.max()) + 1)
    beside_m = _beside_m(mesh, edges, np.flatnonzero(same), np.where(loose, -1, owner), patch)
    facets = lists_of(patch, len(patch_m2))
    numbers = np.unique(patch[loose])
    empty = set(range(len(surfaces.surfaces))) - set(owner.tolist())
    settled = owner.copy()
    for number in numbers[np.argsort(-patch_m2[numbers], kind="stable")].tolist():
        first = int(facets[number][0])
        own = _own_surface(surfaces, empty, column[first], patch_m2[number], former[first])
        held_m = beside_m.get(number, {})
        if own >= 0:
            empty.discard(own)
        elif held_m:
            own = max(sorted(held_m), key=held_m.__getitem__)
        settled[facets[number]] = own if own >= 0 else former[first]
    return settled


def _own_surface(
    surfaces: Surfaces, empty: Collection[int], column: int, patch_m2: float, former: int
) -> int:
    """Surface without a facet that a piece is: as large, and meeting what it was cut from."""
    wall = surfaces.surfaces[former].id
    alike = [
        (wall not in surface.neighbours_m, number)
        for number, surface in enumerate(surfaces.surfaces)
        if number in empty
        and surface.surface_class is _CLASSES[column]
        and abs(surface.area_m2 - patch_m2) <= surfaces.rules.equal_share * patch_m2
    ]
    return min(alike)[1] if alike else -1


def _beside_m(
    mesh: Mesh, edges: EdgeTable, same: IntArray, owner: IntArray, patch: IntArray
) -> dict[int, dict[int, float]]:
    """Length along which pieces without a surface border each surface of their class."""
    beside_m: dict[int, dict[int, float]] = {}
    for inside, beyond in ((edges.left, edges.right), (edges.right, edges.left)):
        at = same[(owner[inside[same]] < 0) & (owner[beyond[same]] >= 0)]
        lengths = lengths_m(mesh, edges.start[at], edges.end[at]).tolist()
        pairs = zip(patch[inside[at]].tolist(), owner[beyond[at]].tolist(), lengths, strict=True)
        for number, surface, length_m in pairs:
            held_m = beside_m.setdefault(number, {})
            held_m[surface] = held_m.get(surface, 0.0) + length_m
    return beside_m


def _columns(surfaces: Surfaces) -> IntArray:
    """Class of each surface, as the column of the shares."""
    return np.array([_CLASSES.index(one.surface_class) for one in surfaces.surfaces])
