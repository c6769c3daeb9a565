"""The plan of a piece seen along an axis, divided into cells along its longer side."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from takeoff.piece.plan_axes import across_m
from takeoff.piece.sampling import Samples

FloatArray = NDArray[np.float64]
IntArray = NDArray[np.integer]

_HULL_COUNT = 8000  # points that are enough to find the rectangle round a plan


@dataclass(frozen=True, slots=True, eq=False)
class Plan:
    """Cells of a plan.

    Parameters
    ----------
    of_sample : ndarray of int, shape (p,)
        Cell of each sample, row by row.
    rows, columns : int
        How many there are.
    cell_m : float
        Side of a cell. [m]
    """

    of_sample: IntArray
    rows: int
    columns: int
    cell_m: float

    @property
    def area_m2(self) -> float:
        """Area of the cells that hold a sample: the silhouette."""
        return int((np.bincount(self.of_sample) > 0).sum()) * self.cell_m**2

    def tops_m(self, heights_m: FloatArray) -> FloatArray:
        """Give the highest sample of each cell, minus infinity where there is none.

        Parameters
        ----------
        heights_m : ndarray of float, shape (p,)
            Height of each sample. [m]

        Returns
        -------
        ndarray of float, shape (rows, columns)
            The heights. [m]
        """
        tops_m = np.full(self.rows * self.columns, -np.inf)
        np.maximum.at(tops_m, self.of_sample, heights_m)
        return tops_m.reshape(self.rows, self.columns)


def plan_of(samples: Samples, axis: FloatArray, *, cell_count: int) -> Plan:
    """Divide the plan of a surface into cells.

    Parameters
    ----------
    samples : Samples
        Points of the surface.
    axis : ndarray of float, shape (3,)
        Unit vector to look along. [-]
    cell_count : int
        About how many cells the rectangle is divided into.

    Returns
    -------
    Plan
        Cells along the sides of the smallest rectangle round the plan, so that straight rims
        run along rows and columns.

    Examples
    --------
    >>> import trimesh
    >>> from takeoff.geometry.mesh import Mesh
    >>> from takeoff.piece.flats import flats_of
    >>> from takeoff.piece.sampling import samples_of
    >>> box = flats_of(Mesh.from_trimesh(trimesh.creation.box((3.0, 2.0, 0.1)), unit="m"))
    >>> plan = plan_of(samples_of(box, 60000), np.array([0.0, 0.0, 1.0]), cell_count=3000)
    >>> abs(plan.area_m2 / 6.0 - 1.0) < 0.1
    True
    """
    plan_m = np.column_stack(across_m(samples.points_m, axis))
    along = _along(plan_m[:: max(len(plan_m) // _HULL_COUNT, 1)])
    turned_m = [plan_m @ along, plan_m @ np.array([-along[1], along[0]])]
    turned_m = [coordinate_m - coordinate_m.min() for coordinate_m in turned_m]
    reach_m = np.array([coordinate_m.max() for coordinate_m in turned_m])
    size_m = np.maximum(reach_m, samples.area_m2**0.5)
    cell_m = float(np.sqrt(size_m.prod() / cell_count))
    rows, columns = (int(count) for count in np.ceil(size_m / cell_m))
    row = np.minimum((turned_m[0] / cell_m).astype(np.int64), rows - 1)
    column = np.minimum((turned_m[1] / cell_m).astype(np.int64), columns - 1)
    return Plan(row * columns + column, rows, columns, cell_m)


def _along(plan_m: FloatArray) -> FloatArray:
    """Direction of a side of the smallest rectangle round points of a plan."""
    import shapely

    hull = shapely.convex_hull(shapely.linestrings(plan_m))  # made faster than points are
    around = shapely.minimum_rotated_rectangle(hull)
    corners_m = shapely.get_coordinates(around)
    side_m = corners_m[1] - corners_m[0]
    length_m = float(np.hypot(*side_m))
    return side_m / length_m if length_m > 0.0 else np.array([1.0, 0.0])
