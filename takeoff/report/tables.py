"""Plain tables for a terminal."""

from __future__ import annotations

from collections.abc import Sequence

_NARROW = 60


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
    wide = [max(len(line[column]) for line in lines) for column in range(len(head))]
    return "\n".join(
        "  ".join(
            cell.rjust(wide[column]) if column in right else cell.ljust(wide[column])
            for column, cell in enumerate(line)
        ).rstrip()
        for line in lines
    )


def _printed(cell: str) -> str:
    """Keep line feeds and escapes of names in drawings out of the terminal."""
    return "".join(sign if sign.isprintable() else "?" for sign in cell)
