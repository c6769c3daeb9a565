"""Pictures of what was measured, and of the ways to read what was refused."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from pathlib import Path

from takeoff.errors import DirectionMissingError, TakeoffError
from takeoff.files.drawing import DrawingUnit, DrawnPiece
from takeoff.geometry.mesh import Mesh
from takeoff.measuring.casting import mesh_castings, mesh_kind
from takeoff.measuring.measurement import MeasuredPiece
from takeoff.measuring.request import MeasureRequest
from takeoff.measuring.taking import read_asked
from takeoff.notes import Note, NoteCode
from takeoff.piece.casting import classify_castings
from takeoff.piece.directions import direction_text
from takeoff.piece.finding import readings_asked
from takeoff.piece.reading import Reading
from takeoff.piece.rules import SurfaceRules
from takeoff.piece.surfaces import SurfaceClass, Surfaces
from takeoff.report.figures import written_area
from takeoff.report.file_names import free_name
from takeoff.report.first_hits import pictures_can_be_drawn
from takeoff.report.open_side import open_side_png
from takeoff.report.picture import Panel, picture_png
from takeoff.report.system_choice import system_of_unit


def no_pictures() -> tuple[Note, ...]:
    """Say why no pictures are drawn.

    Returns
    -------
    tuple of Note
        Empty where they are.

    Examples
    --------
    >>> [note.code.value for note in no_pictures()] in [[], ["no-picture"]]
    True
    """
    if pictures_can_be_drawn():
        return ()
    text = "no pictures are drawn: they need the extra [report], as in pip install '.[report]'"
    return (Note(NoteCode.NO_PICTURE, text),)


def piece_pictures(pieces: Sequence[MeasuredPiece]) -> dict[str, bytes]:
    """Draw measured pieces.

    Parameters
    ----------
    pieces : sequence of MeasuredPiece
        The pieces.

    Returns
    -------
    dict of str to bytes
        A PNG for each by the name of its file; none where the extra is missing.

    Examples
    --------
    >>> piece_pictures([])
    {}
    """
    if not pictures_can_be_drawn():
        return {}
    pictures: dict[str, bytes] = {}
    for piece in pieces:
        title = (
            f"{piece.name}: {piece.kind}, show {direction_text(piece.surfaces.show_direction)}; "
        )
        panel = Panel(title + _areas_text(piece.surfaces, piece.unit), piece.surfaces)
        pictures[free_name(piece.name, ".png", pictures)] = picture_png([panel])
    return pictures


def open_sides(pieces: Sequence[MeasuredPiece]) -> dict[str, bytes]:
    """Draw measured pieces as the caster sees them, from the open side of the form.

    Parameters
    ----------
    pieces : sequence of MeasuredPiece
        The pieces.

    Returns
    -------
    dict of str to bytes
        A PNG for each by the name of the piece; none where the extra is missing.

    Examples
    --------
    >>> open_sides([])
    {}
    """
    if not pictures_can_be_drawn():
        return {}
    return {piece.name: open_side_png(piece.surfaces) for piece in pieces}


def reading_pictures(
    path: str | Path, request: MeasureRequest, *, taken: Collection[str] = ()
) -> dict[str, bytes]:
    """Draw the readings of the pieces of a drawing that were asked about.

    Parameters
    ----------
    path : str or Path
        The drawing.
    request : MeasureRequest
        What was asked of it.
    taken : collection of str, optional
        Names of files that others have.

    Returns
    -------
    dict of str to bytes
        A PNG for each such piece by the name of its file, a row a reading; none where the
        extra is missing.

    Examples
    --------
    >>> reading_pictures("no-such.stl", MeasureRequest())
    {}
    """
    if not pictures_can_be_drawn():
        return {}
    pictures: dict[str, bytes] = {}
    try:
        drawing = read_asked(path, request)
    except TakeoffError:
        return {}
    for piece in drawing.pieces:
        panels = _asked_panels(piece, request, drawing.unit)
        if panels:
            name = free_name(f"{piece.name}-readings", ".png", {*taken, *pictures})
            pictures[name] = picture_png(panels)
    return pictures


def _asked_panels(piece: DrawnPiece, request: MeasureRequest, unit: DrawingUnit) -> list[Panel]:
    """Rows for the readings of a piece; none where it was not asked about."""
    mesh = piece.shape
    if not isinstance(mesh, Mesh):
        return []
    try:
        mesh_castings(mesh, request)
    except DirectionMissingError:
        readings = readings_asked(mesh, kind=mesh_kind(request), rules=request.rules)
        return [row for one in readings for row in _rows(mesh, one, unit, request.rules)]
    except TakeoffError:
        return []
    return []


def _rows(mesh: Mesh, reading: Reading, unit: DrawingUnit, rules: SurfaceRules) -> list[Panel]:
    """Draw what is cast in a reading, each casting in a row."""
    try:
        cast = classify_castings(
            mesh, kind=reading.kind, show_direction=reading.show_direction, rules=rules
        )
    except TakeoffError:
        return []
    told = f"--kind {reading.kind.value} --show {direction_text(reading.show_direction)}"
    return [Panel(f"{reading.id}: {told}; {_areas_text(one, unit)}", one) for one in cast]


def _areas_text(surfaces: Surfaces, unit: DrawingUnit) -> str:
    """Write the areas as the people who made the drawing do."""
    system = system_of_unit(unit.name)
    return ", ".join(
        f"{name.value.replace('_', ' ')} {written_area(surfaces.area_m2[name], system)}"
        for name in SurfaceClass
    )
