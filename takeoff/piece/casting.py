"""What is cast after a mesh: the piece itself, or a piece in each cavity of a form."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from functools import partial

import numpy as np
from numpy.typing import NDArray

from takeoff.geometry.mesh import Mesh
from takeoff.piece.cavities import Cavities, cavities_of
from takeoff.piece.classifying import class_areas_m2, classify, refuse_open
from takeoff.piece.corrections import Corrections
from takeoff.piece.explaining import Explanation
from takeoff.piece.flats import Flats, flats_of
from takeoff.piece.rules import SurfaceRules
from takeoff.piece.surfaces import ModelKind, Surface, SurfaceClass, Surfaces

FloatArray = NDArray[np.float64]


def classify_castings(
    mesh: Mesh,
    *,
    kind: ModelKind,
    show_direction: FloatArray,
    corrections: Corrections = Corrections(),
    flats: Flats | None = None,
    rules: SurfaceRules = SurfaceRules(),
) -> tuple[Surfaces, ...]:
    """Tell the surfaces of everything apart that is cast after a mesh.

    Parameters
    ----------
    mesh : Mesh
        The mended mesh.
    kind : ModelKind
        What it shows.
    show_direction : ndarray of float, shape (3,)
        Unit vector out of the finished show face. [-]
    corrections : Corrections, optional
        What surfaces and openings are taken as, whatever was found.
    flats : Flats, optional
        Flats of the mesh, where they are known already.
    rules : SurfaceRules, optional
        The limits.

    Returns
    -------
    tuple of Surfaces
        One for each cavity of a form, the largest first; else one. The outside of a form is
        back, in equal parts if it has several cavities.

    Raises
    ------
    SurfaceError
        If the mesh is not of the kind, a form has no cavity that can be told from its outside,
        or nothing faces the direction.

    Examples
    --------
    >>> import trimesh
    >>> block, plug = trimesh.creation.box((1.0, 0.8, 0.3)), trimesh.creation.box((0.8, 0.6, 0.3))
    >>> _ = plug.apply_translation((0.0, 0.0, 0.25))
    >>> form = Mesh.from_trimesh(block.difference(plug, engine="manifold"), unit="m")
    >>> (cast,) = classify_castings(
    ...     form, kind=ModelKind.FORM, show_direction=np.array([0.0, 0.0, -1.0])
    ... )
    >>> {name.value: round(area, 6) for name, area in cast.area_m2.items()}
    {'show_face': 0.48, 'return': 0.14, 'upright': 0.0, 'back': 2.2}
    """
    told = partial(
        classify, kind=kind, show_direction=show_direction, corrections=corrections, rules=rules
    )
    if kind is not ModelKind.FORM:
        return (told(mesh, flats=flats),)
    flats = flats_of(mesh, rules=rules) if flats is None else flats
    refuse_open(flats)
    cavities = cavities_of(flats, show_direction)
    return tuple(_with_outside(told(cavity), cavities) for cavity in cavities.meshes)


def areas_cast_m2(
    flats: Flats,
    *,
    kind: ModelKind,
    show_direction: FloatArray,
    rules: SurfaceRules = SurfaceRules(),
) -> Mapping[SurfaceClass, float]:
    """Give the area of each class of everything that is cast, for comparing readings.

    Parameters
    ----------
    flats : Flats
        Flats of the mended mesh.
    kind : ModelKind
        What it shows.
    show_direction : ndarray of float, shape (3,)
        Unit vector out of the finished show face. [-]
    rules : SurfaceRules, optional
        The limits.

    Returns
    -------
    mapping of SurfaceClass to float
        Area of each class. [m²]

    Raises
    ------
    SurfaceError
        If no surface faces the show direction, or a form has no cavity that opens away from it.

    Examples
    --------
    >>> import trimesh
    >>> plate = flats_of(Mesh.from_trimesh(trimesh.creation.box((2.0, 0.5, 0.04)), unit="m"))
    >>> areas_m2 = areas_cast_m2(
    ...     plate, kind=ModelKind.PIECE, show_direction=np.array([0.0, 0.0, 1.0])
    ... )
    >>> areas_m2[SurfaceClass.SHOW_FACE]
    1.0
    """
    if kind is not ModelKind.FORM:
        return class_areas_m2(flats, kind=kind, show_direction=show_direction, rules=rules)
    cavities = cavities_of(flats, show_direction)
    parts = [
        class_areas_m2(
            flats_of(mesh, rules=rules), kind=kind, show_direction=show_direction, rules=rules
        )
        for mesh in cavities.meshes
    ]
    sums_m2 = {one: float(sum(part[one] for part in parts)) for one in SurfaceClass}
    return {**sums_m2, SurfaceClass.BACK: sums_m2[SurfaceClass.BACK] + cavities.outside_m2}


def _with_outside(surfaces: Surfaces, cavities: Cavities) -> Surfaces:
    """Add the outside of the form to the surfaces cast in one of its cavities."""
    count = len(cavities.meshes)
    area_m2 = cavities.outside_m2 / count
    backs = [one for one in surfaces.surfaces if one.surface_class is SurfaceClass.BACK]
    shared = f", shared by its {count} cavities" if count > 1 else ""
    outside = Surface(
        id=f"B{len(backs) + 1}",
        surface_class=SurfaceClass.BACK,
        found_class=SurfaceClass.BACK,
        area_m2=area_m2,
        depth_m=0.0,
        mean_depth_m=0.0,
        draft_deg=None,
        undercut_area_m2=0.0,
        opening=None,
        normal=np.zeros(3),
        facets=np.empty(0, dtype=np.int64),
        neighbours_m={},
        explanation=Explanation(
            f"rim and outside of the form{shared}, nothing is cast there: back", 0.0, 0.0
        ),
    )
    back_m2 = surfaces.area_m2[SurfaceClass.BACK] + area_m2
    return replace(
        surfaces,
        surfaces=(*surfaces.surfaces, outside),
        area_m2={**surfaces.area_m2, SurfaceClass.BACK: back_m2},
    )
