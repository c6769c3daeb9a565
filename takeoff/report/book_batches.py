"""The sheets of a workbook about the batches: how many, what goes in, the clock of the pour."""

from __future__ import annotations

import math

from takeoff.documents import BatchDocument, BatchPart, BidDocument, LotRow
from takeoff.pour_documents import PouredBatchRow
from takeoff.report.bid_words import bound_words, trade_word
from takeoff.report.book_cells import Column, Formula, Page, Row, cell, sum_of
from takeoff.report.book_styles import Style
from takeoff.report.book_units import SheetUnits
from takeoff.report.mixing_words import mixing_turn, mixing_words
from takeoff.report.pour_clock import batch_clocks
from takeoff.report.pour_words import (
    day_heading,
    placers_of,
    places_words,
    pour_summary,
    sureness_lines,
)
from takeoff.report.sheet_words import hands_words

_TOP = 2
_BATCHES, _EACH, _ALL = 3, 4, 6
_WIDTH = 12  # columns of the lots
_AS_BID = "As bid: extra loss and changed prices do not change it."


def write_batches(page: Page, document: BidDocument, units: SheetUnits) -> None:
    """Write how many batches of what, and the mixers.

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
    ...     write_batches(draft.page, draft.document, draft.units)
    >>> draft.page.sheet.dim_rowmax  # the last row that is written
    1
    """
    page = page.laid_out(24, 12, 17, 10, 13, 12, 14, 12, 11, 12, 13, 44)
    page.prose(0, "Batches", Style.TITLE)
    page.prose(1, _AS_BID)
    page.paper(document, units.system, repeated=_TOP)
    if document["batch"] is not None:
        row = _write_lots(page, document["batch"], units)
        _write_mixers(page, document["batch"], units, row + 1)


def write_weighing(page: Page, document: BidDocument, units: SheetUnits) -> None:
    """Write what goes into the mixer, in order.

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
    ...     write_weighing(draft.page, draft.document, draft.units)
    >>> draft.page.sheet.dim_rowmax  # the last row that is written
    2
    """
    page = page.laid_out(26, 24, 20, 10, 16, 18, 52)
    page.prose(0, "What goes into the mixer, in order", Style.TITLE)
    page.prose(1, _AS_BID)
    page.paper(document, units.system, repeated=_TOP)
    columns: tuple[Column, ...] = (
        ("ingredient", Style.TEXT),
        ("mix", Style.TEXT),
        ("mixer", Style.TEXT),
        ("batches", Style.COUNT),
        (f"one batch, {units.mass}", Style.FINE),
        (f"all batches, {units.mass}", Style.FINE),
        ("when", Style.QUIET),
    )
    rows: list[Row] = []
    for lot in [] if document["batch"] is None else document["batch"]["lots"]:
        rows += _filling_rows(_TOP + 1 + len(rows), lot, units)
    page.table(_TOP, columns, rows)


def write_pour(page: Page, document: BidDocument, pour: BatchDocument, units: SheetUnits) -> None:
    """Write the clock of each day, or why there is no plan.

    Parameters
    ----------
    page : Page
        The sheet.
    document : BidDocument
        The document, not refused.
    pour : BatchDocument
        Its pour day.
    units : SheetUnits
        Units of the workbook.

    Examples
    --------
    >>> from takeoff.errors import PriceError
    >>> from takeoff.job.day_plan import refused_plan
    >>> from takeoff.report.book_draft import drafted
    >>> pour = refused_plan("hall.toml", PriceError("no rate"))
    >>> with drafted() as draft:
    ...     write_pour(draft.page, draft.document, pour, draft.units)
    >>> draft.page.sheet.dim_rowmax  # the last row that is written
    2
    """
    page = page.laid_out(8, 24, 12, 17, 11, 11, 9, 9, 9, 9, 11, 52)
    page.prose(0, "Pour day", Style.TITLE)
    page.prose(1, "Hours and minutes from the start of the day.")
    page.paper(document, units.system, repeated=_TOP)
    columns: tuple[Column, ...] = (
        ("batch", Style.TEXT),
        ("mix", Style.TEXT),
        ("layer", Style.TEXT),
        ("mixer", Style.TEXT),
        (f"mixed, {units.mass}", Style.COARSE),
        (f"mixed, {units.volume}", Style.COARSE),
        ("mix at", Style.CLOCK),
        ("place at", Style.CLOCK),
        ("use by", Style.CLOCK),
        ("mixes", Style.TEXT),
        ("places", Style.TEXT),
        ("where", Style.TEXT),
    )
    page.head(_TOP, columns)
    row = _TOP + 1
    for day in pour["days"]:
        page.prose(row, day_heading(day), Style.SECTION)
        for number, batch in enumerate(day["batches"], start=row + 1):
            page.row(number, columns, _batch_cells(batch, units))
        row += 2 + len(day["batches"])
    said = pour_summary(pour, units.system)
    for number, words in enumerate((*said, *sureness_lines(pour)), start=row):
        page.prose(number, words)


