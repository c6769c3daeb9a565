"""Volume of the layers of a piece by a slow, independent method, where one applies."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from takeoff.geometry.exact_volumes import convex_volume_m3, hull_volume_m3, plan_volume_m3
from takeoff.geometry.skin_edges import skin_edges
from takeoff.notes import Note, NoteCode
from takeoff.piece.cast_skin import cast_skin
from takeoff.piece.surfaces import ModelKind, Surfaces
from takeoff.piece.thickness import ClassThickness


@dataclass(frozen=True, slots=True)
class ExactVolume:
    """Volume of both layers by another method.

    Parameters
    ----------
    method : str
        The method, in words.
    volume_m3 : float
        The volume. [m³]
    """

    method: str
    volume_m3: float


def exact_volume(
    surfaces: Surfaces,
    *,
    face_coat: ClassThickness,
    backer: ClassThickness,
) -> tuple[ExactVolume | None, tuple[Note, ...]]:
    """Compute both layers of a piece by the first slow method that applies to it.

    Parameters
    ----------
    surfaces : Surfaces
        The classified piece.
    face_coat, backer : ClassThickness
        Thickness of the layers.

    Returns
    -------
    ExactVolume or None, and tuple of Note
        The volume; where no method applies, a note that says so.

    Raises
    ------
    LayerVolumeError
        If nothing is cast against the form.

    Examples
    --------
    >>> import trimesh
    >>> from takeoff.geometry.mesh import Mesh
    >>> from takeoff.piece.classifying import classify
    >>> from takeoff.piece.thickness import everywhere
    >>> slab = classify(Mesh.from_trimesh(trimesh.creation.box((0.4, 0.3, 0.05)), unit="m"),
    ...                 kind=ModelKind.PIECE, show_direction=np.array([0.0, 0.0, 1.0]))
    >>> found, _ = exact_volume(slab, face_coat=everywhere(0.004), backer=everywhere(0.016))
    >>> found.method, round(found.volume_m3, 9)
    ('offset of the plan', 0.003192)
    """
    whole = skin_edges(surfaces.mesh)
    cast = cast_skin(surfaces, whole)
    depth_m = cast.thickness_m(face_coat.all, 0) + cast.thickness_m(backer.all, 0)
    volume_m3 = plan_volume_m3(cast.skin, surfaces.show_direction, depth_m)
    if volume_m3 is not None:
        return ExactVolume("offset of the plan", volume_m3), ()
    if surfaces.kind is ModelKind.PIECE:
        on_all_m = np.zeros(len(surfaces.mesh.triangles))
        on_all_m[cast.facets] = depth_m
        for method, compute in (
            ("half-spaces of a convex solid", convex_volume_m3),
            ("union of balls within the solid", hull_volume_m3),
        ):
            volume_m3 = compute(whole, on_all_m)
            if volume_m3 is not None:
                return ExactVolume(method, volume_m3), ()
    return None, (
        Note(
            NoteCode.NO_EXACT_CHECK,
            "no exact method applies: it takes a flat face with plumb walls all round, a convex "
            "solid, or a closed solid of a few hundred facets with manifold3d installed",
        ),
    )
