"""A skin sampled evenly by area, each sample with the plane of its own facet."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from takeoff.geometry.facets import Facets
from takeoff.geometry.mesh import Mesh
from takeoff.geometry.spread import spread_shares

FloatArray = NDArray[np.float64]
IntArray = NDArray[np.int64]


@dataclass(frozen=True, slots=True, eq=False)
class SkinSamples:
    """Points on a skin, each for an equal part of its area.

    Parameters
    ----------
    points_m : ndarray of float, shape (m, 3)
        The points. [m]
    inward_normals : ndarray of float, shape (m, 3)
        Unit normal of the facet of each, to the side the layer grows to. [-]
    facet : ndarray of int, shape (m,)
        The facet of each.
    spacing_m : float
        Side of the square that each stands for. [m]
    """

    points_m: FloatArray
    inward_normals: FloatArray
    facet: IntArray
    spacing_m: float


def sample_skin(
    mesh: Mesh, facets: Facets, count: int, *, chosen: IntArray | None = None
) -> SkinSamples:
    """Spread samples evenly over the area of a mesh, or of a part of it.

    Parameters
    ----------
    mesh : Mesh
        The skin.
    facets : Facets
        Of the same mesh.
    count : int
        How many samples.
    chosen : ndarray of int, optional
        Facets of the part; all of them where it is left out.

    Returns
    -------
    SkinSamples
        The samples, the same on every run.

    Examples
    --------
    >>> from takeoff.geometry.facets import facets_of
    >>> half = Mesh(np.array([[0, 0, 0], [2, 0, 0], [0, 2, 0]], dtype=float),
    ...             np.array([[0, 1, 2]], dtype=np.int32))
    >>> samples = sample_skin(half, facets_of(half), 800)
    >>> samples.points_m.mean(axis=0).round(2).tolist(), samples.spacing_m
    ([0.66, 0.67, 0.0], 0.05)
    """
    area_m2 = facets.area_m2 if chosen is None else facets.area_m2[chosen]
    reached_m2 = np.cumsum(area_m2)
    whole_m2 = float(reached_m2[-1])
    wanted_m2 = (np.arange(count) + 0.5) / count * whole_m2
    facet = np.minimum(np.searchsorted(reached_m2, wanted_m2), len(reached_m2) - 1)
    facet = facet if chosen is None else chosen[facet]
    shares = spread_shares(0, count, 2)
    folded = shares.sum(axis=1) > 1.0
    shares[folded] = 1.0 - shares[folded]
    corners = mesh.triangles[facet]
    origin_m = mesh.points_m[corners[:, 0]]
    points_m = origin_m + shares[:, :1] * (mesh.points_m[corners[:, 1]] - origin_m)
    points_m += shares[:, 1:] * (mesh.points_m[corners[:, 2]] - origin_m)
    return SkinSamples(points_m, -facets.normals[facet], facet, float(np.sqrt(whole_m2 / count)))
