"""Area, normal and volume of every facet of a mesh."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from takeoff.geometry.blocks import blocks
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
    columns = np.ascontiguousarray(mesh.points_m.T)
    normals = np.empty((len(mesh.triangles), 3))
    area_m2 = np.empty(len(mesh.triangles))
    for piece in blocks(len(mesh.triangles)):
        corners = columns.take(np.ascontiguousarray(mesh.triangles[piece].T), axis=1)
        ux, uy, uz = corners[:, 1] - corners[:, 0]
        vx, vy, vz = corners[:, 2] - corners[:, 0]
        x, y, z = uy * vz - uz * vy, uz * vx - ux * vz, ux * vy - uy * vx
        length = np.sqrt(x * x + y * y + z * z)
        area_m2[piece] = length * 0.5
        length[length == 0.0] = 1.0
        for axis, component in enumerate((x, y, z)):
            normals[piece, axis] = component / length
    return Facets(area_m2, normals)


def facet_volumes_m3(mesh: Mesh, facets: Facets | None = None) -> NDArray[np.float64]:
    """Give the signed volume between each facet and the middle of the mesh.

    Parameters
    ----------
    mesh : Mesh
        Any mesh; the sum over a closed body wound outward is its volume.
    facets : Facets, optional
        Of the same mesh, where they are known already.

    Returns
    -------
    ndarray of float, shape (k,)
        Volume of the tetrahedron over each facet, from a local origin, so that pieces far
        from the origin of the drawing lose no digits. [m³]

    Examples
    --------
    >>> import trimesh
    >>> box = trimesh.creation.box(bounds=[[1e6, 1e6, 0.0], [1e6 + 2.0, 1e6 + 3.0, 4.0]])
    >>> float(facet_volumes_m3(Mesh.from_trimesh(box, unit="m")).sum())
    24.0
    """
    volumes = list(_volumes_m3(mesh, facets_of(mesh) if facets is None else facets))
    return np.concatenate([np.empty(0), *volumes])


def enclosed_volume_m3(mesh: Mesh, facets: Facets) -> float:
    """Add up the signed volumes over all facets of a mesh.

    Parameters
    ----------
    mesh : Mesh
        Any mesh; of meaning where it is closed.
    facets : Facets
        Of the same mesh.

    Returns
    -------
    float
        Its volume, negative where it is wound inward. [m³]

    Examples
    --------
    >>> import trimesh
    >>> box = Mesh.from_trimesh(trimesh.creation.box((2.0, 3.0, 4.0)), unit="m")
    >>> enclosed_volume_m3(box, facets_of(box))
    24.0
    """
    return float(sum(volumes.sum() for volumes in _volumes_m3(mesh, facets)))


def _volumes_m3(mesh: Mesh, facets: Facets) -> Iterator[NDArray[np.float64]]:
    """Volumes over the facets, some at a time."""
    low_m, high_m = bounds_m(mesh)
    middle_m = (low_m + high_m) / 2.0
    for piece in blocks(len(mesh.triangles)):
        arm = mesh.points_m.take(mesh.triangles[piece, 0], axis=0) - middle_m
        height = np.einsum("ij,ij->i", arm, facets.normals[piece])
        yield height * facets.area_m2[piece] / 3.0


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
    columns = mesh.points_m.T  # column by column is many times faster than row by row
    return (
        np.array([column.min() for column in columns]),
        np.array([column.max() for column in columns]),
    )
