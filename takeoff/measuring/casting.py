"""What is cast after a mesh of a drawing, its kind and direction told or found."""

from __future__ import annotations

from dataclasses import dataclass

from takeoff.errors import SurfaceError
from takeoff.geometry.mending import MendedMesh
from takeoff.geometry.mesh import Mesh
from takeoff.measuring.request import MeasureRequest
from takeoff.notes import Note
from takeoff.piece.casting import classify_castings
from takeoff.piece.corrections import Corrections
from takeoff.piece.finding import Source, find
from takeoff.piece.flats import Flats, flats_of
from takeoff.piece.surfaces import ModelKind, Surfaces

MESH_KINDS = (ModelKind.PIECE, ModelKind.FORM, ModelKind.OPEN)
"""What a mesh can show."""


@dataclass(frozen=True, slots=True, eq=False)
class Casting:
    """One thing that is cast.

    Parameters
    ----------
    kind : ModelKind
        What the mesh shows.
    surfaces : Surfaces
        Its surfaces.
    source : Source
        Whether the show direction was told or found.
    notes : tuple of Note
        What was found, and why.
    """

    kind: ModelKind
    surfaces: Surfaces
    source: Source
    notes: tuple[Note, ...]


def mesh_castings(
    mesh: Mesh,
    request: MeasureRequest,
    corrections: Corrections = Corrections(),
    *,
    mended: MendedMesh | None = None,
) -> tuple[Casting, ...]:
    """Tell the surfaces of all that is cast after a mesh.

    Parameters
    ----------
    mesh : Mesh
        The mended mesh.
    request : MeasureRequest
        What is asked of it.
    corrections : Corrections, optional
        What surfaces and openings are taken as, whatever was found.
    mended : MendedMesh, optional
        The mesh with the tables that mending made.

    Returns
    -------
    tuple of Casting
        One; for a form one in each cavity.

    Raises
    ------
    DirectionMissingError
        If it can be read in several ways, and nobody told which.
    SurfaceError
        If what is asked does not fit a mesh, or this one.

    Examples
    --------
    >>> import trimesh
    >>> slab = Mesh.from_trimesh(trimesh.creation.box((2000, 600, 40)), unit="mm")
    >>> (slab,) = mesh_castings(slab, MeasureRequest())
    >>> slab.kind.value, slab.source.value, slab.notes[0].text
    ('piece', 'found', 'show side up, as piece: down would give the same show face, return and \
upright')
    """
    if request.edge_depth_m is not None or request.edges_m:
        raise SurfaceError("edge depths belong to outlines; the walls of a mesh are in the drawing")
    flats = _flats(mesh, mended, request)
    found = find(
        mesh,
        kind=mesh_kind(request),
        show=request.show,
        layers_m=request.face_coat_m + request.backer_m,
        flats=flats,
        rules=request.rules,
    )
    castings = classify_castings(
        mesh,
        kind=found.kind,
        show_direction=found.show_direction,
        corrections=corrections,
        flats=flats,
        rules=request.rules,
    )
    return tuple(Casting(found.kind, one, found.source, found.notes) for one in castings)


def _flats(mesh: Mesh, mended: MendedMesh | None, request: MeasureRequest) -> Flats:
    """Take the flats once, from what mending knows of this very mesh."""
    if mended is None or mended.mesh is not mesh:
        return flats_of(mesh, rules=request.rules)
    return flats_of(mesh, facets=mended.facets, edges=mended.edges, rules=request.rules)


def mesh_kind(request: MeasureRequest) -> ModelKind | None:
    """Give the kind of the meshes of a drawing, as told or as is usual in the shop.

    Parameters
    ----------
    request : MeasureRequest
        What is asked.

    Returns
    -------
    ModelKind or None
        None where neither was told.

    Raises
    ------
    SurfaceError
        If there is no such kind.

    Examples
    --------
    >>> mesh_kind(MeasureRequest(usual_kind="form")).value
    'form'
    """
    text = request.kind or request.usual_kind
    if text is None:
        return None
    for kind in MESH_KINDS:
        if text == kind.value:
            return kind
    raise SurfaceError(f"{text!r} is no kind of model; give one of {', '.join(MESH_KINDS)}")
