"""Area, normal and volume of every facet of a mesh."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from takeoff.geometry.blocks import blocks
from takeoff.geometry.mesh import Mesh

_SIDE_BY_SIDE = 256  # points to a row: long rows are compared many times faster than short ones


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
    enclosed_m3 : float or None
        Signed volume that all facets enclose together; of meaning where they are closed.
        None where it was not added up. [m³]
    """

    area_m2: NDArray[np.float64]
    normals: NDArray[np.float64]
    enclosed_m3: float | None = None


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
    middle_m = _middle_m(mesh)
    normals = np.empty((len(mesh.triangles), 3))
    area_m2 = np.empty(len(mesh.triangles))
    six_volumes_m3 = 0.0
    for piece in blocks(len(mesh.triangles)):
        corners = columns.take(np.ascontiguousarray(mesh.triangles[piece].T), axis=1)
        first = corners[:, 0]
        ux, uy, uz = corners[:, 1] - first
        vx, vy, vz = corners[:, 2] - first
        x, y, z = uy * vz - uz * vy, uz * vx - ux * vz, ux * vy - uy * vx
        ax, ay, az = first - middle_m
        six_volumes_m3 += float((ax * x + ay * y + az * z).sum())
        length = np.sqrt(x * x + y * y + z * z)
        area_m2[piece] = length * 0.5
        length[length == 0.0] = 1.0
        for axis, component in enumerate((x, y, z)):
            normals[piece, axis] = component / length
    return Facets(area_m2, normals, six_volumes_m3 / 6.0)


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
    facets = facets_of(mesh) if facets is None else facets
    middle_m = _middle_m(mesh)[:, 0]
    volumes_m3 = np.empty(len(mesh.triangles))
    for piece in blocks(len(mesh.triangles)):
        arm = mesh.points_m.take(mesh.triangles[piece, 0], axis=0) - middle_m
        height = np.einsum("ij,ij->i", arm, facets.normals[piece])
        volumes_m3[piece] = height * facets.area_m2[piece] / 3.0
    return volumes_m3


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
    whole = len(mesh.points_m) - len(mesh.points_m) % _SIDE_BY_SIDE
    rows = np.ascontiguousarray(mesh.points_m[:whole]).reshape(-1, 3 * _SIDE_BY_SIDE)
    low, high = [mesh.points_m[whole:]], [mesh.points_m[whole:]]
    for piece in blocks(len(rows), 32):
        low.append(rows[piece].min(axis=0).reshape(-1, 3))
        high.append(rows[piece].max(axis=0).reshape(-1, 3))
    return np.concatenate(low).min(axis=0), np.concatenate(high).max(axis=0)


def _middle_m(mesh: Mesh) -> NDArray[np.float64]:
    """Middle of the bounds, as a column."""
    if not len(mesh.points_m):
        return np.zeros((3, 1))
    low_m, high_m = bounds_m(mesh)
    return ((low_m + high_m) / 2.0)[:, None]
