"""Facets that add nothing: those without area, and those drawn more than once."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from takeoff.geometry.blocks import blocks
from takeoff.geometry.components import component_labels
from takeoff.geometry.facets import bounds_m
from takeoff.geometry.mesh import Mesh
from takeoff.geometry.repairs import Defect, Repair


def without_pinched(mesh: Mesh) -> tuple[Mesh, tuple[Repair, ...]]:
    """Drop facets that use a point twice.

    Parameters
    ----------
    mesh : Mesh
        A welded mesh.

    Returns
    -------
    tuple of Mesh and tuple of Repair
        The mesh itself where there are none.

    Examples
    --------
    >>> pinched = Mesh(np.eye(3), np.array([[0, 1, 2], [1, 1, 2]], dtype=np.int32))
    >>> without_pinched(pinched)[0]
    Mesh(points=3, triangles=1)
    """
    first, second, third = (mesh.triangles[:, i] for i in range(3))
    return _kept(mesh, (first != second) & (second != third) & (third != first), Defect.NO_AREA)


def without_slivers(
    mesh: Mesh, area_m2: NDArray[np.float64], *, height_m: float
) -> tuple[Mesh, tuple[Repair, ...]]:
    """Drop facets that are no higher over their longest side than rounding.

    Parameters
    ----------
    mesh : Mesh
        A welded mesh.
    area_m2 : ndarray of float, shape (k,)
        Area of its facets. [m²]
    height_m : float
        A facet must be higher than this. [m]

    Returns
    -------
    tuple of Mesh and tuple of Repair
        The mesh itself where there are none.

    Examples
    --------
    >>> points = np.array([[0.0, 0, 0], [1, 0, 0], [2, 0, 0], [0, 1, 0]])
    >>> mesh = Mesh(points, np.array([[0, 1, 2], [0, 2, 3]], dtype=np.int32))
    >>> without_slivers(mesh, np.array([0.0, 1.0]), height_m=1e-9)[0].triangles.tolist()
    [[0, 2, 3]]
    """
    low_m, high_m = bounds_m(mesh)
    least_m2 = height_m * np.linalg.norm(high_m - low_m) / 2.0
    if area_m2.min(initial=np.inf) > least_m2:
        return mesh, ()
    doubtful = np.flatnonzero(area_m2 <= least_m2)
    kept = np.ones(len(mesh.triangles), dtype=np.bool_)
    for piece in blocks(len(doubtful)):
        facets = doubtful[piece]
        corners = mesh.points_m[mesh.triangles[facets]]
        sides = np.linalg.norm(corners - corners[:, [1, 2, 0]], axis=2)
        kept[facets] = 2.0 * area_m2[facets] > height_m * sides.max(axis=1)
    return _kept(mesh, kept, Defect.NO_AREA)


def without_duplicates(mesh: Mesh) -> tuple[Mesh, tuple[Repair, ...]]:
    """Drop facets that repeat another.

    Parameters
    ----------
    mesh : Mesh
        A welded mesh.

    Returns
    -------
    tuple of Mesh and tuple of Repair
        One facet is left of those wound alike. Two wound against each other lie back to
        back inside a solid, and both go. One of them stays where the surface would gape
        without it, and where a whole connected part is drawn so: that is an open surface
        with two sides.

    Examples
    --------
    >>> twice = Mesh(np.eye(3), np.array([[0, 1, 2], [1, 2, 0]], dtype=np.int32))
    >>> without_duplicates(twice)[0]
    Mesh(points=3, triangles=1)
    """
    ordered = np.sort(mesh.triangles, axis=1)
    rank = np.lexsort(ordered.T)
    new = np.ones(len(rank), dtype=np.bool_)
    new[1:] = (ordered[rank[1:]] != ordered[rank[:-1]]).any(axis=1)
    if new.all():
        return mesh, ()
    group = np.empty(len(rank), dtype=np.int64)
    group[rank] = np.cumsum(new) - 1
    even = _is_even(mesh.triangles, ordered)
    leader = _first_of(group * 2 + even) == np.arange(len(group))
    mesh, repairs = _kept(mesh, leader, Defect.DUPLICATE)
    group, even = group[leader], even[leader]
    doubled = np.bincount(group)[group] == 2
    if not doubled.any():
        return mesh, repairs
    first = _first_of(group) == np.arange(len(group))
    single = _parts_all(mesh, doubled)
    single |= _needed(mesh, doubled & ~single, first)[_first_of(group)]
    kept = ~doubled | (single & first)
    alone, folded = int((single & ~kept).sum()), int((~single & ~kept).sum())
    told = []
    if alone:
        told.append(Repair(Defect.TWO_SIDED, alone))
    if folded:
        told.append(Repair(Defect.BACK_TO_BACK, folded))
    return Mesh(mesh.points_m, mesh.triangles[kept]), (*repairs, *told)


def _kept(mesh: Mesh, kept: NDArray[np.bool_], defect: Defect) -> tuple[Mesh, tuple[Repair, ...]]:
    """Give the mesh with some of its facets, and the repair if any went."""
    dropped = len(kept) - int(np.count_nonzero(kept))
    if not dropped:
        return mesh, ()
    return Mesh(mesh.points_m, mesh.triangles[kept]), (Repair(defect, dropped),)


def _is_even(triangles: NDArray[np.int32], ordered: NDArray[np.int32]) -> NDArray[np.bool_]:
    """Tell where a triangle names its points in rising order, from whichever it begins."""
    lowest = triangles.argmin(axis=1)
    rows = np.arange(len(triangles))
    even: NDArray[np.bool_] = triangles[rows, (lowest + 1) % 3] == ordered[:, 1]
    return even


def _first_of(group: NDArray[np.int64]) -> NDArray[np.int64]:
    """For each row the first row of its group."""
    first = np.full(int(group.max()) + 1, len(group))
    np.minimum.at(first, group, np.arange(len(group)))
    leaders: NDArray[np.int64] = first[group]
    return leaders


def _needed(mesh: Mesh, folded: NDArray[np.bool_], first: NDArray[np.bool_]) -> NDArray[np.bool_]:
    """Find the first facets of folded pairs without which the surface around them would gape.

    Along the rim of a wall inside a solid an even number of other facets meet; along that of
    a face drawn from both sides there is an odd one.
    """
    needed = np.zeros(len(folded), dtype=np.bool_)
    pairs = np.flatnonzero(folded & first)
    if not len(pairs):
        return needed
    ends = np.sort(np.stack([mesh.triangles, np.roll(mesh.triangles, -1, axis=1)]), axis=0)
    side = ends[0].astype(np.int64) * len(mesh.points_m) + ends[1]
    edges, edge = np.unique(side[pairs], return_inverse=True)
    edge = edge.reshape(-1, 3)
    others = side[~folded].reshape(-1)
    place = np.minimum(np.searchsorted(edges, others), len(edges) - 1)
    around = np.bincount(place[edges[place] == others], minlength=len(edges))
    vote = np.where(around % 2 == 1, 1, -1) * (around > 0)
    rows = np.arange(len(pairs)).repeat(3)
    sheet = component_labels(len(pairs) + len(edges), rows, len(pairs) + edge.reshape(-1))
    sheet = sheet[: len(pairs)]
    needed[pairs] = (np.bincount(sheet, vote[edge].sum(axis=1)) > 0.0)[sheet]
    return needed


def _parts_all(mesh: Mesh, chosen: NDArray[np.bool_]) -> NDArray[np.bool_]:
    """Find facets of parts, joined at any point, in which every facet is chosen."""
    first, second, third = mesh.triangles.T
    label = component_labels(
        len(mesh.points_m), np.concatenate([first, second]), np.concatenate([second, third])
    )[first]
    mixed = np.bincount(label, ~chosen, minlength=int(label.max()) + 1) > 0
    whole: NDArray[np.bool_] = ~mixed[label]
    return whole
