"""Area, normal and centre of every facet of a mesh."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from takeoff.geometry.mesh import Mesh


@dataclass(frozen=True, slots=True, eq=False)
class Facets:
    """Measures of the facets, in the order of the triangles.

    Parameters
    ----------
    area_m2 : ndarray of float, shape (k,)
        Area of each facet. [m²]
    normals : ndarray of float, shape (k, 3)
        Unit normals, outward where the mesh is wound outward; zero for a facet without
        area. [-]
    """

    area_m2: NDArray[np.float64]
    normals: NDArray[np.float64]


def facets_of(mesh: Mesh) -> Facets:
    """Measure every facet of a mesh.

    Parameters
    ----------
    mesh : Mesh
        Any mesh.

    Returns
    -------
    Facets
        Areas and unit normals in the order of the triangles.

    Examples
    --------
    >>> corner = np.array([[0.0, 0.0, 0.0], [2.0, 0.0, 0.0], [0.0, 1.0, 0.0]])
    >>> facets = facets_of(Mesh(corner, np.array([[0, 1, 2]], dtype=np.int32)))
    >>> facets.area_m2.tolist(), facets.normals.tolist()
    ([1.0], [[0.0, 0.0, 1.0]])
    """
    normals = np.empty((len(mesh.triangles), 3))
    normals[:, 0], normals[:, 1], normals[:, 2] = _cross_products(mesh)
    length = np.sqrt(np.einsum("ij,ij->i", normals, normals))
    normals /= np.where(length > 0.0, length, 1.0)[:, None]
    length *= 0.5
    return Facets(length, normals)


def facet_volumes_m3(mesh: Mesh) -> NDArray[np.float64]:
    """Give the signed volume between each facet and the middle of the mesh.

    Parameters
    ----------
    mesh : Mesh
        Any mesh; the sum over a closed body wound outward is its volume.

    Returns
    -------
    ndarray of float, shape (k,)
        Volume of the tetrahedron over each facet, from a local origin, so that pieces far
        from the origin of the drawing lose no digits. [m³]

    Examples
    --------
    >>> import trimesh
    >>> box = trimesh.creation.box((2.0, 3.0, 4.0))
    >>> box.apply_translation((1e6, 1e6, 0.0))
    <trimesh.Trimesh(vertices.shape=(8, 3), faces.shape=(12, 3))>
    >>> float(facet_volumes_m3(Mesh.from_trimesh(box, unit="m")).sum())
    24.0
    """
    low_m, high_m = bounds_m(mesh)
    cross = _cross_products(mesh)
    first = mesh.triangles[:, 0]
    volume = np.zeros(len(mesh.triangles))
    for axis in range(3):
        offset = mesh.points_m[:, axis] - (low_m[axis] + high_m[axis]) / 2.0
        volume += offset[first] * cross[axis]
    volume /= 6.0
    return volume


def bounds_m(mesh: Mesh) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """Give the lowest and highest coordinates over all points of a mesh.

    Parameters
    ----------
    mesh : Mesh
        A mesh with at least one point.

    Returns
    -------
    tuple of ndarray of float, shape (3,)
        Low and high corner. [m]

    Examples
    --------
    >>> low, high = bounds_m(Mesh(np.eye(3), np.array([[0, 1, 2]], dtype=np.int32)))
    >>> low.tolist(), high.tolist()
    ([0.0, 0.0, 0.0], [1.0, 1.0, 1.0])
    """
    return mesh.points_m.min(axis=0), mesh.points_m.max(axis=0)


def _cross_products(mesh: Mesh) -> tuple[NDArray[np.float64], ...]:
    """Twice the vector area of each facet, by columns: much faster than on rows."""
    first, second, third = (np.ascontiguousarray(mesh.triangles[:, i]) for i in range(3))
    u, v = [], []
    for axis in range(3):
        column = np.ascontiguousarray(mesh.points_m[:, axis])
        base = column[first]
        u.append(column[second] - base)
        v.append(column[third] - base)
    return (
        u[1] * v[2] - u[2] * v[1],
        u[2] * v[0] - u[0] * v[2],
        u[0] * v[1] - u[1] * v[0],
    )
