"""A mesh thinned out for display: few enough facets for a phone, nothing measured on it."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from takeoff.geometry.edges import edge_table
from takeoff.geometry.facets import bounds_m, facets_of
from takeoff.geometry.mesh import Mesh

FloatArray = NDArray[np.float64]
IntArray = NDArray[np.integer]

_COARSER_RATIO = 1.25  # how much the cells grow until few enough facets are left


@dataclass(frozen=True, slots=True, eq=False)
class DisplayMesh:
    """Facets as they are shown.

    Parameters
    ----------
    mesh : Mesh
        The facets that are shown.
    facet : ndarray of int, shape (k,)
        Number of each in the mesh that was measured.
    """

    mesh: Mesh
    facet: IntArray


def display_mesh(mesh: Mesh, *, most_count: int) -> DisplayMesh:
    """Thin out a mesh until it has few enough facets, by moving points of one cell together.

    Parameters
    ----------
    mesh : Mesh
        The mesh.
    most_count : int
        How many facets may be left.

    Returns
    -------
    DisplayMesh
        The mesh itself where it has few enough; else one whose points are the means of those
        in cells of a grid as fine as that allows.

    Examples
    --------
    >>> import trimesh
    >>> ball = Mesh.from_trimesh(trimesh.creation.icosphere(4), unit="m")
    >>> shown = display_mesh(ball, most_count=1000)
    >>> len(ball.triangles), 500 < len(shown.mesh.triangles) <= 1000
    (5120, True)
    """
    every = np.arange(len(mesh.triangles))
    if len(mesh.triangles) <= most_count:
        return DisplayMesh(mesh, every)
    cell_m = float(np.sqrt(2.0 * facets_of(mesh).area_m2.sum() / most_count))
    while True:
        points_m, triangles = _in_cells(mesh, cell_m)
        first, second, third = triangles.T
        kept = (first != second) & (second != third) & (third != first)
        if int(kept.sum()) <= most_count:
            return DisplayMesh(Mesh(points_m, triangles[kept]), every[kept])
        cell_m *= _COARSER_RATIO


def _in_cells(mesh: Mesh, cell_m: float) -> tuple[FloatArray, IntArray]:
    """Move the points of each cell to their mean."""
    low_m, _ = bounds_m(mesh)
    cells = np.floor((mesh.points_m - low_m) / cell_m).astype(np.int64)
    _, number, count = np.unique(cells, axis=0, return_inverse=True, return_counts=True)
    number = number.reshape(-1)
    sums_m = [np.bincount(number, weights=along_m) for along_m in mesh.points_m.T]
    return np.stack(sums_m, axis=1) / count[:, None], number[mesh.triangles].astype(np.int32)


def border_lines_m(mesh: Mesh, number: IntArray) -> FloatArray:
    """Give the edges at which one surface meets another or ends.

    Parameters
    ----------
    mesh : Mesh
        The mesh.
    number : ndarray of int, shape (k,)
        Number of the surface that each facet belongs to.

    Returns
    -------
    ndarray of float, shape (e, 2, 3)
        Both ends of each edge. [m]

    Examples
    --------
    >>> square = np.array([[0, 0, 0], [1, 0, 0], [1, 1, 0], [0, 1, 0]], dtype=float)
    >>> mesh = Mesh(square, np.array([[0, 1, 2], [0, 2, 3]], dtype=np.int32))
    >>> border_lines_m(mesh, np.array([0, 0])).shape, border_lines_m(mesh, np.array([0, 1])).shape
    ((4, 2, 3), (5, 2, 3))
    """
    table = edge_table(mesh)
    border = number[table.left] != number[table.right]
    start = np.concatenate([table.start[border], table.open_start])
    end = np.concatenate([table.end[border], table.open_end])
    lines_m: FloatArray = np.stack([mesh.points_m[start], mesh.points_m[end]], axis=1)
    return lines_m
