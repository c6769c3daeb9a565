"""Facets cut along parallel lines."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from takeoff.geometry.mesh import Mesh

FloatArray = NDArray[np.float64]
IntArray = NDArray[np.integer]


@dataclass(frozen=True, slots=True, eq=False)
class Slices:
    """Facets, each within one band between the lines.

    Parameters
    ----------
    mesh : Mesh
        The facets; points of the cuts stand behind the others.
    source : ndarray of int, shape (k,)
        The facet that each was cut from.
    band : ndarray of int, shape (k,)
        The band that each lies in, from 0.
    """

    mesh: Mesh
    source: IntArray
    band: IntArray


def sliced(mesh: Mesh, axis: FloatArray, cuts_m: FloatArray, *, within_m: float) -> Slices:
    """Cut the facets of a mesh along lines across an axis.

    Parameters
    ----------
    mesh : Mesh
        The mesh.
    axis : ndarray of float, shape (3,)
        Unit vector across the lines. [-]
    cuts_m : ndarray of float, shape (c,)
        Where the lines are along it, ascending. [m]
    within_m : float
        Points this near a line are on it. [m]

    Returns
    -------
    Slices
        The facets; those on both sides of an edge share the points of its cuts.

    Examples
    --------
    >>> square = np.array([[0, 0, 0], [1, 0, 0], [1, 1, 0], [0, 1, 0]], dtype=float)
    >>> mesh = Mesh(square, np.array([[0, 1, 2], [0, 2, 3]], dtype=np.int32))
    >>> halves = sliced(mesh, np.array([1.0, 0.0, 0.0]), np.array([0.5]), within_m=1e-6)
    >>> halves.mesh, halves.band.tolist(), halves.source.tolist()
    (Mesh(points=7, triangles=6), [0, 1, 1, 0, 0, 1], [0, 0, 0, 1, 1, 1])
    """
    knife = _Knife(mesh.points_m.tolist(), (mesh.points_m @ axis).tolist(), {}, within_m)
    pieces = [(tuple(corners), number) for number, corners in enumerate(mesh.triangles.tolist())]
    band = [0] * len(pieces)
    for cut_m in cuts_m.tolist():
        cut_pieces: list[tuple[tuple[int, ...], int]] = []
        cut_band: list[int] = []
        for (polygon, number), of_band in zip(pieces, band, strict=True):
            below, above = knife.halves(polygon, cut_m)
            for half, further in ((below, 0), (above, 1)):
                if len(half) > 2:
                    cut_pieces.append((half, number))
                    cut_band.append(of_band + further)
        pieces, band = cut_pieces, cut_band
    rows = [
        ((polygon[0], polygon[place], polygon[place + 1]), number, of_band)
        for (polygon, number), of_band in zip(pieces, band, strict=True)
        for place in range(1, len(polygon) - 1)
    ]
    return Slices(
        Mesh(np.array(knife.points_m), np.array([row[0] for row in rows], dtype=np.int32)),
        np.array([row[1] for row in rows], dtype=np.int64),
        np.array([row[2] for row in rows], dtype=np.int64),
    )


@dataclass(frozen=True, slots=True, eq=False)
class _Knife:
    """Points, where they are along the axis, and those that cuts have added, by their edge."""

    points_m: list[list[float]]
    along_m: list[float]
    crossing_at_m: dict[tuple[int, int, float], int]
    within_m: float

    def halves(
        self, polygon: tuple[int, ...], cut_m: float
    ) -> tuple[tuple[int, ...], tuple[int, ...]]:
        """Cut a convex polygon in two; a half with no area is empty."""
        side = [self._side(point, cut_m) for point in polygon]
        if min(side) >= 0:
            return (), polygon
        if max(side) <= 0:
            return polygon, ()
        below: list[int] = []
        above: list[int] = []
        for place, point in enumerate(polygon):
            ahead = (place + 1) % len(polygon)
            if side[place] <= 0:
                below.append(point)
            if side[place] >= 0:
                above.append(point)
            if side[place] * side[ahead] < 0:
                crossing = self._crossing(point, polygon[ahead], cut_m)
                below.append(crossing)
                above.append(crossing)
        return tuple(below), tuple(above)

    def _side(self, point: int, cut_m: float) -> int:
        """-1 before the line, 0 on it, 1 behind it."""
        off_m = self.along_m[point] - cut_m
        return 0 if abs(off_m) <= self.within_m else 1 if off_m > 0.0 else -1

    def _crossing(self, one: int, other: int, cut_m: float) -> int:
        """Point where an edge crosses the line, the same from both sides of the edge."""
        low, high = min(one, other), max(one, other)
        key = (low, high, cut_m)
        if key not in self.crossing_at_m:
            share = (cut_m - self.along_m[low]) / (self.along_m[high] - self.along_m[low])
            self.crossing_at_m[key] = len(self.points_m)
            self.points_m.append(
                [
                    from_m + share * (to_m - from_m)
                    for from_m, to_m in zip(self.points_m[low], self.points_m[high], strict=True)
                ]
            )
            self.along_m.append(cut_m)
        return self.crossing_at_m[key]
