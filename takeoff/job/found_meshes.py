"""What is found in a mesh: as what and from which side it is seen, or the ways to read it."""

from __future__ import annotations

from collections.abc import Sequence

from takeoff.errors import DirectionMissingError
from takeoff.files.drawing import DrawnPiece
from takeoff.geometry.mesh import Mesh
from takeoff.measuring.casting import Casting, mesh_castings, mesh_kind
from takeoff.measuring.request import MeasureRequest
from takeoff.measuring.taking import refuse_unsound
from takeoff.piece.directions import direction_text, show_vector
from takeoff.piece.reading_areas import ReadAreas, read_areas
from takeoff.piece.surfaces import Opening, Surface, SurfaceClass
from takeoff.start_documents import (
    StartedOpeningRow,
    StartedPieceRow,
    StartedReadingRow,
    StartedWallRow,
)

_WALLS = frozenset({SurfaceClass.RETURN, SurfaceClass.UPRIGHT})


def mesh_rows(piece: DrawnPiece, mesh: Mesh, request: MeasureRequest) -> list[StartedPieceRow]:
    """Give what is cast after a mesh as rows, or what must be asked of it.

    Parameters
    ----------
    piece : DrawnPiece
        The piece of the drawing.
    mesh : Mesh
        Its shape.
    request : MeasureRequest
        Kind and show direction, where they were told.

    Returns
    -------
    list of StartedPieceRow
        One; of a form one for each cavity.

    Raises
    ------
    SurfaceError
        If the mesh is unsound, or what was told does not fit it.

    Examples
    --------
    >>> import trimesh
    >>> slab = Mesh.from_trimesh(trimesh.creation.box((2000, 600, 40)), unit="mm")
    >>> [row] = mesh_rows(DrawnPiece("slab", slab), slab, MeasureRequest())
    >>> row["kind"], row["show"], row["source"], [wall["id"] for wall in row["walls"]]
    ('piece', 'up', 'found', ['R1', 'R2', 'R3', 'R4'])
    """
    refuse_unsound(piece)
    try:
        castings = mesh_castings(mesh, request, mended=piece.mended)
    except DirectionMissingError as error:
        return [_asked_row(piece, mesh, request, error)]
    return [
        _cast_row(mesh, cast, name=_numbered(piece.name, number, castings))
        for number, cast in enumerate(castings, 1)
    ]


def _numbered(name: str, number: int, castings: Sequence[Casting]) -> str:
    return name if len(castings) == 1 else f"{name}-{number}"


def _size_m(mesh: Mesh) -> list[float]:
    return [float(extent_m) for extent_m in mesh.points_m.max(axis=0) - mesh.points_m.min(axis=0)]


def _cast_row(mesh: Mesh, cast: Casting, *, name: str) -> StartedPieceRow:
    surfaces = cast.surfaces
    return StartedPieceRow(
        name=name,
        drawn_as="mesh",
        size_m=_size_m(mesh),
        kind=cast.kind.value,
        show=direction_text(surfaces.show_direction),
        source=cast.source.value,
        asked=[],
        why="; ".join(note.text for note in cast.notes),
        edges=[],
        openings=[_opening_row(opening) for opening in surfaces.openings],
        walls=[_wall_row(one) for one in surfaces.surfaces if one.surface_class in _WALLS],
        readings=[],
    )


def _opening_row(opening: Opening) -> StartedOpeningRow:
    return StartedOpeningRow(
        id=opening.id,
        size_m=[opening.width_m],
        depth_m=opening.depth_m,
        bare=opening.bare,
        edges=[],
    )


def _wall_row(wall: Surface) -> StartedWallRow:
    return StartedWallRow(
        id=wall.id,
        what=wall.surface_class.value,
        depth_m=wall.depth_m,
        area_m2=wall.area_m2,
        opening=wall.opening,
    )


def _asked_row(
    piece: DrawnPiece, mesh: Mesh, request: MeasureRequest, error: DirectionMissingError
) -> StartedPieceRow:
    """Give the ways to read a mesh: of a told direction the kinds, else every one."""
    kind = mesh_kind(request)
    towards = None if request.show is None else show_vector(request.show)
    read = read_areas(mesh, kind=kind, show_direction=towards, rules=request.rules)
    return StartedPieceRow(
        name=piece.name,
        drawn_as="mesh",
        size_m=_size_m(mesh),
        kind=None if kind is None else kind.value,
        show=None if towards is None else direction_text(towards),
        source="asked",
        asked=["show" if towards is None else "kind"],
        why=error.text.splitlines()[0].partition(";")[0],
        edges=[],
        openings=[],
        walls=[],
        readings=[_reading_row(one) for one in read],
    )


def _reading_row(read: ReadAreas) -> StartedReadingRow:
    return StartedReadingRow(
        id=read.reading.id,
        kind=read.reading.kind.value,
        show=direction_text(read.reading.show_direction),
        show_face_m2=read.area_m2[SurfaceClass.SHOW_FACE],
        return_m2=read.area_m2[SurfaceClass.RETURN],
        upright_m2=read.area_m2[SurfaceClass.UPRIGHT],
    )
