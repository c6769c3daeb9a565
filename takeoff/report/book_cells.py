"""Cells and tables of a sheet: text that is never a formula, formulas with what they come to."""

from __future__ import annotations

import math
import textwrap
import unicodedata
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from takeoff.documents import BidDocument
from takeoff.report.book_styles import Style
from takeoff.report.figures import System
from takeoff.report.text_direction import kept_apart

if TYPE_CHECKING:
    from xlsxwriter.format import Format
    from xlsxwriter.worksheet import Worksheet

_LETTERS = "ABCDEFGHIJKLMNOPQRSTUVWXYZ"
_FORMULA_SIGNS = ("=", "+", "-", "@")
_PAPERS = {System.METRIC: 9, System.US: 1}  # A4 and Letter, as the file format numbers them
_FOOTER_LENGTH = 60  # the whole footer holds 255 signs at most
_LEFT = frozenset({Style.TEXT, Style.QUIET, Style.ALARM, Style.SECTION})
_LINE_PT = 13.5
_TALL_PT: Mapping[Style, float] = {
    Style.TITLE: 24.0,
    Style.BANNER: 18.0,
    Style.GRAND_TEXT: 20.0,
    Style.HEAD: 16.0,
}
# Signs for one of the width of a column, in the widest of the fonts that stand in for Arial.
_PLAIN_SIGNS, _BOLD_SIGNS = 1.05, 0.95


@dataclass(frozen=True, slots=True)
class Formula:
    """A formula, and what it comes to.

    Parameters
    ----------
    text : str
        The formula, beginning with ``=``.
    result : float or str
        What it comes to; shown by whatever does not reckon it again.
    """

    text: str
    result: float | str


@dataclass(frozen=True, slots=True)
class Styled:
    """A cell that looks otherwise than its column.

    Parameters
    ----------
    entry : str, float, Formula or None
        What it holds.
    style : Style
        How it looks.
    """

    entry: str | float | Formula | None
    style: Style


Entry = str | float | Formula | None
Column = tuple[str, Style]
Row = Sequence[Entry | Styled]


