"""Facets around a point, told apart where parts of the surface merely touch there."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from takeoff.geometry.components import component_labels
from takeoff.geometry.edges import EdgeTable
from takeoff.geometry.mesh import Mesh

Numbers = NDArray[np.int32]


def umbrellas_of(mesh: Mesh, edges: EdgeTable) -> Numbers:
    """Label the corners of facets by the umbrella they belong to.

    Parameters
    ----------
    mesh : Mesh
        The mesh.
    edges : EdgeTable
        Of the same mesh.

    Returns
    -------
    ndarray of int, shape (3 k,)
        Corners of facets that meet along edges at a point carry the same number; so does a
        point of a sound surface. A point where two parts touch has two numbers.

    Examples
    --------
    Two triangles that touch at a corner:

    >>> from takeoff.geometry.edges import edge_table
    >>> points = np.array([[0, 0, 0], [1, 0, 0], [1, 1, 0], [-1, 0, 0], [-1, -1, 0]], dtype=float)
    >>> bow = Mesh(points, np.array([[0, 1, 2], [0, 3, 4]], dtype=np.int32))
    >>> umbrellas_of(bow, edge_table(bow)).tolist()
    [0, 1, 2, 3, 4, 5]
    """
    ends = (edges.start, edges.end)
    left = np.concatenate([corners_at(mesh, edges.left, end) for end in ends])
    right = np.concatenate([corners_at(mesh, edges.right, end) for end in ends])
    return component_labels(3 * len(mesh.triangles), left, right)


def corners_at(
    mesh: Mesh, facets: NDArray[np.integer], points: NDArray[np.integer]
) -> NDArray[np.int64]:
    """Give the number, three a facet, of the corner that lies on a point.

    Parameters
    ----------
    mesh : Mesh
        The mesh.
    facets : ndarray of int, shape (n,)
        Some facets.
    points : ndarray of int, shape (n,)
        A point of each.

    Returns
    -------
    ndarray of int, shape (n,)
        Corner numbers.

    Examples
    --------
    >>> corner = Mesh(np.eye(3), np.array([[2, 0, 1]], dtype=np.int32))
    >>> corners_at(corner, np.array([0]), np.array([1])).tolist()
    [2]
    """
    place = (mesh.triangles[facets] == points[:, None]).argmax(axis=1)
    corners: NDArray[np.int64] = 3 * facets.astype(np.int64) + place
    return corners
