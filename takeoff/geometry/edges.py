"""Which facets meet along which edges of a mesh."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from takeoff.geometry.fans import FanLinks, fan_links
from takeoff.geometry.half_edges import EdgeRuns, edge_runs
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
        return _with_fans(runs, fans)
    return EdgeTable(
        left=runs.pair.facet,
        right=runs.mate,
        start=runs.pair.start,
        end=runs.pair.end,
        same_way=runs.same_way,
        open_facet=runs.alone.facet,
        open_start=runs.alone.start,
        open_end=runs.alone.end,
        fans=0,
    )


def _with_fans(runs: EdgeRuns, fans: FanLinks) -> EdgeTable:
    """Put the links of fans behind the edges of two facets."""
    one, other = runs.fanned.take(fans.first), runs.fanned.take(fans.second)
    return EdgeTable(
        left=np.concatenate([runs.pair.facet, one.facet]),
        right=np.concatenate([runs.mate, other.facet]),
        start=np.concatenate([runs.pair.start, one.start]),
        end=np.concatenate([runs.pair.end, one.end]),
        same_way=np.concatenate([runs.same_way, one.start == other.start]),
        open_facet=runs.alone.facet,
        open_start=runs.alone.start,
        open_end=runs.alone.end,
        fans=fans.count,
        fan_links=len(fans.first),
        torn_links=fans.torn,
    )
