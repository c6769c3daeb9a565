"""The sheets of a workbook about the pieces: areas, weights, forms; layers flat against true."""

from __future__ import annotations

import math
from collections.abc import Iterator

from takeoff.documents import BidDocument, BidPieceRow
from takeoff.report.bid_words import trade_word
from takeoff.report.book_cells import Column, Formula, Page, Row, Styled, cell, sum_of
from takeoff.report.book_styles import Style
from takeoff.report.book_units import SheetUnits

_TOP = 2
_COUNT, _FORMS, _CAST, _ALL_CAST, _WET, _ALL_WET = 1, 2, 6, 7, 8, 11
_THICKNESS, _AREA, _FLAT, _TRUE = 3, 4, 5, 6
_COLUMNS = 12
_WHY = (
    "Layers share what lies under an arris and need more at an inside corner, so area times "
    "thickness is not what a piece takes. Ordered is the true volume."
)


def write_pieces(page: Page, document: BidDocument, units: SheetUnits) -> None:
    """Write the pieces, what is cast besides, and the forms.

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
    ...     write_pieces(draft.page, draft.document, draft.units)
    >>> draft.page.sheet.dim_rowmax  # the last row that is written
    3
    """
    page = page.laid_out(26, 10, 9, 13, 13, 13, 14, 14, 12, 12, 12, 14)
    page.prose(0, "Pieces", Style.TITLE)
    page.paper(document, units.system, repeated=_TOP)
    row = _write_each(page, document, units)
    row = _write_besides(page, document, units, row + 1)
    _write_forms(page, document, units, row + 1)


def write_layers(page: Page, document: BidDocument, units: SheetUnits) -> None:
    """Write the layers of each piece, flat against true.

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
    ...     write_layers(draft.page, draft.document, draft.units)
    >>> draft.page.sheet.dim_rowmax  # the last row that is written
    2
    """
    page = page.laid_out(28, 14, 14, 14, 14, 18, 16, 20)
    page.prose(0, "Layers, flat against true", Style.TITLE)
    page.prose(1, _WHY)
    page.paper(document, units.system, repeated=_TOP)
    columns: tuple[Column, ...] = (
        ("each piece", Style.TEXT),
        ("layer", Style.TEXT),
        ("on", Style.TEXT),
        (f"thickness, {units.length}", Style.THIN),
        (f"area, {units.area}", Style.FINE),
        (f"area x thickness, {units.volume}", Style.FINE),
        (f"true volume, {units.volume}", Style.FINE),
        ("flat is too much by", Style.EXCESS),
    )
    page.head(_TOP, columns)
    row = _TOP + 1
    for piece in document["pieces"]:
        for entries in _layer_rows(row, piece, units):
            page.row(row, columns, entries)
            row += 1


def _write_each(page: Page, document: BidDocument, units: SheetUnits) -> int:
    """Write areas and weights of each piece, and of all castings; give the row below."""
    columns: tuple[Column, ...] = (
        ("each piece", Style.TEXT),
        ("castings", Style.COUNT),
        ("forms", Style.COUNT),
        (f"show face, {units.area}", Style.FINE),
        (f"return, {units.area}", Style.FINE),
        (f"upright, {units.area}", Style.FINE),
        (f"cast against the form, {units.area}", Style.FINE),
        (f"the same, all castings, {units.area}", Style.FINE),
        (f"wet, {units.mass}", Style.COARSE),
        (f"cured, {units.mass}", Style.COARSE),
        (f"as handled, {units.mass}", Style.COARSE),
        (f"wet, all castings, {units.mass}", Style.COARSE),
    )
    pieces = document["pieces"]
    rows = [_piece_cells(row, piece, units) for row, piece in enumerate(pieces, start=_TOP + 1)]
    last = page.table(_TOP, columns, rows)
    for column in range(_COLUMNS):
        page.put(last, column, None, Style.TOTAL_TEXT)
    page.put(last, 0, "all castings", Style.TOTAL_TEXT)
    cast_m2 = math.fsum(one["form_area_m2"] * one["count"] for one in pieces)
    wet_kg = math.fsum(one["wet_kg"] * one["count"] for one in pieces)
    sums = (
        (_COUNT, sum(one["count"] for one in pieces), Style.TOTAL_COUNT),
        (_FORMS, sum(one["forms"] for one in pieces), Style.TOTAL_COUNT),
        (_ALL_CAST, units.areas(cast_m2), Style.TOTAL_FINE),
        (_ALL_WET, units.masses(wet_kg), Style.TOTAL_COARSE),
    )
    for column, total, style in sums:
        page.put(last, column, sum_of(range(_TOP + 1, last), column, total), style)
    row = last + 1
    for words in dict.fromkeys(f"cured: {piece['cured_basis']}" for piece in pieces):
        page.prose(row, words)
        row += 1
    return row


