"""The layers of a piece: each on each class of surface, with true volume and centroid."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum

from takeoff.notes import Note
from takeoff.piece.surfaces import SurfaceClass

CAST_CLASSES = (SurfaceClass.SHOW_FACE, SurfaceClass.RETURN, SurfaceClass.UPRIGHT)


class Layer(StrEnum):
    """A layer of the piece, in the order it is placed."""

    FACE_COAT = "face_coat"
    BACKER = "backer"


@dataclass(frozen=True, slots=True)
class LayerVolume:
    """One layer on one class of surface.

    Parameters
    ----------
    layer : Layer
        Which layer.
    surface_class : SurfaceClass
        On which class of surface.
    thickness_m : float
        Thickness; the mean where it fills the piece. [m]
    area_m2 : float
        Area covered. [m²]
    volume_m3 : float
        True volume. [m³]
    centroid_m : tuple of float or None
        Centroid; None where there is none of it. [m]
    thickness_range_m : tuple of float or None
        Least and most thickness, where a range is given. [m]
    volume_range_m3 : tuple of float or None
        True volume at both. [m³]
    """

    layer: Layer
    surface_class: SurfaceClass
    thickness_m: float
    area_m2: float
    volume_m3: float
    centroid_m: tuple[float, float, float] | None = None
    thickness_range_m: tuple[float, float] | None = None
    volume_range_m3: tuple[float, float] | None = None


@dataclass(frozen=True, slots=True)
class WallLayer:
    """What a return or upright takes, whichever way it is cast.

    Parameters
    ----------
    surface : str
        Its id.
    layer_m3 : float
        Both layers on it: what it takes dammed, cored, packed or sprayed. [m³]
    inner_form_m2 : float
        Area of the inner face of the backer on it: what a dam or a second form has to cover.
        Packed, sprayed and filled walls need none. [m²]
    filled_m3 : float
        What filling to the level of its foot takes beyond the layers: all that lies between
        the backs of the show face and of the walls, down to that level. [m³]
    """

    surface: str
    layer_m3: float
    inner_form_m2: float
    filled_m3: float


@dataclass(frozen=True, slots=True)
class LaidLayers:
    """All layers of a piece.

    Parameters
    ----------
    rows : tuple of LayerVolume
        Layer by layer, class by class; empty where no thickness was given.
    flat_m3 : mapping of Layer to float
        Area times thickness, for comparison. [m³]
    notes : tuple of Note
        The difference explained, and what may make the volume inexact.
    walls : tuple of WallLayer
        What each return and upright takes.
    uncertainty_share : float
        How far the volume of both layers may be off; 0 where it is exact. [-]
    filled_m3 : float
        What filling to the level of the deepest wall takes beyond the layers. [m³]
    """

    rows: tuple[LayerVolume, ...]
    flat_m3: Mapping[Layer, float]
    notes: tuple[Note, ...]
    walls: tuple[WallLayer, ...] = ()
    uncertainty_share: float = 0.0
    filled_m3: float = 0.0

    @property
    def inner_form_m2(self) -> float:
        """Area of the inner face of the backer on all walls, in [m²]."""
        return float(sum(wall.inner_form_m2 for wall in self.walls))

    def volume_m3(self, layer: Layer) -> float:
        """Give the true volume of one layer over all classes.

        Parameters
        ----------
        layer : Layer
            Which layer.

        Returns
        -------
        float
            Its volume, 0 where it was not asked for. [m³]

        Examples
        --------
        >>> LaidLayers((), {}, ()).volume_m3(Layer.BACKER)
        0.0
        """
        return float(sum(row.volume_m3 for row in self.rows if row.layer is layer))

    def volume_range_m3(self, layer: Layer) -> tuple[float, float] | None:
        """Give the least and the most volume of one layer.

        Parameters
        ----------
        layer : Layer
            Which layer.

        Returns
        -------
        tuple of float or None
            Both; None where no range is given. [m³]

        Examples
        --------
        >>> LaidLayers((), {}, ()).volume_range_m3(Layer.BACKER) is None
        True
        """
        rows = [row for row in self.rows if row.layer is layer]
        ranges = [row.volume_range_m3 or (row.volume_m3, row.volume_m3) for row in rows]
        if not any(row.volume_range_m3 for row in rows):
            return None
        return float(sum(low for low, _ in ranges)), float(sum(high for _, high in ranges))
