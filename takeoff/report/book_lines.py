"""The sheet of a workbook with the bid itself: lines, sums, terms and the total, all live."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal
from typing import TYPE_CHECKING

from takeoff.bid_documents import LineRow
from takeoff.documents import BidDocument
from takeoff.pricing.lines import LineKind
from takeoff.report.bid_words import what_is_bid
from takeoff.report.book_cells import Column, Formula, Page, Row, Styled, cell, fixed, sum_of
from takeoff.report.book_hours import hours_basis
from takeoff.report.book_styles import Style
from takeoff.report.book_units import SheetUnits

if TYPE_CHECKING:
    from xlsxwriter.workbook import Workbook

SHEET = "Bid"
_TOP = 5
_QUANTITY, _UNIT, _PRICE, _AMOUNT, _MEASURED, _OF = range(1, 7)
_BOUGHT = frozenset({LineKind.MATERIAL, LineKind.ITEM})
_CHARGED = frozenset({LineKind.LABOUR, LineKind.RATE})
_MATERIAL_ONLY = "MATERIAL ONLY: no labour is priced, so this is not what the job comes to"
_SHORT = "CAUTION: packs no longer cover the order (see Materials). Bid again with takeoff."
_MISSING = "up to the minimum charge"
_REACHED = "minimum charge: nothing to add"
_SEE = "Notes and cautions on the last sheet belong to this bid."

Numbered = tuple[int, LineRow]


@dataclass(frozen=True, slots=True)
class Sources:
    """Where what a line is reckoned from stands.

    Parameters
    ----------
    inputs : mapping of int to str
        Cell of the price, or of the hours for each, of a line.
    packs : mapping of int to str
        Cell with the number of packs of a line of material.
    """

    inputs: Mapping[int, str]
    packs: Mapping[int, str]


@dataclass(frozen=True, slots=True)
class _Part:
    """Lines that are summed up together.

    Parameters
    ----------
    title, sum_words : str
        What stands above and beside the sum.
    top : int
        Row of its title, counted from 0.
    lines : sequence of tuple of int and LineRow
        Its lines, with their places in the bid.
    """

    title: str
    sum_words: str
    top: int
    lines: Sequence[Numbered]

    @property
    def sum_row(self) -> int:
        """Row of its sum."""
        return self.top + 1 + len(self.lines)

    @property
    def below(self) -> int:
        """The row below it and an empty one."""
        return self.sum_row + 2

    def rows(self, sources: Sources) -> Iterator[Row]:
        """Give its rows: title, lines, sum."""
        yield [Styled(self.title, Style.SECTION), *[None] * _OF]
        for row, (at, line) in enumerate(self.lines, start=self.top + 1):
            yield _line_cells(row, at, line, sources)
        total = _amount_of(line for _, line in self.lines)
        amount = sum_of(range(self.top + 1, self.sum_row), _AMOUNT, total)
        yield _sum_cells(self.sum_words, amount, Style.TOTAL_TEXT, Style.TOTAL_MONEY)


def write_lines(
    page: Page, workbook: Workbook, document: BidDocument, units: SheetUnits, sources: Sources
) -> None:
    """Write the bid.

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
    sources : Sources
        Where prices and packs stand.

    Examples
    --------
    >>> from takeoff.report.book_draft import drafted
    >>> with drafted() as draft:
    ...     write_lines(draft.page, draft.workbook, draft.document, draft.units, Sources({}, {}))
    >>> draft.workbook.defined_names[0][0]
    'material_total'
    """
    page = page.laid_out(34, 10, 20, 12, 13, 12, 20)
    _write_title(page, document)
    page.prose(2, what_is_bid(document, listed="on the sheet Pieces"))
    page.prose(3, Formula(f'=IF(material_short>0,"{_SHORT}","")', ""), Style.ALARM)
    page.paper(document, units.system, repeated=_TOP, wide=False)
    currency = document["currency"]
    columns: Sequence[Column] = (
        ("line", Style.TEXT),
        ("quantity", Style.QUANTITY),
        ("unit", Style.TEXT),
        (f"price, {currency}", Style.MONEY),
        (f"amount, {currency}", Style.MONEY),
        ("hours from", Style.QUANTITY),
        ("of", Style.QUIET),
    )
    page.head(_TOP, columns)
    lines = list(enumerate(document["lines"]))
    bought = [(at, line) for at, line in lines if line["kind"] in _BOUGHT]
    charged = [(at, line) for at, line in lines if line["kind"] in _CHARGED]
    material = _Part("material", "material in all", _TOP + 1, bought)
    workbook.define_name("material_total", f"={fixed(SHEET, material.sum_row, _AMOUNT)}")
    if document["total"] is None:
        only = [[*_only_cells(document)], [None] * (_OF + 1)]
        words = ("besides, not in the sum above", "besides in all")
        besides = _Part(*words, material.below + 2, charged)
        rows = [*only, *(besides.rows(sources) if charged else ())]
    else:
        words = ("work and charges", "work and charges in all")
        work = _Part(*words, material.below, charged)
        sums = [cell(part.sum_row, _AMOUNT) for part in (material, work)]
        terms = _term_rows(work.below, document, sums)
        rows = [*work.rows(sources), [None] * (_OF + 1), *terms]
        last = fixed(SHEET, work.below + len(terms) - 1, _AMOUNT)
        workbook.define_name("total", f"={last}")
    every = [*material.rows(sources), [None] * (_OF + 1), *rows]
    for row, entries in enumerate(every, start=_TOP + 1):
        page.row(row, columns, entries)
    _write_foot(page, document, _TOP + 2 + len(every))


def _write_title(page: Page, document: BidDocument) -> None:
    """Write the name of the job, its date, and whether only material is priced."""
    page.prose(0, document["job"], Style.TITLE)
    words = [f"Bid of {document['date']}"] if document["date"] else ["Bid"]
    if document["total"] is None:
        words.append(_MATERIAL_ONLY)
    page.prose(1, "; ".join(words), Style.BANNER)


def _amount_of(lines: Iterable[LineRow]) -> float:
    """Add up amounts as they are printed."""
    return float(sum((Decimal(line["amount"]) for line in lines), Decimal("0.00")))


def _sum_cells(words: str, amount: Formula, text: Style, money: Style) -> Row:
    """Give the cells of a sum, across all columns."""
    empty = Styled(None, text)
    return [Styled(words, text), empty, empty, empty, Styled(amount, money), empty, empty]


def _line_cells(row: int, at: int, line: LineRow, sources: Sources) -> Row:
    """Give the cells of one line: quantity times price, to the cent."""
    number = float(line["quantity"])
    quantity: float | Formula = number
    price = sources.inputs.get(at)
    measured: list[str | float | None] = [None, None]
    basis = hours_basis(line)
    if at in sources.packs:
        quantity = Formula(f"={sources.packs[at]}", number)
    elif basis is not None:
        # Rounded as the bid rounds hours: a millionth of one decides no half.
        reckoned = f"=ROUND({cell(row, _MEASURED)}*{price}+5E-7,3)"
        quantity, price = Formula(reckoned, number), "hour_price"
        measured = [float(basis.measured), basis.unit]
    return [
        line["what"],
        quantity,
        line["unit"],
        Formula(f"={price}", float(line["price"])),
        Formula(_amount(row), float(line["amount"])),
        *measured,
    ]


def _amount(row: int) -> str:
    """Quantity times price to the cent; a billionth, as some programs round the binary product."""
    return f"=ROUND({cell(row, _QUANTITY)}*{cell(row, _PRICE)}+1E-9,2)"


def _term_rows(top: int, document: BidDocument, sums: Sequence[str]) -> list[Row]:
    """Give markup, what is missing to the minimum charge, tax, total; each stays, be it nothing."""
    of_kind = {LineKind(line["kind"]): line for line in document["lines"]}
    before = [line for line in document["lines"] if line["kind"] in _BOUGHT | _CHARGED]
    cells = [*sums, *(cell(top + number, _AMOUNT) for number in range(3))]
    markup, minimum, tax = (
        [of_kind[kind]] if kind in of_kind else []
        for kind in (LineKind.MARKUP, LineKind.MINIMUM, LineKind.TAX)
    )
    lacks = _amount_of(minimum)
    above = "+".join(cells[:-2])
    price = Formula(f"=MAX(0,ROUND(minimum_charge-({above}),2))", lacks)
    missing = Formula(_amount(top + 1), lacks)
    total = Formula(f"={'+'.join(cells)}", float(document["total"] or 0))
    words = f"TOTAL {document['currency']}"
    return [
        _share_cells(top, "markup", markup, "+".join(cells[:-3]), _amount_of(before)),
        [_minimum_words(top + 1, lacks), 1, "job", price, missing, None, None],
        _share_cells(
            top + 2, "tax", tax, "+".join(cells[:-1]), _amount_of([*before, *markup, *minimum])
        ),
        _sum_cells(words, total, Style.GRAND_TEXT, Style.GRAND_MONEY),
    ]


def _minimum_words(row: int, lacks: float) -> Formula:
    """Say what is missing to the minimum charge, or that nothing is; it follows the figures."""
    words = f'=IF({cell(row, _AMOUNT)}>0,"{_MISSING}","{_REACHED}")'
    return Formula(words, _MISSING if lacks else _REACHED)


def _share_cells(
    row: int, name: str, lines: Sequence[LineRow], above: str, above_amount: float
) -> Row:
    """Give the cells of a share of the sum above; the input has the name of the line."""
    share = float(lines[0]["quantity"]) if lines else 0.0
    return [
        name,
        Styled(Formula(f"={name}", share), Style.SHARE),
        "of the sum above",
        Formula(f"={above}", above_amount),
        Formula(_amount(row), _amount_of(lines)),
        None,
        None,
    ]


def _only_cells(document: BidDocument) -> Row:
    """Give the cells of what the job comes to where only material is priced."""
    amount = Formula("=material_total", float(document["material_total"] or 0))
    words = f"MATERIAL ONLY {document['currency']}"
    return _sum_cells(words, amount, Style.GRAND_TEXT, Style.GRAND_MONEY)


def _write_foot(page: Page, document: BidDocument, row: int) -> None:
    """Write the range of the total, and where to read on."""
    ends = document["total_range"]
    if ends is not None and ends["low"] != ends["high"]:
        words = (
            f"As bid; with the thickness the total goes from {ends['low']} to {ends['high']} "
            f"{document['currency']}."
        )
        page.prose(row, words, Style.SECTION)
        row += 1
    page.prose(row, _SEE, Style.SECTION)
