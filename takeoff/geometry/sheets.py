"""Flat sheets with a rim in common: the same face drawn twice, or two faces back to back."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from takeoff.geometry.components import component_labels
from takeoff.geometry.edges import EdgeTable
from takeoff.geometry.facets import facets_of
from takeoff.geometry.mesh import Mesh
from takeoff.geometry.repairs import Defect, Repair


def without_double_sheets(
    mesh: Mesh, edges: EdgeTable, *, within_m: float
) -> tuple[Mesh, tuple[Repair, ...]]:
    """Drop flat sheets that lie on another one, however each is divided into triangles.

    Parameters
    ----------
    mesh : Mesh
        A welded mesh wound alike.
    edges : EdgeTable
        Of the same mesh.
    within_m : float
        How far off a plane a flat sheet may lie. [m]

    Returns
    -------
    tuple of Mesh and tuple of Repair
        Of sheets wound alike one is left; two back to back both go, so that the bodies
        which touch there become one.

    Notes
    -----
    The mesh is cut along the edges that three or more facets share. Two flat sheets
    between the same cuts cover the same area of the same plane.

    Examples
    --------
    Two cubes that touch:

    >>> import trimesh
    >>> from takeoff.geometry.edges import edge_table
    >>> boxes = [trimesh.creation.box(bounds=[[i, 0, 0], [i + 1, 1, 1]]) for i in (0, 1)]
    >>> both = trimesh.util.concatenate(boxes)
    >>> both.merge_vertices()
    >>> pair = Mesh.from_trimesh(both, unit="m")
    >>> without_double_sheets(pair, edge_table(pair), within_m=1e-6)[0]
    Mesh(points=12, triangles=20)
    """
    if not edges.fans:
        return mesh, ()
    sheet = _cut_at_fans(mesh, edges)
    rims = _rims_of_sheets(mesh, edges, sheet)
    flat = _flat_sheets(mesh, sheet, rims, within_m)
    repeated, folded = _same_rims({number: rims[number] for number in flat})
    chosen = np.isin(sheet, [*repeated, *folded])
    if not chosen.any():
        return mesh, ()
    told = []
    if repeated:
        told.append(Repair(Defect.DUPLICATE, int(np.isin(sheet, [*repeated]).sum())))
    if folded:
        told.append(Repair(Defect.TOUCHING, int(np.isin(sheet, [*folded]).sum())))
    return Mesh(mesh.points_m, mesh.triangles[~chosen]), tuple(told)


def _cut_at_fans(mesh: Mesh, edges: EdgeTable) -> NDArray[np.int32]:
    """Label the sheet of each facet, sheets ending at fans."""
    pairs = len(edges.left) - edges.fan_links
    return component_labels(len(mesh.triangles), edges.left[:pairs], edges.right[:pairs])


def _rims_of_sheets(
    mesh: Mesh, edges: EdgeTable, sheet: NDArray[np.int32]
) -> dict[int, frozenset[tuple[int, int]]]:
    """Directed edges along which each sheet ends; sheets with open edges are left out."""
    pairs = len(edges.left) - edges.fan_links
    cut = {
        (min(ends), max(ends))
        for ends in zip(edges.start[pairs:].tolist(), edges.end[pairs:].tolist(), strict=True)
    }
    at_cut = np.zeros(len(mesh.points_m), dtype=np.bool_)
    at_cut[edges.start[pairs:]] = at_cut[edges.end[pairs:]] = True
    rims: dict[int, set[tuple[int, int]]] = {}
    for side in range(3):
        start, end = mesh.triangles[:, side], mesh.triangles[:, (side + 1) % 3]
        rows = np.flatnonzero(at_cut[start] & at_cut[end])
        for number, one, other in zip(
            sheet[rows].tolist(), start[rows].tolist(), end[rows].tolist(), strict=True
        ):
            if (min(one, other), max(one, other)) in cut:
                rims.setdefault(number, set()).add((one, other))
    open_sheets = set(sheet[edges.open_facet].tolist())
    return {number: frozenset(rim) for number, rim in rims.items() if number not in open_sheets}


def _flat_sheets(
    mesh: Mesh,
    sheet: NDArray[np.int32],
    rims: dict[int, frozenset[tuple[int, int]]],
    within_m: float,
) -> list[int]:
    """Sheets all of whose points lie in one plane."""
    facets = facets_of(mesh)
    flat = []
    order = np.argsort(sheet, kind="stable")
    first = np.searchsorted(sheet[order], np.arange(int(sheet.max()) + 2))
    for number in rims:
        rows = order[first[number] : first[number + 1]]
        normal = facets.area_m2[rows] @ facets.normals[rows]
        length = np.linalg.norm(normal)
        if not length:
            continue
        corners = mesh.points_m[mesh.triangles[rows]].reshape(-1, 3)
        height = (corners - corners[0]) @ (normal / length)
        if np.ptp(height) <= within_m:
            flat.append(number)
    return flat


def _same_rims(
    rims: dict[int, frozenset[tuple[int, int]]],
) -> tuple[set[int], set[int]]:
    """Sheets to drop: all but one of those wound alike, and pairs of those back to back."""
    alike: dict[frozenset[tuple[int, int]], list[int]] = {}
    for number, rim in rims.items():
        alike.setdefault(rim, []).append(number)
    repeated = {number for numbers in alike.values() for number in numbers[1:]}
    folded = set()
    for rim, numbers in alike.items():
        facing = alike.get(frozenset((end, start) for start, end in rim))
        if facing:
            folded |= {numbers[0], facing[0]}
    return repeated - folded, folded
