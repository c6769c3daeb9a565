"""Where surfaces are: what tells equal ones apart, however their facets are ordered."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from takeoff.geometry.facets import bounds_m
from takeoff.geometry.mesh import Mesh
from takeoff.geometry.sums import summed
from takeoff.piece.settling import Settled
from takeoff.piece.surface_measures import SurfaceMeasures

FloatArray = NDArray[np.float64]
IntArray = NDArray[np.integer]


@dataclass(frozen=True, slots=True, eq=False)
class Places:
    """Tells where groups of surfaces are.

    Parameters
    ----------
    settled : Settled
        The surface of the piece, divided.
    measures : SurfaceMeasures
        Its surfaces.
    facets : sequence of ndarray of int
        Facets of each surface.
    """

    settled: Settled
    measures: SurfaceMeasures
    facets: Sequence[IntArray]

    def look_ratio(self, groups: Sequence[IntArray], chosen: IntArray) -> FloatArray:
        """Tell how chosen groups of surfaces look, shape (chosen, 5).

        First what neither turning nor triangulation changes: mean depth over the size of the
        piece, and tilt; then which way they look.
        """
        group, surface = _members(groups, chosen)
        measures, count = self.measures, len(chosen)
        area_m2 = summed(group, measures.area_m2[surface], count)
        depth_m = np.zeros(count)
        np.maximum.at(depth_m, group, measures.mean_depth_m[surface])
        look = _sums(group, measures.normals[surface], count) / area_m2[:, None]
        tilt = look @ self._direction()
        return np.column_stack([depth_m / self._size_m(), tilt, look])

    def spot_ratio(self, groups: Sequence[IntArray], chosen: IntArray) -> FloatArray:
        """Tell where the centres of chosen groups are, shape (chosen, 5).

        First what no turning changes: the height along the show direction and the distance from
        the middle of the piece. All is over the size of the piece.
        """
        flats, direction, size_m = self.settled.flats, self._direction(), self._size_m()
        low_m, _ = bounds_m(flats.mesh)
        every = np.arange(len(flats.of_facet))
        middle_m = centres_m(flats.mesh, flats.facets.area_m2, every, np.zeros_like(every), 1)[0]
        group, surface = _members(groups, chosen)
        own = [self.facets[number] for number in surface.tolist()]
        at = np.repeat(group, [len(facets) for facets in own])
        at_m = centres_m(flats.mesh, flats.facets.area_m2, np.concatenate(own), at, len(chosen))
        at_m[np.bincount(at, minlength=len(chosen)) == 0] = middle_m
        height_m = (at_m - middle_m) @ direction
        level_m = at_m - middle_m - np.outer(height_m, direction)
        aside_m = np.sqrt(np.einsum("ij,ij->i", level_m, level_m))
        return np.column_stack([height_m, aside_m, at_m - low_m]) / size_m

    def _direction(self) -> FloatArray:
        return self.settled.zones.show_direction

    def _size_m(self) -> float:
        return float(np.sqrt(self.settled.flats.area_m2.sum()))


def centres_m(
    mesh: Mesh, area_m2: FloatArray, facets: IntArray, group: IntArray, count: int
) -> FloatArray:
    """Give the centres of area of groups of facets.

    Parameters
    ----------
    mesh : Mesh
        The mesh.
    area_m2 : ndarray of float, shape (k,)
        Area of all its facets. [m²]
    facets : ndarray of int, shape (f,)
        The facets.
    group : ndarray of int, shape (f,)
        Group of each, from 0 to below ``count``.
    count : int
        How many groups there are.

    Returns
    -------
    ndarray of float, shape (count, 3)
        The centres; the first corner of a group that has no area. [m]

    Examples
    --------
    >>> square = np.array([[0.0, 0.0, 0.0], [2.0, 0.0, 0.0], [2.0, 2.0, 0.0], [0.0, 2.0, 0.0]])
    >>> mesh = Mesh(square, np.array([[0, 1, 2], [0, 2, 3]], dtype=np.int32))
    >>> centres_m(mesh, np.array([2.0, 2.0]), np.arange(2), np.zeros(2, dtype=int), 1).tolist()
    [[1.0, 1.0, 0.0]]
    """
    weight_m2 = area_m2.take(facets)
    total_m2 = summed(group, weight_m2, count)
    corners = [corner.take(facets) for corner in mesh.triangles.T]
    divisor_m2 = np.where(total_m2 > 0.0, 3.0 * total_m2, 1.0)
    centre_m = np.empty((count, 3))
    for axis, column_m in enumerate(np.ascontiguousarray(mesh.points_m.T)):
        reach_m = column_m.take(corners[0])
        reach_m += column_m.take(corners[1])
        reach_m += column_m.take(corners[2])
        centre_m[:, axis] = summed(group, weight_m2 * reach_m, count) / divisor_m2
    empty = np.flatnonzero(total_m2.take(group) == 0.0)[::-1]
    centre_m[group[empty]] = mesh.points_m[corners[0][empty]]
    return centre_m


def _members(groups: Sequence[IntArray], chosen: IntArray) -> tuple[IntArray, IntArray]:
    """List the surfaces of the chosen groups, with the place of their group among these."""
    own = [groups[number] for number in chosen.tolist()]
    return np.repeat(np.arange(len(own)), [len(group) for group in own]), np.concatenate(own)


def _sums(group: IntArray, rows: FloatArray, count: int) -> FloatArray:
    """Add up rows of three by group."""
    return np.column_stack([summed(group, rows[:, axis], count) for axis in range(3)])
