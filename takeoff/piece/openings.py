"""Openings: closed runs of wall round a hole in the show face."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from takeoff.geometry.sums import summed
from takeoff.piece.judging import CAST_WALLS, ClassColumn
from takeoff.piece.plan_axes import across_m
from takeoff.piece.rules import SurfaceRules
from takeoff.piece.settling import Settled
from takeoff.piece.zones import Reason

FloatArray = NDArray[np.float64]
IntArray = NDArray[np.integer]
BoolArray = NDArray[np.bool_]

_ENDING = (Reason.EDGE, Reason.SHELL_EDGE, Reason.FILLED)


@dataclass(frozen=True, slots=True, eq=False)
class FoundOpenings:
    """The openings, not yet numbered by size.

    Parameters
    ----------
    of_flat : ndarray of int, shape (n,)
        Opening that the walls on each flat belong to, from 0; -1 for none.
    width_m : ndarray of float, shape (o,)
        Least width of each, at the show face or at the back, whichever is less. [m]
    """

    of_flat: IntArray
    width_m: FloatArray


def find_openings(settled: Settled, *, rules: SurfaceRules = SurfaceRules()) -> FoundOpenings:
    """Find the openings of a piece.

    Parameters
    ----------
    settled : Settled
        The surface, divided.
    rules : SurfaceRules, optional
        When a loop is closed.

    Returns
    -------
    FoundOpenings
        Openings whose wall is cast.

    Notes
    -----
    The border between show face and wall, taken in the winding of the show face, runs clockwise
    round an opening and counter-clockwise round the piece: its signed area tells which.

    Examples
    --------
    >>> import trimesh
    >>> from takeoff.geometry.mesh import Mesh
    >>> from takeoff.piece.flats import flats_of
    >>> from takeoff.piece.settling import settle
    >>> ring = trimesh.creation.annulus(0.1, 0.5, 0.05)
    >>> flats = flats_of(Mesh.from_trimesh(ring, unit="m"))
    >>> found = find_openings(settle(flats, np.array([0.0, 0.0, 1.0])))
    >>> found.width_m.round(2).tolist()
    [0.2]
    """
    flats = settled.flats
    wall = _ending_walls(settled)
    show = settled.parts.shares(flats.count)[:, ClassColumn.SHOW_FACE] >= 0.5
    show &= ~wall
    region = np.where(wall, flats.regions(wall), -1)
    top = _borders(settled, region, show)
    feet = (_borders(settled, region, ~show & ~wall), _open_borders(settled, region))
    loops = [_closed_loops(settled, border, rules) for border in (top, *feet)]
    of_region = np.full(flats.count + 1, -1, dtype=np.int64)
    widths_m: list[float] = []
    for hole, area_m2 in loops[0].items():
        if area_m2 < 0.0:
            of_region[hole] = len(widths_m)
            ends = [
                border.plan_m(settled, hole)
                for border, closed in zip((top, *feet), loops, strict=True)
                if hole in closed
            ]
            widths_m.append(min(_least_width_m(plan_m) for plan_m in ends))
    of_flat = _with_easing(settled, of_region[region])
    return FoundOpenings(of_flat, np.array(widths_m, dtype=np.float64))


def _with_easing(settled: Settled, of_flat: IntArray) -> IntArray:
    """Let the eased arrises at the show face belong to the opening of the wall below."""
    joints = settled.flats.joints
    eased = np.zeros(settled.flats.count, dtype=np.bool_)
    eased[settled.parts.flat[settled.parts.reason == Reason.EASED]] = True
    for _ in range(2):
        for own, other in ((joints.left, joints.right), (joints.right, joints.left)):
            taking = eased[own] & (of_flat[own] < 0) & (of_flat[other] >= 0)
            of_flat[own[taking]] = of_flat[other[taking]]
    return of_flat


def _ending_walls(settled: Settled) -> BoolArray:
    """Tell cast walls that run from the show face to the back."""
    parts = settled.parts
    cast = np.isin(parts.column, CAST_WALLS)
    cast &= np.isin(parts.reason, _ENDING)
    share = summed(parts.flat[cast], parts.share[cast], settled.flats.count)
    return share > 0.5


@dataclass(frozen=True, slots=True, eq=False)
class _Borders:
    """Directed edges between regions of wall and what lies beyond."""

    region: IntArray
    start: IntArray
    end: IntArray

    def plan_m(self, settled: Settled, number: int) -> FloatArray:
        """Points of the border of one region, in plan, shape (p, 2)."""
        own = self.region == number
        point = np.unique(np.concatenate([self.start[own], self.end[own]]))
        points_m = settled.flats.mesh.points_m[point]
        return np.column_stack(across_m(points_m, settled.zones.show_direction))


def _borders(settled: Settled, region: IntArray, beyond: BoolArray) -> _Borders:
    """Edges between regions and the flats beyond, in the winding of the latter."""
    joints = settled.flats.joints
    right = beyond[joints.left] & (region[joints.right] >= 0)
    left = beyond[joints.right] & (region[joints.left] >= 0)
    return _Borders(
        np.concatenate([region[joints.right[right]], region[joints.left[left]]]),
        np.concatenate([joints.start[right], joints.end[left]]),
        np.concatenate([joints.end[right], joints.start[left]]),
    )


def _open_borders(settled: Settled, region: IntArray) -> _Borders:
    """Open edges of the regions."""
    edges = settled.flats.open_edges
    free = region[edges.flat] >= 0
    return _Borders(region[edges.flat[free]], edges.end[free], edges.start[free])


def _closed_loops(settled: Settled, border: _Borders, rules: SurfaceRules) -> dict[int, float]:
    """Regions whose border is closed, with the area it runs round counter-clockwise."""
    if not len(border.region):
        return {}
    mesh = settled.flats.mesh
    middle_m = mesh.points_m[border.start].mean(axis=0)
    start_m, end_m = (
        np.column_stack(across_m(mesh.points_m[point] - middle_m, settled.zones.show_direction))
        for point in (border.start, border.end)
    )
    number, at = np.unique(border.region, return_inverse=True)
    count, along_m = len(number), end_m - start_m
    gap_m = np.hypot(*(summed(at, along_m[:, axis], count) for axis in range(2)))
    round_m = summed(at, np.hypot(*along_m.T), count)
    swept_m2 = start_m[:, 0] * end_m[:, 1] - start_m[:, 1] * end_m[:, 0]
    area_m2 = summed(at, swept_m2, count) / 2.0
    closed = gap_m <= rules.loop_gap_share * round_m
    closed &= np.abs(area_m2) > rules.clearance_m * round_m
    return dict(zip(number[closed].tolist(), area_m2[closed].tolist(), strict=True))


def _least_width_m(plan_m: FloatArray) -> float:
    """Least distance of two parallels that hold all points."""
    from scipy.spatial import ConvexHull

    hull_m = plan_m[ConvexHull(plan_m - plan_m.mean(axis=0)).vertices]
    edges_m = np.roll(hull_m, -1, axis=0) - hull_m
    across = np.column_stack([-edges_m[:, 1], edges_m[:, 0]])
    across /= np.hypot(*across.T)[:, None]
    reach_m = across @ hull_m.T
    return float((reach_m.max(axis=1) - reach_m.min(axis=1)).min())
