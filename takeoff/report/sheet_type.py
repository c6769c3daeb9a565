"""Type on paper: which signs can be printed, how wide they are, and where lines are broken."""

from __future__ import annotations

from typing import TYPE_CHECKING

from takeoff.report.sheet_fonts import FAMILY, add_han, covered_signs, is_han
from takeoff.report.sheet_signs import in_line, printable

if TYPE_CHECKING:
    from fpdf import FPDF

_MEASURED_PT = 100.0  # type that widths are measured in


class Type:
    """The fonts of a document, as a ruler of text.

    Parameters
    ----------
    pdf : FPDF
        A document with the fonts of the sheets.

    Examples
    --------
    >>> from takeoff.report.sheet_fonts import empty_pdf
    >>> ruler = Type(empty_pdf((210.0, 297.0)))
    >>> ruler.lines("first water, then the rest", 25.0, size=10.0)
    ['first water,', 'then the rest']
    """

    def __init__(self, pdf: FPDF) -> None:
        self._pdf = pdf
        self._covered, self._has_han = covered_signs(pdf), False
        self._widths: dict[tuple[str, bool], float] = {}
        self._broken: dict[tuple[str, float, float, bool], list[str]] = {}

    def covers(self, sign: str) -> bool:
        """Tell whether a sign can be printed; fonts that only some jobs need are added now.

        Parameters
        ----------
        sign : str
            The sign.

        Returns
        -------
        bool
            Whether it can.
        """
        if sign not in self._covered and is_han(sign) and not self._has_han:
            add_han(self._pdf)
            self._covered, self._has_han = covered_signs(self._pdf), True
        return sign in self._covered

    def printable(self, text: str) -> str:
        """Give a text in signs that can be printed.

        Parameters
        ----------
        text : str
            Any text.

        Returns
        -------
        str
            The text on one line, as it is read.
        """
        return printable(text, self.covers)

    def ordered(self, text: str) -> str:
        """Order the signs of one line as they stand on paper.

        Parameters
        ----------
        text : str
            A printable text.

        Returns
        -------
        str
            Its signs from left to right.
        """
        return in_line(text, self.covers)

    def length(self, text: str, size: float, *, bold: bool = False) -> float:
        """Give the length of a line: signs are set side by side, so that their widths add up.

        Parameters
        ----------
        text : str
            A printable text.
        size : float
            Size of the type in points.
        bold : bool, default False
            Whether in bold.

        Returns
        -------
        float
            The length. [mm]
        """
        return size * sum(self._wide(sign, bold=bold) for sign in self.ordered(text))

    def lines(self, text: str, width: float, *, size: float, bold: bool = False) -> list[str]:
        """Break a text into lines, between words where that is possible.

        Parameters
        ----------
        text : str
            Any text.
        width : float
            Room for each line. [mm]
        size : float
            Size of the type in points.
        bold : bool, default False
            Whether in bold.

        Returns
        -------
        list of str
            The lines.
        """
        key = (text, width, size, bold)
        if key not in self._broken:
            self._broken[key] = self._break(text, width, size, bold=bold)
        return list(self._broken[key])

    def cut(self, text: str, width: float, size: float, *, bold: bool = False) -> str:
        """Cut a line where it does not fit.

        Parameters
        ----------
        text : str
            A printable text.
        width : float
            Room for it. [mm]
        size : float
            Size of the type in points.
        bold : bool, default False
            Whether in bold.

        Returns
        -------
        str
            The line, with three dots where it was cut.
        """
        if self.length(text, size, bold=bold) <= width:
            return text
        room = width - self.length("...", size, bold=bold)
        return text[: self._fitting(text, room, size, bold=bold)] + "..."

    def _break(self, text: str, width: float, size: float, *, bold: bool) -> list[str]:
        """Break a text into lines; a word that is longer than a line is broken too."""
        lines = [""]
        for word in self.printable(text).split(" "):
            longer = f"{lines[-1]} {word}".strip()
            if self.length(longer, size, bold=bold) <= width:
                lines[-1] = longer
                continue
            rest = word
            if not lines[-1]:
                lines.pop()
            while self.length(rest, size, bold=bold) > width and len(rest) > 1:
                fits = self._fitting(rest, width, size, bold=bold)
                lines.append(rest[:fits])
                rest = rest[fits:]
            lines.append(rest)
        return lines

    def _fitting(self, text: str, width: float, size: float, *, bold: bool) -> int:
        """Count the first signs of a text that fit, at least one."""
        count = 1
        while count < len(text) and self.length(text[: count + 1], size, bold=bold) <= width:
            count += 1
        return count

    def _wide(self, sign: str, *, bold: bool) -> float:
        """Give the width of a sign in type of one point."""
        key = (sign, bold)
        if key not in self._widths:
            self._pdf.set_font(FAMILY, "B" if bold else "", _MEASURED_PT)
            self._widths[key] = float(self._pdf.get_string_width(sign)) / _MEASURED_PT
        return self._widths[key]
