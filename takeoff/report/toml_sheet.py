"""A commented TOML file as lines: entries, their comments, and the marks left in it to edit."""

from __future__ import annotations

import itertools
import textwrap
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from takeoff.start_documents import EDIT_MARK, StartEditRow

_WIDTH = 100
_ESCAPED = {'"': '\\"', "\\": "\\\\", "\n": "\\n", "\t": "\\t", "\r": "\\r"}


@dataclass(frozen=True, slots=True)
class SheetLine:
    """One line of a file.

    Parameters
    ----------
    code : str, default ""
        What a reader of TOML sees; behind a ``#`` where it is off.
    comment : str, default ""
        What only people see.
    asks : str, default ""
        What is asked for, where the line belongs to an edit that is left to make.
    off : bool, default False
        Whether the entry is commented out, to be taken in by taking the ``#`` away.
    """

    code: str = ""
    comment: str = ""
    asks: str = ""
    off: bool = False

    @property
    def marks(self) -> int:
        """How many values are left to tell.

        Examples
        --------
        >>> SheetLine('unit = "?"').marks, SheetLine('unit = "?"', off=True).marks
        (1, 0)
        """
        return 0 if self.off else self.code.count(f'"{EDIT_MARK}"')

    @property
    def entry(self) -> str:
        """The entry, commented out where it is off.

        Examples
        --------
        >>> SheetLine("count = 1", off=True).entry
        '#count = 1'
        """
        return f"#{self.code}" if self.off else self.code


def entry(key: str, value: str, comment: str = "", *, asks: str = "") -> SheetLine:
    r"""Make the line of an entry that is text.

    Parameters
    ----------
    key : str
        Its key.
    value : str
        The text as it is meant.
    comment : str, default ""
        What is said beside it.
    asks : str, default ""
        What is asked for, where the value is a mark.

    Returns
    -------
    SheetLine
        The line.

    Examples
    --------
    >>> entry("name", 'the "long" bench').code
    'name = "the \\"long\\" bench"'
    """
    return SheetLine(f"{key} = {toml_text(value)}", comment, asks)


def off(code: str, comment: str = "") -> SheetLine:
    """Make the line of an entry or a header that is commented out.

    Parameters
    ----------
    code : str
        The entry as it would stand.
    comment : str, default ""
        What is said beside it.

    Returns
    -------
    SheetLine
        The line.

    Examples
    --------
    >>> off("count = 6").entry
    '#count = 6'
    """
    return SheetLine(code, comment, off=True)


def prose(text: str) -> list[SheetLine]:
    r"""Wrap a sentence into lines of comment.

    Parameters
    ----------
    text : str
        The sentence; what cannot be printed in it is left out.

    Returns
    -------
    list of SheetLine
        The lines.

    Examples
    --------
    >>> sheet_text(prose("It stands alone."))
    '# It stands alone.\n'
    """
    wrapped = textwrap.wrap(
        printable(text), width=_WIDTH - 2, break_long_words=False, break_on_hyphens=False
    )
    return [SheetLine(comment=line) for line in wrapped]


def toml_text(text: str) -> str:
    r"""Write a text as TOML does.

    Parameters
    ----------
    text : str
        Any text that UTF-8 can hold.

    Returns
    -------
    str
        The text in quotes, with what may not stand in it escaped.

    Examples
    --------
    >>> print(toml_text('a "b"\n'))
    "a \"b\"\n"
    """
    return '"' + "".join(map(_escaped, text)) + '"'


def _escaped(sign: str) -> str:
    if sign in _ESCAPED:
        return _ESCAPED[sign]
    if sign.isprintable():
        return sign
    return f"\\u{ord(sign):04x}" if ord(sign) <= 0xFFFF else f"\\U{ord(sign):08x}"


def printable(text: str) -> str:
    r"""Put a blank in place of every sign that would end a line or cannot be printed.

    Parameters
    ----------
    text : str
        Any text.

    Returns
    -------
    str
        The text on one line.

    Examples
    --------
    >>> printable("top\n[job]")
    'top [job]'
    """
    return "".join(sign if sign.isprintable() else " " for sign in text)


def sheet_text(lines: Iterable[SheetLine]) -> str:
    """Write the lines of a file; comments of entries that follow each other stand in a column.

    Parameters
    ----------
    lines : iterable of SheetLine
        The lines.

    Returns
    -------
    str
        The text, with a line feed at its end.

    Examples
    --------
    >>> print(sheet_text([SheetLine("count = 1", "how many"), off("forms = 1", "as many")]), end="")
    count = 1   # how many
    #forms = 1  # as many
    """
    written: list[str] = []
    for _, group in itertools.groupby(lines, key=lambda line: bool(line.code)):
        block = list(group)
        width = max((len(line.entry) for line in block if line.comment), default=0)
        written += [_line_text(line, width) for line in block]
    return "\n".join(written) + "\n"


def _line_text(line: SheetLine, width: int) -> str:
    if not line.code:
        return f"# {line.comment}" if line.comment else ""
    if not line.comment:
        return line.entry
    return f"{line.entry:<{width}}  # {printable(line.comment)}"


def sheet_edits(lines: Sequence[SheetLine], file: str) -> list[StartEditRow]:
    """List the edits that are left to make in a file.

    Parameters
    ----------
    lines : sequence of SheetLine
        Its lines.
    file : str
        The file as messages name it.

    Returns
    -------
    list of StartEditRow
        One for lines that follow each other and ask the same.

    Examples
    --------
    >>> asked = [SheetLine('pack = "?"', asks="packs"), SheetLine('price = "?"', asks="packs")]
    >>> [(edit["line"], edit["last_line"], edit["marks"]) for edit in sheet_edits(asked, "s.toml")]
    [(1, 2, 2)]
    """
    edits = []
    numbered = enumerate(lines, 1)
    for asks, group in itertools.groupby(numbered, key=lambda line: line[1].asks):
        block = list(group)
        if asks:
            edits.append(
                StartEditRow(
                    file=file,
                    line=block[0][0],
                    last_line=block[-1][0],
                    marks=sum(line.marks for _, line in block),
                    what=asks,
                )
            )
    return edits
