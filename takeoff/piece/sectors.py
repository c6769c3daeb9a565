"""Walls cut into sectors of one direction, each unrolled to a plane of run and height."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from enum import IntEnum

import numpy as np
from numpy.typing import NDArray

from takeoff.geometry.sums import summed
from takeoff.piece.easing import Easing
from takeoff.piece.keys import renumbered, sorted_runs
from takeoff.piece.plan_axes import axes_across, cosines_ratio, heights_m
from takeoff.piece.rules import SurfaceRules
from takeoff.piece.zones import Zone, Zones

FloatArray = NDArray[np.float64]
IntArray = NDArray[np.integer]
BoolArray = NDArray[np.bool_]


class Beyond(IntEnum):
    """What lies beyond the rim of a sector."""

    SHOW = 0
    WALL = 1
    AWAY = 2
    OPEN = 3


@dataclass(frozen=True, slots=True, eq=False)
class Rims:
    """The rims of all sectors, unrolled.

    Parameters
    ----------
    sector : ndarray of int, shape (m,)
        Sector of each edge of a rim.
    run_m, height_m : ndarray of float, shape (m, 2)
        Position along the wall, and along the show direction, of the two ends. [m]
    beyond : ndarray of int, shape (m,)
        What lies beyond, a `Beyond`.
    flat : ndarray of int, shape (m,)
        The flat beyond, -1 at an open edge.
    drop_m : ndarray of float, shape (m,)
        What an eased arris beyond adds to the depth. [m]
    bend_deg : ndarray of float, shape (m, 2)
        How much the rim turns at the two ends; 180 where it does not simply go on. [°]
    ahead : ndarray of int, shape (m, 2)
        The edge that goes on at the two ends, -1 where the rim does not simply go on.
    """

    sector: IntArray
    run_m: FloatArray
    height_m: FloatArray
    beyond: NDArray[np.int8]
    flat: IntArray
    drop_m: FloatArray
    bend_deg: FloatArray
    ahead: IntArray

    def ends_m(self) -> tuple[FloatArray, FloatArray]:
        """Give where each edge begins and ends along the wall."""
        return np.minimum(*self.run_m.T), np.maximum(*self.run_m.T)


@dataclass(frozen=True, slots=True, eq=False)
class Sectors:
    """Connected walls of about one direction.

    Parameters
    ----------
    zones : Zones
        The flats.
    of_flat : ndarray of int, shape (n,)
        Sector of each flat, -1 for flats that are no wall.
    area_m2 : ndarray of float, shape (s,)
        Area of each sector. [m²]
    along_direction : ndarray of float, shape (s, 3)
        Unit vector along the wall, level. [-]
    rims : Rims
        The rims.
    """

    zones: Zones
    of_flat: IntArray
    area_m2: FloatArray
    along_direction: FloatArray
    rims: Rims

    @property
    def count(self) -> int:
        """Number of sectors."""
        return len(self.area_m2)

    def beyond_rims(self, show: BoolArray) -> bool:
        """Tell whether a chosen flat lies beyond a rim that is not known as show face yet."""
        beyond = np.append(show, False)[self.rims.flat]
        return bool((beyond & (self.rims.beyond != Beyond.SHOW)).any())

    def with_show(self, show: BoolArray) -> Sectors:
        """Give the same sectors where the chosen flats beyond the rims are show face."""
        beyond = np.where(np.append(show, False)[self.rims.flat], Beyond.SHOW, self.rims.beyond)
        return replace(self, rims=replace(self.rims, beyond=beyond.astype(np.int8)))

    def run_of_m(self, points_m: FloatArray, sector: IntArray) -> FloatArray:
        """Give the position of points along the wall of their sectors."""
        return _along_m(list(points_m.T), self.along_direction, sector)

    def height_of_m(self, points_m: FloatArray) -> FloatArray:
        """Give the position of points along the show direction."""
        return heights_m(points_m, self.zones.show_direction)


def sectors_of(zones: Zones, easing: Easing, *, rules: SurfaceRules = SurfaceRules()) -> Sectors:
    """Cut the walls into sectors.

    Parameters
    ----------
    zones : Zones
        Flats, settled except for the walls.
    easing : Easing
        What eased arrises add to depths.
    rules : SurfaceRules, optional
        How many directions there are.

    Returns
    -------
    Sectors
        Sectors and their rims.

    Examples
    --------
    The outer sides of a box hang together, but look four ways:

    >>> import trimesh
    >>> from takeoff.geometry.mesh import Mesh
    >>> from takeoff.piece.bending import bends_of
    >>> from takeoff.piece.easing import ease
    >>> from takeoff.piece.flats import flats_of
    >>> from takeoff.piece.zones import zones_of
    >>> box = flats_of(Mesh.from_trimesh(trimesh.creation.box((3.0, 2.0, 0.5)), unit="m"))
    >>> zones = zones_of(box, np.array([0.0, 0.0, 1.0]))
    >>> sectors = sectors_of(zones, ease(zones, bends_of(box)))
    >>> sectors.count, np.sort(sectors.area_m2).round(9).tolist()
    (4, [1.0, 1.0, 1.5, 1.5])
    """
    flats, wall = zones.flats, zones.are(Zone.WALL)
    way = _ways(zones, wall, rules)
    label = flats.regions(wall, way.take(flats.joints.left) == way.take(flats.joints.right))
    at = np.flatnonzero(wall)
    sector_of_wall, count = renumbered(label.take(at))
    of_flat = np.full(flats.count, -1, dtype=np.int64)
    of_flat[at] = sector_of_wall
    wall_m2 = flats.area_m2.take(at)
    area_m2 = summed(sector_of_wall, wall_m2, count)
    facing = np.empty((count, 3))
    for axis in range(3):
        weighted = wall_m2 * flats.normals[at, axis]
        facing[:, axis] = summed(sector_of_wall, weighted, count)
    along = np.cross(zones.show_direction, facing)
    length = np.linalg.norm(along, axis=1)
    along /= np.where(length > 0.0, length, 1.0)[:, None]
    return Sectors(zones, of_flat, area_m2, along, _rims(zones, easing, of_flat, along))


def _ways(zones: Zones, wall: BoolArray, rules: SurfaceRules) -> IntArray:
    """Sort walls by direction, so that the main directions fall in the middle of a sort."""
    u, v = axes_across(zones.show_direction)
    at = np.flatnonzero(wall)
    normals = zones.flats.normals.take(at, axis=0)
    azimuth_deg = np.degrees(np.arctan2(cosines_ratio(normals, v), cosines_ratio(normals, u)))
    width_deg = 360.0 / rules.azimuth_count
    bins = 2 * rules.azimuth_count
    within = np.floor((azimuth_deg % width_deg) / width_deg * bins).astype(np.int64) % bins
    area_m2 = summed(within, zones.flats.area_m2.take(at), bins)
    middle_deg = (float(np.argmax(area_m2)) + 0.5) * width_deg / bins
    way = np.zeros(len(wall), dtype=np.int64)
    way[at] = np.rint((azimuth_deg - middle_deg) / width_deg).astype(np.int64) % rules.azimuth_count
    return way


def _rims(zones: Zones, easing: Easing, of_flat: IntArray, along: FloatArray) -> Rims:
    """Collect the rim edges of every sector and what lies beyond them."""
    joints, edges = zones.flats.joints, zones.flats.open_edges
    left, right = of_flat.take(joints.left), of_flat.take(joints.right)
    apart = left != right
    inner = np.flatnonzero(apart & (left >= 0))
    outer = np.flatnonzero(apart & (right >= 0))
    free = np.flatnonzero(of_flat.take(edges.flat) >= 0)
    both = np.concatenate([inner, outer])
    sector = np.concatenate([left.take(inner), right.take(outer), of_flat[edges.flat[free]]])
    start = np.concatenate([joints.start.take(both), edges.start[free]]).astype(np.int64)
    end = np.concatenate([joints.end.take(both), edges.end[free]]).astype(np.int64)
    own = np.concatenate([joints.left.take(inner), joints.right.take(outer)])
    flat = np.concatenate([joints.right.take(inner), joints.left.take(outer)])
    drop_m = easing.drop_m.take(flat)
    lowered = np.flatnonzero(drop_m)
    drop_m[lowered] *= _same_way(zones, own.take(lowered), flat.take(lowered))
    points_m = zones.flats.mesh.points_m
    columns = np.ascontiguousarray(points_m.T)
    point_height_m = heights_m(points_m, zones.show_direction)
    run_m, height_m = np.empty((len(sector), 2)), np.empty((len(sector), 2))
    for number, point in enumerate((start, end)):
        run_m[:, number] = _along_m([column.take(point) for column in columns], along, sector)
        height_m[:, number] = point_height_m.take(point)
    beyond = np.full(len(sector), Beyond.OPEN, dtype=np.int8)
    beyond[: len(flat)] = zones.zone.take(flat)
    one, other = _meeting(sector * np.int64(len(points_m)), (start, end), beyond)
    return Rims(
        sector=sector,
        run_m=run_m,
        height_m=height_m,
        beyond=beyond,
        flat=np.concatenate([flat, np.full(len(free), -1)]),
        drop_m=np.concatenate([drop_m, np.zeros(len(free))]),
        bend_deg=_bends_deg(one, other, run_m=run_m, height_m=height_m),
        ahead=_ahead(one, other, len(sector)),
    )


def _along_m(
    coordinates_m: Sequence[FloatArray], along: FloatArray, sector: IntArray
) -> FloatArray:
    """Positions along the walls of their sectors, from the coordinates by axis."""
    run_m = np.zeros(len(sector))
    for coordinate_m, way in zip(coordinates_m, np.ascontiguousarray(along.T), strict=True):
        run_m += way.take(sector) * coordinate_m
    return run_m


def _same_way(zones: Zones, wall: IntArray, eased: IntArray) -> BoolArray:
    """Tell where an eased arris looks the way of the wall, not along it past its end."""
    level = []
    for flat in (wall, eased):
        normals = zones.flats.normals[flat]
        level.append(
            normals - np.outer(cosines_ratio(normals, zones.show_direction), zones.show_direction)
        )
    lengths = [np.linalg.norm(part, axis=1) for part in level]
    same: BoolArray = np.einsum("ij,ij->i", *level) > 0.7 * lengths[0] * lengths[1]
    return same


def _meeting(
    base: IntArray, point: tuple[IntArray, IntArray], beyond: NDArray[np.int8]
) -> tuple[IntArray, IntArray]:
    """Pair the ends at which a rim simply goes on: first ends of all edges, then second ones."""
    order, first = sorted_runs(np.concatenate([base + point[0], base + point[1]]))
    two = first[np.diff(first, append=len(order)) == 2]
    one, other = order.take(two), order.take(two + 1)
    count = max(len(base), 1)
    alike = beyond.take(one % count) == beyond.take(other % count)
    return one[alike], other[alike]


def _bends_deg(
    one: IntArray, other: IntArray, *, run_m: FloatArray, height_m: FloatArray
) -> FloatArray:
    """How much a rim turns at the two ends of each of its edges."""
    along = [values[:, 1] - values[:, 0] for values in (run_m, height_m)]
    length_m = np.hypot(*along)
    divisor_m = np.where(length_m > 0.0, length_m, 1.0)
    total = []
    for part in along:
        outward = np.concatenate([part / divisor_m, part / -divisor_m])
        total.append(outward.take(one) + outward.take(other))
    half_sine = np.clip(np.hypot(*total) / 2.0, 0.0, 1.0)
    bend_deg = np.full(2 * len(run_m), 180.0)
    bend_deg[one] = bend_deg[other] = 2.0 * np.degrees(np.arcsin(half_sine))
    return bend_deg.reshape(2, -1).T


def _ahead(one: IntArray, other: IntArray, count: int) -> IntArray:
    """Edge that goes on at the two ends of each edge, -1 for none."""
    ahead = np.full(2 * count, -1, dtype=np.int64)
    ahead[one], ahead[other] = other % max(count, 1), one % max(count, 1)
    return ahead.reshape(2, -1).T
