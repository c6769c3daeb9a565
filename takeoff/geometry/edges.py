"""Which facets meet along which edges of a mesh."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from takeoff.geometry.fans import fan_links
from takeoff.geometry.half_edges import edge_runs, ends_of
from takeoff.geometry.mesh import Mesh


@dataclass(frozen=True, slots=True, eq=False)
class EdgeTable:
    """Edges between two facets, and open edges.

    Parameters
    ----------
    left, right : ndarray of int, shape (e,)
        The two facets of an edge. The edge runs from ``start`` to ``end`` in the winding of
        ``left``; where the winding is consistent it runs the other way round in ``right``.
    start, end : ndarray of int, shape (e,)
        Point numbers of the edge.
    same_way : ndarray of bool, shape (e,)
        True where both facets run the edge the same way (winding not consistent there).
    open_facet, open_start, open_end : ndarray of int, shape (b,)
        Facet and point numbers of the edges that only one facet has, in its winding.
    fans : int
        Number of edges shared by three or more facets. Their facets are paired across the
        material between them where as many run one way as the other, and otherwise linked
        in sequence around the edge.
    fan_links : int, default 0
        How many of the last entries of the table come from fans.
    torn_links : int, default 0
        How many of the last of these come from fans whose facets do not pair off.
    """

    left: NDArray[np.int32]
    right: NDArray[np.int32]
    start: NDArray[np.int32]
    end: NDArray[np.int32]
    same_way: NDArray[np.bool_]
    open_facet: NDArray[np.int32]
    open_start: NDArray[np.int32]
    open_end: NDArray[np.int32]
    fans: int
    fan_links: int = 0
    torn_links: int = 0

    @property
    def sound(self) -> bool:
        """True where every edge has two facets that run it opposite ways."""
        return not (len(self.open_facet) or self.fans or self.same_way.any())


def edge_table(mesh: Mesh) -> EdgeTable:
    """Pair the facets of a mesh along their edges.

    Parameters
    ----------
    mesh : Mesh
        A welded mesh: facets that meet share point numbers.

    Returns
    -------
    EdgeTable
        Each edge once, those of two facets first, then the links of fans.

    Examples
    --------
    >>> square = np.array([[0, 0, 0], [1, 0, 0], [1, 1, 0], [0, 1, 0]], dtype=float)
    >>> table = edge_table(Mesh(square, np.array([[0, 1, 2], [0, 2, 3]], dtype=np.int32)))
    >>> table.left.tolist(), table.right.tolist(), len(table.open_facet), table.sound
    ([0], [1], 4, False)
    """
    runs = edge_runs(mesh.triangles, len(mesh.points_m))
    fans = fan_links(mesh, runs.fanned, runs.sizes)
    if fans.count:
        runs = replace(
            runs,
            pair=np.concatenate([runs.pair, fans.half]),
            mate=np.concatenate([runs.mate, fans.mate]),
        )
    start, end = ends_of(mesh.triangles, runs.pair)
    same_way = mesh.triangles.reshape(-1).take(runs.mate) == start
    open_start, open_end = ends_of(mesh.triangles, runs.alone)
    return EdgeTable(
        left=np.floor_divide(runs.pair, 3, out=runs.pair),
        right=np.floor_divide(runs.mate, 3, out=runs.mate),
        start=start,
        end=end,
        same_way=same_way,
        open_facet=runs.alone // np.int32(3),
        open_start=open_start,
        open_end=open_end,
        fans=fans.count,
        fan_links=len(fans.half),
        torn_links=fans.torn,
    )