@dataclass(frozen=True, slots=True, eq=False)
class Page:
    """A sheet that is being written.

    Parameters
    ----------
    sheet : Worksheet
        The sheet.
    styles : mapping of tuple of Style and bool to Format
        The styles of its workbook.
    widths_count : tuple of float, default ()
        Signs that fit in each column.
    """

    sheet: Worksheet
    styles: Mapping[tuple[Style, bool], Format]
    widths_count: tuple[float, ...] = ()

    def put(self, row: int, column: int, entry: Entry, style: Style = Style.TEXT) -> None:
        """Write one cell; text never becomes a formula.

        Parameters
        ----------
        row, column : int
            Where, counted from 0.
        entry : str, float, Formula or None
            What; None leaves the cell empty.
        style : Style, optional
            How it looks.
        """
        form = self.styles[style, False]
        if isinstance(entry, Formula):
            self.sheet.write_formula(row, column, entry.text, form, entry.result)
        elif entry is None or entry == "":
            self.sheet.write_blank(row, column, None, form)
        elif isinstance(entry, str):
            text = kept_apart(entry.encode("utf-8", errors="replace").decode("utf-8"))
            inert = text.lstrip().startswith(_FORMULA_SIGNS)
            self.sheet.write_string(row, column, text, self.styles[style, inert])
        else:
            self.sheet.write_number(row, column, entry, form)

    def head(self, row: int, columns: Sequence[Column]) -> None:
        """Write the heads of the columns of a table.

        Parameters
        ----------
        row : int
            Where, counted from 0.
        columns : sequence of tuple of str and Style
            Head and style of each column.
        """
        for column, (words, style) in enumerate(columns):
            self.put(row, column, words, Style.HEAD if style in _LEFT else Style.HEAD_RIGHT)
        heads = [words for words, _ in columns]
        self._heighten(row, Style.HEAD, self._most_lines(heads, bold=True))

    def row(self, row: int, columns: Sequence[Column], entries: Row) -> None:
        """Write one row of a table.

        Parameters
        ----------
        row : int
            Where, counted from 0.
        columns : sequence of tuple of str and Style
            Head and style of each column.
        entries : sequence of str, float, Formula, Styled or None
            What it holds, as many as there are columns.
        """
        for column, ((_, style), entry) in enumerate(zip(columns, entries, strict=True)):
            if isinstance(entry, Styled):
                self.put(row, column, entry.entry, entry.style)
            else:
                self.put(row, column, entry, style)
        plain = [one.entry if isinstance(one, Styled) else one for one in entries]
        first = entries[0]
        look = first.style if isinstance(first, Styled) else columns[0][1]
        self._heighten(row, look, self._most_lines(plain))

    def _most_lines(self, entries: Sequence[Entry], *, bold: bool = False) -> int:
        """Count the lines of the longest text of a row."""
        texts = [
            (entry, width_count)
            for entry, width_count in zip(entries, self.widths_count, strict=False)
            if isinstance(entry, str)
        ]
        return max((_lines(text, width_count, bold=bold) for text, width_count in texts), default=1)

    def table(self, row: int, columns: Sequence[Column], rows: Sequence[Row]) -> int:
        """Write a table with its heads.

        Parameters
        ----------
        row : int
            Where its heads stand, counted from 0.
        columns : sequence of tuple of str and Style
            Head and style of each column.
        rows : sequence of sequence of str, float, Formula, Styled or None
            Its rows.

        Returns
        -------
        int
            The row below it.
        """
        self.head(row, columns)
        for number, entries in enumerate(rows, start=row + 1):
            self.row(number, columns, entries)
        return row + 1 + len(rows)

    def prose(
        self, row: int, entry: str | Formula, style: Style = Style.QUIET, *, first: int = 0
    ) -> None:
        """Write words across the sheet, in as many lines as they take.

        Parameters
        ----------
        row : int
            Where, counted from 0.
        entry : str or Formula
            The words.
        style : Style, optional
            How they look.
        first : int, default 0
            Column that they begin in.
        """
        last = len(self.widths_count) - 1
        if first < last:
            self.sheet.merge_range(row, first, row, last, "")
        self.put(row, first, entry, style)
        text = entry if isinstance(entry, str) else ""
        self._heighten(row, style, _lines(text, math.fsum(self.widths_count[first:])))

    def _heighten(self, row: int, style: Style, lines: int) -> None:
        """Make a row high enough; not every program does so by itself."""
        self.sheet.set_row(row, max(_TALL_PT.get(style, _LINE_PT), 1.5 + _LINE_PT * lines))

    def laid_out(self, *widths_count: float) -> Page:
        """Set the widths of the columns.

        Parameters
        ----------
        *widths_count : float
            Signs that fit in each column, from the first on.

        Returns
        -------
        Page
            The same sheet, that knows how many lines a text takes in a column.
        """
        for column, width_count in enumerate(widths_count):
            self.sheet.set_column(column, column, width_count)
        return replace(self, widths_count=widths_count)

    def paper(
        self, document: BidDocument, system: System, *, repeated: int, wide: bool = True
    ) -> None:
        """Set it up to be printed and scrolled: one page wide, its heads on every page.

        Parameters
        ----------
        document : BidDocument
            The document, for the foot of each page.
        system : System
            Metric for A4, US for Letter.
        repeated : int
            Row of the heads that stand on every page, counted from 0; stays when scrolled.
        wide : bool, default True
            Whether the paper lies on its long side.
        """
        if wide:
            self.sheet.set_landscape()
        self.sheet.set_paper(_PAPERS[system])
        self.sheet.set_margins(left=0.5, right=0.5, top=0.6, bottom=0.7)
        self.sheet.fit_to_pages(1, 0)
        self.sheet.repeat_rows(repeated)
        self.sheet.freeze_panes(repeated + 1, 0)
        job = document["job"].encode("utf-8", errors="replace").decode("utf-8")[:_FOOTER_LENGTH]
        only = document["total"] is None and not document["errors"]
        name = job.replace("&", "&&") + (", MATERIAL ONLY" if only else "")
        self.sheet.set_footer(f"&L{name}&C&A&RPage &P of &N")


def cell(row: int, column: int) -> str:
    """Name a cell as formulas do.

    Parameters
    ----------
    row, column : int
        Where, counted from 0; 26 columns at most.

    Returns
    -------
    str
        Its name.

    Examples
    --------
    >>> cell(0, 0), cell(11, 4)
    ('A1', 'E12')
    """
    return f"{_LETTERS[column]}{row + 1}"


def fixed(sheet: str, row: int, column: int) -> str:
    """Name a cell for formulas of other sheets.

    Parameters
    ----------
    sheet : str
        Its sheet, named by letters alone.
    row, column : int
        Where, counted from 0.

    Returns
    -------
    str
        Its name.

    Examples
    --------
    >>> fixed("Inputs", 4, 3)
    'Inputs!$D$5'
    """
    return f"{sheet}!${_LETTERS[column]}${row + 1}"


def sum_of(rows: Sequence[int], column: int, result: float) -> Formula:
    """Add up a column of a table.

    Parameters
    ----------
    rows : sequence of int
        Its rows without a gap, counted from 0; none for a sum of nothing.
    column : int
        The column.
    result : float
        What it comes to, in the unit of the column.

    Returns
    -------
    Formula
        The sum.

    Examples
    --------
    >>> sum_of(range(4, 7), 4, 12.5).text
    '=SUM(E5:E7)'
    """
    if not rows:
        return Formula("=0", result)
    return Formula(f"=SUM({cell(rows[0], column)}:{cell(rows[-1], column)})", result)


def _lines(text: str, width_count: float, *, bold: bool = False) -> int:
    """Count the lines that a text takes; signs of eastern scripts are as wide as two."""
    wide = sum(unicodedata.east_asian_width(sign) in "WF" for sign in text)
    spread = text + " x" * math.ceil(wide / 2)
    signs = int(width_count * (_BOLD_SIGNS if bold else _PLAIN_SIGNS))
    return max(1, len(textwrap.wrap(spread, max(1, signs))))
