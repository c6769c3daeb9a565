"""What was measured as one page: its pieces in 3-D, their surfaces and layers, notes."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import PurePath

from takeoff.documents import MeasureDocument
from takeoff.report.figures import SYSTEM_NAMES, System
from takeoff.report.note_text import bid_notes
from takeoff.report.page_cells import Placed
from takeoff.report.page_frame import PieceShape, PieceWords, notes_from, page_piece, rendered
from takeoff.report.page_piece import measured_tables, source_words


def measure_html(
    document: MeasureDocument, *, shapes: Sequence[PieceShape], system: System = System.METRIC
) -> str:
    """Write a measurement as one page that needs nothing else, and asks for nothing.

    Parameters
    ----------
    document : MeasureDocument
        The document.
    shapes : sequence of PieceShape
        What to draw of each of its pieces, in their order.
    system : System, optional
        Units of the text.

    Returns
    -------
    str
        HTML, the same every time.

    Raises
    ------
    MissingExtraError
        If the extra ``[report]`` is not installed.

    Examples
    --------
    >>> import takeoff
    >>> panel = takeoff.measure("samples/ferry-hall/wall-panel.dxf", edge_depth="60 mm")
    >>> shapes = [PieceShape(piece.surfaces) for piece in panel.pieces]
    >>> measure_html(panel.to_dict(), shapes=shapes).splitlines()[0]
    '<!DOCTYPE html>'
    """
    said = tuple(bid_notes(document))
    pieces = []
    for number, (row, shape) in enumerate(zip(document["pieces"], shapes, strict=True)):
        placed = Placed(row, f"/pieces/{number}", system)
        words = PieceWords(
            place=number + 1,
            about=source_words(row),
            tables=tuple(measured_tables(row, placed)),
            notes=notes_from(said, placed.at),
        )
        pieces.append(page_piece(row, words, shape, system))
    files = dict.fromkeys(PurePath(row["file"]).name for row in document["pieces"])
    return rendered(
        "measurement.html",
        pieces,
        document=document,
        system=SYSTEM_NAMES[system],
        title=", ".join(files),
        notes=[note for note in said if not note.at.startswith("/pieces/")],
    )
