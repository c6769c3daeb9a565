"""Wall flats cut along the columns that cross them."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from takeoff.geometry.sums import summed
from takeoff.piece.columns import Columns, height_at_m, paired, sorted_by
from takeoff.piece.rules import SurfaceRules
from takeoff.piece.sectors import Sectors

FloatArray = NDArray[np.float64]
IntArray = NDArray[np.integer]
BoolArray = NDArray[np.bool_]


@dataclass(frozen=True, slots=True, eq=False)
class Cuts:
    """Pieces of wall flats, each within one column or within none.

    Parameters
    ----------
    flat : ndarray of int, shape (q,)
        The flat.
    column : ndarray of int, shape (q,)
        The column, -1 for none.
    weight_m2 : ndarray of float, shape (q,)
        Its size; only the ratios within one flat count. [m²]
    """

    flat: IntArray
    column: IntArray
    weight_m2: FloatArray


def cut_walls(sectors: Sectors, columns: Columns, *, rules: SurfaceRules = SurfaceRules()) -> Cuts:
    """Cut the wall flats along their columns.

    Parameters
    ----------
    sectors : Sectors
        The walls.
    columns : Columns
        Their columns.
    rules : SurfaceRules, optional
        How far off a column may be met.

    Returns
    -------
    Cuts
        Pieces of every wall flat.

    Notes
    -----
    Wide flats are cut exactly, strip by strip; those narrower than two strips, and those of
    finely divided curves, go whole to the column at their centre.

    Examples
    --------
    >>> import trimesh
    >>> from takeoff.geometry.mesh import Mesh
    >>> from takeoff.piece.bending import bends_of
    >>> from takeoff.piece.columns import columns_of
    >>> from takeoff.piece.easing import ease
    >>> from takeoff.piece.flats import flats_of
    >>> from takeoff.piece.sectors import sectors_of
    >>> from takeoff.piece.zones import zones_of
    >>> box = flats_of(Mesh.from_trimesh(trimesh.creation.box((3.0, 2.0, 0.1)), unit="m"))
    >>> zones = zones_of(box, np.array([0.0, 0.0, 1.0]))
    >>> sectors = sectors_of(zones, ease(zones, bends_of(box)))
    >>> cuts = cut_walls(sectors, columns_of(sectors))
    >>> np.sort(np.bincount(cuts.flat, cuts.weight_m2)).round(9).tolist()
    [0.0, 0.0, 0.2, 0.2, 0.3, 0.3]
    """
    flats = sectors.zones.flats
    wide = _wide(sectors, columns, rules)
    narrow = np.flatnonzero((sectors.of_flat >= 0) & ~wide)
    centre_m = _centres_m(sectors, narrow)
    sector = sectors.of_flat[narrow]
    strip = columns.strips.at(sector, sectors.run_of_m(centre_m, sector))
    column = columns.at(strip, sectors.height_of_m(centre_m), slack_m=rules.clearance_m)
    exact = _exact_cuts(sectors, columns, wide, rules)
    return Cuts(
        np.concatenate([exact.flat, narrow]),
        np.concatenate([exact.column, column]),
        np.concatenate([exact.weight_m2, flats.area_m2[narrow]]),
    )


def _wide(sectors: Sectors, columns: Columns, rules: SurfaceRules) -> BoolArray:
    """Tell the wall flats wider than two strips of their sector, tiny ones left out."""
    flats, strips = sectors.zones.flats, columns.strips
    low, high = np.full(flats.count, np.inf), np.full(flats.count, -np.inf)
    joints, edges = flats.joints, flats.open_edges
    large = flats.area_m2 > rules.fine_share * float(flats.area_m2.sum())
    for flat, point in (
        (joints.left, joints.start),
        (joints.right, joints.start),
        (edges.flat, edges.start),
    ):
        wall = (sectors.of_flat[flat] >= 0) & large[flat]
        flat_on, point_m = flat[wall], flats.mesh.points_m[point[wall]]
        run_m = sectors.run_of_m(point_m, sectors.of_flat[flat_on])
        np.minimum.at(low, flat_on, run_m)
        np.maximum.at(high, flat_on, run_m)
    number = np.maximum(np.bincount(strips.sector, minlength=sectors.count), 1)
    width_m = strips.right_m - strips.left_m
    mean_m = summed(strips.sector, width_m, sectors.count) / number
    wall = (sectors.of_flat >= 0) & large
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


def _exact_cuts(sectors: Sectors, columns: Columns, wide: BoolArray, rules: SurfaceRules) -> Cuts:
    """Pieces that the strips cut out of wide flats, with the column each lies in."""
    flat, start, end = _outlines(sectors, wide)
    points_m = sectors.zones.flats.mesh.points_m
    sector = sectors.of_flat[flat]
    ends_m = (points_m[start], points_m[end])
    run_m = np.column_stack([sectors.run_of_m(point, sector) for point in ends_m])
    height_m = np.column_stack([sectors.height_of_m(point) for point in ends_m])
    edge, strip = columns.strips.crossed(sector, run_m)
    at_m = height_at_m(run_m[edge], height_m[edge], columns.strips.middle_m[strip])
    cell = flat[edge] * np.int64(len(columns.strips.sector)) + strip
    order = sorted_by(cell, at_m)
    edge, strip, cell, at_m = edge[order], strip[order], cell[order], at_m[order]
    foot = paired(cell)
    width_m = (columns.strips.right_m - columns.strips.left_m)[strip[foot]]
    return Cuts(
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
