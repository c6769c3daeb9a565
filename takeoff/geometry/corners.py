"""Corners of a mesh: where the flat faces round a point meet, and how its edges bend."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from takeoff.geometry.blocks import blocks
from takeoff.geometry.edges import EdgeTable
from takeoff.geometry.mesh import Mesh
from takeoff.geometry.offset_rules import OffsetRules
from takeoff.geometry.skin_edges import SkinEdges
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
        self,
        edges: EdgeTable,
        chosen: IntArray,
        value: tuple[FloatArray, FloatArray],
        region: IntArray,
    ) -> tuple[IntArray, FloatArray, FloatArray]:
        """Add up a value of the bent edges that bound each face at each point.

        Parameters
        ----------
        edges : EdgeTable
            Edges of the mesh.
        chosen : ndarray of int, shape (b,)
            Numbers of the edges that count.
        value : tuple of two ndarray of float, shape (b,)
            A value for the left side of each of these, and one for its right side. [-]
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
        >>> corners.edge_sums(edges, np.array([0]), (np.ones(1),) * 2, faces)[0].tolist()
        [1, 1, 0, 1, 1, 0]
        """
        ends = np.concatenate([edges.start[chosen], edges.end[chosen]] * 2).astype(np.int64)
        sides = np.concatenate([edges.left[chosen]] * 2 + [edges.right[chosen]] * 2)
        values = np.concatenate([value[0]] * 2 + [value[1]] * 2)
        wanted = ends * self.regions + region[sides]
        count = len(self.key)
        slot = np.minimum(np.searchsorted(self.key, wanted), max(count - 1, 0))
        known = (self.key[slot] == wanted) if count else np.zeros(len(wanted), dtype=np.bool_)
        slot, values = slot[known], values[known]
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


def corners_of(
    mesh: Mesh,
    region: IntArray,
    *,
    facets: IntArray | None = None,
    points: NDArray[np.bool_] | None = None,
) -> Corners:
    """Find the angle that every flat face has at the points of a mesh.

    Parameters
    ----------
    mesh : Mesh
        The mesh.
    region : ndarray of int, shape (k,)
        Number of the flat face of every facet, from 0 without gaps.
    facets : ndarray of int, optional
        The facets round the points that are wanted; all of them where it is left out.
    points : ndarray of bool, shape (n,), optional
        Points that are wanted; all of them where it is left out.

    Returns
    -------
    Corners
        Sorted by point, then face.

    Examples
    --------
    >>> square = np.array([[0, 0, 0], [1, 0, 0], [1, 1, 0], [0, 1, 0]], dtype=float)
    >>> flat = Mesh(square, np.array([[0, 1, 2], [0, 2, 3]], dtype=np.int32))
    >>> corners = corners_of(flat, np.zeros(2, dtype=np.int64))
    >>> np.degrees(corners.angle_rad).round(6).tolist()
    [90.0, 90.0, 90.0, 90.0]
    """
    regions = int(region.max()) + 1 if len(region) else 0
    of = np.arange(len(mesh.triangles)) if facets is None else facets
    angle = facet_angles_rad(mesh, of).T.ravel()
    point = mesh.triangles[of].T.ravel().astype(np.int64)
    facet = np.tile(of, 3)
    if points is not None:
        wanted = points[point]
        angle, point, facet = angle[wanted], point[wanted], facet[wanted]
    key, first, slot = np.unique(
        point * regions + region[facet], return_index=True, return_inverse=True
    )
    angle_rad = summed(slot, angle, len(key))
    at = point[first]
    faces = np.bincount(at, minlength=len(mesh.points_m))
    around = summed(at, angle_rad, len(mesh.points_m))
    defect = (2.0 * np.pi - around) / np.maximum(faces, 1)
    return Corners(key, at, facet[first], angle_rad, defect[at], regions)


def bends_at(skin: SkinEdges, rules: OffsetRules) -> Bends:
    """Sort the points of a skin by how its edges bend there.

    Parameters
    ----------
    skin : SkinEdges
        The skin.
    rules : OffsetRules
        What counts as flat and as smooth.

    Returns
    -------
    Bends
        One entry per point.

    Examples
    --------
    >>> from takeoff.geometry.skin_edges import skin_edges
    >>> square = np.array([[0, 0, 0], [1, 0, 0], [1, 1, 0], [0, 1, 0]], dtype=float)
    >>> flat = Mesh(square, np.array([[0, 1, 2], [0, 2, 3]], dtype=np.int32))
    >>> bends_at(skin_edges(flat), OffsetRules()).inner.tolist()
    [False, False, False, False]
    """
    edges, turn_rad, count = skin.edges, skin.turn_rad, len(skin.mesh.points_m)
    flat_rad, smooth_rad = np.radians(rules.flat_deg), np.radians(rules.smooth_deg)
    sharp = np.abs(turn_rad) > smooth_rad
    ends = np.concatenate([edges.start[sharp], edges.end[sharp]])
    sharp_count = np.bincount(ends, minlength=count)
    arris = skin.points_on(turn_rad > flat_rad)
    easing = np.ones(count)
    hollow = np.flatnonzero(turn_rad < -flat_rad)
    hollow = hollow[(sharp_count[edges.start[hollow]] > 0) | (sharp_count[edges.end[hollow]] > 0)]
    if len(hollow):
        half = np.maximum(np.abs(np.maximum(turn_rad[hollow], -2.9)) / 2.0, flat_rad)
        logs = np.tile(np.log(half / np.tan(half)), 2)
        ends = np.concatenate([edges.start[hollow], edges.end[hollow]])
        easing = np.exp(summed(ends, logs, count))
    return Bends((sharp_count == 0) | ~arris, easing, ~skin.open_points(), sharp_count)


def facet_angles_rad(mesh: Mesh, facets: IntArray) -> FloatArray:
    """Measure the angles of some facets at their three points.

    Parameters
    ----------
    mesh : Mesh
        The mesh.
    facets : ndarray of int, shape (f,)
        Numbers of the facets.

    Returns
    -------
    ndarray of float, shape (f, 3)
        Angles. [rad]

    Examples
    --------
    >>> half = Mesh(np.array([[0, 0, 0], [1, 0, 0], [0, 1, 0]], dtype=float),
    ...             np.array([[0, 1, 2]], dtype=np.int32))
    >>> np.degrees(facet_angles_rad(half, np.array([0]))).round(6).tolist()
    [[90.0, 45.0, 45.0]]
    """
    angles = np.empty((len(facets), 3))
    columns = np.ascontiguousarray(mesh.points_m.T)
    tiny_m2 = np.finfo(np.float64).tiny
    for piece in blocks(len(facets)):
        corners = columns.take(mesh.triangles.take(facets[piece], axis=0).T, axis=1)
        one, two = corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0]
        x = one[1] * two[2] - one[2] * two[1]
        y = one[2] * two[0] - one[0] * two[2]
        z = one[0] * two[1] - one[1] * two[0]
        doubled_m2 = np.sqrt(x * x + y * y + z * z) + tiny_m2
        along = (one * two).sum(axis=0)
        first = (one * one).sum(axis=0) - along
        angles[piece, 0] = np.arctan2(doubled_m2, along)
        angles[piece, 1] = np.arctan2(doubled_m2, first)
        angles[piece, 2] = np.pi - angles[piece, 0] - angles[piece, 1]
    return angles
