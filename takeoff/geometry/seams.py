"""Open edges that face several shorter ones: the facet is split where their points lie on it."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from takeoff.geometry.edges import EdgeTable, edge_table
from takeoff.geometry.mesh import Mesh
from takeoff.geometry.repairs import Defect, Repair

IntArray = NDArray[np.int64]
FloatArray = NDArray[np.float64]
_MOST_NEIGHBOURS = 1_000_000  # points near open edges; beyond it the mesh is no surface
_ROUNDS = 4  # a facet is split along one of its three sides at a time, then once more


def split_seams(
    mesh: Mesh, edges: EdgeTable, *, within_m: float
) -> tuple[Mesh, tuple[Repair, ...]]:
    """Split facets where points of neighbouring open edges lie on their own.

    Parameters
    ----------
    mesh : Mesh
        A welded mesh.
    edges : EdgeTable
        Of the same mesh.
    within_m : float
        How far off the edge such a point may lie. [m]

    Returns
    -------
    tuple of Mesh and tuple of Repair
        No point moves and none is added, so the area stays.

    Notes
    -----
    A point counts only where an open edge runs from it along the long one: a corner that
    merely touches an edge joins nothing.

    Examples
    --------
    >>> points = np.array([[0, 0, 0], [2, 0, 0], [1, 1, 0], [1, 0, 0], [1, -1, 0]], dtype=float)
    >>> facets = np.array([[0, 1, 2], [3, 0, 4], [1, 3, 4]], dtype=np.int32)
    >>> mesh = Mesh(points, facets)
    >>> split, _ = split_seams(mesh, edge_table(mesh), within_m=1e-6)
    >>> split, len(edge_table(mesh).open_facet), len(edge_table(split).open_facet)
    (Mesh(points=5, triangles=4), 7, 4)
    """
    count = 0
    for _ in range(_ROUNDS):
        edge, point = _points_on_edges(mesh, edges, within_m)
        if not len(edge):
            break
        mesh, split = _split(mesh, edges, edge, point)
        count += split
        edges = edge_table(mesh)
    return mesh, (Repair(Defect.SEAM, count),) if count else ()


def _points_on_edges(mesh: Mesh, edges: EdgeTable, within_m: float) -> tuple[IntArray, IntArray]:
    """Open edges, and points on them from which another open edge runs along; sorted along."""
    nothing = np.empty(0, dtype=np.int64)
    if not len(edges.open_facet):
        return nothing, nothing
    start, end = mesh.points_m[edges.open_start], mesh.points_m[edges.open_end]
    length = np.linalg.norm(end - start, axis=1)
    near = _near_middle(mesh, edges, length / 2.0)
    if near is None:
        return nothing, nothing
    edge, point, other = near
    direction = (end[edge] - start[edge]) / length[edge, None]
    along, off = _along_and_off(mesh.points_m[point] - start[edge], direction)
    along_other, off_other = _along_and_off(mesh.points_m[other] - start[edge], direction)
    on_it = (off <= within_m) & (along > within_m) & (along < length[edge] - within_m)
    runs_along = (off_other <= within_m) & (np.abs(along_other - along) > within_m)
    chosen = on_it & runs_along
    edge, point, along = edge[chosen], point[chosen], along[chosen]
    order = np.lexsort((along, edge))
    edge, point = edge[order], point[order]
    new = np.ones(len(edge), dtype=np.bool_)
    new[1:] = (edge[1:] != edge[:-1]) | (point[1:] != point[:-1])
    return edge[new], point[new]


def _near_middle(
    mesh: Mesh, edges: EdgeTable, reach_m: FloatArray
) -> tuple[IntArray, IntArray, IntArray] | None:
    """Open edges, ends of other open edges within reach of their middle, and the far ends."""
    from scipy.spatial import KDTree

    point = np.concatenate([edges.open_start, edges.open_end]).astype(np.int64)
    other = np.concatenate([edges.open_end, edges.open_start]).astype(np.int64)
    tree = KDTree(mesh.points_m[point])
    middle = (mesh.points_m[edges.open_start] + mesh.points_m[edges.open_end]) / 2.0
    count = tree.query_ball_point(middle, reach_m, return_length=True)
    if count.sum() > _MOST_NEIGHBOURS:
        return None
    found = tree.query_ball_point(middle, reach_m, return_sorted=True)
    edge = np.repeat(np.arange(len(middle)), count)
    record = np.concatenate([np.asarray(rows, dtype=np.int64) for rows in found])
    return edge, point[record], other[record]


def _along_and_off(arm_m: FloatArray, direction: FloatArray) -> tuple[FloatArray, FloatArray]:
    """How far points lie along a line, and off it."""
    along = np.einsum("ij,ij->i", arm_m, direction)
    return along, np.linalg.norm(arm_m - along[:, None] * direction, axis=1)


def _split(mesh: Mesh, edges: EdgeTable, edge: IntArray, point: IntArray) -> tuple[Mesh, int]:
    """Split each facet along the first of its open edges that has points on it, as a fan."""
    facet = edges.open_facet[edge]
    first_edge = np.full(len(mesh.triangles), len(edges.open_facet))
    np.minimum.at(first_edge, facet, edge)
    chosen = first_edge[facet] == edge
    edge, point, facet = edge[chosen], point[chosen], facet[chosen]
    begins = np.ones(len(edge), dtype=np.bool_)
    begins[1:] = edge[1:] != edge[:-1]
    ends = np.append(begins[1:], True)
    triangles = mesh.triangles[facet]
    apex = triangles.sum(axis=1) - edges.open_start[edge] - edges.open_end[edge]
    after = np.where(ends, edges.open_end[edge], np.append(point[1:], 0))
    pieces = np.stack([apex, point, after], axis=1)
    leading = np.stack([apex, edges.open_start[edge], point], axis=1)[begins]
    kept = np.ones(len(mesh.triangles), dtype=np.bool_)
    kept[facet] = False
    rows = np.concatenate([mesh.triangles[kept], leading, pieces]).astype(np.int32)
    return Mesh(mesh.points_m, rows), int(begins.sum())
