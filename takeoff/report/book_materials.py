"""The sheet of a workbook with the materials: net, lost, ordered, from stock, in packs, cost."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from takeoff.bid_documents import BoughtRow, MaterialRow
from takeoff.documents import BidDocument
from takeoff.pricing.lines import LineKind
from takeoff.report.book_cells import Column, Formula, Page, Row, Styled, cell, fixed, sum_of
from takeoff.report.book_styles import Style
from takeoff.report.book_units import SheetUnits
from takeoff.report.figures import written_mass

if TYPE_CHECKING:
    from xlsxwriter.workbook import Workbook

SHEET = "Materials"
_TOP = 3
_NET, _LOST, _EXTRA, _ORDER, _STOCK, _STILL = range(1, 7)
_PACK, _SIZE, _PACKS, _PRICE, _COST, _OVER, _SHORT, _HOW = range(7, 15)
_SUMMED = (_NET, _LOST, _EXTRA, _ORDER, _STOCK, _STILL, _SHORT)
_WORDS = (
    "Packs are counted here where a material is sold in one size. The least-cost choice among "
    "several sizes, and what is in stock, are chosen by takeoff and stay as bid; the column "
    "'short' says where they no longer cover the order."
)


@dataclass(frozen=True, slots=True)
class _Block:
    """The rows of one material.

    Parameters
    ----------
    material : MaterialRow
        The material.
    top : int
        Its first row, counted from 0.
    units : SheetUnits
        Units of the workbook.
    prices : tuple of str
        Cells with the price of each size bought.
    """

    material: MaterialRow
    top: int
    units: SheetUnits
    prices: tuple[str, ...]

    @property
    def is_counted(self) -> bool:
        """Whether packs can be counted by a formula: one size, and all usable stock drawn."""
        return len(self.material["sold_in"]) == 1 and len(self.material["bought"]) == 1

    @property
    def is_bought(self) -> bool:
        """Whether it is bought at all, which water from the tap is not."""
        return self.material["cost"] is not None

    def at(self, column: int, row: int = 0) -> str:
        """Name a cell of the block."""
        return cell(self.top + row, column)

    def rows(self) -> Iterator[Row]:
        """Give the rows: the first with the order, one for each size of pack."""
        bought = self.material["bought"]
        for number in range(max(1, len(bought))):
            order = self._order() if number == 0 else [""] + [None] * _STILL
            packs = self._packs(number, bought[number]) if bought else [None] * 5
            ends = self._ends() if number == 0 else [None, None, None]
            yield [*order, *packs, *ends]

    def _order(self) -> list[str | float | Formula | None]:
        """Give name, net, lost, extra, order, stock and what is still to be bought."""
        material, masses = self.material, self.units.masses
        sums = f"={self.at(_NET)}+{self.at(_LOST)}+{self.at(_EXTRA)}"
        extra = f"=({self.at(_NET)}+{self.at(_LOST)})*extra_loss"
        drawn_kg = math.fsum(one["mass_kg"] for one in material["from_stock"])
        still_kg = max(0.0, material["order_kg"] - drawn_kg) if material["bought"] else 0.0
        still = Formula(f"=MAX(0,{self.at(_ORDER)}-{self.at(_STOCK)})", masses(still_kg))
        return [
            material["ingredient"],
            masses(material["net_kg"]),
            masses(material["loss_kg"]),
            Formula(extra, 0.0),
            Formula(sums, masses(material["order_kg"])),
            masses(drawn_kg) if drawn_kg else None,
            still if self.is_bought else None,
        ]

    def _packs(self, number: int, bought: BoughtRow) -> list[str | float | Formula | None]:
        """Give pack, its size, how many, price and cost."""
        size, packs = self.at(_SIZE, number), bought["packs"]
        needed = f"=MAX(0,ROUNDUP({self.at(_STILL)}/{size}-1E-9,0))"
        cost = f"=ROUND({self.at(_PACKS, number)}*{self.at(_PRICE, number)}+1E-9,2)"
        return [
            bought["pack"],
            self.units.masses(self._pack_kg(bought["pack"])),
            Formula(needed, packs) if self.is_counted else packs,
            Formula(f"={self.prices[number]}", float(bought["price"])),
            Formula(cost, float(bought["cost"])),
        ]

    def _pack_kg(self, pack: str) -> float:
        return next(one["pack_kg"] for one in self.material["sold_in"] if one["pack"] == pack)

    def _ends(self) -> list[str | float | Formula | Styled | None]:
        """Give what is left over, what is short, and how it was counted."""
        if not self.is_bought:
            return [None, None, "not bought"]
        sizes = range(len(self.material["bought"]))
        held = [f"{self.at(_PACKS, one)}*{self.at(_SIZE, one)}" for one in sizes]
        bought, still = "+".join(held) or "0", self.at(_STILL)
        least = self.at(_SIZE) if held else self.at(_ORDER)
        over = Formula(
            f"=MAX(0,{bought}-{still})", self.units.masses(self.material["left_over_kg"])
        )
        missing = f"{still}-({bought})"
        short = Formula(f"=IF({missing}>1E-9*{least},{missing},0)", 0.0)
        return [over, short, self._how()]

    def _how(self) -> str:
        """Say how the packs were counted."""
        material = self.material
        sizes = ", ".join(one["pack"] for one in material["sold_in"])
        if not material["bought"]:
            words = ["all from stock" if material["from_stock"] else "nothing to buy"]
        elif self.is_counted:
            words = ["counted here, rounded up"]
        else:
            words = [f"as bid: cheapest of {sizes}"]
        lots = [
            f"{written_mass(one['mass_kg'], self.units.system)} in stock"
            + (f", lot {one['lot']}" if one["lot"] else "")
            for one in material["from_stock"]
        ]
        return "; ".join([*words, *lots])


def write_materials(
    page: Page,
    workbook: Workbook,
    document: BidDocument,
    units: SheetUnits,
    prices: Mapping[int, str],
) -> dict[int, str]:
    """Write the materials.

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
    prices : mapping of int to str
        Cell of the price of each line of the bid.

    Returns
    -------
    dict of int to str
        The cell with the number of packs of each line of material.

    Examples
    --------
    >>> from takeoff.report.book_draft import drafted
    >>> with drafted() as draft:
    ...     packs = write_materials(draft.page, draft.workbook, draft.document, draft.units, {})
    >>> packs, draft.workbook.defined_names[0][0]
    ({}, 'material_short')
    """
    page = page.laid_out(22, 10, 9, 9, 10, 10, 10, 11, 9, 8, 10, 11, 10, 9, 30)
    page.prose(0, "Materials", Style.TITLE)
    page.prose(1, _WORDS)
    page.paper(document, units.system, repeated=_TOP)
    columns = _columns(document["currency"], units)
    page.head(_TOP, columns)
    lines = (at for at, line in enumerate(document["lines"]) if line["kind"] == LineKind.MATERIAL)
    packs: dict[int, str] = {}
    row = _TOP + 1
    for material in document["materials"]:
        mine = [next(lines) for _ in material["bought"]]
        block = _Block(material, row, units, tuple(prices[at] for at in mine))
        for number, entries in enumerate(block.rows()):
            page.row(row + number, columns, entries)
        packs |= {at: fixed(SHEET, row + number, _PACKS) for number, at in enumerate(mine)}
        row += max(1, len(mine))
    _write_sums(page, document, units, range(_TOP + 1, row))
    workbook.define_name("material_short", f"={fixed(SHEET, row, _SHORT)}")
    shorts = {
        "type": "formula",
        "criteria": f"=${cell(_TOP + 1, _SHORT)}>0",
        "format": page.styles[Style.ALARM, False],
    }
    page.sheet.conditional_format(_TOP + 1, _SHORT, row, _SHORT, shorts)
    _write_besides(page, document, units, row + 2)
    return packs


def _columns(currency: str, units: SheetUnits) -> Sequence[Column]:
    mass = units.mass
    return (
        ("material", Style.TEXT),
        (f"in the pieces, {mass}", Style.COARSE),
        (f"lost, {mass}", Style.COARSE),
        (f"extra loss, {mass}", Style.COARSE),
        (f"order, {mass}", Style.COARSE),
        (f"from stock, {mass}", Style.COARSE),
        (f"to buy, {mass}", Style.COARSE),
        ("pack", Style.TEXT),
        (f"in a pack, {mass}", Style.COARSE),
        ("packs", Style.COUNT),
        (f"price, {currency}", Style.MONEY),
        (f"cost, {currency}", Style.MONEY),
        (f"left over, {mass}", Style.COARSE),
        (f"short, {mass}", Style.COARSE),
        ("how counted", Style.QUIET),
    )


def _write_sums(page: Page, document: BidDocument, units: SheetUnits, rows: range) -> None:
    """Add up the columns."""
    last = rows.stop
    for column in range(_HOW + 1):
        page.put(last, column, None, Style.TOTAL_TEXT)
    page.put(last, 0, "all materials", Style.TOTAL_TEXT)
    materials = document["materials"]
    drawn_kg = {
        one["ingredient"]: math.fsum(lot["mass_kg"] for lot in one["from_stock"])
        for one in materials
    }
    sums_kg = {
        _NET: math.fsum(one["net_kg"] for one in materials),
        _LOST: math.fsum(one["loss_kg"] for one in materials),
        _EXTRA: 0.0,
        _ORDER: math.fsum(one["order_kg"] for one in materials),
        _STOCK: math.fsum(drawn_kg.values()),
        _STILL: math.fsum(
            max(0.0, one["order_kg"] - drawn_kg[one["ingredient"]])
            for one in materials
            if one["bought"]
        ),
        _SHORT: 0.0,
    }
    for column in _SUMMED:
        total = sum_of(rows, column, units.masses(sums_kg[column]))
        page.put(last, column, total, Style.TOTAL_COARSE)
    cost = math.fsum(float(one["cost"] or 0) for one in materials)
    page.put(last, _COST, sum_of(rows, _COST, cost), Style.TOTAL_MONEY)


def _write_besides(page: Page, document: BidDocument, units: SheetUnits, row: int) -> None:
    """List the order at the ends of the thickness, and stock that is not used."""
    masses, materials = units.masses, document["materials"]
    ranged = [
        one for one in materials if one["order_range_kg"]["low"] != one["order_range_kg"]["high"]
    ]
    if ranged:
        columns: tuple[Column, ...] = (
            ("order with the thickness, as bid", Style.TEXT),
            (f"least, {units.mass}", Style.COARSE),
            (f"aimed, {units.mass}", Style.COARSE),
            (f"most, {units.mass}", Style.COARSE),
        )
        ends = (one["order_range_kg"] for one in ranged)
        rows: list[Row] = [
            [one["ingredient"], masses(end["low"]), masses(end["aimed"]), masses(end["high"])]
            for one, end in zip(ranged, ends, strict=True)
        ]
        row = page.table(row, columns, rows) + 1
    passed = [(one, stock) for one in materials for stock in one["stock_passed_over"]]
    if passed:
        columns = (
            ("stock not used", Style.TEXT),
            (f"holds, {units.mass}", Style.COARSE),
            ("lot", Style.TEXT),
        )
        page.table(
            row,
            columns,
            [
                [one["ingredient"], masses(stock["mass_kg"]), stock["lot"] or "-"]
                for one, stock in passed
            ],
        )
        for number, (_, stock) in enumerate(passed, start=row + 1):
            page.prose(number, stock["why"], first=3)
