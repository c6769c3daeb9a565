"""The surfaces of a piece: show face, returns, uprights and back, and its openings."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum

import numpy as np
from numpy.typing import NDArray

from takeoff.geometry.mesh import Mesh
from takeoff.notes import Note
from takeoff.piece.rules import SurfaceRules


class SurfaceClass(StrEnum):
    """What a surface is to the caster; the order is that of the columns of shares."""

    SHOW_FACE = "show_face"
    RETURN = "return"
    UPRIGHT = "upright"
    BACK = "back"


class ModelKind(StrEnum):
    """What a drawing shows: a closed piece, the open surface of what is cast, an outline."""

    PIECE = "piece"
    OPEN = "open"
    OUTLINE = "outline"


@dataclass(frozen=True, slots=True, eq=False)
class Surface:
    """One connected, planar or smooth region of one class.

    Parameters
    ----------
    id : str
        ``F1``, ``R1``, ``U1``, ``B1`` ...: the class, numbered by falling area.
    surface_class : SurfaceClass
        What it is to the caster.
    area_m2 : float
        Area. [m²]
    depth_m : float
        Largest depth behind the show face; 0 for show face and back. [m]
    mean_depth_m : float
        Depth averaged over the area. [m]
    draft_deg : float or None
        Worst draft, below 0 where the wall leans in; None for show face and back. [°]
    undercut_area_m2 : float
        Area of it that leans in. [m²]
    opening : str or None
        The opening it is the wall of.
    normal : ndarray of float, shape (3,)
        Mean unit normal; zero where the surface runs round so far that it has none. [-]
    facets : ndarray of int
        Numbers of the facets most of which it holds, ascending.
    why : str
        Why it is of this class, in words of the trade.
    """

    id: str
    surface_class: SurfaceClass
    area_m2: float
    depth_m: float
    mean_depth_m: float
    draft_deg: float | None
    undercut_area_m2: float
    opening: str | None
    normal: NDArray[np.float64]
    facets: NDArray[np.integer]
    why: str


@dataclass(frozen=True, slots=True)
class Opening:
    """A cut-out right through the show face, whose wall is cast.

    Parameters
    ----------
    id : str
        ``O1``, ``O2`` ... by falling wall area.
    wall_area_m2 : float
        Area of its wall, counted in the returns or uprights too. [m²]
    width_m : float
        Least width: the narrowest gap between parallels that it fits through. [m]
    depth_m : float
        Largest depth of its wall. [m]
    bare : bool
        True where it is too narrow for its wall to be coated.
    """

    id: str
    wall_area_m2: float
    width_m: float
    depth_m: float
    bare: bool


@dataclass(frozen=True, slots=True, eq=False)
class Surfaces:
    """A piece told apart into its surfaces.

    Parameters
    ----------
    mesh : Mesh
        The mesh as it was judged: normals out of the finished surface.
    show_direction : ndarray of float, shape (3,)
        Unit vector out of the finished show face. [-]
    kind : ModelKind
        What the drawing shows.
    rules : SurfaceRules
        The limits in force.
    shares : ndarray of float, shape (k, 4)
        Share of each facet in each class, in the order of `SurfaceClass`; rows sum to 1. [-]
    surfaces : tuple of Surface
        Show faces, returns, uprights, back, each by falling area.
    openings : tuple of Opening
        By falling wall area.
    area_m2 : mapping of SurfaceClass to float
        Area of each class. [m²]
    opening_wall_m2 : float
        Area of the walls of openings, counted in the classes too. [m²]
    undercut_m2 : float
        Area of returns and uprights that lean in. [m²]
    arris_m : float
        Length of the arrises of the cast surfaces as if all turned by 90 degrees. [m]
    inside_corner_m : float
        Length of their inside corners, likewise. [m]
    notes : tuple of Note
        Doubts a person must see.
    """

    mesh: Mesh
    show_direction: NDArray[np.float64]
    kind: ModelKind
    rules: SurfaceRules
    shares: NDArray[np.float64]
    surfaces: tuple[Surface, ...]
    openings: tuple[Opening, ...]
    area_m2: Mapping[SurfaceClass, float]
    opening_wall_m2: float
    undercut_m2: float
    arris_m: float
    inside_corner_m: float
    notes: tuple[Note, ...]