def _write_lots(page: Page, batch: BatchPart, units: SheetUnits) -> int:
    """Write how many batches of what, and where it goes; give the row below."""
    mass = units.mass
    columns: tuple[Column, ...] = (
        ("mix", Style.TEXT),
        ("layer", Style.TEXT),
        ("mixer", Style.TEXT),
        ("batches", Style.COUNT),
        (f"one batch, {mass}", Style.COARSE),
        (f"one batch, {units.volume}", Style.COARSE),
        (f"all batches, {mass}", Style.COARSE),
        (f"placed, {mass}", Style.COARSE),
        (f"lost, {mass}", Style.COARSE),
        (f"residue, {mass}", Style.COARSE),
        (f"left over, {mass}", Style.COARSE),
        ("why no other size", Style.QUIET),
    )
    lots = batch["lots"]
    rows = [_lot_cells(row, lot, units) for row, lot in enumerate(lots, start=_TOP + 1)]
    last = page.table(_TOP, columns, rows)
    for column in range(_WIDTH):
        page.put(last, column, None, Style.TOTAL_TEXT)
    page.put(last, 0, "all mixes", Style.TOTAL_TEXT)
    counted = sum_of(range(_TOP + 1, last), _BATCHES, batch["batch_count"])
    page.put(last, _BATCHES, counted, Style.TOTAL_COUNT)
    sums_kg = (
        math.fsum(lot["batch_count"] * lot["mass_kg"] for lot in lots),
        math.fsum(lot["placed_kg"] for lot in lots),
        math.fsum(lot["loss_kg"] for lot in lots),
        math.fsum(lot["residue_kg"] for lot in lots),
        math.fsum(lot["leftover_kg"] for lot in lots),
    )
    for column, sum_kg in enumerate(sums_kg, start=_ALL):
        total = sum_of(range(_TOP + 1, last), column, units.masses(sum_kg))
        page.put(last, column, total, Style.TOTAL_COARSE)
    return last + 1


def _lot_cells(row: int, lot: LotRow, units: SheetUnits) -> Row:
    """Give the cells of the batches of one mix."""
    every = f"={cell(row, _BATCHES)}*{cell(row, _EACH)}"
    return [
        lot["mix"],
        trade_word(lot["layer"]),
        lot["mixer"],
        lot["batch_count"],
        units.masses(lot["mass_kg"]),
        units.volumes(lot["volume_m3"]),
        Formula(every, units.masses(lot["batch_count"] * lot["mass_kg"])),
        units.masses(lot["placed_kg"]),
        units.masses(lot["loss_kg"]),
        units.masses(lot["residue_kg"]),
        units.masses(lot["leftover_kg"]),
        _why(lot["bound"], lot["pot_life_s"]),
    ]


def _filling_rows(first: int, lot: LotRow, units: SheetUnits) -> list[Row]:
    """Give what goes into one batch, the mixing and the rest in their place."""
    turn = mixing_turn(lot["ingredients"])
    rows: list[Row] = []
    for number, line in enumerate(lot["ingredients"]):
        row = first + number + (1 if lot["mixing"] and number >= turn else 0)
        every = Formula(
            f"={cell(row, _BATCHES)}*{cell(row, _EACH)}",
            units.masses(lot["batch_count"] * line["mass_kg"]),
        )
        batches = (lot["mix"], lot["mixer"], lot["batch_count"])
        rows.append([line["name"], *batches, units.masses(line["mass_kg"]), every, line["when"]])
    if lot["mixing"]:
        words = mixing_words(lot["mixing"])
        rows.insert(turn, ["", lot["mix"], lot["mixer"], lot["batch_count"], None, None, words])
    return rows


def _why(bound: str, pot_life_s: float | None) -> str:
    """Say what bounds a batch, and its pot life where one is told."""
    if pot_life_s is None:
        return f"{bound_words(bound)}; pot life not told"
    return f"{bound_words(bound)}; pot life {pot_life_s / 60.0:.4g} min"


def _write_mixers(page: Page, batch: BatchPart, units: SheetUnits, row: int) -> None:
    """Write what the mixers hold."""
    columns: tuple[Column, ...] = (
        ("mixer", Style.TEXT),
        (f"works at once, {units.volume}", Style.COARSE),
        (f"residue, {units.mass}", Style.COARSE),
    )
    rows: list[Row] = [
        [one["name"], units.volumes(one["capacity_m3"]), units.masses(one["residue_kg"])]
        for one in batch["mixers"]
    ]
    page.table(row, columns, rows)


def _batch_cells(batch: PouredBatchRow, units: SheetUnits) -> Row:
    """Give the cells of one batch."""
    return [
        batch["id"],
        f"{batch['mix']} {batch['colour']}".strip(),
        trade_word(batch["layer"]),
        batch["mixer"],
        units.masses(batch["mass_kg"]),
        units.volumes(batch["volume_m3"]),
        *batch_clocks(batch),
        hands_words([batch["mixed_by"]]),
        placers_of(batch),
        places_words(batch, units.system),
    ]
