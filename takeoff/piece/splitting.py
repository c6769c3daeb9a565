"""Flats of several classes split along their columns, facet by facet."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from takeoff.piece.columns import Columns
from takeoff.piece.cutting import Cuts
from takeoff.piece.flats import Flats
from takeoff.piece.keys import numbered
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
    area_m2: FloatArray


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
    The side of a slab that gets deeper is one flat, but part return and part upright:

    >>> import trimesh
    >>> from takeoff.geometry.mesh import Mesh
    >>> from takeoff.piece.classifying import classify
    >>> from takeoff.piece.surfaces import ModelKind
    >>> foot = [[0.0, 0.0, -0.06], [2.0, 0.0, -0.16], [0.0, 0.5, -0.06], [2.0, 0.5, -0.16]]
    >>> wedge = trimesh.convex.convex_hull(np.vstack([foot, np.array(foot) * [1.0, 1.0, 0.0]]))
    >>> told = classify(Mesh.from_trimesh(wedge, unit="m"), kind=ModelKind.PIECE,
    ...                 show_direction=np.array([0.0, 0.0, 1.0]))
    >>> [(s.id, round(s.area_m2, 4)) for s in told.surfaces if s.normal[1] > 0.5]
    [('R2', 0.085), ('U2', 0.135)]
    """
    flats = sectors.zones.flats
    facet = np.flatnonzero(mixed[flats.of_facet])
    reach = _reach(sectors, columns, facet, rules)
    alone = _patch_of_strip(columns, patch)
    change = np.concatenate([[0], np.cumsum((np.diff(alone) != 0) | (alone[1:] == -2))])
    plain = (alone[reach.first] != -2) & (change[reach.first] == change[reach.last])
    slices = _slices(sectors, columns, reach.only(~plain), rules)
    sliced, least, most = _least_and_most(slices, np.append(patch, -1))
    pitch = np.int64(len(patch) + 2)
    label = flats.of_facet.astype(np.int64)
    label[facet[plain]] = alone[reach.first[plain]]
    label[sliced] = least
    label[facet] = flats.count + flats.of_facet[facet] * pitch + label[facet] + 1
    apart = sliced[least != most]
    label[apart] = flats.count * (pitch + 1) + np.arange(len(apart))
    of_facet, names = _numbered(flats, facet, label, mixed)
    divided = np.zeros(len(label), dtype=np.bool_)
    divided[apart] = True
    kept = divided[slices.facet]
    home = np.append(patch, -1)[cuts.column]
    wanted = np.where(mixed[cuts.flat], flats.count + cuts.flat * pitch + home + 1, cuts.flat)
    place = np.minimum(np.searchsorted(names, wanted), len(names) - 1)
    found = names[place] == wanted
    return of_facet, Cuts(
        np.concatenate([place[found], of_facet[slices.facet[kept]]]),
        np.concatenate([cuts.column[found], slices.column[kept]]),
        np.concatenate([cuts.weight_m2[found], slices.area_m2[kept]]),
    )


def _numbered(
    flats: Flats, facet: IntArray, label: IntArray, mixed: BoolArray
) -> tuple[IntArray, IntArray]:
    """Give the new flats their numbers: first those that stay, then the parts of the mixed."""
    staying = np.flatnonzero(~mixed)
    own = label.take(facet)
    number, first = numbered(own)
    of_facet = (np.cumsum(~mixed) - 1).take(flats.of_facet)
    of_facet[facet] = len(staying) + number
    return of_facet, np.concatenate([staying, own.take(first)])


def _patch_of_strip(columns: Columns, patch: IntArray) -> IntArray:
    """Patch of the strips that have one column only; -2 for others."""
    count = len(columns.strips.sector)
    number = np.bincount(columns.strip, minlength=count)
    alone = np.full(count, -2, dtype=np.int64)
    alone[columns.strip] = patch
    alone[number != 1] = -2
    return alone


@dataclass(frozen=True, slots=True, eq=False)
class _Reach:
    """Facets with their first and last strip, corners sorted along the wall."""

    facet: IntArray
    first: IntArray
    last: IntArray
    run_m: list[FloatArray]
    height_m: list[FloatArray]

    def only(self, chosen: BoolArray) -> _Reach:
        """Give the chosen facets."""
        return _Reach(
            self.facet[chosen],
            self.first[chosen],
            self.last[chosen],
            [run_m[chosen] for run_m in self.run_m],
            [height_m[chosen] for height_m in self.height_m],
        )


def _reach(sectors: Sectors, columns: Columns, facet: IntArray, rules: SurfaceRules) -> _Reach:
    """Find the strips that facets reach over."""
    sector = sectors.of_flat[sectors.zones.flats.of_facet[facet]]
    run_m, height_m = _unrolled(sectors, facet, sector)
    first = columns.strips.at(sector, run_m[0] + rules.strip_m)
    last = np.maximum(columns.strips.at(sector, run_m[2] - rules.strip_m), first)
    return _Reach(facet, first, last, run_m, height_m)


def _slices(sectors: Sectors, columns: Columns, reach: _Reach, rules: SurfaceRules) -> _Slices:
    """Slice facets by the strips they reach over."""
    strips, number = columns.strips, reach.last - reach.first + 1
    at = np.repeat(np.arange(len(number)), number)
    before = np.cumsum(number) - number
    strip = np.arange(len(at)) + np.repeat(reach.first - before, number)
    left_m = np.maximum(strips.left_m[strip], reach.run_m[0][at])
    right_m = np.minimum(strips.right_m[strip], reach.run_m[2][at])
    share = np.ones(len(at))
    several = number[at] > 1
    corners = [run_m[at[several]] for run_m in reach.run_m]
    share[several] = _share_left(corners, right_m[several]) - _share_left(corners, left_m[several])
    middle_m = _middle_height_m(reach, at, (left_m + right_m) / 2.0)
    column = columns.at(strip, middle_m, slack_m=rules.clearance_m)
    kept = (share > rules.sliver_share) | ~several
    facet = reach.facet[at]
    area_m2 = share * sectors.zones.flats.facets.area_m2[facet]
    return _Slices(facet[kept], column[kept], area_m2[kept])


def _least_and_most(slices: _Slices, patch: IntArray) -> tuple[IntArray, IntArray, IntArray]:
    """List the facets sliced, with the least and the greatest patch among their slices."""
    if not len(slices.facet):
        nothing = np.empty(0, dtype=np.int64)
        return nothing, nothing, nothing
    start = np.flatnonzero(np.concatenate([[True], np.diff(slices.facet) != 0]))
    of_slice = patch[slices.column]
    least = np.minimum.reduceat(of_slice, start)
    return slices.facet[start], least, np.maximum.reduceat(of_slice, start)


def _unrolled(
    sectors: Sectors, facet: IntArray, sector: IntArray
) -> tuple[list[FloatArray], list[FloatArray]]:
    """Corners of facets along the wall and along the show direction, sorted along the wall."""
    mesh = sectors.zones.flats.mesh
    corners = [mesh.triangles[facet, corner] for corner in range(3)]
    runs_m = [np.zeros(len(facet)) for _ in range(3)]
    for axis in range(3):
        coordinate_m = np.ascontiguousarray(mesh.points_m[:, axis])
        along = sectors.along_direction[sector, axis]
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


def _middle_height_m(reach: _Reach, facet: IntArray, at_m: FloatArray) -> FloatArray:
    """Height of the middle of triangles on an upright line."""
    runs_m = [run_m[facet] for run_m in reach.run_m]
    heights_m = [height_m[facet] for height_m in reach.height_m]
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
