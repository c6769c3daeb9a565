"""Turns between neighbouring facets, and lengths of the edges between them."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from takeoff.geometry.edges import EdgeTable
from takeoff.geometry.facets import Facets
from takeoff.geometry.mesh import Mesh


def turns_deg(mesh: Mesh, facets: Facets, edges: EdgeTable) -> NDArray[np.float64]:
    """Give the signed turn between the two facets of every edge.

    Parameters
    ----------
    mesh : Mesh
        The mesh.
    facets : Facets
        Of the same mesh.
    edges : EdgeTable
        Of the same mesh.

    Returns
    -------
    ndarray of float, shape (e,)
        Angle between the two normals: above 0 at an arris of the solid, below 0 at an inside
        corner, 0 on a flat. [°]

    Notes
    -----
    The angle is taken from sine and cosine together, so that a flat comes out flat to
    rounding. Where the two facets are wound against each other the second normal is
    turned first, so the sign is then as seen from the left facet.

    Examples
    --------
    >>> import trimesh
    >>> from takeoff.geometry.edges import edge_table
    >>> from takeoff.geometry.facets import facets_of
    >>> box = Mesh.from_trimesh(trimesh.creation.box((1.0, 1.0, 1.0)), unit="m")
    >>> turns = turns_deg(box, facets_of(box), edge_table(box))
    >>> sorted(set(turns.round(9).tolist()))
    [0.0, 90.0]
    """
    cosine = np.zeros(len(edges.left))
    sine = np.zeros(len(edges.left))
    length = np.zeros(len(edges.left))
    columns = [np.ascontiguousarray(facets.normals[:, axis]) for axis in range(3)]
    left = [column[edges.left] for column in columns]
    right = [column[edges.right] for column in columns]
    for axis in range(3):
        column = np.ascontiguousarray(mesh.points_m[:, axis])
        along = column[edges.end] - column[edges.start]
        second, third = (axis + 1) % 3, (axis + 2) % 3
        cosine += left[axis] * right[axis]
        sine += along * (left[second] * right[third] - left[third] * right[second])
        length += along * along
    length = np.sqrt(length)
    sine /= np.where(length > 0.0, length, 1.0)
    against = np.where(edges.same_way, -1.0, 1.0)
    return np.degrees(np.arctan2(sine * against, cosine * against))


def edge_lengths_m(mesh: Mesh, edges: EdgeTable) -> NDArray[np.float64]:
    """Give the length of every edge between two facets.

    Parameters
    ----------
    mesh : Mesh
        The mesh.
    edges : EdgeTable
        Of the same mesh.

    Returns
    -------
    ndarray of float, shape (e,)
        Lengths in the order of the table. [m]

    Examples
    --------
    >>> import trimesh
    >>> from takeoff.geometry.edges import edge_table
    >>> box = Mesh.from_trimesh(trimesh.creation.box((1.0, 1.0, 1.0)), unit="m")
    >>> round(float(edge_lengths_m(box, edge_table(box)).sum()), 6)
    20.485281
    """
    along = mesh.points_m[edges.end] - mesh.points_m[edges.start]
    return np.sqrt(np.einsum("ij,ij->i", along, along))
