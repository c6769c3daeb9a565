"""Edges that bound a skin, or a part of one."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from takeoff.geometry.edges import EdgeTable

IntArray = NDArray[np.integer]
BoolArray = NDArray[np.bool_]


@dataclass(frozen=True, slots=True, eq=False)
class BorderEdges:
    """Edges in the winding of the facet whose side they bound.

    Parameters
    ----------
    start, end : ndarray of int, shape (b,)
        Point numbers.
    facet : ndarray of int, shape (b,)
        The facet.
    """

    start: IntArray
    end: IntArray
    facet: IntArray

    def of(self, part: BoolArray) -> BorderEdges:
        """Give the edges of a part of the skin.

        Parameters
        ----------
        part : ndarray of bool, shape (k,)
            Facets of the part.

        Returns
        -------
        BorderEdges
            The edges.
        """
        return self.chosen(part[self.facet])

    def chosen(self, some: BoolArray) -> BorderEdges:
        """Give some of the edges.

        Parameters
        ----------
        some : ndarray of bool, shape (b,)
            Which of them.

        Returns
        -------
        BorderEdges
            Those edges.
        """
        return BorderEdges(self.start[some], self.end[some], self.facet[some])


def open_border(edges: EdgeTable) -> BorderEdges:
    """Give the edges that only one facet has.

    Parameters
    ----------
    edges : EdgeTable
        Edges of the skin.

    Returns
    -------
    BorderEdges
        The edges.

    Examples
    --------
    >>> from takeoff.geometry.edges import edge_table
    >>> from takeoff.geometry.mesh import Mesh
    >>> corner = Mesh(np.eye(3), np.array([[0, 1, 2]], dtype=np.int32))
    >>> len(open_border(edge_table(corner)).facet)
    3
    """
    return BorderEdges(edges.open_start, edges.open_end, edges.open_facet)


def border_between(edges: EdgeTable, part: BoolArray) -> BorderEdges:
    """Give the edges between a part of a skin and the rest of it.

    Parameters
    ----------
    edges : EdgeTable
        Edges of the skin.
    part : ndarray of bool, shape (k,)
        Facets of the part.

    Returns
    -------
    BorderEdges
        The edges, in the winding of the part.

    Examples
    --------
    >>> from takeoff.geometry.edges import edge_table
    >>> from takeoff.geometry.mesh import Mesh
    >>> square = np.array([[0, 0, 0], [1, 0, 0], [1, 1, 0], [0, 1, 0]], dtype=float)
    >>> folded = Mesh(square, np.array([[0, 1, 2], [0, 2, 3]], dtype=np.int32))
    >>> border_between(edge_table(folded), np.array([True, False])).facet.tolist()
    [0]
    """
    left = part[edges.left] & ~part[edges.right]
    right = part[edges.right] & ~part[edges.left]
    back = right & edges.same_way
    return BorderEdges(
        np.concatenate([edges.start[left], np.where(back, edges.start, edges.end)[right]]),
        np.concatenate([edges.end[left], np.where(back, edges.end, edges.start)[right]]),
        np.concatenate([edges.left[left], edges.right[right]]),
    )
