"""The sheet of a workbook where prices and terms may be changed."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from takeoff.bid_documents import LineRow
from takeoff.documents import BidDocument
from takeoff.pricing.lines import LineKind
from takeoff.report.book_cells import Column, Formula, Page, Row, Styled, cell, fixed
from takeoff.report.book_hours import hours_basis
from takeoff.report.book_styles import Style
from takeoff.report.book_units import SheetUnits

if TYPE_CHECKING:
    from xlsxwriter.workbook import Workbook

SHEET = "Inputs"
_COLUMN = 2  # where the inputs stand
_LARGEST = {Style.INPUT_MONEY: 1e9, Style.INPUT_SHARE: 10.0, Style.INPUT_QUANTITY: 1e6}
_CHARGED = frozenset({LineKind.LABOUR, LineKind.RATE})
_HOW = (
    "Yellow cells may be changed; everything else follows from them. Areas, volumes, weights, "
    "batches and what depends on them come from the drawings and stay as they are: for those, "
    "change the job file and bid again."
)
_EXTRA = "ordered on top of the losses in the bid; packs follow, batches do not"
_HOUR = "of every line of hours below"


@dataclass(frozen=True, slots=True)
class Told:
    """One input.

    Parameters
    ----------
    what, per : str
        What it is, and for one of what.
    number : float
        What it is in the bid.
    style : Style
        How it looks, which is what it is.
    note : str
        What it does.
    name : str, default ""
        Name by which formulas know it.
    line : int or None, default None
        The line of the bid it belongs to.
    """

    what: str
    per: str
    number: float
    style: Style
    note: str
    name: str = ""
    line: int | None = None


def write_inputs(
    page: Page, workbook: Workbook, document: BidDocument, units: SheetUnits
) -> dict[int, str]:
    """Write the inputs, and name those that formulas know by name.

    Parameters
    ----------
    page : Page
        The sheet.
    workbook : Workbook
        Its workbook.
    document : BidDocument
        The document, not refused.
    units : SheetUnits
        Units of the workbook.

    Returns
    -------
    dict of int to str
        The cell of the price, or of the hours for each of what is measured, of each line of the
        bid that has one.

    Examples
    --------
    >>> from takeoff.report.book_draft import drafted
    >>> with drafted() as draft:
    ...     inputs = write_inputs(draft.page, draft.workbook, draft.document, draft.units)
    >>> inputs, draft.workbook.defined_names[0][0]
    ({}, 'extra_loss')
    """
    page = page.laid_out(32, 30, 13, 62)
    page.prose(0, "What may be changed", Style.TITLE)
    page.prose(1, _HOW)
    columns: Sequence[Column] = (
        ("input", Style.TEXT),
        ("of", Style.TEXT),
        ("value", Style.MONEY),
        ("what it does", Style.QUIET),
    )
    _write_outcome(page, document, columns)
    page.head(7, columns)
    page.paper(document, units.system, repeated=7, wide=False)
    cells: dict[int, str] = {}
    row = 8
    for section, inputs in _sections(document):
        if not inputs:
            continue
        page.put(row, 0, section, Style.SECTION)
        for told in inputs:
            row += 1
            entries: Row = [told.what, told.per, Styled(told.number, told.style), told.note]
            page.row(row, columns, entries)
            _hold(page, row, told)
            at = fixed(SHEET, row, _COLUMN)
            if told.name:
                workbook.define_name(told.name, f"={at}")
            if told.line is not None:
                cells[told.line] = at
        row += 2
    return cells


def _write_outcome(page: Page, document: BidDocument, columns: Sequence[Column]) -> None:
    """Show what the job comes to now, and by how much that differs from the bid."""
    only = document["total"] is None
    name, words = ("material_total", "MATERIAL ONLY") if only else ("total", "TOTAL")
    bid = float((document["material_total"] if only else document["total"]) or 0)
    now = Styled(Formula(f"={name}", bid), Style.GRAND_MONEY)
    title = Styled(f"{words} {document['currency']}, as changed here", Style.GRAND_TEXT)
    change = Formula(f"={cell(3, _COLUMN)}-{cell(4, _COLUMN)}", 0.0)
    page.row(3, columns, [title, Styled(None, Style.GRAND_TEXT), now, None])
    page.row(4, columns, ["as it was bid", None, bid, None])
    page.row(5, columns, ["change", None, Styled(change, Style.CHANGE), None])


def _hold(page: Page, row: int, told: Told) -> None:
    """Hold one input to what it can be."""
    largest = 1.0 if told.name == "tax" else _LARGEST[told.style]
    page.sheet.data_validation(
        row,
        _COLUMN,
        row,
        _COLUMN,
        {
            "validate": "decimal",
            "criteria": "between",
            "minimum": 0,
            "maximum": largest,
            "input_title": "may be changed",
            "input_message": told.note[:255],
            "error_title": "not taken",
            "error_message": f"Write a number from 0 to {largest:g}.",
        },
    )


def _sections(document: BidDocument) -> Iterator[tuple[str, list[Told]]]:
    """Give the inputs, part by part."""
    lines = list(enumerate(document["lines"]))
    yield "terms", [*_terms(document), _loss()]
    yield "hours of work", [told for at, line in lines for told in _hours(at, line)]
    currency = document["currency"]
    titles: tuple[tuple[str, Callable[[LineRow], bool]], ...] = (
        (f"prices of work and charges, {currency}", _has_price),
        (f"prices of packs, {currency}", lambda line: line["kind"] == LineKind.MATERIAL),
        (f"prices of items, {currency}", lambda line: line["kind"] == LineKind.ITEM),
    )
    notes = _pack_notes(document)
    for title, belongs in titles:
        yield (
            title,
            [
                Told(
                    line["what"],
                    line["unit"],
                    float(line["price"]),
                    Style.INPUT_MONEY,
                    notes.get(line["what"], "price of one, to the cent")
                    if line["kind"] == LineKind.MATERIAL
                    else "price of one, to the cent",
                    line=at,
                )
                for at, line in lines
                if belongs(line)
            ],
        )


def _terms(document: BidDocument) -> Iterator[Told]:
    """Give what comes on top; nothing does where only material is priced."""
    if document["total"] is None:
        return
    shares = {LineKind.MARKUP: 0.0, LineKind.TAX: 0.0}
    for line in document["lines"]:
        if line["kind"] in shares:
            shares[LineKind(line["kind"])] = float(line["quantity"])
    hours = [line for line in document["lines"] if hours_basis(line) is not None]
    share, money = Style.INPUT_SHARE, Style.INPUT_MONEY
    sum_words = "on material, items, work and charges"
    yield Told("markup", "the sum", shares[LineKind.MARKUP], share, sum_words, "markup")
    least = _minimum(document)
    floor_words = "least sum before tax; 0 for none"
    yield Told("minimum charge", "the job", least, money, floor_words, "minimum_charge")
    yield Told("tax", "all of it", shares[LineKind.TAX], share, "added last", "tax")
    if hours:
        yield Told("hour of work", "h", float(hours[0]["price"]), money, _HOUR, "hour_price")


def _minimum(document: BidDocument) -> float:
    """Read the minimum charge out of the settings in force; 0 where there is none."""
    shop = document["settings"].get("shop")
    least = shop.get("minimum_charge") if isinstance(shop, Mapping) else None
    return float(least) if isinstance(least, str) else 0.0


def _loss() -> Told:
    return Told("extra loss", "every material", 0.0, Style.INPUT_SHARE, _EXTRA, "extra_loss")


def _hours(at: int, line: LineRow) -> Iterator[Told]:
    """Give the hours for each of what is measured."""
    basis = hours_basis(line)
    if basis is not None:
        note = "hours for each; the hours of the line follow"
        per = f"h for one {basis.unit}"
        yield Told(line["what"], per, basis.each_h, Style.INPUT_QUANTITY, note, line=at)


def _has_price(line: LineRow) -> bool:
    return line["kind"] in _CHARGED and hours_basis(line) is None


def _pack_notes(document: BidDocument) -> dict[str, str]:
    """Say what a price of packs does not do where there are several sizes."""
    return {
        row["ingredient"]: "the sizes bought stay as the bid chose them; bid again if prices move"
        for row in document["materials"]
        if len(row["sold_in"]) > 1
    }
