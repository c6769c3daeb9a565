"""Walls cut into sectors of one direction, each unrolled to a plane of run and height."""

from __future__ import annotations

from dataclasses import dataclass, replace
from enum import IntEnum

import numpy as np
from numpy.typing import NDArray

from takeoff.geometry.sums import summed
from takeoff.piece.easing import Easing
from takeoff.piece.plan_axes import axes_across
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
    """

    sector: IntArray
    run_m: FloatArray
    height_m: FloatArray
    beyond: NDArray[np.int8]
    flat: IntArray
    drop_m: FloatArray
    bend_deg: FloatArray


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
        runs_m: FloatArray = np.einsum("ij,ij->i", points_m, self.along_direction[sector])
        return runs_m

    def height_of_m(self, points_m: FloatArray) -> FloatArray:
        """Give the position of points along the show direction."""
        heights_m: FloatArray = np.asarray(points_m @ self.zones.show_direction)
        return heights_m


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
    label = flats.regions(wall, way[flats.joints.left] == way[flats.joints.right])
    used, sector_of_wall = np.unique(label[wall], return_inverse=True)
    of_flat = np.full(flats.count, -1, dtype=np.int64)
    of_flat[wall] = sector_of_wall
    count = len(used)
    area_m2 = summed(sector_of_wall, flats.area_m2[wall], count)
    facing = np.empty((count, 3))
    for axis in range(3):
        weighted = flats.area_m2[wall] * flats.normals[wall, axis]
        facing[:, axis] = summed(sector_of_wall, weighted, count)
    along = np.cross(zones.show_direction, facing)
    length = np.linalg.norm(along, axis=1)
    along /= np.where(length > 0.0, length, 1.0)[:, None]
    return Sectors(zones, of_flat, area_m2, along, _rims(zones, easing, of_flat, along))


def _ways(zones: Zones, wall: BoolArray, rules: SurfaceRules) -> IntArray:
    """Sort walls by direction, so that the main directions fall in the middle of a sort."""
    u, v = axes_across(zones.show_direction)
    normals = zones.flats.normals
    azimuth_deg = np.degrees(np.arctan2(normals @ v, normals @ u))
    width_deg = 360.0 / rules.azimuth_count
    weight = zones.flats.area_m2[wall]
    bins = 2 * rules.azimuth_count
    within = np.floor((azimuth_deg[wall] % width_deg) / width_deg * bins).astype(np.int64) % bins
    area_m2 = summed(within, weight, bins)
    middle_deg = (float(np.argmax(area_m2)) + 0.5) * width_deg / bins
    way = np.rint((azimuth_deg - middle_deg) / width_deg).astype(np.int64)
    return way % rules.azimuth_count


def _rims(zones: Zones, easing: Easing, of_flat: IntArray, along: FloatArray) -> Rims:
    """Collect the rim edges of every sector and what lies beyond them."""
    joints, edges = zones.flats.joints, zones.flats.open_edges
    left, right = of_flat[joints.left], of_flat[joints.right]
    inner = np.flatnonzero((left != right) & (left >= 0))
    outer = np.flatnonzero((left != right) & (right >= 0))
    free = np.flatnonzero(of_flat[edges.flat] >= 0)
    sector = np.concatenate([left[inner], right[outer], of_flat[edges.flat[free]]])
    start = np.concatenate([joints.start[inner], joints.start[outer], edges.start[free]])
    end = np.concatenate([joints.end[inner], joints.end[outer], edges.end[free]])
    own = np.concatenate([joints.left[inner], joints.right[outer]])
    flat = np.concatenate([joints.right[inner], joints.left[outer]])
    drop_m = np.where(_same_way(zones, own, flat), easing.drop_m[flat], 0.0)
    points_m = zones.flats.mesh.points_m
    ends_m = [points_m[start], points_m[end]]
    run_m = np.column_stack([np.einsum("ij,ij->i", p, along[sector]) for p in ends_m])
    height_m = np.column_stack([p @ zones.show_direction for p in ends_m])
    beyond = np.concatenate([zones.zone[flat], np.full(len(free), Beyond.OPEN)]).astype(np.int8)
    return Rims(
        sector=sector,
        run_m=run_m,
        height_m=height_m,
        beyond=beyond,
        flat=np.concatenate([flat, np.full(len(free), -1)]),
        drop_m=np.concatenate([drop_m, np.zeros(len(free))]),
        bend_deg=_bends_deg(
            sector * np.int64(len(points_m)),
            np.column_stack([start, end]),
            run_m=run_m,
            height_m=height_m,
            beyond=beyond,
        ),
    )


def _same_way(zones: Zones, wall: IntArray, eased: IntArray) -> BoolArray:
    """Tell where an eased arris looks the way of the wall, not along it past its end."""
    level = []
    for flat in (wall, eased):
        normals = zones.flats.normals[flat]
        level.append(normals - np.outer(normals @ zones.show_direction, zones.show_direction))
    lengths = [np.linalg.norm(part, axis=1) for part in level]
    same: BoolArray = np.einsum("ij,ij->i", *level) > 0.7 * lengths[0] * lengths[1]
    return same


def _bends_deg(
    base: IntArray,
    point: IntArray,
    *,
    run_m: FloatArray,
    height_m: FloatArray,
    beyond: NDArray[np.int8],
) -> FloatArray:
    """How much a rim turns at the two ends of each of its edges."""
    if not len(point):
        return np.zeros((0, 2))
    along = np.column_stack([run_m[:, 1] - run_m[:, 0], height_m[:, 1] - height_m[:, 0]])
    length_m = np.hypot(*along.T)
    along /= np.where(length_m > 0.0, length_m, 1.0)[:, None]
    _, number = np.unique(
        np.concatenate([base + point[:, 0], base + point[:, 1]]), return_inverse=True
    )
    count = int(number.max()) + 1
    either = np.concatenate([along, -along])
    total = np.column_stack([summed(number, either[:, axis], count) for axis in range(2)])
    code = np.concatenate([beyond, beyond]).astype(np.float64)
    spread = summed(number, code**2, count) - summed(number, code, count) ** 2 / 2.0
    simple = (np.bincount(number, minlength=count) == 2) & (spread == 0.0)
    half_sine = np.clip(np.hypot(*total.T) / 2.0, 0.0, 1.0)
    bend_deg = np.where(simple, 2.0 * np.degrees(np.arcsin(half_sine)), 180.0)
    return bend_deg[number].reshape(2, -1).T
