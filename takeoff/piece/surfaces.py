"""The surfaces of a piece: show face, returns, uprights and back, and its openings."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum

import numpy as np
from numpy.typing import NDArray

from takeoff.geometry.mesh import Mesh
from takeoff.notes import Note
from takeoff.piece.explaining import Explanation
from takeoff.piece.rules import SurfaceRules


class SurfaceClass(StrEnum):
    """What a surface is to the caster; the order is that of the columns of shares."""

    SHOW_FACE = "show_face"
    RETURN = "return"
    UPRIGHT = "upright"
    BACK = "back"


class ModelKind(StrEnum):
    """What a drawing shows: a closed piece, the form it is cast in, what is cast, an outline."""

    PIECE = "piece"
    FORM = "form"
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
    found_class : SurfaceClass
        What it was found to be; another where the job corrects it.
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
    neighbours_m : mapping of str to float
        Length along which it meets each of its neighbours, by their ids. [m]
    explanation : Explanation
        Why it is of this class, in words of the trade.
    """

    id: str
    surface_class: SurfaceClass
    found_class: SurfaceClass
    area_m2: float
    depth_m: float
    mean_depth_m: float
    draft_deg: float | None
    undercut_area_m2: float
    opening: str | None
    normal: NDArray[np.float64]
    facets: NDArray[np.integer]
    neighbours_m: Mapping[str, float]
    explanation: Explanation

    @property
    def why(self) -> str:
        """Why it is of this class, with lengths in mm."""
        return self.explanation.text()

    @property
    def corrected(self) -> bool:
        """True where the job takes it as another class than was found."""
        return self.surface_class is not self.found_class


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
        True where its wall takes no layer: too narrow to be coated, or so told by the job.
    """

    id: str
    wall_area_m2: float
    width_m: float
    depth_m: float
    bare: bool


@dataclass(frozen=True, slots=True)
class EdgeLengths:
    """Lengths of arrises and inside corners, as if all turned by 90 degrees.

    Parameters
    ----------
    sharp_arris_m, rounded_arris_m : float
        Length of the arrises that are one edge, and of those that are rounded. [m]
    sharp_inside_corner_m, rounded_inside_corner_m : float
        The same of the inside corners. [m]
    """

    sharp_arris_m: float
    rounded_arris_m: float
    sharp_inside_corner_m: float
    rounded_inside_corner_m: float


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
    bare : ndarray of bool, shape (k,)
        Facets of the walls of bare openings: of a class, but with no layer on them. The layers
        of the face beside them end square there, as at the back.
    surfaces : tuple of Surface
        Show faces, returns, uprights, back, each by falling area.
    openings : tuple of Opening
        By falling wall area.
    area_m2 : mapping of SurfaceClass to float
        Area of each class. [m²]
    opening_wall_m2 : float
        Area of the walls of openings, counted in the classes too. [m²]
    bare_wall_m2 : float
        Area of the walls of bare openings: in the classes, but neither coated nor in the form
        area. [m²]
    form_area_m2 : float
        Area cast against the form: show face, returns and uprights that are not bare. [m²]
    undercut_m2 : float
        Area of returns and uprights that lean in. [m²]
    edge_lengths : EdgeLengths
        Lengths of the arrises and inside corners of the cast surfaces.
    min_radius_m : float or None
        Tightest radius of their rounded arrises, inside corners and curved faces; None where
        all is plane and sharp. [m]
    notes : tuple of Note
        Doubts a person must see.
    """

    mesh: Mesh
    show_direction: NDArray[np.float64]
    kind: ModelKind
    rules: SurfaceRules
    shares: NDArray[np.float64]
    bare: NDArray[np.bool_]
    surfaces: tuple[Surface, ...]
    openings: tuple[Opening, ...]
    area_m2: Mapping[SurfaceClass, float]
    opening_wall_m2: float
    bare_wall_m2: float
    form_area_m2: float
    undercut_m2: float
    edge_lengths: EdgeLengths
    min_radius_m: float | None
    notes: tuple[Note, ...]

    @property
    def arris_m(self) -> float:
        """Length of the arrises, sharp and rounded, in [m]."""
        return self.edge_lengths.sharp_arris_m + self.edge_lengths.rounded_arris_m

    @property
    def inside_corner_m(self) -> float:
        """Length of the inside corners, sharp and rounded, in [m]."""
        lengths = self.edge_lengths
        return lengths.sharp_inside_corner_m + lengths.rounded_inside_corner_m
