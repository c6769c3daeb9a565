"""The check of drawings as text an estimator reads."""

from __future__ import annotations

from collections.abc import Sequence

from takeoff.documents import (
    CheckDocument,
    CheckedFileRow,
    CheckedPieceRow,
    DrawnLayerRow,
    EdgeRow,
    NoteRow,
    SkippedRow,
    UnitRow,
)
from takeoff.report.figures import System, written_area, written_length, written_volume
from takeoff.report.note_text import note_line
from takeoff.report.system_choice import system_of_unit
from takeoff.report.tables import plain_table

_EDGES_SHOWN = 40


def check_text(document: CheckDocument, *, width: int = 0) -> str:
    """Write a check as text.

    Parameters
    ----------
    document : CheckDocument
        The document.
    width : int, default 0
        Width of the terminal; 0 for any.

    Returns
    -------
    str
        The text, each file in the system of its own unit, without a line feed at the end.

    Examples
    --------
    >>> check_text({"schema": "takeoff.check/1", "version": "0", "settings": {}, "notes": [],
    ...             "errors": [], "files": []})
    ''
    """
    return "\n\n".join(_file_text(file, width) for file in document["files"])


def _file_text(file: CheckedFileRow, width: int) -> str:
    error, unit = file["error"], file["unit"]
    if error is not None or unit is None:
        return f"{file['file']}: REFUSED" + (f"\n  {error['text']}" if error else "")
    system = system_of_unit(unit["name"])
    lines = [f"{file['file']}: in {unit['name']}, {unit['source']}"]
    if file["pieces"]:
        lines.append(_pieces_table(file["pieces"], system, width))
    if len(file["layers"]) > 1:
        lines.append(_layers_table(file["layers"], system, width))
    lines += [_edges_text(piece, unit, width) for piece in file["pieces"] if piece["edges"]]
    lines += [f"mended: {row['count']} {row['what']}" for row in file["mended"]]
    lines += [
        f"skipped: {row['count']} {row['what']}: {row['why']}"
        for row in file["skipped"]
        if not _is_noted(row, file["notes"])
    ]
    return "\n".join([*lines, *_note_lines(file)])


def _pieces_table(pieces: Sequence[CheckedPieceRow], system: System, width: int) -> str:
    head = ["piece", "drawn as", "size", "area", "volume", "closed", "openings", "layer"]
    rows = [
        [
            piece["name"],
            piece["form"],
            _size(piece, system),
            written_area(piece["area_m2"], system),
            "-" if piece["volume_m3"] is None else written_volume(piece["volume_m3"], system),
            "yes" if piece["closed"] else "no",
            str(piece["openings"]),
            piece["layer"] or "-",
        ]
        for piece in pieces
    ]
    return plain_table(head, rows, right=[3, 4, 6], width=width)


def _size(piece: CheckedPieceRow, system: System) -> str:
    low, high = piece["bounds_m"]
    return " x ".join(
        written_length(top - bottom, system) for bottom, top in zip(low, high, strict=True)
    )


def _layers_table(layers: Sequence[DrawnLayerRow], system: System, width: int) -> str:
    head = ["layer measured alone", "closed outlines", "pieces", "area"]
    rows = [
        [
            layer["layer"],
            str(layer["outlines"]),
            str(layer["pieces"]),
            "outlines cross"
            if layer["area_m2"] is None
            else written_area(layer["area_m2"], system),
        ]
        for layer in layers
    ]
    return plain_table(head, rows, right=[1, 2, 3], width=width)


def _edges_text(piece: CheckedPieceRow, unit: UnitRow, width: int) -> str:
    """Write the edges as a table, with where they run in the coordinates of the drawing."""
    system, edges = system_of_unit(unit["name"]), piece["edges"]
    head = [f"edge of {piece['name']}", "side", "length", "from", "to"]
    rows = [
        [
            edge["id"],
            _side(edge),
            written_length(edge["length_m"], system),
            _point(edge["start_m"], unit),
            _point(edge["end_m"], unit),
        ]
        for edge in edges[:_EDGES_SHOWN]
    ]
    more = len(edges) - len(rows)
    told = f"\n... and {more} more edges of {piece['name']}: --json lists them all" if more else ""
    return plain_table(head, rows, right=[2], width=width) + told


def _side(edge: EdgeRow) -> str:
    """Write where an edge lies: its side, of which opening, and whether it is curved."""
    whose = "" if edge["opening"] is None else f"opening {edge['opening']}: "
    return whose + edge["side"] + (", curved" if edge["curved"] else "")


def _point(at_m: Sequence[float], unit: UnitRow) -> str:
    """Write a point in the coordinates of the drawing."""
    x, y = (round(value_m / unit["metres_per_unit"], 3) + 0.0 for value_m in at_m)
    return f"({x:.12g}, {y:.12g})"


def _is_noted(row: SkippedRow, notes: Sequence[NoteRow]) -> bool:
    """Tell whether a note says already that something was left out, and why."""
    return any(
        note["code"] == "skipped" and note["text"].endswith(f": {row['why']}") for note in notes
    )


def _note_lines(file: CheckedFileRow) -> list[str]:
    """Write the notes, each text once, without the name of the file, which stands above."""
    about: dict[str, list[str]] = {}
    for note in file["notes"]:
        piece = note["where"].removeprefix(file["file"]).removeprefix(": ")
        if note["code"] != "mended":  # said above
            about.setdefault(note["text"], []).append(piece)
    return [
        note_line(NoteRow(code="", text=text, where=", ".join(dict.fromkeys(filter(None, pieces)))))
        for text, pieces in about.items()
    ]
