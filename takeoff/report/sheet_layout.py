"""Paper, and a pen that writes and draws on it: what all printed sheets are laid out with."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from datetime import UTC, date, datetime
from enum import StrEnum
from io import BytesIO

from takeoff.report.sheet_fonts import FAMILY, empty_pdf
from takeoff.report.sheet_signs import told_apart
from takeoff.report.sheet_type import Type

Colour = tuple[int, int, int]

BLACK: Colour = (0, 0, 0)
GREY: Colour = (90, 90, 90)
PALE: Colour = (238, 238, 238)

_MARGIN_MM = 10.0
_FOOT_MM = 9.0
_MM_PER_POINT = 25.4 / 72.0
_LEADING = 1.22  # from line to line, in sizes of the type
_LEAST_PT = 6.0
_NO_DATE = date(2000, 1, 1)


class Paper(StrEnum):
    """The paper that sheets are printed on."""

    A4 = "A4"
    LETTER = "Letter"


_SIZES_MM: Mapping[Paper, tuple[float, float]] = {
    Paper.A4: (210.0, 297.0),  # ISO 216
    Paper.LETTER: (215.9, 279.4),  # ANSI/ASME Y14.1, 8.5 x 11 in
}


class Pen:
    """Writes on one page after the other; all places are in millimetres from the top left.

    Parameters
    ----------
    paper : Paper
        What is printed on.
    names : iterable of str, optional
        Names that must not look alike in print.

    Raises
    ------
    MissingExtraError
        If the library that writes PDF is not installed.

    Examples
    --------
    >>> pen = Pen(Paper.LETTER)
    >>> round(pen.right - pen.left, 1)
    195.9
    """

    def __init__(self, paper: Paper, names: Iterable[str] = ()) -> None:
        self._pdf = empty_pdf(_SIZES_MM[paper])
        self._pdf.set_auto_page_break(auto=False)
        self._pdf.set_margin(0.0)
        self._pdf.c_margin = 0.0
        self._type = Type(self._pdf)
        self._names = told_apart(names, self._type.covers)
        width, height = _SIZES_MM[paper]
        self.left, self.top = _MARGIN_MM, _MARGIN_MM
        self.right, self.bottom = width - _MARGIN_MM, height - _MARGIN_MM - _FOOT_MM

    def new_page(self) -> float:
        """Begin a page.

        Returns
        -------
        float
            Its top.
        """
        self._pdf.add_page()
        return self.top

    def name(self, name: str) -> str:
        """Give a name as it is printed, unlike any other.

        Parameters
        ----------
        name : str
            One of the names that the pen was made with; any other is only made printable.

        Returns
        -------
        str
            The printed name.
        """
        return self._names.get(name) or self._type.printable(name)

    def write(
        self,
        text: str,
        at: tuple[float, float],
        width: float,
        *,
        size: float,
        bold: bool = False,
        align: str = "L",
        colour: Colour = BLACK,
    ) -> None:
        """Write one line, smaller where it is too long; cut short where even that does not help.

        Parameters
        ----------
        text : str
            What to write.
        at : tuple of float
            Left and top of the line. [mm]
        width : float
            Room for it. [mm]
        size : float
            Size of the type in points.
        bold : bool, default False
            Whether in bold.
        align : str, default "L"
            ``"L"``, ``"C"`` or ``"R"``.
        colour : tuple of int, default black
            Red, green and blue.
        """
        plain = self._type.printable(text)
        length = self._type.length(plain, size, bold=bold)
        if length > width:
            size = max(_LEAST_PT, size * width / length * 0.995)
            plain = self._type.cut(plain, width, size, bold=bold)
        self._print(plain, at, width, size=size, bold=bold, align=align, colour=colour)

    def paragraph(
        self,
        text: str,
        at: tuple[float, float],
        width: float,
        *,
        size: float,
        bold: bool = False,
        colour: Colour = BLACK,
    ) -> float:
        """Write a text on as many lines as it takes.

        Parameters
        ----------
        text : str
            What to write.
        at : tuple of float
            Left and top. [mm]
        width : float
            Room for each line. [mm]
        size : float
            Size of the type in points.
        bold : bool, default False
            Whether in bold.
        colour : tuple of int, default black
            Red, green and blue.

        Returns
        -------
        float
            Where the next line would begin. [mm]
        """
        left, top = at
        for line in self.lines(text, width, size=size, bold=bold):
            self._print(line, (left, top), width, size=size, bold=bold, align="L", colour=colour)
            top += line_mm(size)
        return top

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
        return self._type.lines(text, width, size=size, bold=bold)

    def rule(
        self,
        start: tuple[float, float],
        end: tuple[float, float],
        *,
        width: float = 0.3,
        colour: Colour = BLACK,
    ) -> None:
        """Draw a line.

        Parameters
        ----------
        start, end : tuple of float
            Where from and to. [mm]
        width : float, default 0.3
            How thick. [mm]
        colour : tuple of int, default black
            Red, green and blue.
        """
        self._pdf.set_line_width(width)
        self._pdf.set_draw_color(*colour)
        self._pdf.line(*start, *end)

    def box(
        self,
        at: tuple[float, float],
        size: tuple[float, float],
        *,
        width: float = 0.5,
        fill: Colour | None = None,
        colour: Colour = BLACK,
    ) -> None:
        """Draw a rectangle.

        Parameters
        ----------
        at : tuple of float
            Left and top. [mm]
        size : tuple of float
            Width and height. [mm]
        width : float, default 0.5
            How thick its line is; 0 for none. [mm]
        fill : tuple of int, optional
            What it is filled with.
        colour : tuple of int, default black
            Colour of its line.
        """
        self._pdf.set_line_width(width)
        self._pdf.set_draw_color(*colour)
        if fill is not None:
            self._pdf.set_fill_color(*fill)
        style = ("D" if width else "") + ("F" if fill is not None else "")
        if style:
            self._pdf.rect(*at, *size, style=style)

    def picture(self, png: bytes, at: tuple[float, float], size: tuple[float, float]) -> None:
        """Put a picture into a frame, as large as it fits.

        Parameters
        ----------
        png : bytes
            The picture.
        at : tuple of float
            Left and top of the frame. [mm]
        size : tuple of float
            Width and height of the frame. [mm]
        """
        self._pdf.image(BytesIO(png), *at, *size, keep_aspect_ratio=True)

    def finish(self, feet: str, *, title: str, on: str | None) -> bytes:
        """Write the foot of every page, and give the whole document.

        Parameters
        ----------
        feet : str
            What stands at the foot of every page.
        title : str
            Title of the document.
        on : str or None
            The date of the job, such as ``"2026-11-25"``.

        Returns
        -------
        bytes
            A PDF file, the same every time.
        """
        last = self._pdf.pages_count
        top = self.bottom + _FOOT_MM - line_mm(8.0)
        width = self.right - self.left
        for number in range(1, last + 1):
            self._pdf.page = number
            self.rule((self.left, top - 1.0), (self.right, top - 1.0), width=0.2, colour=GREY)
            self.write(feet, (self.left, top), width - 30.0, size=8.0)
            page = f"page {number} of {last}"
            self.write(page, (self.left, top), width, size=8.0, align="R")
        self._pdf.set_title(self._type.printable(title))
        self._pdf.set_creation_date(_day(on))
        self._pdf.set_producer("takeoff")
        return bytes(self._pdf.output())

    def _print(
        self,
        text: str,
        at: tuple[float, float],
        width: float,
        *,
        size: float,
        bold: bool,
        align: str,
        colour: Colour,
    ) -> None:
        """Print one line as it is."""
        self._pdf.set_font(FAMILY, "B" if bold else "", 1.0)  # each page is told its type anew
        self._pdf.set_font(FAMILY, "B" if bold else "", size)
        self._pdf.set_text_color(*colour)
        self._pdf.set_xy(*at)
        self._pdf.cell(width, line_mm(size), self._type.ordered(text), align=align)


def line_mm(size: float) -> float:
    """Give the height of a line of type.

    Parameters
    ----------
    size : float
        Size of the type in points.

    Returns
    -------
    float
        Height. [mm]

    Examples
    --------
    >>> round(line_mm(10.0), 2)
    4.3
    """
    return size * _MM_PER_POINT * _LEADING


def _day(text: str | None) -> datetime:
    """Give the date of a job as the moment a document is made."""
    try:
        day = date.fromisoformat(text or "")
    except ValueError:
        day = _NO_DATE
    return datetime(day.year, day.month, day.day, tzinfo=UTC)
