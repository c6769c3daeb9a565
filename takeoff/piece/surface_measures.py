"""What the parts of every surface add up to: area, depth, draft, undercut, normal, reason."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from takeoff.geometry.sums import summed
from takeoff.piece.judging import CAST_WALLS, ClassColumn
from takeoff.piece.parts import Parts
from takeoff.piece.rules import SurfaceRules
from takeoff.piece.settling import Settled
from takeoff.piece.zones import Reason

FloatArray = NDArray[np.float64]
IntArray = NDArray[np.integer]
BoolArray = NDArray[np.bool_]


@dataclass(frozen=True, slots=True, eq=False)
class SurfaceMeasures:
    """Measures of every surface; one entry a surface.

    Parameters
    ----------
    column : ndarray of int, shape (s,)
        Class as found, as the column of the shares.
    opening : ndarray of int, shape (s,)
        Opening it is the wall of, -1 for none.
    area_m2 : ndarray of float, shape (s,)
        Area. [m²]
    depth_m, mean_depth_m : ndarray of float, shape (s,)
        Largest and mean depth behind the show face; 0 where it has none. [m]
    draft_deg : ndarray of float, shape (s,)
        Worst draft. [°]
    undercut_m2 : ndarray of float, shape (s,)
        Area that leans in. [m²]
    normals : ndarray of float, shape (s, 3)
        Sum of the vector areas. [-]
    reason : ndarray of int, shape (s,)
        The `Reason` of most of it.
    """

    column: IntArray
    opening: IntArray
    area_m2: FloatArray
    depth_m: FloatArray
    mean_depth_m: FloatArray
    draft_deg: FloatArray
    undercut_m2: FloatArray
    normals: FloatArray
    reason: IntArray

    @property
    def count(self) -> int:
        """Number of surfaces."""
        return len(self.area_m2)


def measure_surfaces(
    settled: Settled,
    surface: IntArray,
    opening: IntArray,
    *,
    rules: SurfaceRules = SurfaceRules(),
) -> SurfaceMeasures:
    """Add up the parts of every surface.

    Parameters
    ----------
    settled : Settled
        The surface of the piece, divided.
    surface : ndarray of int, shape (p,)
        Surface of every part, from 0.
    opening : ndarray of int, shape (n,)
        Opening each flat is the wall of, -1 for none.
    rules : SurfaceRules, optional
        What leans in, what is a sliver.

    Returns
    -------
    SurfaceMeasures
        Measures of every surface.

    Examples
    --------
    >>> import trimesh
    >>> from takeoff.geometry.mesh import Mesh
    >>> from takeoff.piece.flats import flats_of
    >>> from takeoff.piece.settling import settle
    >>> box = flats_of(Mesh.from_trimesh(trimesh.creation.box((3.0, 2.0, 0.1)), unit="m"))
    >>> settled = settle(box, np.array([0.0, 0.0, 1.0]))
    >>> whole = measure_surfaces(settled, settled.parts.column, np.full(6, -1))
    >>> whole.area_m2.round(9).tolist(), whole.depth_m.round(9).tolist()
    ([6.0, 1.0, 0.0, 6.0], [0.0, 0.1, 0.0, 0.0])
    """
    parts, flats = settled.parts, settled.flats
    count = int(surface.max()) + 1
    area_m2 = parts.share * flats.area_m2[parts.flat]
    total_m2 = summed(surface, area_m2, count)
    deepest_m, mean_m = _depths_m(parts, surface, area_m2, count)
    draft_deg = 90.0 - settled.zones.tilt_deg.take(parts.flat)
    plain = ~_eased_foot(settled, rules).take(parts.flat)
    plain &= parts.reason != Reason.SHELL_EDGE
    leaning = np.flatnonzero(plain & (draft_deg < -rules.undercut_deg))
    column, of_opening = np.zeros(count, dtype=np.int64), np.full(count, -1, dtype=np.int64)
    column[surface] = parts.column
    walls = np.flatnonzero((parts.column == CAST_WALLS[0]) | (parts.column == CAST_WALLS[1]))
    of_opening[surface.take(walls)] = opening.take(parts.flat.take(walls))
    cell = surface * len(Reason)
    cell += parts.reason
    by_reason_m2 = summed(cell, area_m2, count * len(Reason))
    return SurfaceMeasures(
        column=column,
        opening=of_opening,
        area_m2=total_m2,
        depth_m=np.where(column == ClassColumn.SHOW_FACE, 0.0, deepest_m),
        mean_depth_m=mean_m,
        draft_deg=_worst_deg(surface, draft_deg, np.where(plain, area_m2, 0.0), rules),
        undercut_m2=summed(surface.take(leaning), area_m2.take(leaning), count),
        normals=_vectors_m2(settled, surface, area_m2, count),
        reason=by_reason_m2.reshape(count, -1).argmax(axis=1),
    )


def _depths_m(
    parts: Parts, surface: IntArray, area_m2: FloatArray, count: int
) -> tuple[FloatArray, FloatArray]:
    """Largest and mean depth of every surface, from the parts that have one."""
    deep = np.flatnonzero(parts.depth_m > 0.0)
    surface, area_m2 = surface.take(deep), area_m2.take(deep)
    deepest_m = np.zeros(count)
    np.maximum.at(deepest_m, surface, parts.depth_m.take(deep))
    known_m2 = summed(surface, area_m2, count)
    depth_m3 = summed(surface, area_m2 * parts.mean_depth_m.take(deep), count)
    return deepest_m, depth_m3 / np.where(known_m2 > 0.0, known_m2, 1.0)


def _eased_foot(settled: Settled, rules: SurfaceRules) -> BoolArray:
    """Tell the flats of arrises eased towards the back: no undercut, though they lean in."""
    tight = settled.bends.radius_m < rules.blend_radius_m
    eased: BoolArray = tight & (settled.bends.bend_m > 0.0) & (settled.zones.tilt_deg > 90.0)
    return eased


def _worst_deg(
    surface: IntArray, draft_deg: FloatArray, area_m2: FloatArray, rules: SurfaceRules
) -> FloatArray:
    """Least draft of each surface over all but its slivers."""
    count = int(surface.max()) + 1
    kept = area_m2 > rules.sliver_share * area_m2.sum()
    big = np.zeros(count, dtype=np.bool_)
    big[surface[kept]] = True
    kept |= ~big[surface]
    worst = np.full(count, np.inf)
    np.minimum.at(worst, surface[kept], draft_deg[kept])
    return worst


def _vectors_m2(settled: Settled, surface: IntArray, area_m2: FloatArray, count: int) -> FloatArray:
    """Add up the vector areas of the parts of every surface."""
    flat, columns = settled.parts.flat, np.ascontiguousarray(settled.flats.normals.T)
    sums = [summed(surface, area_m2 * column.take(flat), count) for column in columns]
    return np.column_stack(sums)
