"""A sheet of a workbook in memory and a bid with nothing in it: to write one sheet alone."""

from __future__ import annotations

import io
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from typing import TYPE_CHECKING

from takeoff.documents import BidDocument, Head
from takeoff.report.blank_bid import blank_bid
from takeoff.report.book_cells import Page
from takeoff.report.book_styles import styles_of
from takeoff.report.book_units import METRIC, SheetUnits

if TYPE_CHECKING:
    from xlsxwriter.workbook import Workbook


@dataclass(frozen=True, slots=True, eq=False)
class Draft:
    """What one sheet is written with.

    Parameters
    ----------
    workbook : Workbook
        A workbook that is kept nowhere.
    page : Page
        Its only sheet.
    document : BidDocument
        A bid of no pieces.
    units : SheetUnits
        Metric units.
    """

    workbook: Workbook
    page: Page
    document: BidDocument
    units: SheetUnits


@contextmanager
def drafted() -> Iterator[Draft]:
    """Open a workbook in memory with one empty sheet, and close it.

    Yields
    ------
    Draft
        The sheet, and a bid to write on it.

    Examples
    --------
    >>> with drafted() as draft:
    ...     draft.page.put(0, 0, draft.document["job"])
    >>> draft.page.sheet.dim_rowmax, draft.page.sheet.dim_colmax
    (0, 0)
    """
    from xlsxwriter.workbook import Workbook

    with Workbook(io.BytesIO(), {"in_memory": True}) as workbook:
        page = Page(workbook.add_worksheet(), styles_of(workbook))
        head = Head(schema="takeoff.bid/1", version="0", settings={}, notes=[], errors=[])
        document = blank_bid(head, job="hall", currency="EUR")
        yield Draft(workbook, page, document, METRIC)
