"""Where a surface is shaped, as seen from one side: neither flat there nor a wall."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from takeoff.geometry.sums import summed
from takeoff.piece.flats import Flats
from takeoff.piece.plan_axes import cosines_ratio, heights_m
from takeoff.piece.reading_rules import ReadingRules

FloatArray = NDArray[np.float64]
BoolArray = NDArray[np.bool_]


@dataclass(frozen=True, slots=True, eq=False)
class Shapes:
    """Shaped regions.

    Parameters
    ----------
    shaped : ndarray of bool, shape (n,)
        Flats that are shaped.
    convex : ndarray of bool, shape (n,)
        Flats of regions that bulge, as an eased arris does.
    low_m, high_m : ndarray of float, shape (n,)
        Least and greatest height of the region of each flat, along the direction; of no meaning
        where it is not shaped. [m]
    """

    shaped: BoolArray
    convex: BoolArray
    low_m: FloatArray
    high_m: FloatArray


def shapes_of(
    flats: Flats, direction: FloatArray, *, rules: ReadingRules = ReadingRules()
) -> Shapes:
    """Find the shaped regions of a surface.

    Parameters
    ----------
    flats : Flats
        The surface.
    direction : ndarray of float, shape (3,)
        Unit vector towards the eye. [-]
    rules : ReadingRules, optional
        Between which tilts a surface is shaped.

    Returns
    -------
    Shapes
        The regions. Main faces are not shaped, however they are tilted.

    Examples
    --------
    >>> import trimesh
    >>> from takeoff.geometry.mesh import Mesh
    >>> from takeoff.piece.flats import flats_of
    >>> tube = trimesh.creation.cylinder(0.5, 2.0, sections=64)
    >>> flats = flats_of(Mesh.from_trimesh(tube, unit="m"))
    >>> shapes = shapes_of(flats, np.array([1.0, 0.0, 0.0]))
    >>> int(shapes.shaped.sum()), bool(shapes.convex[shapes.shaped].all())
    (24, True)
    """
    cosine = cosines_ratio(flats.normals, direction)
    steep, slight = np.cos(np.radians([rules.most_tilt_deg, rules.least_tilt_deg]))
    shaped = (cosine > steep) & (cosine < slight)
    shaped &= flats.area_m2 < rules.main_face_share * float(flats.area_m2.sum())
    region = flats.regions(shaped)
    joints, count = flats.joints, flats.count
    bend_m = np.radians(joints.turn_deg) * joints.length_m
    own = np.zeros(count)
    for flat in (joints.left, joints.right):
        own += summed(flat, bend_m, count)
    convex = summed(region, np.where(shaped, own, 0.0), count)[region] > 0.0
    low_m, high_m = _reaches_m(flats, direction, region, shaped)
    return Shapes(shaped, convex, low_m, high_m)


def _reaches_m(
    flats: Flats, direction: FloatArray, region: NDArray[np.integer], shaped: BoolArray
) -> tuple[FloatArray, FloatArray]:
    """Lowest and highest point of the region of each shaped flat."""
    facets = np.flatnonzero(shaped[flats.of_facet])
    height_m = heights_m(flats.mesh.points_m, direction)[flats.mesh.triangles[facets]]
    at = region[flats.of_facet[facets]]
    low_m, high_m = np.full(flats.count, np.inf), np.full(flats.count, -np.inf)
    np.minimum.at(low_m, at, height_m.min(axis=1))
    np.maximum.at(high_m, at, height_m.max(axis=1))
    return low_m[region], high_m[region]
