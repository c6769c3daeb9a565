"""Facets turned so that neighbours are wound alike."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from takeoff.geometry.components import component_labels
from takeoff.geometry.edges import EdgeTable
from takeoff.geometry.mesh import Mesh


@dataclass(frozen=True, slots=True, eq=False)
class Winding:
    """Which facets must be turned.

    Parameters
    ----------
    turned : ndarray of bool, shape (k,)
        True for facets to turn; of each connected part the fewer facets.
    one_sided : ndarray of bool, shape (k,)
        True for facets of parts that cannot be wound alike, such as a band with one twist;
        nothing is turned there.
    """

    turned: NDArray[np.bool_]
    one_sided: NDArray[np.bool_]


def consistent_winding(count: int, edges: EdgeTable) -> Winding:
    """Find the facets to turn so that every edge of two facets is run both ways.

    Parameters
    ----------
    count : int
        Number of facets.
    edges : EdgeTable
        Of the mesh; only edges of two facets tell anything, fans do not.

    Returns
    -------
    Winding
        What to turn, and what cannot be helped.

    Notes
    -----
    Every facet stands twice in a graph, as it is and turned; neighbours that agree are
    linked as they are, the others crosswise. A part whose two copies fall together is
    one-sided.

    Examples
    --------
    >>> from takeoff.geometry.edges import edge_table
    >>> square = np.array([[0, 0, 0], [1, 0, 0], [1, 1, 0], [0, 1, 0]], dtype=float)
    >>> facets = np.array([[0, 1, 2], [2, 0, 3]], dtype=np.int32)
    >>> consistent_winding(2, edge_table(Mesh(square, facets))).turned.tolist()
    [False, True]
    """
    pairs = len(edges.left) - edges.fan_links
    left, right, crossed = edges.left[:pairs], edges.right[:pairs], edges.same_way[:pairs]
    label = component_labels(
        2 * count,
        np.concatenate([left, left + np.int32(count)]),
        np.concatenate([right + crossed * np.int32(count), right + ~crossed * np.int32(count)]),
    )
    as_is, turned = label[:count], label[count:]
    one_sided = as_is == turned
    part = np.minimum(as_is, turned)
    against = as_is != part
    votes = np.bincount(part, against, minlength=int(label.max()) + 1)
    sizes = np.bincount(part, minlength=int(label.max()) + 1)
    mostly = (votes * 2 > sizes)[part]
    return Winding((against ^ mostly) & ~one_sided, one_sided)


def turned(mesh: Mesh, facets: NDArray[np.bool_]) -> Mesh:
    """Turn some facets over.

    Parameters
    ----------
    mesh : Mesh
        Any mesh.
    facets : ndarray of bool, shape (k,)
        Which facets to turn.

    Returns
    -------
    Mesh
        The mesh with those facets wound the other way.

    Examples
    --------
    >>> corner = Mesh(np.eye(3), np.array([[0, 1, 2]], dtype=np.int32))
    >>> turned(corner, np.array([True])).triangles.tolist()
    [[0, 2, 1]]
    """
    triangles = mesh.triangles.copy()
    triangles[facets, 1] = mesh.triangles[facets, 2]
    triangles[facets, 2] = mesh.triangles[facets, 1]
    return Mesh(mesh.points_m, triangles)
