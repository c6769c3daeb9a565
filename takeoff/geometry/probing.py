"""Parallel rays through two bodies: along how much of them is inside both."""

from __future__ import annotations

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
    for axis in range(3):
        across = [(axis + 1) % 3, (axis + 2) % 3]
        grid = _Grid(axis, low_m[across], (high_m - low_m)[across] / side, side)
        hits = [_crossings(mesh, facets, grid) for facets in (first, second)]
        lengths, run = _lengths(hits, side * side)
        sums += lengths
        longest = max(longest, run)
    return SharedLength(float(sums[0]), float(sums[1]), float(sums[2]), longest)


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


def _lengths(
    hits: list[tuple[NDArray[np.int64], FloatArray, NDArray[np.int64]]], rays: int
) -> tuple[FloatArray, float]:
    """Length inside the one, the other and both; and the longest run inside both."""
    ray = np.concatenate([hit[0] for hit in hits])
    height = np.concatenate([hit[1] for hit in hits])
    steps = np.zeros((len(ray), 2), dtype=np.int64)
    steps[: len(hits[0][0]), 0] = hits[0][2]
    steps[len(hits[0][0]) :, 1] = hits[1][2]
    left_over = [np.bincount(ray, steps[:, i], minlength=rays) for i in (0, 1)]
    whole = ((left_over[0] == 0) & (left_over[1] == 0))[ray]
    ray, height, steps = ray[whole], height[whole], steps[whole]
    order = np.lexsort((height, ray))
    ray, height = ray[order], height[order]
    inside = np.cumsum(steps[order], axis=0)[:-1] != 0
    span = np.diff(height) * (ray[1:] == ray[:-1])
    both = span * inside.all(axis=1)
    sums = np.array([(span * inside[:, 0]).sum(), (span * inside[:, 1]).sum(), both.sum()])
    return sums, float(both.max(initial=0.0))
