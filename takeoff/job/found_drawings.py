"""What is found in a drawing before anybody has told of it more than its unit, if that."""

from __future__ import annotations

import itertools
from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path

from takeoff.errors import DrawingError, TakeoffError, UnitMissingError
from takeoff.files.drawing import Drawing, DrawingUnit, DrawnPiece
from takeoff.files.drawing_unit import PLAUSIBLE_UNITS, size_note, told_unit
from takeoff.geometry.outlines import Outline
from takeoff.job.found_meshes import mesh_rows
from takeoff.job.found_outlines import outline_row
from takeoff.measuring.reading import read_drawing
from takeoff.measuring.request import MeasureRequest
from takeoff.measuring.taking import read_asked
from takeoff.notes import NoteCode
from takeoff.start_documents import (
    StartedDrawingRow,
    StartedPieceRow,
    StartedReadingRow,
    StartedUnitRow,
    StartErrorRow,
    UnitSizeRow,
)
from takeoff.units import metres_per_unit

_SAID_BESIDE = frozenset({NoteCode.UNIT_DECLARED, NoteCode.NOT_CLOSED})


def found_in(path: Path, drawing: str, request: MeasureRequest) -> StartedDrawingRow:
    """Find what a drawing holds, and what must be asked of it.

    Parameters
    ----------
    path : Path
        The drawing.
    drawing : str
        The same, as the job file will name it.
    request : MeasureRequest
        Unit, kind and show direction, where they were told.

    Returns
    -------
    StartedDrawingRow
        Unit, pieces and doubts; or why the drawing cannot be used.

    Examples
    --------
    >>> row = found_in(Path("samples/ferry-hall/wall-panel.dxf"), "panel.dxf", MeasureRequest())
    >>> row["unit"]["name"], row["drawn"][0]["drawn_as"], len(row["drawn"][0]["edges"])
    ('mm', 'outline', 8)
    >>> found_in(Path("no-such.stl"), "no-such.stl", MeasureRequest())["error"]["text"]
    'there is no such file'
    """
    try:
        _refuse_name(path)
        return _found(path, drawing, request)
    except TakeoffError as error:
        told = StartErrorRow(kind=error.kind.value, text=error.text)
    except (RecursionError, MemoryError):
        text = "the drawing is too deeply nested or too large to be read"
        told = StartErrorRow(kind=DrawingError.kind.value, text=text)
    return StartedDrawingRow(
        file=str(path),
        drawing=drawing,
        name=path.stem,
        sha256=None,
        unit=None,
        drawn=[],
        doubts=[],
        error=told,
    )


def _refuse_name(path: Path) -> None:
    """Refuse names that no TOML file can hold."""
    try:
        str(path).encode()
    except UnicodeEncodeError:
        text = "its name is not UTF-8, so that no job file can name it; rename it"
        raise DrawingError(text) from None


def _found(path: Path, drawing: str, request: MeasureRequest) -> StartedDrawingRow:
    try:
        read = read_asked(path, replace(request, unit=None, usual_unit=request.unit))
        unit = _unit_row(read.unit, request.unit)
        drawn = _drawn(read, request)
    except UnitMissingError as missing:
        read = _read_as_metres(path, missing)
        unit = StartedUnitRow(name=None, source="asked", passed_over=None, sizes=_sizes(read))
        units = [row["unit"] for row in unit["sizes"]]
        drawn = _drawn_in_any(path, request, units, missing)
    several = len(read.pieces) > 1
    return StartedDrawingRow(
        file=str(path),
        drawing=drawing,
        name=path.stem if several else read.pieces[0].name,
        sha256=read.sha256,
        unit=unit,
        drawn=drawn,
        doubts=[] if unit["name"] is None else _doubts(read),
        error=None,
    )


def _unit_row(unit: DrawingUnit, told: str | None) -> StartedUnitRow:
    """Give the unit that holds: the declared one, else the one told for drawings without."""
    other = told is not None and metres_per_unit(told) != unit.metres_per_unit
    return StartedUnitRow(
        name=unit.name, source=unit.source, passed_over=told if other else None, sizes=[]
    )


def _doubts(read: Drawing) -> list[str]:
    """Give the notes on a drawing that nothing else in the file says, each once."""
    texts = [note.text for note in read.notes if note.code not in _SAID_BESIDE]
    texts += [f"{tally.count} {tally.what} left out: {tally.why}" for tally in read.skipped]
    return list(dict.fromkeys(texts))


