"""The last sheets of a workbook: what is taken for granted, notes, cautions, refusals."""

from __future__ import annotations

from collections.abc import Iterator

from takeoff.documents import BidDocument
from takeoff.report.book_cells import Column, Page, Row
from takeoff.report.book_styles import Style
from takeoff.report.book_units import SheetUnits
from takeoff.report.note_text import bid_notes
from takeoff.report.pour_words import default_lines

_TOP = 2
_HOW_RECKONED = (
    "An amount is quantity times price, to the cent, halves up; a total is the sum of amounts.",
    "An order is what stays in the pieces and what is lost, times one plus the extra loss.",
    "Of what is sold in one size, packs are the order less stock, over what one holds, rounded up.",
    "The least-cost choice among several sizes is no formula: there the packs stay as bid.",
    "'as bid' marks what is not reckoned again here; bid.json has the same figures, in SI units.",
)


def write_assumptions(page: Page, document: BidDocument, units: SheetUnits) -> None:
    """Write what the bid takes for granted, and what hangs on it.

    Parameters
    ----------
    page : Page
        The sheet.
    document : BidDocument
        The document, not refused.
    units : SheetUnits
        Units of the workbook.

    Examples
    --------
    >>> from takeoff.report.book_draft import drafted
    >>> with drafted() as draft:
    ...     write_assumptions(draft.page, draft.document, draft.units)
    >>> draft.page.sheet.dim_rowmax  # the last row that is written
    3
    """
    page = page.laid_out(44, 44, 18, 18)
    page.prose(0, "Assumptions", Style.TITLE)
    page.prose(1, "As bid: how far the total moves where one does not hold", Style.SECTION)
    page.paper(document, units.system, repeated=_TOP)
    currency = document["currency"]
    columns: tuple[Column, ...] = (
        ("taken for granted", Style.TEXT),
        ("as", Style.TEXT),
        (f"at least, {currency}", Style.CHANGE),
        (f"at most, {currency}", Style.CHANGE),
    )
    rows: list[Row] = [
        [one["what"], one["value"], float(one["low"]), float(one["high"])]
        for one in document["assumptions"]
    ]
    row = page.table(_TOP, columns, rows or [["nothing that moves the total", None, None, None]])
    ends, total = document["total_range"], document["total"]
    if ends is not None and total is not None:
        thickness: tuple[Column, ...] = (
            ("total with the thickness, as bid", Style.TEXT),
            ("", Style.TEXT),
            (f"at least, {currency}", Style.MONEY),
            (f"at most, {currency}", Style.MONEY),
        )
        told = "thickness is told as a range" if ends["low"] != ends["high"] else "no range is told"
        row = page.table(
            row + 1, thickness, [["total", told, float(ends["low"]), float(ends["high"])]]
        )
    pour = document["pour_day"]
    for words in [] if pour is None else default_lines(pour):
        row += 1
        page.prose(row, words)


def write_notes(page: Page, document: BidDocument, units: SheetUnits) -> None:
    """Write notes, what was left out, cautions, and how the workbook reckons.

    Parameters
    ----------
    page : Page
        The sheet.
    document : BidDocument
        The document.
    units : SheetUnits
        Units of the workbook.

    Examples
    --------
    >>> from takeoff.report.book_draft import drafted
    >>> with drafted() as draft:
    ...     write_notes(draft.page, draft.document, draft.units)
    >>> draft.page.sheet.dim_rowmax  # the last row that is written
    7
    """
    page = page.laid_out(12, 26, 96)
    refused = f"REFUSED: {document['job']}"
    page.prose(0, refused if document["errors"] else "Notes and cautions", Style.TITLE)
    page.paper(document, units.system, repeated=_TOP)
    columns: tuple[Column, ...] = (
        ("kind", Style.SECTION),
        ("about", Style.TEXT),
        ("what", Style.TEXT),
    )
    page.table(_TOP, columns, list(_note_rows(document)))


def _note_rows(document: BidDocument) -> Iterator[Row]:
    for error in document["errors"]:
        yield ["REFUSED", error["where"] or error["file"] or "", error["text"]]
    for note in bid_notes(document):
        about = ": ".join(part for part in (note.piece, note.about) if part)
        yield [note.kind, about, note.text]
    for sentence in document["cautions"]:
        yield ["caution", "", sentence]
    for sentence in _HOW_RECKONED:
        yield ["reckoned", "this workbook", sentence]
