"""The bid as one page: self-contained, for the screen, for paper, for a phone."""

from __future__ import annotations

from collections.abc import Sequence

from takeoff.documents import BidDocument
from takeoff.report.bid_words import counted, doubts_line, total_line, what_is_bid
from takeoff.report.charts import flat_true_svg
from takeoff.report.figures import SYSTEM_NAMES, System
from takeoff.report.note_text import bid_notes
from takeoff.report.page_cells import Placed
from takeoff.report.page_day import page_pour
from takeoff.report.page_frame import (
    PagePiece,
    PieceShape,
    PieceWords,
    data_uri,
    notes_from,
    page_piece,
    rendered,
)
from takeoff.report.page_piece import source_words, tables_of_piece
from takeoff.report.page_tables import (
    assumption_table,
    batch_tables,
    form_table,
    line_table,
    material_table,
    piece_tables,
)
from takeoff.report.page_tiles import page_tiles


def page_html(document: BidDocument, *, shapes: Sequence[PieceShape | None] = ()) -> str:
    """Write a bid as one page that needs nothing else, and asks for nothing.

    Parameters
    ----------
    document : BidDocument
        The document.
    shapes : sequence of PieceShape or None, optional
        What to draw of each of its pieces, in their order; None for nothing. Empty for none.

    Returns
    -------
    str
        HTML, the same every time, in the units that the job shows.

    Raises
    ------
    MissingExtraError
        If the extra ``[report]`` is not installed.

    Notes
    -----
    Scripts run by their hashes under a content security policy without ``unsafe-eval``. Each
    figure of the document stands in an element whose ``data-at`` is its JSON pointer.

    Examples
    --------
    >>> from takeoff.errors import PriceError
    >>> from takeoff.job.result import refused_bid
    >>> page_html(refused_bid("hall.toml", PriceError("no price for sand"))).splitlines()[0]
    '<!DOCTYPE html>'
    """
    system = System(str(document["settings"].get("show_units", System.METRIC)))
    drawn = shapes or [None] * len(document["pieces"])
    pieces = [_piece(document, number, shape, system) for number, shape in enumerate(drawn)]
    pour = document["pour_day"]
    return rendered(
        "bid.html",
        pieces,
        document=document,
        system=SYSTEM_NAMES[system],
        total=total_line(document),
        doubts=doubts_line(document),
        tiles=page_tiles(document, system),
        piece_tables=piece_tables(document, system),
        chart=data_uri("image/svg+xml", flat_true_svg(document, system=system).encode()),
        pour=None if pour is None else page_pour(pour, "/pour_day", system),
        batch_tables=batch_tables(document, system)[: None if pour is None else 1],
        materials=material_table(document, system),
        lines=line_table(document),
        assumed=assumption_table(document),
        forms=form_table(document, system),
        bid_of=what_is_bid(document, listed="below"),
        notes=[note for note in bid_notes(document) if not note.at.startswith("/pieces/")],
    )


def _piece(
    document: BidDocument, number: int, shape: PieceShape | None, system: System
) -> PagePiece:
    """Set up one piece."""
    row = document["pieces"][number]
    placed = Placed(row, f"/pieces/{number}", system)
    cast = f"{row['count']} cast in {counted(row['forms'], 'form', 'forms')}"
    words = PieceWords(
        place=number + 1,
        about=f"{cast}; {source_words(row)}",
        tables=tuple(tables_of_piece(row, placed, document["currency"])),
        notes=notes_from(bid_notes(document), placed.at),
    )
    return page_piece(row, words, shape, system)
