"""What every column of wall is: by what lies above and below it, and by its depth."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from enum import IntEnum

import numpy as np
from numpy.typing import NDArray

from takeoff.piece.columns import Columns
from takeoff.piece.rules import SurfaceRules
from takeoff.piece.sectors import Beyond
from takeoff.piece.zones import Reason

IntArray = NDArray[np.integer]
BoolArray = NDArray[np.bool_]


class ClassColumn(IntEnum):
    """Columns of the shares of a facet, in the order of `SurfaceClass`."""

    SHOW_FACE = 0
    RETURN = 1
    UPRIGHT = 2
    BACK = 3


CAST_WALLS = (ClassColumn.RETURN, ClassColumn.UPRIGHT)
"""The classes of walls that are cast."""

CASES: Mapping[tuple[Beyond, Beyond], Reason] = {
    (Beyond.SHOW, Beyond.SHOW): Reason.BASIN,
    (Beyond.SHOW, Beyond.AWAY): Reason.EDGE,
    (Beyond.SHOW, Beyond.OPEN): Reason.EDGE,
    (Beyond.SHOW, Beyond.WALL): Reason.EDGE,
    (Beyond.AWAY, Beyond.SHOW): Reason.STEP,
    (Beyond.OPEN, Beyond.SHOW): Reason.STEP,
    (Beyond.WALL, Beyond.SHOW): Reason.STEP,
    (Beyond.AWAY, Beyond.AWAY): Reason.INNER,
    (Beyond.AWAY, Beyond.OPEN): Reason.INNER,
    (Beyond.OPEN, Beyond.AWAY): Reason.INNER,
    (Beyond.OPEN, Beyond.OPEN): Reason.LOOSE,
}
"""What lies above and below a column -> why it is of its class."""


@dataclass(frozen=True, slots=True, eq=False)
class Verdicts:
    """Class and reason of every column.

    Parameters
    ----------
    column : ndarray of int, shape (c,)
        A `ClassColumn`, or -1 where the column alone does not decide.
    reason : ndarray of int, shape (c,)
        A `Reason`.
    """

    column: IntArray
    reason: IntArray

    @property
    def decided(self) -> BoolArray:
        """Columns that decide."""
        return self.column >= 0


def judge(columns: Columns, *, rules: SurfaceRules = SurfaceRules()) -> Verdicts:
    """Judge every column of wall.

    Parameters
    ----------
    columns : Columns
        The columns.
    rules : SurfaceRules, optional
        Return limit and relief limit.

    Returns
    -------
    Verdicts
        Class and reason of every column.

    Notes
    -----
    A column that ends at a wall of another direction is only part of the depth there. It
    decides alone if it is deeper than the return limit already.

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
    >>> columns = columns_of(sectors_of(zones, ease(zones, bends_of(box))))
    >>> verdicts = judge(columns)
    >>> [ClassColumn(column).name for column in set(verdicts.column.tolist())]
    ['RETURN']
    """
    deep = columns.depth_m > rules.return_limit_m + rules.depth_tie_m
    by_depth = np.where(deep, ClassColumn.UPRIGHT, ClassColumn.RETURN)
    column = np.full(len(deep), -1, dtype=np.int64)
    reason = np.full(len(deep), Reason.FILLED, dtype=np.int64)
    partial = (columns.above == Beyond.WALL) | (columns.below == Beyond.WALL)
    for (above, below), why in CASES.items():
        case = (columns.above == above) & (columns.below == below) & (~partial | deep)
        column[case] = by_depth[case]
        reason[case] = why
    relief = (reason == Reason.BASIN) & (columns.depth_m <= rules.relief_m + rules.depth_tie_m)
    column[relief] = ClassColumn.SHOW_FACE
    reason[relief] = Reason.RELIEF
    column[reason == Reason.INNER] = ClassColumn.BACK
    return Verdicts(column, reason)
