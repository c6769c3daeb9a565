"""Size and closedness of each body of a mesh."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from takeoff.geometry.edges import EdgeTable
from takeoff.geometry.facets import Facets, bounds_m, facet_volumes_m3
from takeoff.geometry.mesh import Mesh
from takeoff.geometry.parts import Parts
from takeoff.geometry.sums import summed


@dataclass(frozen=True, slots=True, eq=False)
class Bodies:
    """Measures of the connected parts of a mesh, in the order of their numbers.

    Parameters
    ----------
    closed : ndarray of bool, shape (b,)
        True where every edge has its two facets.
    area_m2 : ndarray of float, shape (b,)
        Surface. [m²]
    volume_m3 : ndarray of float, shape (b,)
        Enclosed volume, negative for a cavity or an inside-out body; of no meaning where
        the body is not closed. [m³]
    low_m, high_m : ndarray of float, shape (b, 3)
        Bounds. [m]
    """

    closed: NDArray[np.bool_]
    area_m2: NDArray[np.float64]
    volume_m3: NDArray[np.float64]
    low_m: NDArray[np.float64]
    high_m: NDArray[np.float64]

    def flat(self, *, within_m: float) -> NDArray[np.bool_]:
        """Find closed bodies without thickness: a surface drawn from both sides.

        Parameters
        ----------
        within_m : float
            A mean thickness of no more than this is none. [m]

        Returns
        -------
        ndarray of bool, shape (b,)
            True for such bodies.

        Examples
        --------
        >>> one = np.ones((1, 3))
        >>> thin = Bodies(np.array([True]), np.array([2.0]), np.array([1e-9]), one, one)
        >>> thin.flat(within_m=1e-6).tolist()
        [True]
        """
        thickness_m = 2.0 * np.abs(self.volume_m3) / np.maximum(self.area_m2, np.finfo(float).tiny)
        flat: NDArray[np.bool_] = self.closed & (thickness_m <= within_m)
        return flat


def bodies_of(mesh: Mesh, facets: Facets, edges: EdgeTable, parts: Parts) -> Bodies:
    """Measure every body of a mesh.

    Parameters
    ----------
    mesh : Mesh
        The mesh.
    facets : Facets
        Of the same mesh.
    edges : EdgeTable
        Of the same mesh.
    parts : Parts
        Of the same mesh.

    Returns
    -------
    Bodies
        One row a body.

    Examples
    --------
    >>> import trimesh
    >>> from takeoff.geometry.mending import mend
    >>> whole = mend(Mesh.from_trimesh(trimesh.creation.box((1.0, 2.0, 3.0)), unit="m"))
    >>> bodies_of(whole.mesh, whole.facets, whole.edges, whole.parts).volume_m3.tolist()
    [6.0]
    """
    count = parts.body_count
    closed = np.ones(count, dtype=np.bool_)
    closed[parts.body[edges.open_facet]] = False
    torn = len(edges.left) - edges.torn_links
    closed[parts.body[edges.left[torn:]]] = False
    closed[parts.body[edges.left[edges.same_way]]] = False
    low_m, high_m = _bounds(mesh, parts)
    return Bodies(
        closed=closed,
        area_m2=_areas_m2(facets, parts),
        volume_m3=_volumes_m3(mesh, facets, parts),
        low_m=low_m,
        high_m=high_m,
    )


def _areas_m2(facets: Facets, parts: Parts) -> NDArray[np.float64]:
    """Area of every body."""
    if parts.body_count == 1:
        return np.array([facets.area_m2.sum()])
    return summed(parts.body, facets.area_m2, parts.body_count)


def _volumes_m3(mesh: Mesh, facets: Facets, parts: Parts) -> NDArray[np.float64]:
    """Signed volume of every body."""
    if parts.body_count == 1 and facets.enclosed_m3 is not None:
        return np.array([facets.enclosed_m3])
    return summed(parts.body, facet_volumes_m3(mesh, facets), parts.body_count)


def _bounds(mesh: Mesh, parts: Parts) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """Low and high corner of every body."""
    if parts.body_count == 1:
        low, high = bounds_m(mesh)
        return low[None], high[None]
    order = np.argsort(parts.body, kind="stable")
    first = np.searchsorted(parts.body[order], np.arange(parts.body_count))
    corners = mesh.points_m[mesh.triangles[order]]
    return (
        np.minimum.reduceat(corners.min(axis=1), first, axis=0),
        np.maximum.reduceat(corners.max(axis=1), first, axis=0),
    )
