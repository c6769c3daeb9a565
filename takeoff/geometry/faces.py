"""Flat faces of any number of corners parted into triangles."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]


def triangles_of_faces(points_m: Array, faces: Sequence[Sequence[int]]) -> NDArray[np.int32]:
    """Part faces into triangles that keep their area and their winding.

    Parameters
    ----------
    points_m : ndarray of float, shape (n, 3)
        Corner points. [m]
    faces : sequence of sequence of int
        Corner numbers round each face, three or more.

    Returns
    -------
    ndarray of int, shape (k, 3)
        Three corner numbers a triangle.

    Notes
    -----
    A face is cut from its first corner where that keeps every triangle turned like the face, else
    (an inside corner) along the diagonals of its constrained triangulation.

    Examples
    --------
    >>> arrow = np.array([[0.0, 0, 0], [2, -1, 0], [1, 0, 0], [2, 1, 0]])
    >>> triangles_of_faces(arrow, [(0, 1, 2, 3)]).tolist()
    [[0, 1, 2], [0, 2, 3]]
    """
    triangles: list[tuple[int, int, int]] = []
    for face in faces:
        triangles += _fan(points_m, face) or _parted(points_m, face)
    return np.array(triangles, dtype=np.int32).reshape(-1, 3)


def _fan(points_m: Array, face: Sequence[int]) -> list[tuple[int, int, int]]:
    """Cut a face from a corner whose triangles all turn like the face; none where there is none."""
    if len(face) == 3:
        return [(face[0], face[1], face[2])]
    normal = _normal(points_m[list(face)])
    for first in range(min(len(face), 4)):
        ring = [*face[first:], *face[:first]]
        fan = [(ring[0], ring[k], ring[k + 1]) for k in range(1, len(ring) - 1)]
        corners_m = points_m[np.array(fan)]
        turns = np.cross(corners_m[:, 1] - corners_m[:, 0], corners_m[:, 2] - corners_m[:, 0])
        if ((turns @ normal) >= 0.0).all():
            return fan
    return []


def _normal(corners_m: Array) -> Array:
    """Give the area vector of a face, twice its size."""
    local_m = corners_m - corners_m[0]
    area: Array = np.cross(local_m, np.roll(local_m, -1, axis=0)).sum(axis=0)
    return area


def _parted(points_m: Array, face: Sequence[int]) -> list[tuple[int, int, int]]:
    """Cut a face with inside corners along the diagonals of a constrained triangulation."""
    import shapely

    corners_m = points_m[list(face)]
    normal = _normal(corners_m)
    drop = int(np.argmax(np.abs(normal)))
    flat_m = np.delete(corners_m - corners_m[0], drop, axis=1)
    number = {tuple(point): face[k] for k, point in enumerate(flat_m.tolist())}
    polygon = shapely.Polygon(flat_m)
    if not polygon.is_valid:
        return [(face[0], face[k], face[k + 1]) for k in range(1, len(face) - 1)]
    found = []
    for triangle in shapely.get_parts(shapely.constrained_delaunay_triangles(polygon)):
        ring = shapely.get_coordinates(triangle)[:3].tolist()
        a, b, c = (number[tuple(point)] for point in ring)
        turn = np.cross(points_m[b] - points_m[a], points_m[c] - points_m[a]) @ normal
        found.append((a, b, c) if turn >= 0.0 else (a, c, b))
    return found
