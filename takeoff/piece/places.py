"""Where surfaces are: what tells equal ones apart, however their facets are ordered."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from takeoff.geometry.facets import bounds_m
from takeoff.geometry.mesh import Mesh
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
        rows = []
        for group in (groups[number] for number in chosen.tolist()):
            look = self.measures.normals[group].sum(axis=0)
            look = look / float(self.measures.area_m2[group].sum())
            depth_m = float(self.measures.mean_depth_m[group].max())
            rows.append([depth_m / self._size_m(), look @ self._direction(), *look])
        return np.array(rows)

    def spot_ratio(self, groups: Sequence[IntArray], chosen: IntArray) -> FloatArray:
        """Tell where the centres of chosen groups are, shape (chosen, 5).

        First what no turning changes: the height along the show direction and the distance from
        the middle of the piece. All is over the size of the piece.
        """
        flats, direction, size_m = self.settled.flats, self._direction(), self._size_m()
        low_m, _ = bounds_m(flats.mesh)
        middle_m = centre_m(flats.mesh, flats.facets.area_m2, np.arange(len(flats.of_facet)))
        rows = []
        for group in (groups[number] for number in chosen.tolist()):
            own = np.concatenate([self.facets[surface] for surface in group])
            at_m = centre_m(flats.mesh, flats.facets.area_m2, own) if len(own) else middle_m
            height_m = float((at_m - middle_m) @ direction)
            aside_m = float(np.linalg.norm(at_m - middle_m - height_m * direction))
            rows.append(np.array([height_m, aside_m, *(at_m - low_m)]) / size_m)
        return np.array(rows)

    def _direction(self) -> FloatArray:
        return self.settled.zones.show_direction

    def _size_m(self) -> float:
        return float(np.sqrt(self.settled.flats.area_m2.sum()))


def centre_m(mesh: Mesh, area_m2: FloatArray, facets: IntArray) -> FloatArray:
    """Give the centre of area of some facets.

    Parameters
    ----------
    mesh : Mesh
        The mesh.
    area_m2 : ndarray of float, shape (k,)
        Area of all its facets. [m²]
    facets : ndarray of int
        The facets, at least one.

    Returns
    -------
    ndarray of float, shape (3,)
        The centre. [m]

    Examples
    --------
    >>> square = np.array([[0.0, 0.0, 0.0], [2.0, 0.0, 0.0], [2.0, 2.0, 0.0], [0.0, 2.0, 0.0]])
    >>> mesh = Mesh(square, np.array([[0, 1, 2], [0, 2, 3]], dtype=np.int32))
    >>> centre_m(mesh, np.array([2.0, 2.0]), np.arange(2)).tolist()
    [1.0, 1.0, 0.0]
    """
    weight_m2, corners = area_m2[facets], mesh.triangles[facets]
    sums_m3 = np.zeros(3)
    for corner in corners.T:
        sums_m3 += weight_m2 @ mesh.points_m.take(corner, axis=0)
    total_m2 = float(weight_m2.sum())
    if total_m2 == 0.0:
        return np.asarray(mesh.points_m[corners[0, 0]])
    return sums_m3 / (3.0 * total_m2)
