"""Plain tables for a terminal."""

from __future__ import annotations

from collections.abc import Sequence
from unicodedata import category, east_asian_width

_NARROW = 60
# Values of the Unicode character database (annex 11, East Asian Width).
_WIDE = frozenset({"F", "W"})
_NO_WIDTH = frozenset({"Mn", "Me", "Cf"})
_JOINERS = "\u200c\u200d"  # belong to words of many scripts, and to pictures made of several


def plain_table(
    head: Sequence[str], rows: Sequence[Sequence[str]], *, right: Sequence[int] = (), width: int = 0
) -> str:
    """Set rows in columns.

    Parameters
    ----------
    head : sequence of str
        Name of each column.
    rows : sequence of sequence of str
        Cells of each row.
    right : sequence of int, optional
        Columns set flush right, counted from 0.
    width : int, default 0
        Width of the terminal; below 60 columns each row becomes a block of its own. 0 for
        any width.

    Returns
    -------
    str
        The table, without a line feed at the end.

    Examples
    --------
    >>> print(plain_table(["surface", "m²"], [["F1", "1.50"], ["R1", "0.06"]], right=[1]))
    surface    m²
    F1       1.50
    R1       0.06
    """
    if 0 < width < _NARROW:
        return "\n\n".join(
            "\n".join(f"{name}: {cell}" for name, cell in zip(head, row, strict=True))
            for row in rows
        )
    lines = [list(head), *([_printed(cell) for cell in row] for row in rows)]
    wide = [max(_columns(line[column]) for line in lines) for column in range(len(head))]
    return "\n".join(
        "  ".join(
            _filled(cell, wide[column], right=column in right) for column, cell in enumerate(line)
        ).rstrip()
        for line in lines
    )


def _filled(cell: str, wide: int, *, right: bool) -> str:
    """Fill a cell up to the width of its column."""
    room = " " * (wide - _columns(cell))
    return room + cell if right else cell + room


def _columns(cell: str) -> int:
    """Count the columns of a terminal that a cell takes: two for what is as wide as Chinese."""
    if cell.isascii():
        return len(cell)
    return sum(
        0 if category(sign) in _NO_WIDTH else 2 if east_asian_width(sign) in _WIDE else 1
        for sign in cell
    )


def _printed(cell: str) -> str:
    """Keep line feeds and escapes of names in drawings out of the terminal."""
    return "".join(sign if sign.isprintable() or sign in _JOINERS else "?" for sign in cell)
