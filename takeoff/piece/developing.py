"""The flat pattern of a piece: every surface at true size in the plane, where it develops."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from enum import StrEnum

import numpy as np
from numpy.typing import NDArray

from takeoff.geometry.edges import edge_table
from takeoff.geometry.facets import Facets, facets_of
from takeoff.geometry.mesh import Mesh
from takeoff.geometry.seams import split_seams
from takeoff.piece.dividing import Divided, divide
from takeoff.piece.flats import flats_of
from takeoff.piece.joining import lists_of
from takeoff.piece.pattern_rules import PatternRules
from takeoff.piece.plane_axes import plane_axes
from takeoff.piece.projecting import projected
from takeoff.piece.sheets import Sheet, sheets_of
from takeoff.piece.squaring import squared
from takeoff.piece.surfaces import Surface, SurfaceClass, Surfaces
from takeoff.piece.unfolding import laid_flat, unfold

FloatArray = NDArray[np.float64]
IntArray = NDArray[np.integer]


class Development(StrEnum):
    """How a surface came into the plane."""

    FLAT = "flat"
    DEVELOPED = "developed"
    PROJECTED = "projected"


@dataclass(frozen=True, slots=True, eq=False)
class Pattern:
    """One surface in the plane.

    Parameters
    ----------
    id : str
        Its id, such as ``R1``.
    surface_class : SurfaceClass
        What it is to the caster.
    opening : str or None
        The opening it is the wall of.
    area_m2 : float
        Its area. [m²]
    depth_m : float
        Largest depth behind the show face; 0 for show face and back. [m]
    development : Development
        Flat as it is, developed at true size, or only its outline as seen square on.
    sheets : tuple of Sheet
        Its parts, seen from outside, the largest first; those of a flat or projected surface
        where they are to each other, the others each for itself. Empty where a surface has no
        facet of its own, or cannot be seen square on.
    """

    id: str
    surface_class: SurfaceClass
    opening: str | None
    area_m2: float
    depth_m: float
    development: Development
    sheets: tuple[Sheet, ...]

    @property
    def drawn_m2(self) -> float:
        """Area within its outlines, in [m²]."""
        return sum(sheet.area_m2 for sheet in self.sheets)

    def is_true(self, *, rules: PatternRules = PatternRules()) -> bool:
        """Tell whether the outlines have the area of the surface."""
        off_m2 = abs(self.drawn_m2 - self.area_m2)
        if self.development is Development.PROJECTED:
            return False
        flat = self.development is Development.FLAT
        return off_m2 <= self.area_m2 * (rules.flat_area_share if flat else rules.area_share)


def patterns_of(surfaces: Surfaces, *, rules: PatternRules = PatternRules()) -> tuple[Pattern, ...]:
    """Lay the surfaces of a piece into the plane.

    Parameters
    ----------
    surfaces : Surfaces
        The piece, told apart.
    rules : PatternRules, optional
        What counts as flat and as developed.

    Returns
    -------
    tuple of Pattern
        One for each surface, in their order.

    Examples
    --------
    >>> import trimesh
    >>> from takeoff.piece.classifying import classify
    >>> from takeoff.piece.surfaces import ModelKind
    >>> slab = Mesh.from_trimesh(trimesh.creation.box((0.4, 0.3, 0.05)), unit="m")
    >>> told = classify(slab, kind=ModelKind.PIECE, show_direction=np.array([0.0, 0.0, 1.0]))
    >>> [(one.id, one.development.value, round(one.drawn_m2, 6)) for one in patterns_of(told)][:2]
    [('F1', 'flat', 0.12), ('R1', 'flat', 0.02)]
    """
    divided = divide(surfaces, rules=rules)
    opening_of = _opening_points(surfaces, divided)
    facets = lists_of(divided.owner + 1, len(surfaces.surfaces) + 1)[1:]
    patterns = []
    for surface, own in zip(surfaces.surfaces, facets, strict=True):
        development, sheets = Development.PROJECTED, tuple[Sheet, ...]()
        if len(own):
            alone, source = _alone(divided.mesh, own)
            walls = {} if surface.opening else opening_of
            names = [walls.get(at) for at in source.tolist()]
            development, sheets = _laid(alone, names, surfaces, rules)
        patterns.append(_pattern(surface, development, sheets, rules))
    return tuple(patterns)


def _opening_points(surfaces: Surfaces, divided: Divided) -> Mapping[int, str]:
    """Tell the opening by the points of its wall."""
    return {
        at: surface.opening
        for number, surface in enumerate(surfaces.surfaces)
        if surface.opening is not None
        for at in np.unique(divided.mesh.triangles[divided.owner == number]).tolist()
    }


def _pattern(
    surface: Surface, development: Development, sheets: tuple[Sheet, ...], rules: PatternRules
) -> Pattern:
    """Put the sheets of a surface square, and say whose they are."""
    return Pattern(
        id=surface.id,
        surface_class=surface.surface_class,
        opening=surface.opening,
        area_m2=surface.area_m2,
        depth_m=surface.depth_m,
        development=development,
        sheets=squared(sheets, apart=development is Development.DEVELOPED, rules=rules),
    )


def _alone(mesh: Mesh, facets: IntArray) -> tuple[Mesh, IntArray]:
    """Give some facets as a mesh of their own, and the former numbers of its points."""
    source, number = np.unique(mesh.triangles[facets], return_inverse=True)
    own = Mesh(mesh.points_m[source], number.reshape(-1, 3).astype(np.int32))
    return own, source


def _laid(
    mesh: Mesh, names: Sequence[str | None], surfaces: Surfaces, rules: PatternRules
) -> tuple[Development, tuple[Sheet, ...]]:
    """Lay a surface flat as it is, else roll it out, else draw what is seen of it."""
    show_direction = surfaces.show_direction
    edges = edge_table(mesh)
    mesh, splits = split_seams(mesh, edges, within_m=rules.seam_m)
    edges, facets = edge_table(mesh) if splits else edges, facets_of(mesh)
    axes = _plane_axes(mesh, facets, show_direction, rules)
    if axes is not None:
        sheets = sheets_of(laid_flat(mesh, edges, axes), names, rules=rules)
        if sheets is not None:
            return Development.FLAT, sheets
    flats = flats_of(mesh, facets=facets, edges=edges, rules=surfaces.rules)
    rolled = unfold(flats, show_direction, rules=rules)
    sheets = sheets_of(rolled, names, rules=rules) if rolled.clean else None
    if sheets is not None:
        area_m2, drawn_m2 = float(facets.area_m2.sum()), sum(one.area_m2 for one in sheets)
        if abs(drawn_m2 - area_m2) <= rules.area_share * area_m2:
            return Development.DEVELOPED, sheets
    return Development.PROJECTED, projected(mesh, show_direction, names, rules=rules)


def _plane_axes(
    mesh: Mesh, facets: Facets, show_direction: FloatArray, rules: PatternRules
) -> FloatArray | None:
    """Axes in the plane of a surface; None where it is not flat."""
    normal = facets.area_m2 @ facets.normals
    seen_m2, whole_m2 = float(np.linalg.norm(normal)), float(facets.area_m2.sum())
    if seen_m2 < (1.0 - rules.plane_share) * whole_m2 or not seen_m2:
        return None
    normal /= seen_m2
    if np.ptp(mesh.points_m @ normal) > 2.0 * rules.plane_m:
        return None
    axes: FloatArray = plane_axes(normal[None, :], show_direction)[0]
    return axes
