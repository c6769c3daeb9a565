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
    turns = np.zeros(len(edges.left))
    normals = np.ascontiguousarray(facets.normals.T)
    columns = np.ascontiguousarray(mesh.points_m.T)
    for piece in blocks(len(edges.left)):
        left, right = normals.take(edges.left[piece], axis=1), normals.take(edges.right[piece], 1)
        turning = edges.same_way[piece] | (left != right).any(axis=0)
        at = np.flatnonzero(turning)
        if not len(at):
            continue
        if len(at) < len(turning):
            left, right = left.take(at, axis=1), right.take(at, axis=1)
        at += piece.start
        right[:, edges.same_way[at]] *= -1.0
        along = _along_m(columns, edges.start[at], edges.end[at])
        turns[at] = np.degrees(_turns(left, right, along))
    return turns


def _turns(
    left: NDArray[np.float64], right: NDArray[np.float64], along: NDArray[np.float64]
) -> NDArray[np.float64]:
    """Give the turns from left to right normals about edges, all as columns, in radians."""
    (lx, ly, lz), (rx, ry, rz), (ax, ay, az) = left, right, along
    length = np.sqrt(ax * ax + ay * ay + az * az)
    length[length == 0.0] = 1.0
    sine = (ly * rz - lz * ry) * ax
    sine += (lz * rx - lx * rz) * ay
    sine += (lx * ry - ly * rx) * az
    sine /= length
    turns: NDArray[np.float64] = np.arctan2(sine, lx * rx + ly * ry + lz * rz)
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
    return lengths_m(mesh, edges.start, edges.end)


def lengths_m(
    mesh: Mesh, start: NDArray[np.integer], end: NDArray[np.integer]
) -> NDArray[np.float64]:
    """Give the distance between pairs of points of a mesh.

    Parameters
    ----------
    mesh : Mesh
        The mesh.
    start, end : ndarray of int, shape (e,)
        Point numbers.

    Returns
    -------
    ndarray of float, shape (e,)
        Distances. [m]

    Examples
    --------
    >>> corner = Mesh(np.eye(3), np.array([[0, 1, 2]], dtype=np.int32))
    >>> lengths_m(corner, np.array([0, 1]), np.array([0, 2])).round(6).tolist()
    [0.0, 1.414214]
    """
    if len(start) < len(mesh.points_m):
        arm = mesh.points_m.take(end, axis=0) - mesh.points_m.take(start, axis=0)
        return np.asarray(np.sqrt(np.einsum("ij,ij->i", arm, arm)))
    lengths = np.empty(len(start))
    columns = np.ascontiguousarray(mesh.points_m.T)
    for piece in blocks(len(start)):
        x, y, z = _along_m(columns, start[piece], end[piece])
        lengths[piece] = np.sqrt(x * x + y * y + z * z)
    return lengths


def _along_m(
    columns: NDArray[np.float64], start: NDArray[np.integer], end: NDArray[np.integer]
) -> NDArray[np.float64]:
    """Vectors between points, all as columns."""
    along: NDArray[np.float64] = columns.take(end, axis=1)
    along -= columns.take(start, axis=1)
    return along
