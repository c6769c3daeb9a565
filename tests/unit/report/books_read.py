"""Workbooks read back: cached values, formulas, names."""

import io
import re

import openpyxl

FUNCTIONS = re.compile(r"([A-Z]+)\(")


def values(content):
    """Every cached value by sheet and cell."""
    return {at: cell.value for at, cell in _cells(content, data_only=True)}


def formulas(content):
    """Every formula by sheet and cell."""
    cells = _cells(content, data_only=False)
    return {at: cell.value for at, cell in cells if cell.data_type == "f"}


def _cells(content, *, data_only):
    book = openpyxl.load_workbook(io.BytesIO(content), data_only=data_only)
    for sheet in book:
        for row in sheet.iter_rows():
            for cell in row:
                if cell.value is not None:
                    yield (sheet.title, cell.coordinate), cell


def names(content):
    """Every defined name, and the cell it stands for."""
    book = openpyxl.load_workbook(io.BytesIO(content))
    places = {name: one.attr_text.split("!") for name, one in book.defined_names.items()}
    return {name: (sheet, cell.replace("$", "")) for name, (sheet, cell) in places.items()}


def row_of(cells, sheet, text, **also):
    """The first row of a sheet that begins with a text, as a mapping of column to value.

    ``also`` names what stands in other columns of it.
    """
    rows = {}
    for (title, at), value in cells.items():
        if title == sheet:
            column, row = re.fullmatch(r"([A-Z]+)([0-9]+)", at).groups()
            rows.setdefault(int(row), {})[column] = value
    wanted = {"A": text, **also}
    return next(
        row
        for _, row in sorted(rows.items())
        if all(row.get(column) == value for column, value in wanted.items())
    )
