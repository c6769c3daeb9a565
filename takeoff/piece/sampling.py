"""Points spread evenly over the surface of a mesh, the same ones every time."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from takeoff.piece.flats import Flats

_STEP = np.uint64(0x9E3779B97F4A7C15)
_MIX = ((30, 0xBF58476D1CE4E5B9), (27, 0x94D049BB133111EB))


@dataclass(frozen=True, slots=True, eq=False)
class Samples:
    """Points of a surface, each standing for the same area.

    Parameters
    ----------
    points_m : ndarray of float, shape (p, 3)
        The points. [m]
    flat : ndarray of int, shape (p,)
        The flat each lies on.
    area_m2 : float
        Area that one point stands for. [m²]
    """

    points_m: NDArray[np.float64]
    flat: NDArray[np.integer]
    area_m2: float

    def every(self, step: int) -> Samples:
        """Give every so many of the points, standing for as much more area."""
        return Samples(self.points_m[::step], self.flat[::step], self.area_m2 * step)


def samples_of(flats: Flats, count: int) -> Samples:
    """Spread points evenly over a surface.

    Parameters
    ----------
    flats : Flats
        The surface.
    count : int
        How many points.

    Returns
    -------
    Samples
        As many points as were asked for.

    Notes
    -----
    One point lies somewhere in each equal part of the area: evenly spaced points would fall in
    step with meshes drawn row by row. Where is scrambled from its number, so the points are the
    same every time.

    References
    ----------
    G. Steele, D. Lea and C. Flood, Fast splittable pseudorandom number generators, 2014 (from
    memory).

    Examples
    --------
    >>> import trimesh
    >>> from takeoff.geometry.mesh import Mesh
    >>> from takeoff.piece.flats import flats_of
    >>> box = flats_of(Mesh.from_trimesh(trimesh.creation.box((1.0, 2.0, 3.0)), unit="m"))
    >>> samples = samples_of(box, 2200)
    >>> samples.area_m2, sorted(np.bincount(samples.flat).tolist())
    (0.01, [200, 200, 300, 300, 600, 600])
    """
    area_m2 = flats.facets.area_m2
    ends_m2 = np.cumsum(area_m2)
    step_m2 = float(ends_m2[-1]) / count
    chance = _scrambled(np.arange(3 * count)).reshape(3, count)
    targets_m2 = (np.arange(count) + chance[0]) * step_m2
    facet = np.minimum(np.searchsorted(ends_m2, targets_m2), len(area_m2) - 1)
    corners_m = flats.mesh.points_m[flats.mesh.triangles[facet]]
    return Samples(_inside_m(corners_m, chance[1:]), flats.of_facet[facet], step_m2)


def _scrambled(number: NDArray[np.integer]) -> NDArray[np.float64]:
    """Give numbers from 0 to 1 without a pattern, one for each."""
    bits = (number.astype(np.uint64) + np.uint64(1)) * _STEP
    for shift, factor in _MIX:
        bits = (bits ^ (bits >> np.uint64(shift))) * np.uint64(factor)
    bits ^= bits >> np.uint64(31)
    return (bits >> np.uint64(11)).astype(np.float64) / 2.0**53


def _inside_m(corners_m: NDArray[np.float64], chance: NDArray[np.float64]) -> NDArray[np.float64]:
    """One point inside each triangle."""
    along, across = np.sqrt(chance[0])[:, None], chance[1][:, None]
    first, second, third = corners_m[:, 0], corners_m[:, 1], corners_m[:, 2]
    points_m: NDArray[np.float64] = (
        first * (1.0 - along) + second * along * (1.0 - across) + third * along * across
    )
    return points_m