def _piece_cells(row: int, piece: BidPieceRow, units: SheetUnits) -> Row:
    count, cast_m2, wet_kg = piece["count"], piece["form_area_m2"], piece["wet_kg"]
    all_cast = f"={cell(row, _COUNT)}*{cell(row, _CAST)}"
    all_wet = f"={cell(row, _COUNT)}*{cell(row, _WET)}"
    return [
        piece["name"],
        count,
        piece["forms"],
        units.areas(piece["area_m2"]["show_face"]),
        units.areas(piece["area_m2"]["return"]),
        units.areas(piece["area_m2"]["upright"]),
        units.areas(cast_m2),
        Formula(all_cast, units.areas(count * cast_m2)),
        units.masses(wet_kg),
        units.masses(piece["cured_kg"]),
        units.masses(piece["handling_kg"]),
        Formula(all_wet, units.masses(count * wet_kg)),
    ]


def _layer_rows(top: int, piece: BidPieceRow, units: SheetUnits) -> Iterator[Row]:
    """Give a row for each layer on each class, and their sum."""
    layers = piece["layers"]
    for row, layer in enumerate(layers, start=top):
        flat_m3 = layer["area_m2"] * layer["thickness_m"]
        flat = f"={cell(row, _THICKNESS)}*{cell(row, _AREA)}{units.flat}"
        yield [
            piece["name"],
            trade_word(layer["layer"]),
            trade_word(layer["class"]),
            units.lengths(layer["thickness_m"]),
            units.areas(layer["area_m2"]),
            Formula(flat, units.volumes(flat_m3)),
            units.volumes(layer["volume_m3"]),
            _too_much(row, flat_m3, layer["volume_m3"]),
        ]
    if layers:
        last = top + len(layers)
        flat_m3 = math.fsum(one["area_m2"] * one["thickness_m"] for one in layers)
        true_m3 = math.fsum(one["volume_m3"] for one in layers)
        empty = Styled(None, Style.TOTAL_TEXT)
        flat_sum = sum_of(range(top, last), _FLAT, units.volumes(flat_m3))
        true_sum = sum_of(range(top, last), _TRUE, units.volumes(true_m3))
        yield [
            Styled(piece["name"], Style.TOTAL_TEXT),
            Styled("both layers", Style.TOTAL_TEXT),
            empty,
            empty,
            empty,
            Styled(flat_sum, Style.TOTAL_FINE),
            Styled(true_sum, Style.TOTAL_FINE),
            Styled(_too_much(last, flat_m3, true_m3), Style.TOTAL_EXCESS),
        ]


def _too_much(row: int, flat_m3: float, true_m3: float) -> Formula:
    """Give the share by which area times thickness is above the true volume."""
    flat, true = cell(row, _FLAT), cell(row, _TRUE)
    share = flat_m3 / true_m3 - 1.0 if true_m3 > 0.0 else 0.0
    return Formula(f"=IF({true}>0,{flat}/{true}-1,0)", share)


def _write_besides(page: Page, document: BidDocument, units: SheetUnits, row: int) -> int:
    """List samples and test boards; give the row below."""
    if not document["cast_besides"]:
        return row
    columns: tuple[Column, ...] = (
        ("cast besides", Style.TEXT),
        ("castings", Style.COUNT),
        (f"wet, {units.mass}", Style.COARSE),
        (f"wet, all, {units.mass}", Style.COARSE),
    )
    rows: list[Row] = [
        [
            one["name"],
            one["count"],
            units.masses(one["wet_kg"]),
            Formula(f"={cell(at, 1)}*{cell(at, 2)}", units.masses(one["count"] * one["wet_kg"])),
        ]
        for at, one in enumerate(document["cast_besides"], start=row + 1)
    ]
    return page.table(row, columns, rows) + 1


def _write_forms(page: Page, document: BidDocument, units: SheetUnits, row: int) -> None:
    """Write what the forms take."""
    work = document["form_work"]
    if work is None:
        return
    columns: tuple[Column, ...] = (
        ("forms", Style.TEXT),
        ("how much", Style.QUANTITY),
        ("unit", Style.TEXT),
    )
    area, run = units.area, units.run
    rows: list[Row] = [
        ["forms", Styled(work["forms"], Style.COUNT), "each"],
        ["area of the forms", Styled(units.areas(work["form_m2"]), Style.FINE), area],
        ["inner forms", Styled(units.areas(work["inner_form_m2"]), Style.FINE), area],
        ["sealant bead", Styled(units.runs(work["bead_m"]), Style.FINE), run],
        ["release, every casting", Styled(units.areas(work["release_m2"]), Style.FINE), area],
        ["sealer, every casting", Styled(units.areas(work["sealer_m2"]), Style.FINE), area],
    ]
    page.table(row, columns, rows)
