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
    if not wall.any():
        return FoundOpenings(np.full(flats.count, -1, dtype=np.int64), np.empty(0))
    own = np.flatnonzero(settled.parts.column == ClassColumn.SHOW_FACE)
    show = summed(settled.parts.flat[own], settled.parts.share[own], flats.count) >= 0.5
    show &= ~wall
    region = np.where(wall, flats.regions(wall), -1)
    top = _borders(settled, region, show)
    loops = _closed_loops(settled, top, rules)
    holes = [hole for hole, area_m2 in loops.items() if area_m2 < 0.0]
    if not holes:
        return FoundOpenings(np.full(flats.count, -1, dtype=np.int64), np.empty(0))
    feet = (_borders(settled, region, ~show & ~wall), _open_borders(settled, region))
    around = [(top, loops), *((foot, _closed_loops(settled, foot, rules)) for foot in feet)]
    of_region = np.full(flats.count + 1, -1, dtype=np.int64)
    widths_m: list[float] = []
    for hole in holes:
        of_region[hole] = len(widths_m)
        ends = [border.plan_m(settled, hole) for border, closed in around if hole in closed]
        widths_m.append(min(_least_width_m(plan_m) for plan_m in ends))
    of_flat = _with_easing(settled, of_region[region])
    return FoundOpenings(of_flat, np.array(widths_m, dtype=np.float64))


def _with_easing(settled: Settled, of_flat: IntArray) -> IntArray:
    """Let the eased arrises at the show face belong to the opening of the wall below."""
    eased = np.zeros(settled.flats.count, dtype=np.bool_)
    eased[settled.parts.flat[settled.parts.reason == Reason.EASED]] = True
    if not eased.any() or not (of_flat >= 0).any():
        return of_flat
    joints = settled.flats.joints
    at = np.flatnonzero(eased.take(joints.left) | eased.take(joints.right))
    ends = (joints.left.take(at), joints.right.take(at))
    for _ in range(2):
        for own, other in (ends, ends[::-1]):
            taking = eased[own] & (of_flat[own] < 0) & (of_flat[other] >= 0)
            of_flat[own[taking]] = of_flat[other[taking]]
    return of_flat


def _ending_walls(settled: Settled) -> BoolArray:
    """Tell cast walls that run from the show face to the back."""
    parts = settled.parts
    cast = np.flatnonzero(np.isin(parts.column, CAST_WALLS))
    if not len(cast):
        return np.zeros(settled.flats.count, dtype=np.bool_)
    cast = cast[np.isin(parts.reason.take(cast), _ENDING)]
    share = summed(parts.flat.take(cast), parts.share.take(cast), settled.flats.count)
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
    joints, within = settled.flats.joints, region >= 0
    right = np.flatnonzero(beyond.take(joints.left) & within.take(joints.right))
    left = np.flatnonzero(beyond.take(joints.right) & within.take(joints.left))
    return _Borders(
        region.take(np.concatenate([joints.right.take(right), joints.left.take(left)])),
        np.concatenate([joints.start.take(right), joints.end.take(left)]),
        np.concatenate([joints.end.take(right), joints.start.take(left)]),
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
    start_m, end_m = [], []
    for coordinate_m in across_m(settled.flats.mesh.points_m, settled.zones.show_direction):
        first_m = coordinate_m.take(border.start)
        middle_m = first_m.mean()
        start_m.append(first_m - middle_m)
        end_m.append(coordinate_m.take(border.end) - middle_m)
    at, count = border.region, int(border.region.max()) + 1
    along_m = [last_m - first_m for first_m, last_m in zip(start_m, end_m, strict=True)]
    gap_m = np.hypot(*(summed(at, part_m, count) for part_m in along_m))
    round_m = summed(at, np.hypot(*along_m), count)
    area_m2 = summed(at, start_m[0] * end_m[1] - start_m[1] * end_m[0], count) / 2.0
    closed = gap_m <= rules.loop_gap_share * round_m
    closed &= np.abs(area_m2) > rules.clearance_m * round_m
    number = np.flatnonzero(closed)
    return dict(zip(number.tolist(), area_m2[number].tolist(), strict=True))


def _least_width_m(plan_m: FloatArray) -> float:
    """Least distance of two parallels that hold all points."""
    from scipy.spatial import ConvexHull

    hull_m = plan_m[ConvexHull(plan_m - plan_m.mean(axis=0)).vertices]
    edges_m = np.roll(hull_m, -1, axis=0) - hull_m
    across = np.column_stack([-edges_m[:, 1], edges_m[:, 0]])
    across /= np.hypot(*across.T)[:, None]
    reach_m = across @ hull_m.T
    return float((reach_m.max(axis=1) - reach_m.min(axis=1)).min())
