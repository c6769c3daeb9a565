"""Flats of several classes split along their columns, facet by facet."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from takeoff.piece.columns import Columns
from takeoff.piece.cutting import Cuts
from takeoff.piece.rules import SurfaceRules
from takeoff.piece.sectors import Sectors

FloatArray = NDArray[np.float64]
IntArray = NDArray[np.integer]
BoolArray = NDArray[np.bool_]


@dataclass(frozen=True, slots=True, eq=False)
class _Slices:
    """Facets sliced by the strips they reach over, facet after facet."""

    facet: IntArray
    column: IntArray
    share: FloatArray


def split(
    sectors: Sectors,
    columns: Columns,
    patch: IntArray,
    cuts: Cuts,
    mixed: BoolArray,
    *,
    rules: SurfaceRules = SurfaceRules(),
) -> tuple[IntArray, Cuts]:
    """Split mixed flats into one flat a patch, and single facets where patches meet.

    Parameters
    ----------
    sectors : Sectors
        The walls.
    columns : Columns
        Their columns.
    patch : ndarray of int, shape (c,)
        Patch of every column.
    cuts : Cuts
        Where the columns cut the flats.
    mixed : ndarray of bool, shape (n,)
        The flats to split.
    rules : SurfaceRules, optional
        How far off a column may be met.

    Returns
    -------
    tuple of ndarray of int, shape (k,), and Cuts
        The new flat of every facet, and the cuts of the new flats.

    Notes
    -----
    A flat front of many facets, part return and part upright, so tells its facets apart;
    a facet on the border of two patches is divided exactly.

    Examples
    --------
    A bench of two legs under a slab: its front is one flat, but one return and two uprights.

    >>> import shapely, trimesh
    >>> from takeoff.geometry.mesh import Mesh
    >>> from takeoff.piece.classifying import classify
    >>> from takeoff.piece.surfaces import ModelKind
    >>> front = [[0, 0], [0.1, 0], [0.1, 0.4], [0.9, 0.4], [0.9, 0], [1, 0], [1, 0.5], [0, 0.5]]
    >>> bench = trimesh.creation.extrude_polygon(shapely.Polygon(front), 0.3)
    >>> told = classify(Mesh.from_trimesh(bench, unit="m"), kind=ModelKind.PIECE,
    ...                 show_direction=np.array([0.0, 1.0, 0.0]))
    >>> [(s.id, round(s.area_m2, 6)) for s in told.surfaces if s.normal[2] > 0.5]
    [('R2', 0.08), ('U5', 0.05), ('U6', 0.05)]
    """
    flats = sectors.zones.flats
    slices = _slices(sectors, columns, np.flatnonzero(mixed[flats.of_facet]), rules)
    of_slice = np.append(patch, -1)[slices.column]
    start = np.flatnonzero(np.concatenate([[True], np.diff(slices.facet) != 0]))
    facet = slices.facet[start]
    least, most = np.minimum.reduceat(of_slice, start), np.maximum.reduceat(of_slice, start)
    whole = least == most
    label = flats.of_facet.astype(np.int64)
    pitch = np.int64(len(patch) + 2)
    label[facet] = flats.count + flats.of_facet[facet] * pitch + least + 1
    apart = facet[~whole]
    label[apart] = label.max() + 1 + np.arange(len(apart))
    _, of_facet = np.unique(label, return_inverse=True)
    return of_facet, _new_cuts(flats.of_facet, of_facet, cuts, mixed, slices)


def _new_cuts(
    former: IntArray, of_facet: IntArray, cuts: Cuts, mixed: BoolArray, slices: _Slices
) -> Cuts:
    """Cuts of the new flats: as they were, or gathered from the slices."""
    renamed = np.zeros(len(mixed), dtype=np.int64)
    renamed[former] = of_facet
    kept = ~mixed[cuts.flat]
    return Cuts(
        np.concatenate([renamed[cuts.flat[kept]], of_facet[slices.facet]]),
        np.concatenate([cuts.column[kept], slices.column]),
        np.concatenate([cuts.weight_m2[kept], slices.share]),
    )


def _slices(sectors: Sectors, columns: Columns, facet: IntArray, rules: SurfaceRules) -> _Slices:
    """Slice facets by the strips they reach over."""
    flats, strips = sectors.zones.flats, columns.strips
    sector = sectors.of_flat[flats.of_facet[facet]]
    run_m, height_m = _unrolled(sectors, facet, sector)
    inset_m = rules.strip_m
    first = strips.at(sector, run_m[0] + inset_m)
    last = np.maximum(strips.at(sector, run_m[2] - inset_m), first)
    number = last - first + 1
    at = np.repeat(np.arange(len(facet)), number)
    strip = np.arange(len(at)) + np.repeat(first - (np.cumsum(number) - number), number)
    left_m = np.maximum(strips.left_m[strip], run_m[0][at])
    right_m = np.minimum(strips.right_m[strip], run_m[2][at])
    share = np.ones(len(at))
    several = number[at] > 1
    corners = [run[at[several]] for run in run_m]
    share[several] = _share_left(corners, right_m[several]) - _share_left(corners, left_m[several])
    middle_m = _middle_height_m(run_m, height_m, at, (left_m + right_m) / 2.0)
    column = columns.at(strip, middle_m, slack_m=rules.clearance_m)
    kept = (share > rules.sliver_share) | ~several
    area_m2 = flats.facets.area_m2[facet]
    return _Slices(facet[at[kept]], column[kept], (share * area_m2[at])[kept])


def _unrolled(
    sectors: Sectors, facet: IntArray, sector: IntArray
) -> tuple[list[FloatArray], list[FloatArray]]:
    """Corners of facets along the wall and along the show direction, sorted along the wall."""
    mesh = sectors.zones.flats.mesh
    corners = [mesh.triangles[facet, corner] for corner in range(3)]
    runs_m = [np.zeros(len(facet)) for _ in range(3)]
    for axis in range(3):
        coordinate_m = np.ascontiguousarray(mesh.points_m[:, axis])
        along = sectors.along[sector, axis]
        for number, corner in enumerate(corners):
            runs_m[number] += along * coordinate_m[corner]
    point_height_m = sectors.height_of_m(mesh.points_m)
    heights_m = [point_height_m[corner] for corner in corners]
    for low, high in ((0, 1), (1, 2), (0, 1)):
        swapped = runs_m[low] > runs_m[high]
        for values in (runs_m, heights_m):
            values[low], values[high] = (
                np.where(swapped, values[high], values[low]),
                np.where(swapped, values[low], values[high]),
            )
    return runs_m, heights_m


def _share_left(run_m: list[FloatArray], at_m: FloatArray) -> FloatArray:
    """Share of triangles to the left of an upright line."""
    near_m, middle_m, far_m = run_m
    before = (at_m - near_m) ** 2 / _positive((middle_m - near_m) * (far_m - near_m))
    after = 1.0 - (far_m - at_m) ** 2 / _positive((far_m - middle_m) * (far_m - near_m))
    return np.where(at_m <= middle_m, before, after)


def _middle_height_m(
    run_m: list[FloatArray], height_m: list[FloatArray], facet: IntArray, at_m: FloatArray
) -> FloatArray:
    """Height of the middle of triangles on an upright line."""
    runs_m = [run[facet] for run in run_m]
    heights_m = [height[facet] for height in height_m]
    through = [_on_edge(runs_m, heights_m, 0, 2, at_m)]
    left = at_m <= runs_m[1]
    through.append(
        np.where(
            left,
            _on_edge(runs_m, heights_m, 0, 1, at_m),
            _on_edge(runs_m, heights_m, 1, 2, at_m),
        )
    )
    return (through[0] + through[1]) / 2.0


def _on_edge(
    run_m: list[FloatArray], height_m: list[FloatArray], start: int, end: int, at_m: FloatArray
) -> FloatArray:
    """Height of an edge of triangles on an upright line."""
    share = (at_m - run_m[start]) / _positive(run_m[end] - run_m[start])
    return height_m[start] + np.clip(share, 0.0, 1.0) * (height_m[end] - height_m[start])


def _positive(value: FloatArray) -> FloatArray:
    """Keep a divisor off zero."""
    return np.where(value > 0.0, value, 1.0)
