"""Bodies that a plane keeps apart although their bounds overlap."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from takeoff.geometry.facets import Facets
from takeoff.geometry.mesh import Mesh
from takeoff.geometry.parts import Parts

FloatArray = NDArray[np.float64]
IntArray = NDArray[np.int64]
_DIRECTIONS = 16
_STEPS = 1 << 10  # normals alike to a thousandth are one direction


def not_apart(
    mesh: Mesh, facets: Facets, parts: Parts, pairs: IntArray, *, overlap_m: float
) -> IntArray:
    """Keep the pairs of bodies that no facing direction tells apart.

    Parameters
    ----------
    mesh : Mesh
        The mesh.
    facets : Facets
        Of the same mesh.
    parts : Parts
        Of the same mesh.
    pairs : ndarray of int, shape (p, 2)
        Numbers of two bodies each.
    overlap_m : float
        How far two bodies must overlap along every direction; below 0, how far apart
        they may stand. [m]

    Returns
    -------
    ndarray of int, shape (q, 2)
        The pairs that overlap along every one of the directions in which most of the area
        of their bodies faces.

    Examples
    --------
    >>> import trimesh
    >>> from takeoff.geometry.mending import mend
    >>> turn = trimesh.transformations.rotation_matrix(0.8, [0, 0, 1])
    >>> row = [trimesh.creation.box(bounds=[[i, 0, 0], [i + 0.9, 9, 1]]) for i in (0, 1)]
    >>> skew = trimesh.util.concatenate(row).apply_transform(turn)
    >>> both = mend(Mesh.from_trimesh(skew, unit="m"))
    >>> pair = np.array([[0, 1]])
    >>> len(not_apart(both.mesh, both.facets, both.parts, pair, overlap_m=0.0))
    0
    """
    if not len(pairs):
        return pairs
    named = np.zeros(parts.body_count, dtype=np.bool_)
    named[pairs] = True
    chosen = np.flatnonzero(named[parts.body])
    order = chosen[np.argsort(parts.body[chosen], kind="stable")]
    first = np.flatnonzero(np.diff(parts.body[order], prepend=-1))
    row = np.cumsum(named) - 1
    corners = mesh.triangles[order].reshape(-1)
    for direction in _main_directions(facets, chosen):
        along = (mesh.points_m @ direction).take(corners)
        low = np.minimum.reduceat(along, 3 * first)[row[pairs]]
        high = np.maximum.reduceat(along, 3 * first)[row[pairs]]
        pairs = pairs[high.min(axis=1) - low.max(axis=1) > overlap_m]
        if not len(pairs):
            break
    return pairs


def _main_directions(facets: Facets, chosen: IntArray) -> FloatArray:
    """Directions in which most of the area of some facets faces, forward or backward."""
    normals, area = facets.normals[chosen], facets.area_m2[chosen]
    upward = normals @ np.array([0.6123, 0.5377, 0.5797]) > 0.0
    normals = np.where(upward[:, None], normals, -normals)
    step = np.rint(normals * _STEPS).astype(np.int64) + _STEPS
    key = (step[:, 0] * 4 * _STEPS + step[:, 1]) * 4 * _STEPS + step[:, 2]
    _, first, which = np.unique(key, return_index=True, return_inverse=True)
    total = np.bincount(which.reshape(-1), area)
    directions: FloatArray = normals[first[np.argsort(-total, kind="stable")[:_DIRECTIONS]]]
    return directions
