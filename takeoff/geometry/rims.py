"""Rims of a mesh: closed runs of open edges, around open sides and holes."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from takeoff.geometry.components import component_labels
from takeoff.geometry.edges import EdgeTable
from takeoff.geometry.mesh import Mesh
from takeoff.geometry.umbrellas import corners_at, umbrellas_of


@dataclass(frozen=True, slots=True, eq=False)
class Rims:
    """Runs of open edges that hang together.

    Parameters
    ----------
    number : ndarray of int, shape (b,)
        Rim of each open edge, in the order of the edge table.
    length_m : ndarray of float, shape (r,)
        Length of each rim. [m]
    small : ndarray of bool, shape (r,)
        Rims of small holes: some facets missing rather than a side left open.
    umbrella : ndarray of int, shape (3 k,), or None
        Umbrella of every corner, along which the rims run; None where no edge is open.
    """

    number: NDArray[np.int32]
    length_m: NDArray[np.float64]
    small: NDArray[np.bool_]
    umbrella: NDArray[np.int32] | None


def rims_of(mesh: Mesh, edges: EdgeTable, *, small_m: float) -> Rims:
    """Follow the open edges of a mesh.

    Parameters
    ----------
    mesh : Mesh
        The mesh.
    edges : EdgeTable
        Of the same mesh.
    small_m : float
        A rim shorter than this is that of a small hole. [m]

    Returns
    -------
    Rims
        Numbered in the order of their first points.

    Examples
    --------
    >>> from takeoff.geometry.edges import edge_table
    >>> square = np.array([[0, 0, 0], [1, 0, 0], [1, 1, 0], [0, 1, 0]], dtype=float)
    >>> sheet = Mesh(square, np.array([[0, 1, 2], [0, 2, 3]], dtype=np.int32))
    >>> rims_of(sheet, edge_table(sheet), small_m=0.1).length_m.tolist()
    [4.0]
    """
    if not len(edges.open_facet):
        return Rims(edges.open_facet, np.empty(0), np.empty(0, dtype=np.bool_), None)
    umbrella = umbrellas_of(mesh, edges)
    ends = [
        umbrella[corners_at(mesh, edges.open_facet, point)]
        for point in (edges.open_start, edges.open_end)
    ]
    _, which = np.unique(np.concatenate(ends), return_inverse=True)
    start, end = np.split(which.reshape(-1), 2)
    number = component_labels(int(which.max()) + 1, start, end)[start]
    along = mesh.points_m[edges.open_end] - mesh.points_m[edges.open_start]
    length = np.bincount(number, np.linalg.norm(along, axis=1)).astype(np.float64)
    return Rims(number, length, length < small_m, umbrella)
