"""Walls divided among return, upright, show face and back by the columns that cross them."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from takeoff.geometry.sums import summed
from takeoff.piece.columns import Columns, height_at, paired, sorted_by
from takeoff.piece.filling import fill
from takeoff.piece.joining import joined
from takeoff.piece.judging import Verdicts
from takeoff.piece.parts import Parts
from takeoff.piece.rules import SurfaceRules
from takeoff.piece.sectors import Sectors
from takeoff.piece.zones import Reason

FloatArray = NDArray[np.float64]
IntArray = NDArray[np.integer]
BoolArray = NDArray[np.bool_]


@dataclass(frozen=True, slots=True, eq=False)
class _Cuts:
    """Pieces of wall flats, each crossed by one column or by none."""

    flat: IntArray
    column: IntArray
    weight_m2: FloatArray


@dataclass(frozen=True, slots=True, eq=False)
class Walls:
    """The walls, divided.

    Parameters
    ----------
    parts : Parts
        Parts of every wall flat.
    patch : ndarray of int, shape (c,)
        Patch of every column: columns side by side of the same class.
    undecided_m2 : float
        Area on which no column decided. [m²]
    """

    parts: Parts
    patch: IntArray
    undecided_m2: float


def divide_walls(
    sectors: Sectors, columns: Columns, verdicts: Verdicts, *, rules: SurfaceRules = SurfaceRules()
) -> Walls:
    """Divide the walls among the classes.

    Parameters
    ----------
    sectors : Sectors
        The walls.
    columns : Columns
        Their columns.
    verdicts : Verdicts
        Class of every column.
    rules : SurfaceRules, optional
        What is too small to keep.

    Returns
    -------
    Walls
        Parts of every wall flat.

    Notes
    -----
    Wide flats are divided exactly, strip by strip; those narrower than two strips go whole to
    the column at their centre.

    Examples
    --------
    >>> import trimesh
    >>> from takeoff.geometry.mesh import Mesh
    >>> from takeoff.piece.bending import bends_of
    >>> from takeoff.piece.columns import columns_of
    >>> from takeoff.piece.easing import ease
    >>> from takeoff.piece.flats import flats_of
    >>> from takeoff.piece.judging import judge
    >>> from takeoff.piece.sectors import sectors_of
    >>> from takeoff.piece.zones import zones_of
    >>> box = flats_of(Mesh.from_trimesh(trimesh.creation.box((3.0, 2.0, 0.1)), unit="m"))
    >>> zones = zones_of(box, np.array([0.0, 0.0, 1.0]))
    >>> sectors = sectors_of(zones, ease(zones, bends_of(box)))
    >>> columns = columns_of(sectors)
    >>> walls = divide_walls(sectors, columns, judge(columns))
    >>> walls.parts.shares(6).sum(axis=0).round(9).tolist(), walls.undecided_m2
    ([0.0, 4.0, 0.0, 0.0], 0.0)
    """
    flats = sectors.zones.flats
    cuts = _cuts(sectors, columns, rules)
    total_m2 = summed(cuts.flat, cuts.weight_m2, flats.count)
    known = cuts.weight_m2 > 0.0
    share = np.divide(cuts.weight_m2, total_m2[cuts.flat], where=known, out=np.zeros(len(known)))
    decided = np.append(verdicts.decided, False)[cuts.column] & known
    patch = _patches(columns, verdicts)
    parts = _by_patch(
        columns,
        verdicts,
        patch,
        flat=cuts.flat[decided],
        column=cuts.column[decided],
        share=share[decided],
    )
    sure = summed(parts.flat, parts.share, flats.count)
    wall = sectors.of_flat >= 0
    open_share = np.where(wall, np.maximum(1.0 - sure, 0.0), 0.0)
    open_share[open_share < rules.sliver_share] = 0.0
    filled = fill(sectors, parts.shares(flats.count), open_share, rules=rules)
    flat, column = np.nonzero(filled)
    rest = Parts.plain(flat, column, Reason.FILLED, filled[flat, column])
    return Walls(Parts.together([parts, rest]), patch, float(open_share @ flats.area_m2))


def _cuts(sectors: Sectors, columns: Columns, rules: SurfaceRules) -> _Cuts:
    """Cut wide flats by the strips, and assign narrow ones whole."""
    flats = sectors.zones.flats
    wide = _wide(sectors, columns)
    narrow = np.flatnonzero((sectors.of_flat >= 0) & ~wide)
    centre_m = _centres_m(sectors, narrow)
    sector = sectors.of_flat[narrow]
    strip = columns.strips.at(sector, sectors.run_of_m(centre_m, sector))
    column = columns.at(strip, sectors.height_of_m(centre_m), slack_m=rules.clearance_m)
    exact = _exact_cuts(sectors, columns, wide, rules)
    return _Cuts(
        np.concatenate([exact.flat, narrow]),
        np.concatenate([exact.column, column]),
        np.concatenate([exact.weight_m2, flats.area_m2[narrow]]),
    )


def _wide(sectors: Sectors, columns: Columns) -> BoolArray:
    """Tell the wall flats wider than two strips of their sector."""
    flats, strips = sectors.zones.flats, columns.strips
    low, high = np.full(flats.count, np.inf), np.full(flats.count, -np.inf)
    joints, edges = flats.joints, flats.open_edges
    for flat, point in (
        (joints.left, joints.start),
        (joints.right, joints.start),
        (edges.flat, edges.start),
    ):
        wall = sectors.of_flat[flat] >= 0
        flat_on, point_m = flat[wall], flats.mesh.points_m[point[wall]]
        run_m = sectors.run_of_m(point_m, sectors.of_flat[flat_on])
        np.minimum.at(low, flat_on, run_m)
        np.maximum.at(high, flat_on, run_m)
    number = np.maximum(np.bincount(strips.sector, minlength=sectors.count), 1)
    width_m = strips.right_m - strips.left_m
    mean_m = summed(strips.sector, width_m, sectors.count) / number
    wall = sectors.of_flat >= 0
    wide = np.zeros(flats.count, dtype=np.bool_)
    wide[wall] = (high - low)[wall] > 2.0 * mean_m[sectors.of_flat[wall]]
    return wide


def _centres_m(sectors: Sectors, chosen: IntArray) -> FloatArray:
    """Centres of area of the chosen flats."""
    flats = sectors.zones.flats
    place = np.full(flats.count, -1, dtype=np.int64)
    place[chosen] = np.arange(len(chosen))
    facet = np.flatnonzero(place[flats.of_facet] >= 0)
    at = place[flats.of_facet[facet]]
    centre_m = flats.mesh.points_m[flats.mesh.triangles[facet]].mean(axis=1)
    area_m2 = flats.facets.area_m2[facet]
    total_m2 = summed(at, area_m2, len(chosen))
    sums = [summed(at, area_m2 * centre_m[:, axis], len(chosen)) for axis in range(3)]
    return np.column_stack(sums) / np.where(total_m2 > 0.0, total_m2, 1.0)[:, None]


def _exact_cuts(sectors: Sectors, columns: Columns, wide: BoolArray, rules: SurfaceRules) -> _Cuts:
    """Pieces that the strips cut out of wide flats, with the column each lies in."""
    flat, start, end = _outlines(sectors, wide)
    points_m = sectors.zones.flats.mesh.points_m
    sector = sectors.of_flat[flat]
    ends_m = (points_m[start], points_m[end])
    run_m = np.column_stack([sectors.run_of_m(point, sector) for point in ends_m])
    height_m = np.column_stack([sectors.height_of_m(point) for point in ends_m])
    edge, strip = columns.strips.crossed(sector, run_m)
    at_m = height_at(run_m[edge], height_m[edge], columns.strips.middle_m[strip])
    cell = flat[edge] * np.int64(len(columns.strips.sector)) + strip
    order = sorted_by(cell, at_m)
    edge, strip, cell, at_m = edge[order], strip[order], cell[order], at_m[order]
    foot = paired(cell)
    width_m = (columns.strips.right_m - columns.strips.left_m)[strip[foot]]
    return _Cuts(
        flat=flat[edge[foot]],
        column=columns.at(
            strip[foot], (at_m[foot] + at_m[foot + 1]) / 2.0, slack_m=rules.clearance_m
        ),
        weight_m2=(at_m[foot + 1] - at_m[foot]) * width_m,
    )


def _outlines(sectors: Sectors, chosen: BoolArray) -> tuple[IntArray, IntArray, IntArray]:
    """Edges round the chosen flats: flat, start point, end point."""
    joints, edges = sectors.zones.flats.joints, sectors.zones.flats.open_edges
    left, right = chosen[joints.left], chosen[joints.right]
    free = chosen[edges.flat]
    return (
        np.concatenate([joints.left[left], joints.right[right], edges.flat[free]]),
        np.concatenate([joints.start[left], joints.start[right], edges.start[free]]),
        np.concatenate([joints.end[left], joints.end[right], edges.end[free]]),
    )


def _by_patch(
    columns: Columns,
    verdicts: Verdicts,
    patch: IntArray,
    *,
    flat: IntArray,
    column: IntArray,
    share: FloatArray,
) -> Parts:
    """Gather the pieces of one flat that are in one patch for one reason."""
    cell = (flat * np.int64(len(patch) + 1) + patch[column]) * len(Reason)
    cell += verdicts.reason[column]
    _, first, part = np.unique(cell, return_index=True, return_inverse=True)
    count = len(first)
    total = summed(part, share, count)
    depth_m = np.zeros(count)
    deepest_m = np.maximum(columns.depth_m, columns.edge_depth_m.max(axis=1))
    np.maximum.at(depth_m, part, deepest_m[column])
    mean_m = summed(part, share * columns.depth_m[column], count)
    return Parts(
        flat=flat[first],
        column=verdicts.column[column[first]],
        patch=patch[column[first]],
        reason=verdicts.reason[column[first]],
        share=total,
        depth_m=depth_m,
        mean_depth_m=mean_m / np.where(total > 0.0, total, 1.0),
    )


def _patches(columns: Columns, verdicts: Verdicts) -> IntArray:
    """Give the patch of each column: neighbours of the same class."""
    count = len(columns.strip)
    strips = columns.strips
    following = np.zeros(len(strips.sector), dtype=np.bool_)
    following[:-1] = (np.diff(strips.sector) == 0) & (strips.left_m[1:] == strips.right_m[:-1])
    first = np.searchsorted(columns.strip, columns.strip + 1, "left")
    last = np.searchsorted(columns.strip, columns.strip + 1, "right")
    number = np.where(following[columns.strip], last - first, 0) if count else last
    here = np.repeat(np.arange(count), number)
    there = np.arange(len(here)) + np.repeat(first - (np.cumsum(number) - number), number)
    same = verdicts.column[here] == verdicts.column[there]
    same &= columns.low_m[here] < columns.high_m[there]
    same &= columns.low_m[there] < columns.high_m[here]
    return joined(count, here[same], there[same])
