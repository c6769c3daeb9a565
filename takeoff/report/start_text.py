"""A started job as text: what was written, what was found, and the edits left to make."""

from __future__ import annotations

import textwrap
from collections.abc import Sequence

from takeoff.documents import StartDocument
from takeoff.report.bid_words import counted
from takeoff.report.start_piece import drawn_text
from takeoff.report.toml_sheet import printable
from takeoff.start_documents import StartedDrawingRow, StartEditRow

_TAKEN = (
    "taken as they stand unless told: currency ¤, face coat 4 mm, no overspray, 1 pair of hands, "
    "no scale, a working day of 8 h, 1 of each piece"
)


def start_text(document: StartDocument, *, width: int = 0) -> str:
    """Write a started job as text.

    Parameters
    ----------
    document : StartDocument
        The document.
    width : int, default 0
        Width of the terminal; 0 for any.

    Returns
    -------
    str
        The text, without a line feed at the end.

    Examples
    --------
    >>> print(start_text({"schema": "takeoff.start/1", "version": "0", "settings": {}, "notes": [],
    ...     "errors": [], "files": ["job.toml", "shop.toml"], "pieces": [], "edits": []}))
    wrote job.toml and shop.toml
    <BLANKLINE>
    no edits left: takeoff bid job.toml
    """
    files, edits = document["files"], document["edits"]
    blocks = [["wrote " + " and ".join(map(printable, files))]]
    found = [_found_line(row) for row in document["pieces"]]
    blocks += [[_wrapped(line, width) for line in found]] if found else []
    head = _edits_head(edits, printable(files[0]))
    listed = [_edit_line(number, edit) for number, edit in enumerate(edits, 1)]
    blocks.append([head, *(_wrapped(line, width) for line in listed)])
    blocks += [[_wrapped(_TAKEN, width)]] if edits else []
    return "\n\n".join("\n".join(block) for block in blocks)


def left_out_lines(document: StartDocument) -> list[str]:
    """Name the drawings that could not be used, each with its reason.

    Parameters
    ----------
    document : StartDocument
        The document.

    Returns
    -------
    list of str
        A line for each.

    Examples
    --------
    >>> left_out_lines({"schema": "takeoff.start/1", "version": "0", "settings": {}, "notes": [],
    ...     "errors": [{"kind": "mesh", "text": "no facets", "file": "a.stl", "where": ""}],
    ...     "files": [], "pieces": [], "edits": []})
    ['left out: a.stl: no facets']
    """
    return [
        printable(f"left out: {error['file']}: {error['text']}") for error in document["errors"]
    ]


def _found_line(row: StartedDrawingRow) -> str:
    error = row["error"]
    found = drawn_text(row) if error is None else f"left out: {error['text']}"
    return printable(f"{row['file']}: {found}")


def _wrapped(line: str, width: int) -> str:
    if width <= 0:
        return line
    return textwrap.fill(
        line, width, subsequent_indent="  ", break_long_words=False, break_on_hyphens=False
    )


def _edits_head(edits: Sequence[StartEditRow], job: str) -> str:
    if not edits:
        return f"no edits left: takeoff bid {job}"
    values = sum(edit["marks"] for edit in edits)
    left = f"{counted(len(edits), 'edit', 'edits')}, {counted(values, 'value', 'values')}"
    return f"{left} left, then takeoff bid {job}:"


def _edit_line(number: int, edit: StartEditRow) -> str:
    lines = edit["last_line"] - edit["line"] + 1
    place = f"{printable(edit['file'])}:{edit['line']}"
    several = f" ({edit['marks']} values on {lines} lines)" if lines > 1 else ""
    return f"{number}. {place}: {edit['what']}{several}"
