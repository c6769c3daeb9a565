"""A skin sampled evenly by area, each sample with the plane of its own facet."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from takeoff.geometry.blocks import blocks
from takeoff.geometry.facets import Facets, bounds_m
from takeoff.geometry.mesh import Mesh
from takeoff.geometry.spread import spread_shares

FloatArray = NDArray[np.float64]
IntArray = NDArray[np.int64]

_STEPS = 1023.0  # ten bits along each axis
_SPREAD_BITS = np.array(
    [sum((number >> bit & 1) << 3 * bit for bit in range(10)) for number in range(1024)],
    dtype=np.uint32,
)


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

    def with_more(self, facets: Facets, points_m: FloatArray, facet: IntArray) -> SkinSamples:
        """Put further samples behind these, as far apart as may be.

        Parameters
        ----------
        facets : Facets
            Of the same mesh.
        points_m : ndarray of float, shape (p, 3)
            Where. [m]
        facet : ndarray of int, shape (p,)
            The facet of each.

        Returns
        -------
        SkinSamples
            Both.
        """
        return SkinSamples(
            np.concatenate([self.points_m, points_m]),
            np.concatenate([self.inward_normals, -facets.normals[facet]]),
            np.concatenate([self.facet, facet]),
            self.spacing_m,
        )


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
    order = _side_by_side(mesh, chosen)
    reached_m2 = facets.area_m2[order]
    np.cumsum(reached_m2, out=reached_m2)
    whole_m2 = float(reached_m2[-1])
    wanted_m2 = (np.arange(count) + 0.5) / count * whole_m2
    facet = order[np.minimum(np.searchsorted(reached_m2, wanted_m2), len(reached_m2) - 1)]
    shares = spread_shares(0, count, 2)
    folded = shares.sum(axis=1) > 1.0
    shares[folded] = 1.0 - shares[folded]
    corners = mesh.triangles[facet]
    origin_m = mesh.points_m[corners[:, 0]]
    points_m = origin_m + shares[:, :1] * (mesh.points_m[corners[:, 1]] - origin_m)
    points_m += shares[:, 1:] * (mesh.points_m[corners[:, 2]] - origin_m)
    return SkinSamples(points_m, -facets.normals[facet], facet, float(np.sqrt(whole_m2 / count)))


def _side_by_side(mesh: Mesh, chosen: IntArray | None) -> IntArray:
    """Order facets so that those next to each other in space follow each other.

    Where facets are finer than the samples, only some of them are met: along a curve that
    fills space these lie evenly, in the order of a file they may leave whole stripes out.
    """
    first = mesh.triangles[:, 0] if chosen is None else mesh.triangles[chosen, 0]
    low_m, high_m = bounds_m(mesh)
    scale = _STEPS / max(float((high_m - low_m).max()), np.finfo(np.float64).tiny)
    along = np.empty(len(mesh.points_m), dtype=np.uint32)
    for piece in blocks(len(along)):
        x, y, z = ((mesh.points_m[piece] - low_m) * scale).astype(np.uint16).T
        along[piece] = _SPREAD_BITS[x] | _SPREAD_BITS[y] << 1 | _SPREAD_BITS[z] << 2
    # One sort of words, place along the curve over number, is faster than one of the order.
    words = along[first].astype(np.uint64)
    words <<= np.uint64(32)
    words |= np.arange(len(words), dtype=np.uint64)
    words.sort()
    words &= np.uint64(0xFFFFFFFF)
    order = words.view(np.int64)
    return order if chosen is None else chosen[order]
