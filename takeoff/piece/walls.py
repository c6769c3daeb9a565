"""Walls divided among return, upright, show face and back by the columns that cross them."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from takeoff.geometry.sums import dot, summed
from takeoff.piece.columns import Columns
from takeoff.piece.cutting import Cuts
from takeoff.piece.filling import fill
from takeoff.piece.joining import joined
from takeoff.piece.judging import Verdicts
from takeoff.piece.keys import numbered
from takeoff.piece.parts import Parts
from takeoff.piece.rules import SurfaceRules
from takeoff.piece.sectors import Sectors
from takeoff.piece.zones import Reason

FloatArray = NDArray[np.float64]
IntArray = NDArray[np.integer]
BoolArray = NDArray[np.bool_]


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
        Area on which no column decided, nor others of the same sector. [m²]
    """

    parts: Parts
    patch: IntArray
    undecided_m2: float


def divide_walls(
    sectors: Sectors,
    columns: Columns,
    verdicts: Verdicts,
    cuts: Cuts,
    *,
    rules: SurfaceRules = SurfaceRules(),
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
    cuts : Cuts
        Where the columns cut the wall flats.
    rules : SurfaceRules, optional
        What is too small to keep.

    Returns
    -------
    Walls
        Parts of every wall flat.

    Examples
    --------
    >>> import trimesh
    >>> from takeoff.geometry.mesh import Mesh
    >>> from takeoff.piece.bending import bends_of
    >>> from takeoff.piece.columns import columns_of
    >>> from takeoff.piece.cutting import cut_walls
    >>> from takeoff.piece.easing import ease
    >>> from takeoff.piece.flats import flats_of
    >>> from takeoff.piece.judging import judge
    >>> from takeoff.piece.sectors import sectors_of
    >>> from takeoff.piece.zones import zones_of
    >>> box = flats_of(Mesh.from_trimesh(trimesh.creation.box((3.0, 2.0, 0.1)), unit="m"))
    >>> zones = zones_of(box, np.array([0.0, 0.0, 1.0]))
    >>> sectors = sectors_of(zones, ease(zones, bends_of(box)))
    >>> columns = columns_of(sectors)
    >>> walls = divide_walls(sectors, columns, judge(columns), cut_walls(sectors, columns))
    >>> walls.parts.shares(6).sum(axis=0).round(9).tolist(), walls.undecided_m2
    ([0.0, 4.0, 0.0, 0.0], 0.0)
    """
    flats = sectors.zones.flats
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
    if not open_share.any():
        return Walls(parts, patch, 0.0)
    filled, doubtful = fill(sectors, parts.shares(flats.count), open_share, rules=rules)
    flat, column = np.nonzero(filled)
    rest = Parts.plain(flat, column, Reason.FILLED, filled[flat, column])
    return Walls(
        Parts.together([parts, rest]), patch, dot(open_share[doubtful], flats.area_m2[doubtful])
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
    part, first = numbered(cell)
    count = len(first)
    total = summed(part, share, count)
    depth_m = np.zeros(count)
    deepest_m = np.maximum(columns.depth_m, np.maximum(*columns.edge_depth_m.T))
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
    here, there = touching(columns)
    same = verdicts.column[here] == verdicts.column[there]
    return joined(len(columns.strip), here[same], there[same])


def touching(columns: Columns) -> tuple[IntArray, IntArray]:
    """List the columns of one wall that stand side by side and touch.

    Parameters
    ----------
    columns : Columns
        The columns.

    Returns
    -------
    tuple of ndarray of int
        The left and the right one of each pair.

    Examples
    --------
    >>> import trimesh
    >>> from takeoff.geometry.mesh import Mesh
    >>> from takeoff.piece.flats import flats_of
    >>> from takeoff.piece.settling import settle
    >>> box = flats_of(Mesh.from_trimesh(trimesh.creation.box((3.0, 2.0, 0.1)), unit="m"))
    >>> columns = settle(box, np.array([0.0, 0.0, 1.0])).columns
    >>> len(columns.strip), len(touching(columns)[0])
    (1024, 1020)
    """
    count = len(columns.strip)
    strips = columns.strips
    following = np.zeros(len(strips.sector), dtype=np.bool_)
    following[:-1] = (np.diff(strips.sector) == 0) & (strips.left_m[1:] == strips.right_m[:-1])
    first = np.searchsorted(columns.strip, columns.strip + 1, "left")
    last = np.searchsorted(columns.strip, columns.strip + 1, "right")
    number = np.where(following[columns.strip], last - first, 0) if count else last
    here = np.repeat(np.arange(count), number)
    there = np.arange(len(here)) + np.repeat(first - (np.cumsum(number) - number), number)
    touch = columns.low_m[here] < columns.high_m[there]
    touch &= columns.low_m[there] < columns.high_m[here]
    return here[touch], there[touch]
