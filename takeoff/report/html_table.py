"""Rows as a small HTML table for notebooks."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from html import escape

_SHOWN = 20


def html_table(rows: Sequence[Mapping[str, str | int | float | None]]) -> str:
    """Write the first rows as an HTML table.

    Parameters
    ----------
    rows : sequence of mapping
        Rows of the same keys.

    Returns
    -------
    str
        A table of at most 20 rows, every text escaped.

    Examples
    --------
    >>> html_table([{"piece": "<b>", "area_m2": 0.5}])
    '<table><tr><th>piece</th><th>area_m2</th></tr><tr><td>&lt;b&gt;</td><td>0.5</td></tr></table>'
    """
    if not rows:
        return "<p>nothing to show</p>"
    head = "".join(f"<th>{escape(name)}</th>" for name in rows[0])
    lines = ["".join(f"<td>{_cell(value)}</td>" for value in row.values()) for row in rows[:_SHOWN]]
    body = "".join(f"<tr>{line}</tr>" for line in lines)
    more = f"<p>and {len(rows) - _SHOWN} more</p>" if len(rows) > _SHOWN else ""
    return f"<table><tr>{head}</tr>{body}</table>{more}"


def _cell(value: str | float | None) -> str:
    if value is None:
        return ""
    return f"{value:.6g}" if isinstance(value, float) else escape(str(value))
