"""The skin that is cast against the form, taken out of a classified piece."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from takeoff.errors import LayerVolumeError
from takeoff.geometry.skin_edges import SkinEdges, skin_edges
from takeoff.geometry.sums import summed
from takeoff.piece.layers import CAST_CLASSES
from takeoff.piece.surfaces import SurfaceClass, Surfaces
from takeoff.piece.thickness import Thickness

FloatArray = NDArray[np.float64]
BoolArray = NDArray[np.bool_]


@dataclass(frozen=True, slots=True, eq=False)
class CastFacets:
    """The facets of a piece that are cast and carry layers.

    Parameters
    ----------
    facets : ndarray of int, shape (k,)
        Their numbers in the mesh of the piece, ascending.
    shares : ndarray of float, shape (k, 3)
        Share of each facet that is show face, return and upright. [-]
    """

    facets: NDArray[np.int64]
    shares: FloatArray

    def thickness_m(self, by_class: tuple[Thickness, Thickness, Thickness], end: int) -> FloatArray:
        """Give the thickness of a layer on every facet.

        Parameters
        ----------
        by_class : tuple of three Thickness
            Thickness by class.
        end : int
            -1 for the least, 0 for what is aimed at, 1 for the most.

        Returns
        -------
        ndarray of float, shape (k,)
            On a facet of several classes, the mean by its shares. [m]
        """
        values_m = np.array(
            [(told.ends_m[0], told.aimed_m, told.ends_m[1])[end + 1] for told in by_class]
        )
        if np.all(values_m == values_m[0]):
            return np.full(len(self.shares), values_m[0])
        covered = np.maximum(self.shares.sum(axis=1), np.finfo(np.float64).tiny)
        mean_m: FloatArray = self.shares @ values_m / covered
        return mean_m


@dataclass(frozen=True, slots=True, eq=False)
class CastSkin(CastFacets):
    """What is cast and carries layers, as a skin.

    Parameters
    ----------
    facets : ndarray of int, shape (k,)
        Numbers of its facets in the mesh of the piece.
    shares : ndarray of float, shape (k, 3)
        Share of each facet that is show face, return and upright. [-]
    skin : SkinEdges
        The skin as an open surface.
    rim_m : ndarray of float, shape (k,)
        What the back plane adds to or takes off the square end of each facet's layer, by the
        square of its depth. [m]
    """

    skin: SkinEdges
    rim_m: FloatArray


def cast_facets(surfaces: Surfaces) -> CastFacets:
    """Tell the facets of a classified piece that carry layers.

    Parameters
    ----------
    surfaces : Surfaces
        The classified piece.

    Returns
    -------
    CastFacets
        All facets cast against the form but those of bare openings.

    Raises
    ------
    LayerVolumeError
        If nothing is cast against the form.

    Examples
    --------
    >>> import trimesh
    >>> from takeoff.geometry.mesh import Mesh
    >>> from takeoff.piece.classifying import classify
    >>> from takeoff.piece.surfaces import ModelKind
    >>> slab = classify(Mesh.from_trimesh(trimesh.creation.box((0.4, 0.3, 0.05)), unit="m"),
    ...                 kind=ModelKind.PIECE, show_direction=np.array([0.0, 0.0, 1.0]))
    >>> cast_facets(slab).shares.sum(axis=0).tolist()
    [2.0, 8.0, 0.0]
    """
    order = list(SurfaceClass)
    facets = np.flatnonzero(~_is_back(surfaces) & ~surfaces.bare)
    if not len(facets):
        raise LayerVolumeError("nothing of the piece is cast against the form; no layer to lay")
    cast = [order.index(kind) for kind in CAST_CLASSES]
    return CastFacets(facets, surfaces.shares[facets[:, None], cast])


def _is_back(surfaces: Surfaces) -> BoolArray:
    """Tell the facets most of which is back."""
    return np.asarray(surfaces.shares[:, list(SurfaceClass).index(SurfaceClass.BACK)] > 0.5)


def cast_skin(surfaces: Surfaces, whole: SkinEdges | None = None) -> CastSkin:
    """Take the facets that carry layers out of a classified piece.

    Parameters
    ----------
    surfaces : Surfaces
        The classified piece.
    whole : SkinEdges, optional
        Its surface, where it is measured already.

    Returns
    -------
    CastSkin
        All facets cast against the form but those of bare openings, beside which the layers
        end square.

    Raises
    ------
    LayerVolumeError
        If nothing is cast against the form.

    Examples
    --------
    >>> import numpy as np, trimesh
    >>> from takeoff.geometry.mesh import Mesh
    >>> from takeoff.piece.classifying import classify
    >>> from takeoff.piece.surfaces import ModelKind
    >>> slab = classify(Mesh.from_trimesh(trimesh.creation.box((0.4, 0.3, 0.05)), unit="m"),
    ...                 kind=ModelKind.PIECE, show_direction=np.array([0.0, 0.0, 1.0]))
    >>> len(cast_skin(slab).skin.mesh.triangles)
    10
    """
    cast = cast_facets(surfaces)
    whole = skin_edges(surfaces.mesh) if whole is None else whole
    carries = np.zeros(len(surfaces.mesh.triangles), dtype=np.bool_)
    carries[cast.facets] = True
    rim_m = _rim_terms_m(whole, _is_back(surfaces), carries)
    return CastSkin(cast.facets, cast.shares, whole.part(carries), rim_m)


def _rim_terms_m(skin: SkinEdges, back: BoolArray, carries: BoolArray) -> FloatArray:
    """Give what the back plane adds to or takes off the square end of each facet's layer.

    Where a wall meets the back of a solid at a turn other than a right angle, the layer ends
    in that plane: a wedge of half the square of the thickness by the tangent of the difference.
    """
    left, right = skin.edges.left, skin.edges.right
    turn_deg = np.degrees(skin.turn_rad)
    rim = (turn_deg > 45.0) & (turn_deg < 135.0)
    rim &= (carries[left] & back[right]) | (back[left] & carries[right])
    at = np.flatnonzero(rim)
    wedge = -np.tan(np.radians(turn_deg[at] - 90.0)) / 2.0 * skin.lengths_m(at)
    facet = np.where(carries[left[at]], left[at], right[at])
    return summed(facet, wedge, len(carries))[carries]
