"""Corners of a mesh: where the flat faces round a point meet, and how its edges bend."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from takeoff.geometry.edges import EdgeTable
from takeoff.geometry.mesh import Mesh
from takeoff.geometry.offset_rules import OffsetRules
from takeoff.geometry.sums import summed

FloatArray = NDArray[np.float64]
IntArray = NDArray[np.int64]


@dataclass(frozen=True, slots=True, eq=False)
class Corners:
    """One entry for each flat face at each point, whatever its triangulation.

    Parameters
    ----------
    key : ndarray of int, shape (c,)
        Sorted key of the pair, see `corners_of`.
    point : ndarray of int, shape (c,)
        Point number.
    facet : ndarray of int, shape (c,)
        One facet of the face at the point.
    angle_rad : ndarray of float, shape (c,)
        Angle of the face at the point, over all its facets. [rad]
    defect_rad : ndarray of float, shape (c,)
        The point's angle defect (a full turn less all its angles), in equal parts. [rad]
    regions : int
        Number of flat faces.
    """

    key: IntArray
    point: IntArray
    facet: IntArray
    angle_rad: FloatArray
    defect_rad: FloatArray
    regions: int

    def edge_sums(
        self, edges: EdgeTable, value: FloatArray, bent: NDArray[np.bool_], region: IntArray
    ) -> tuple[IntArray, FloatArray, FloatArray]:
        """Add up a value of the bent edges that bound each face at each point.

        Parameters
        ----------
        edges : EdgeTable
            Edges of the mesh.
        value : ndarray of float, shape (e,)
            A value per edge. [-]
        bent : ndarray of bool, shape (e,)
            Edges that count.
        region : ndarray of int, shape (k,)
            Flat face of every facet.

        Returns
        -------
        tuple of ndarray, each of shape (c,)
            Number of edges, sum of the values, sum of their squares.

        Examples
        --------
        >>> import numpy as np
        >>> from takeoff.geometry.edges import edge_table
        >>> square = np.array([[0, 0, 0], [1, 0, 0], [1, 1, 0], [0, 1, 0]], dtype=float)
        >>> folded = Mesh(square, np.array([[0, 1, 2], [0, 2, 3]], dtype=np.int32))
        >>> edges, faces = edge_table(folded), np.array([0, 1])
        >>> corners = corners_of(folded, faces)
        >>> corners.edge_sums(edges, np.ones(1), np.ones(1, dtype=bool), faces)[0].tolist()
        [1, 1, 0, 1, 1, 0]
        """
        ends = np.concatenate([edges.start[bent], edges.end[bent]] * 2).astype(np.int64)
        sides = np.concatenate([edges.left[bent]] * 2 + [edges.right[bent]] * 2)
        values = np.concatenate([value[bent]] * 4)
        slot = np.searchsorted(self.key, ends * self.regions + region[sides])
        count = len(self.key)
        return (
            np.bincount(slot, minlength=count).astype(np.int64),
            summed(slot, values, count),
            summed(slot, values**2, count),
        )


@dataclass(frozen=True, slots=True, eq=False)
class Bends:
    """How the edges at every point bend.

    Parameters
    ----------
    even : ndarray of bool, shape (n,)
        True where every edge is smooth, or every edge is an inside corner: the layer there is
        part of a ball.
    easing_ratio : ndarray of float, shape (n,)
        What round inside corners leave of a mitred corner. [-]
    inner : ndarray of bool, shape (n,)
        True for points that no open edge touches.
    sharp_count : ndarray of int, shape (n,)
        Sharp edges at each point.
    """

    even: NDArray[np.bool_]
    easing_ratio: FloatArray
    inner: NDArray[np.bool_]
    sharp_count: IntArray


def corners_of(mesh: Mesh, region: IntArray) -> Corners:
    """Find the angle that every flat face has at every point of the mesh.

    Parameters
    ----------
    mesh : Mesh
        The mesh.
    region : ndarray of int, shape (k,)
        Number of the flat face of every facet, from 0 without gaps.

    Returns
    -------
    Corners
        Sorted by point, then face.

    Examples
    --------
    >>> import numpy as np
    >>> square = np.array([[0, 0, 0], [1, 0, 0], [1, 1, 0], [0, 1, 0]], dtype=float)
    >>> flat = Mesh(square, np.array([[0, 1, 2], [0, 2, 3]], dtype=np.int32))
    >>> corners = corners_of(flat, np.zeros(2, dtype=np.int64))
    >>> np.degrees(corners.angle_rad).round(6).tolist()
    [90.0, 90.0, 90.0, 90.0]
    """
    regions = int(region.max()) + 1 if len(region) else 0
    angle = _facet_angles_rad(mesh).T.ravel()
    point = mesh.triangles.T.ravel().astype(np.int64)
    facet = np.tile(np.arange(len(mesh.triangles)), 3)
    key, first, slot = np.unique(
        point * regions + region[facet], return_index=True, return_inverse=True
    )
    angle_rad = summed(slot, angle, len(key))
    at = point[first]
    faces = np.bincount(at, minlength=len(mesh.points_m))
    around = summed(at, angle_rad, len(mesh.points_m))
    defect = (2.0 * np.pi - around) / np.maximum(faces, 1)
    return Corners(key, at, facet[first], angle_rad, defect[at], regions)


def bends_at(points: int, edges: EdgeTable, turn_rad: FloatArray, rules: OffsetRules) -> Bends:
    """Sort the points of a mesh by how their edges bend.

    Parameters
    ----------
    points : int
        Number of points.
    edges : EdgeTable
        Edges of the mesh.
    turn_rad : ndarray of float, shape (e,)
        Turn of every edge, above 0 at an arris. [rad]
    rules : OffsetRules
        What counts as flat and as smooth.

    Returns
    -------
    Bends
        One entry per point.

    Examples
    --------
    >>> import numpy as np
    >>> from takeoff.geometry.edges import edge_table
    >>> square = np.array([[0, 0, 0], [1, 0, 0], [1, 1, 0], [0, 1, 0]], dtype=float)
    >>> flat = Mesh(square, np.array([[0, 1, 2], [0, 2, 3]], dtype=np.int32))
    >>> bends_at(4, edge_table(flat), np.zeros(1), OffsetRules()).inner.tolist()
    [False, False, False, False]
    """
    ends = np.concatenate([edges.start, edges.end])
    turns = np.concatenate([turn_rad, turn_rad])
    flat_rad, smooth_rad = np.radians(rules.flat_deg), np.radians(rules.smooth_deg)
    sharp_count = np.bincount(ends[np.abs(turns) > smooth_rad], minlength=points)
    arris = np.bincount(ends, turns > flat_rad, minlength=points) > 0
    half = np.abs(np.clip(turns, -2.9, 0.0)) / 2.0
    logs = np.where(
        turns < -flat_rad,
        np.log(np.maximum(half, flat_rad) / np.tan(np.maximum(half, flat_rad))),
        0.0,
    )
    inner = np.ones(points, dtype=np.bool_)
    inner[edges.open_start] = False
    inner[edges.open_end] = False
    easing = np.exp(np.bincount(ends, logs, minlength=points))
    return Bends((sharp_count == 0) | ~arris, easing, inner, sharp_count)


def _facet_angles_rad(mesh: Mesh) -> FloatArray:
    """Angle of every facet at each of its three points, shape (k, 3)."""
    corner = mesh.points_m[mesh.triangles]
    angles = np.empty((len(mesh.triangles), 3))
    for here in range(3):
        ahead = corner[:, (here + 1) % 3] - corner[:, here]
        behind = corner[:, (here + 2) % 3] - corner[:, here]
        across = np.linalg.norm(np.cross(ahead, behind), axis=1)
        angles[:, here] = np.arctan2(across, np.einsum("ij,ij->i", ahead, behind))
    return angles
