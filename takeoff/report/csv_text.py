"""Rows as CSV that spreadsheets open as they are, and that cannot run as formulas."""

from __future__ import annotations

import csv
import io
from collections.abc import Mapping, Sequence

Cell = str | int | float | None


def csv_bytes(rows: Sequence[Mapping[str, Cell]], *, columns: Sequence[str] = ()) -> bytes:
    """Write rows as the bytes of a CSV file.

    Parameters
    ----------
    rows : sequence of mapping
        Rows of the same keys; units stand in the keys.
    columns : sequence of str, optional
        Columns to write where there are no rows to take them from.

    Returns
    -------
    bytes
        UTF-8 with a byte order mark, decimal points, an empty cell for None. Text that a
        spreadsheet would take for a formula is put behind an apostrophe.

    Examples
    --------
    >>> csv_bytes([{"piece": "=1+1", "area_m2": 0.5}]).decode("utf-8-sig").splitlines()
    ['piece,area_m2', "'=1+1,0.5"]
    """
    names = list(columns) or (list(rows[0]) if rows else [])
    text = io.StringIO()
    writer = csv.writer(text, lineterminator="\r\n")
    writer.writerow(names)
    writer.writerows([_cell(row[name]) for name in names] for row in rows)
    return b"\xef\xbb\xbf" + text.getvalue().encode("utf-8", errors="replace")


def _cell(value: Cell) -> str:
    if value is None:
        return ""
    if isinstance(value, float):
        return f"{value:.12g}"
    if isinstance(value, str) and value.lstrip().startswith(("=", "+", "-", "@")):
        return f"'{value}"
    return str(value)
