"""Wall flats cut along the columns that cross them."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from takeoff.geometry.sums import summed
from takeoff.piece.columns import Columns, height_at_m, paired, sorted_by
from takeoff.piece.rules import SurfaceRules
from takeoff.piece.sectors import Sectors
from takeoff.piece.strips import Strips

FloatArray = NDArray[np.float64]
IntArray = NDArray[np.integer]
BoolArray = NDArray[np.bool_]


@dataclass(frozen=True, slots=True, eq=False)
class Pieces:
    """Pieces of wall flats, each within one strip or within none.

    Parameters
    ----------
    flat : ndarray of int, shape (q,)
        The flat.
    strip : ndarray of int, shape (q,)
        The strip, -1 for none.
    height_m : ndarray of float, shape (q,)
        Height of its middle. [m]
    weight_m2 : ndarray of float, shape (q,)
        Its size; only the ratios within one flat count. [m²]
    """

    flat: IntArray
    strip: IntArray
    height_m: FloatArray
    weight_m2: FloatArray


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


def cut_walls(
    sectors: Sectors,
    columns: Columns,
    *,
    pieces: Pieces | None = None,
    rules: SurfaceRules = SurfaceRules(),
) -> Cuts:
    """Cut the wall flats along their columns.

    Parameters
    ----------
    sectors : Sectors
        The walls.
    columns : Columns
        Their columns.
    pieces : Pieces, optional
        What the strips of the columns cut out of the flats, where that is known already.
    rules : SurfaceRules, optional
        How far off a column may be met.

    Returns
    -------
    Cuts
        Pieces of every wall flat.

    Notes
    -----
    See `pieces_of`.

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
    if pieces is None:
        pieces = pieces_of(sectors, columns.strips, rules=rules)
    column = columns.at(pieces.strip, pieces.height_m, slack_m=rules.clearance_m)
    return Cuts(pieces.flat, column, pieces.weight_m2)


def pieces_of(sectors: Sectors, strips: Strips, *, rules: SurfaceRules = SurfaceRules()) -> Pieces:
    """Cut the wall flats along strips.

    Parameters
    ----------
    sectors : Sectors
        The walls.
    strips : Strips
        Their strips.
    rules : SurfaceRules, optional
        Which flats are too small to be cut.

    Returns
    -------
    Pieces
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
    >>> from takeoff.piece.easing import ease
    >>> from takeoff.piece.flats import flats_of
    >>> from takeoff.piece.sectors import sectors_of
    >>> from takeoff.piece.strips import strips_of
    >>> from takeoff.piece.zones import zones_of
    >>> box = flats_of(Mesh.from_trimesh(trimesh.creation.box((3.0, 2.0, 0.1)), unit="m"))
    >>> zones = zones_of(box, np.array([0.0, 0.0, 1.0]))
    >>> sectors = sectors_of(zones, ease(zones, bends_of(box)))
    >>> pieces = pieces_of(sectors, strips_of(sectors))
    >>> np.sort(np.bincount(pieces.flat, pieces.weight_m2)).round(9).tolist()
    [0.0, 0.0, 0.2, 0.2, 0.3, 0.3]
    """
    wide = _wide(sectors, strips, rules)
    narrow = np.flatnonzero((sectors.of_flat >= 0) & ~wide)
    centre_m = _centres_m(sectors, narrow)
    sector = sectors.of_flat.take(narrow)
    exact = _exact_pieces(sectors, strips, wide)
    strip = strips.at(sector, sectors.run_of_m(centre_m, sector))
    return Pieces(
        np.concatenate([exact.flat, narrow]),
        np.concatenate([exact.strip, strip]),
        np.concatenate([exact.height_m, sectors.height_of_m(centre_m)]),
        np.concatenate([exact.weight_m2, sectors.zones.flats.area_m2.take(narrow)]),
    )


