"""The check of drawings as text an estimator reads."""

from __future__ import annotations

from collections.abc import Sequence

from takeoff.documents import CheckDocument, CheckedFileRow, CheckedPieceRow
from takeoff.report.figures import System, written_area, written_length, written_volume
from takeoff.report.note_text import note_line
from takeoff.report.system_choice import system_of_unit
from takeoff.report.tables import plain_table


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
    lines += [_edges_text(piece, system) for piece in file["pieces"] if piece["edges"]]
    lines += [f"mended: {row['count']} {row['what']}" for row in file["mended"]]
    lines += [f"skipped: {row['count']} {row['what']}: {row['why']}" for row in file["skipped"]]
    lines += [note_line(row) for row in file["notes"]]
    return "\n".join(lines)


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


def _edges_text(piece: CheckedPieceRow, system: System) -> str:
    edges = ", ".join(
        f"{edge['id']} {written_length(edge['length_m'], system)}" for edge in piece["edges"]
    )
    return f"edges of {piece['name']}: {edges}"
