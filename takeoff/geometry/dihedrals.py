"""Turns between neighbouring facets, and lengths of the edges between them."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from takeoff.geometry.blocks import blocks
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
    turns = np.empty(len(edges.left))
    for piece in blocks(len(edges.left)):
        left = facets.normals.take(edges.left[piece], axis=0)
        right = facets.normals.take(edges.right[piece], axis=0)
        right[edges.same_way[piece]] *= -1.0
        along = _along_m(mesh, edges, piece)
        length = np.sqrt(np.einsum("ij,ij->i", along, along))
        length[length == 0.0] = 1.0
        sine = np.einsum("ij,ij->i", along, np.cross(left, right)) / length
        turns[piece] = np.degrees(np.arctan2(sine, np.einsum("ij,ij->i", left, right)))
    return turns


def are_smooth(facets: Facets, edges: EdgeTable, *, smooth_deg: float) -> NDArray[np.bool_]:
    """Tell where the turn of an edge is small, without measuring it.

    Parameters
    ----------
    facets : Facets
        Of a mesh.
    edges : EdgeTable
        Of the same mesh.
    smooth_deg : float
        Turns below this are small. [°]

    Returns
    -------
    ndarray of bool, shape (e,)
        True for edges that turn less, either way.

    Examples
    --------
    >>> import trimesh
    >>> from takeoff.geometry.edges import edge_table
    >>> from takeoff.geometry.facets import facets_of
    >>> box = Mesh.from_trimesh(trimesh.creation.box((1.0, 1.0, 1.0)), unit="m")
    >>> int(are_smooth(facets_of(box), edge_table(box), smooth_deg=20.0).sum())
    6
    """
    least = np.cos(np.radians(smooth_deg))
    smooth = np.empty(len(edges.left), dtype=np.bool_)
    for piece in blocks(len(edges.left)):
        left = facets.normals.take(edges.left[piece], axis=0)
        right = facets.normals.take(edges.right[piece], axis=0)
        left *= right
        cosine = left[:, 0] + left[:, 1]
        cosine += left[:, 2]
        cosine[edges.same_way[piece]] *= -1.0
        smooth[piece] = cosine > least
    return smooth


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
    lengths = np.empty(len(edges.left))
    for piece in blocks(len(edges.left)):
        along = _along_m(mesh, edges, piece)
        lengths[piece] = np.sqrt(np.einsum("ij,ij->i", along, along))
    return lengths


def _along_m(mesh: Mesh, edges: EdgeTable, piece: slice) -> NDArray[np.float64]:
    """Vectors from the start to the end of some edges."""
    along: NDArray[np.float64] = mesh.points_m.take(edges.end[piece], axis=0)
    along -= mesh.points_m.take(edges.start[piece], axis=0)
    return along