def _wide(sectors: Sectors, strips: Strips, rules: SurfaceRules) -> BoolArray:
    """Tell the wall flats wider than two strips of their sector, tiny ones left out."""
    flats = sectors.zones.flats
    low, high = np.full(flats.count, np.inf), np.full(flats.count, -np.inf)
    joints, edges = flats.joints, flats.open_edges
    wall = sectors.of_flat >= 0
    wall &= flats.area_m2 > rules.fine_share * float(flats.area_m2.sum())
    wide = np.zeros(flats.count, dtype=np.bool_)
    if not wall.any():
        return wide
    for flat, point in (
        (joints.left, joints.start),
        (joints.right, joints.start),
        (edges.flat, edges.start),
    ):
        at = np.flatnonzero(wall.take(flat))
        flat_on, point_m = flat.take(at), flats.mesh.points_m.take(point.take(at), axis=0)
        run_m = sectors.run_of_m(point_m, sectors.of_flat.take(flat_on))
        np.minimum.at(low, flat_on, run_m)
        np.maximum.at(high, flat_on, run_m)
    number = np.maximum(np.bincount(strips.sector, minlength=sectors.count), 1)
    width_m = strips.right_m - strips.left_m
    mean_m = summed(strips.sector, width_m, sectors.count) / number
    wide[wall] = (high - low)[wall] > 2.0 * mean_m[sectors.of_flat[wall]]
    return wide


def _centres_m(sectors: Sectors, chosen: IntArray) -> FloatArray:
    """Centres of area of the chosen flats."""
    flats = sectors.zones.flats
    place = np.full(flats.count, -1, dtype=np.int64)
    place[chosen] = np.arange(len(chosen))
    at = place.take(flats.of_facet)
    facet = np.flatnonzero(at >= 0)
    at = at.take(facet)
    corners = [corner.take(facet) for corner in flats.mesh.triangles.T]
    area_m2 = flats.facets.area_m2.take(facet)
    total_m2 = summed(at, area_m2, len(chosen))
    divisor_m2 = np.where(total_m2 > 0.0, total_m2, 1.0)
    centre_m = np.empty((len(chosen), 3))
    for axis, column_m in enumerate(np.ascontiguousarray(flats.mesh.points_m.T)):
        first_m, second_m, third_m = (column_m.take(corner) for corner in corners)
        middle_m = (first_m + second_m + third_m) / 3.0
        centre_m[:, axis] = summed(at, area_m2 * middle_m, len(chosen)) / divisor_m2
    return centre_m


def _exact_pieces(sectors: Sectors, strips: Strips, wide: BoolArray) -> Pieces:
    """Pieces that the strips cut out of wide flats."""
    flat, start, end = _outlines(sectors, wide)
    points_m = sectors.zones.flats.mesh.points_m
    sector = sectors.of_flat.take(flat)
    run_m, height_m = np.empty((len(flat), 2)), np.empty((len(flat), 2))
    for number, point in enumerate((start, end)):
        point_m = points_m.take(point, axis=0)
        run_m[:, number] = sectors.run_of_m(point_m, sector)
        height_m[:, number] = sectors.height_of_m(point_m)
    edge, strip = strips.crossed(sector, run_m)
    at_m = height_at_m(run_m, height_m, edge, strips.middle_m.take(strip))
    cell = flat.take(edge) * np.int64(len(strips.sector)) + strip
    order = sorted_by(cell, at_m)
    foot = paired(cell.take(order))
    low, high = order.take(foot), order.take(foot + 1)
    low_m, high_m, strip = at_m.take(low), at_m.take(high), strip.take(low)
    return Pieces(
        flat=flat.take(edge.take(low)),
        strip=strip,
        height_m=(low_m + high_m) / 2.0,
        weight_m2=(high_m - low_m) * (strips.right_m - strips.left_m).take(strip),
    )


def _outlines(sectors: Sectors, chosen: BoolArray) -> tuple[IntArray, IntArray, IntArray]:
    """Edges round the chosen flats: flat, start point, end point."""
    joints, edges = sectors.zones.flats.joints, sectors.zones.flats.open_edges
    left, right = (np.flatnonzero(chosen.take(flat)) for flat in (joints.left, joints.right))
    both, free = np.concatenate([left, right]), np.flatnonzero(chosen.take(edges.flat))
    flat = (joints.left.take(left), joints.right.take(right), edges.flat.take(free))
    return (
        np.concatenate(flat),
        np.concatenate([joints.start.take(both), edges.start.take(free)]),
        np.concatenate([joints.end.take(both), edges.end.take(free)]),
    )
