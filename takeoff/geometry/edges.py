"""Which facets meet along which edges of a mesh."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from takeoff.geometry.fans import fan_links
from takeoff.geometry.mesh import Mesh

IntArray = NDArray[np.int64]


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
    start = mesh.triangles.reshape(-1)
    end = np.ascontiguousarray(mesh.triangles[:, [1, 2, 0]]).reshape(-1)
    order, first, count = _runs(start, end, len(mesh.points_m))
    pair = order[first[count == 2]]
    mate = order[first[count == 2] + 1]
    alone = order[first[count == 1]]
    fans = fan_links(mesh, start, end, order, first, count)
    pair = np.concatenate([pair, fans.half])
    mate = np.concatenate([mate, fans.mate])
    return EdgeTable(
        left=(pair // 3).astype(np.int32),
        right=(mate // 3).astype(np.int32),
        start=start[pair],
        end=end[pair],
        same_way=start[pair] == start[mate],
        open_facet=(alone // 3).astype(np.int32),
        open_start=start[alone],
        open_end=end[alone],
        fans=fans.count,
        fan_links=len(fans.half),
        torn_links=fans.torn,
    )


def _runs(
    start: NDArray[np.int32], end: NDArray[np.int32], points: int
) -> tuple[IntArray, IntArray, IntArray]:
    """Half-edges sorted by the edge they lie on, with first place and count of each edge."""
    low = np.minimum(start, end).astype(np.uint64)
    high = np.maximum(start, end).astype(np.uint64)
    point_bits = max(points - 1, 1).bit_length()
    row_bits = max(len(start) - 1, 1).bit_length()
    key = low << np.uint64(point_bits) | high
    if 2 * point_bits + row_bits <= 64:
        key = key << np.uint64(row_bits) | np.arange(len(start), dtype=np.uint64)
        key.sort()
        order = (key & np.uint64((1 << row_bits) - 1)).astype(np.int64)
        key >>= np.uint64(row_bits)
    else:
        order = np.argsort(key, kind="stable")
        key = key[order]
    new = np.ones(len(key), dtype=np.bool_)
    np.not_equal(key[1:], key[:-1], out=new[1:])
    first = np.flatnonzero(new)
    return order, first, np.diff(np.append(first, len(key)))
