"""Parallel rays through bodies: along how much of them is inside two, or inside one twice."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from takeoff.geometry.mesh import Mesh

FloatArray = NDArray[np.float64]
_OFFSETS = np.array([np.sqrt(0.3), np.sqrt(0.2)])  # irrational, so that rays miss edges
_CHUNK = 1 << 18  # crossings tried at once: some tens of megabytes


@dataclass(frozen=True, slots=True)
class SharedLength:
    """Lengths along a set of rays.

    Parameters
    ----------
    first_m, second_m : float
        Inside the one body and inside the other. [m]
    both_m : float
        Inside both. [m]
    longest_m : float
        The longest unbroken run inside both. [m]
    """

    first_m: float
    second_m: float
    both_m: float
    longest_m: float


@dataclass(frozen=True, slots=True)
class _Grid:
    """Rays along one axis, over a rectangle of the other two."""

    axis: int
    low_m: FloatArray
    step_m: FloatArray
    side: int


def shared_length(
    mesh: Mesh,
    first: NDArray[np.int64],
    second: NDArray[np.int64],
    *,
    low_m: FloatArray,
    high_m: FloatArray,
    side: int = 48,
) -> SharedLength:
    """Send rays along the three axes through a region of two closed bodies.

    Parameters
    ----------
    mesh : Mesh
        The mesh that both are in.
    first, second : ndarray of int
        Facets of the one body and of the other.
    low_m, high_m : ndarray of float, shape (3,)
        Region across which the rays are spread. [m]
    side : int, default 48
        Rays along each side of the grid; 48 give 2304 rays in each of three directions.

    Returns
    -------
    SharedLength
        Summed over all rays.

    Notes
    -----
    The rays stand at irrational shares of the region, so that they miss the edges of
    upright pieces; a ray that still hits an edge does not leave a body as often as it
    enters, and is left out.

    Examples
    --------
    >>> import trimesh
    >>> boxes = [trimesh.creation.box(bounds=[[i, 0, 0], [i + 2, 1, 1]]) for i in (0, 1)]
    >>> pair = Mesh.from_trimesh(trimesh.util.concatenate(boxes), unit="m")
    >>> region = {"low_m": np.array([1.0, 0, 0]), "high_m": np.array([2.0, 1, 1])}
    >>> round(shared_length(pair, np.arange(12), np.arange(12, 24), **region).longest_m, 9)
    1.0
    """
    sums = np.zeros(3)
    longest = 0.0
    for grid in _grids(low_m, high_m, side):
        span, depth = _runs([_crossings(mesh, facets, grid) for facets in (first, second)], grid)
        inside = depth != 0
        both = span * inside.all(axis=1)
        sums += (span @ inside[:, 0], span @ inside[:, 1], both.sum())
        longest = max(longest, float(both.max(initial=0.0)))
    return SharedLength(float(sums[0]), float(sums[1]), float(sums[2]), longest)


def doubled_length_m(
    mesh: Mesh,
    facets: NDArray[np.int64],
    *,
    low_m: FloatArray,
    high_m: FloatArray,
    side: int = 48,
) -> float:
    """Send rays through one closed body, to find material that it encloses twice.

    Parameters
    ----------
    mesh : Mesh
        The mesh that it is in.
    facets : ndarray of int
        Its facets.
    low_m, high_m : ndarray of float, shape (3,)
        Its bounds. [m]
    side : int, default 48
        Rays along each side of the grid.

    Returns
    -------
    float
        The longest unbroken run inside it twice or more. [m]

    Examples
    --------
    >>> import trimesh
    >>> boxes = [trimesh.creation.box(bounds=[[i, 0, 0], [i + 2, 1, 1]]) for i in (0, 1)]
    >>> pair = Mesh.from_trimesh(trimesh.util.concatenate(boxes), unit="m")
    >>> bounds = {"low_m": np.zeros(3), "high_m": np.array([3.0, 1, 1])}
    >>> round(doubled_length_m(pair, np.arange(24), **bounds), 9)
    1.0
    """
    longest = 0.0
    for grid in _grids(low_m, high_m, side):
        span, depth = _runs([_crossings(mesh, facets, grid)], grid)
        doubled = span * (np.abs(depth[:, 0]) > 1)
        longest = max(longest, float(doubled.max(initial=0.0)))
    return longest


def _grids(low_m: FloatArray, high_m: FloatArray, side: int) -> Iterator[_Grid]:
    """Rays along each of the three axes; none along an axis across which the region is flat."""
    for axis in range(3):
        across = [(axis + 1) % 3, (axis + 2) % 3]
        step_m = (high_m - low_m)[across] / side
        if step_m.all():
            yield _Grid(axis, low_m[across], step_m, side)


def _crossings(
    mesh: Mesh, facets: NDArray[np.int64], grid: _Grid
) -> tuple[NDArray[np.int64], FloatArray, NDArray[np.int64]]:
    """Ray, height and step in or out wherever a ray goes through a facet."""
    axes = [(grid.axis + 1) % 3, (grid.axis + 2) % 3, grid.axis]
    corners = mesh.points_m[mesh.triangles[facets]][:, :, axes]
    corners[:, :, :2] = (corners[:, :, :2] - grid.low_m) / grid.step_m - _OFFSETS
    lowest = np.clip(np.ceil(corners[:, :, :2].min(axis=1)), 0, grid.side).astype(np.int64)
    highest = np.clip(np.floor(corners[:, :, :2].max(axis=1)), -1, grid.side - 1).astype(np.int64)
    spans = np.maximum(highest - lowest + 1, 0)
    count = spans[:, 0] * spans[:, 1]
    covers = np.flatnonzero(count)
    limits = np.searchsorted(np.cumsum(count[covers]), np.arange(0, count.sum(), _CHUNK))
    chunks = np.split(covers, limits[1:])
    found = [_chunk_crossings(corners[c], lowest[c], spans[c], grid.side) for c in chunks if len(c)]
    if not found:
        return np.empty(0, np.int64), np.empty(0), np.empty(0, np.int64)
    rays, heights, steps = zip(*found, strict=True)
    return np.concatenate(rays), np.concatenate(heights), np.concatenate(steps)


def _chunk_crossings(
    corners: FloatArray, lowest: NDArray[np.int64], spans: NDArray[np.int64], side: int
) -> tuple[NDArray[np.int64], FloatArray, NDArray[np.int64]]:
    """Crossings of some facets with every ray that their bounds cover."""
    count = spans[:, 0] * spans[:, 1]
    facet = np.repeat(np.arange(len(corners)), count)
    within = np.arange(len(facet)) - np.repeat(np.cumsum(count) - count, count)
    column = lowest[facet, 0] + within // spans[facet, 1]
    row = lowest[facet, 1] + within % spans[facet, 1]
    x = corners[facet, :, 0] - column[:, None]
    y = corners[facet, :, 1] - row[:, None]
    weight = np.stack([_minor(x, y, 1, 2), _minor(x, y, 2, 0), _minor(x, y, 0, 1)])
    hit = (weight > 0.0).all(axis=0) | (weight < 0.0).all(axis=0)
    weight, facet = weight[:, hit], facet[hit]
    total = weight.sum(axis=0)
    height = np.einsum("ij,ji->i", corners[facet, :, 2], weight) / total
    step = np.where(total > 0.0, -1, 1)
    return column[hit] * side + row[hit], height, step


def _minor(x: FloatArray, y: FloatArray, i: int, j: int) -> FloatArray:
    """Twice the area between the ray and the side from corner i to corner j."""
    area: FloatArray = x[:, i] * y[:, j] - x[:, j] * y[:, i]
    return area


def _runs(
    hits: list[tuple[NDArray[np.int64], FloatArray, NDArray[np.int64]]], grid: _Grid
) -> tuple[FloatArray, NDArray[np.int64]]:
    """Cut the rays at every crossing: length of each run, and how deep it is in each body."""
    ray, height = (np.concatenate([hit[i] for hit in hits]) for i in (0, 1))
    body = np.repeat(np.arange(len(hits)), [len(hit[0]) for hit in hits])
    step = np.zeros((len(ray), len(hits)), dtype=np.int64)
    step[np.arange(len(ray)), body] = np.concatenate([hit[2] for hit in hits])
    whole = np.ones(grid.side**2, dtype=np.bool_)
    for steps in step.T:
        whole &= np.bincount(ray, steps, minlength=grid.side**2) == 0
    kept = whole[ray]
    ray, height, step = ray[kept], height[kept], step[kept]
    order = np.lexsort((height, ray))
    ray, height = ray[order], height[order]
    span = np.diff(height) * (ray[1:] == ray[:-1])
    return span, np.cumsum(step[order], axis=0)[:-1]
