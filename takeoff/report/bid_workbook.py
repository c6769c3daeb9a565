"""A bid as a workbook whose prices and terms may be changed: every formula with its result."""

from __future__ import annotations

import io
from datetime import UTC, datetime
from importlib.util import find_spec
from typing import TYPE_CHECKING

from takeoff.documents import BidDocument
from takeoff.errors import MissingExtraError
from takeoff.report.book_batches import write_batches, write_pour, write_weighing
from takeoff.report.book_cells import Page
from takeoff.report.book_inputs import write_inputs
from takeoff.report.book_lines import Sources, write_lines
from takeoff.report.book_materials import write_materials
from takeoff.report.book_notes import write_assumptions, write_notes
from takeoff.report.book_pieces import write_layers, write_pieces
from takeoff.report.book_styles import styles_of
from takeoff.report.book_units import units_of

if TYPE_CHECKING:
    from xlsxwriter.workbook import Workbook

_FIRST = ("Bid", "Inputs", "Pieces", "Layers", "Materials", "Batches", "Weighing")
_POUR = "Pour day"
_LAST = ("Assumptions", "Notes and cautions")
_CREATED = datetime(2000, 1, 1, tzinfo=UTC).replace(tzinfo=None)  # fixed: same bid, same bytes
_SAFE = {"strings_to_formulas": False, "strings_to_urls": False, "strings_to_numbers": False}


def workbook_bytes(document: BidDocument) -> bytes:
    r"""Write a bid as the bytes of an xlsx file.

    Parameters
    ----------
    document : BidDocument
        The document; of a refused one there are only the reasons.

    Returns
    -------
    bytes
        The file, the same every time. Sheets: the bid with its lines, the inputs that may be
        changed, pieces, layers flat against true, materials, batches, what is weighed for them,
        the pour day where there is one, assumptions, notes and cautions. Units are those that the
        settings show results in.

    Raises
    ------
    MissingExtraError
        If the extra ``[report]`` is not installed.

    Notes
    -----
    Formulas use only what every spreadsheet reckons alike:
    ``+ - * /``, ROUND, ROUNDUP, SUM, IF, MAX and names. Each carries the result that the document
    has, since not every program reckons a file again when it opens it. Text is written as text,
    whatever it begins with.

    Examples
    --------
    >>> from takeoff.errors import PriceError
    >>> from takeoff.job.result import refused_bid
    >>> document = refused_bid("hall.toml", PriceError("no pack and price for sand"))
    >>> workbook_bytes(document)[:2]
    b'PK'
    """
    if find_spec("xlsxwriter") is None:
        text = "the workbook needs the extra [report], as in pip install '.[report]'"
        raise MissingExtraError(text, where="bid.xlsx")
    from xlsxwriter.workbook import Workbook

    written = io.BytesIO()
    with Workbook(written, {"in_memory": True, **_SAFE}) as workbook:
        workbook.set_properties({"title": "Bid", "created": _CREATED})
        workbook.set_calc_mode("auto")
        if document["errors"]:
            _write_refused(workbook, document)
        else:
            _write_sheets(workbook, document)
    return written.getvalue()


def _write_sheets(workbook: Workbook, document: BidDocument) -> None:
    """Write all sheets; they stand in the order an estimator reads them."""
    units = units_of(document["settings"].get("show_units"))
    styles = styles_of(workbook)
    pour = document["pour_day"]
    names = (*_FIRST, *(() if pour is None else (_POUR,)), *_LAST)
    pages = {name: Page(workbook.add_worksheet(name), styles) for name in names}
    inputs = write_inputs(pages["Inputs"], workbook, document, units)
    packs = write_materials(pages["Materials"], workbook, document, units, inputs)
    write_lines(pages["Bid"], workbook, document, units, Sources(inputs, packs))
    write_pieces(pages["Pieces"], document, units)
    write_layers(pages["Layers"], document, units)
    write_batches(pages["Batches"], document, units)
    write_weighing(pages["Weighing"], document, units)
    if pour is not None:
        write_pour(pages[_POUR], document, pour, units)
    write_assumptions(pages["Assumptions"], document, units)
    write_notes(pages["Notes and cautions"], document, units)


def _write_refused(workbook: Workbook, document: BidDocument) -> None:
    """Write why there is no bid, and nothing that looks like one."""
    styles = styles_of(workbook)
    page = Page(workbook.add_worksheet("Refused"), styles)
    write_notes(page, document, units_of(document["settings"].get("show_units")))