def _drawn(read: Drawing, request: MeasureRequest) -> list[StartedPieceRow]:
    """Give every piece of a drawing as rows."""
    kinds = {isinstance(piece.shape, Outline) for piece in read.pieces}
    if len(kinds) > 1:
        layers = sorted({piece.layer for piece in read.pieces if piece.layer})
        text = (
            "holds outlines and meshes, which one [[piece]] cannot be both; draw them by "
            f"themselves, or write a [[piece]] with layer = for each of: {', '.join(layers)}"
        )
        raise DrawingError(text)
    rows: list[StartedPieceRow] = []
    for piece in read.pieces:
        try:
            rows += _rows(piece, request)
        except TakeoffError as error:
            if len(read.pieces) > 1:
                error.text = f"{piece.name}: {error.text}"
            raise
    return rows


def _rows(piece: DrawnPiece, request: MeasureRequest) -> list[StartedPieceRow]:
    if isinstance(piece.shape, Outline):
        return [outline_row(piece, piece.shape)]
    return mesh_rows(piece, piece.shape, request)


def _sizes(read: Drawing) -> list[UnitSizeRow]:
    """Give the overall size of a drawing, read as metres, in every unit that makes sense of it."""
    extents = _extents(read)
    sizes = [
        UnitSizeRow(unit=name, size_m=[extent * metres_per_unit(name) for extent in extents])
        for name in PLAUSIBLE_UNITS
    ]
    sensible = [
        row for row in sizes if size_note(row["size_m"], told_unit(row["unit"]), where="") is None
    ]
    return sensible or sizes


def _extents(read: Drawing) -> list[float]:
    """Give the size of the largest piece in units of the drawing, read as metres."""
    import numpy as np

    from takeoff.geometry.outlines import bounds_m

    extents = []
    for piece in read.pieces:
        if isinstance(piece.shape, Outline):
            low, high = np.array(bounds_m(piece.shape))
        else:
            low, high = piece.shape.points_m.min(axis=0), piece.shape.points_m.max(axis=0)
        extents.append((high - low).tolist())
    return max(extents, key=max)


def _read_as_metres(path: Path, missing: UnitMissingError) -> Drawing:
    """Read a drawing for its size alone; its faults can be told once its unit is known."""
    try:
        return read_drawing(path, unit="m")
    except TakeoffError:
        raise missing from None


def _drawn_in_any(
    path: Path, request: MeasureRequest, units: Sequence[str], missing: UnitMissingError
) -> list[StartedPieceRow]:
    """Give what holds of a drawing in every unit that makes sense of it; sizes never do."""
    tried: list[list[StartedPieceRow]] = []
    for unit in units:
        told = replace(request, unit=unit)
        try:
            rows = _drawn(read_drawing(path, unit=unit), told)
        except TakeoffError:
            continue
        tried.append([_without_sizes(row) for row in rows])
    if not tried:
        raise missing
    same = len(tried) == len(units) and all(
        rows == other for rows, other in itertools.pairwise(tried)
    )
    return tried[0] if same else [_unsettled(row) for row in tried[0]]


def _without_sizes(row: StartedPieceRow) -> StartedPieceRow:
    """Leave out all that a unit changes."""
    readings = [
        StartedReadingRow(
            id=one["id"],
            kind=one["kind"],
            show=one["show"],
            show_face_m2=None,
            return_m2=None,
            upright_m2=None,
        )
        for one in row["readings"]
    ]
    return StartedPieceRow(
        name=row["name"],
        drawn_as=row["drawn_as"],
        size_m=[],
        kind=row["kind"],
        show=row["show"],
        source=row["source"],
        asked=row["asked"],
        why=row["why"],
        edges=[],
        openings=[],
        walls=[],
        readings=readings,
    )


def _unsettled(row: StartedPieceRow) -> StartedPieceRow:
    """Take back what is not the same in every unit."""
    return StartedPieceRow(
        name=row["name"],
        drawn_as=row["drawn_as"],
        size_m=[],
        kind=None,
        show=None,
        source=None,
        asked=["edge_depth"] if row["drawn_as"] == "outline" else [],
        why="is found once the unit is told",
        edges=[],
        openings=[],
        walls=[],
        readings=[],
    )
