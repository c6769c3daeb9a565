"""Type in still pictures: the fonts of the sheets, each sign in the first that has it."""

from __future__ import annotations

from collections.abc import Iterator
from functools import cache
from io import BytesIO
from itertools import groupby
from typing import TYPE_CHECKING

from takeoff.report.sheet_fonts import HAN_FILES, PLAIN_FILE, font_bytes, is_han
from takeoff.report.sheet_signs import in_line, printable

if TYPE_CHECKING:
    from PIL.ImageDraw import ImageDraw
    from PIL.ImageFont import FreeTypeFont

_LEAST_SIZE = 9  # pixels; smaller type is not read off a screen


def picture_font(size: int) -> FreeTypeFont:
    """Give the font of what is Latin, Greek or Cyrillic in a picture.

    Parameters
    ----------
    size : int
        Its size in pixels.

    Returns
    -------
    FreeTypeFont
        The font, the same on every machine.

    Examples
    --------
    >>> picture_font(15).size
    15
    """
    return _font(PLAIN_FILE, size)


def write_line(
    pen: ImageDraw,
    corner: tuple[float, float],
    text: str,
    *,
    size: int,
    room: float,
    colour: tuple[int, int, int],
) -> None:
    """Write one line into a picture, smaller where it is too long; cut where that is not enough.

    Parameters
    ----------
    pen : ImageDraw
        What draws.
    corner : tuple of float
        Left and top, in pixels.
    text : str
        What to write; signs that no font has are mapped, and what runs from right to left turned.
    size : int
        Size of the type in pixels.
    room : float
        Room for it in pixels.
    colour : tuple of int
        Red, green and blue.

    Examples
    --------
    >>> from PIL import Image, ImageDraw
    >>> image = Image.new("RGB", (80, 20), (255, 255, 255))
    >>> write_line(ImageDraw.Draw(image), (0, 0), "панель 墙", size=12, room=80.0, colour=(0, 0, 0))
    >>> image.getextrema() == ((255, 255),) * 3
    False
    """
    shown = printable(text, covers)
    while size > _LEAST_SIZE and _length(shown, size) > room:
        size -= 1
    if _length(shown, size) > room:
        while shown and _length(f"{shown}...", size) > room:
            shown = shown[:-1]
        shown = f"{shown}..."
    left, top = corner
    base = top + _font(PLAIN_FILE, size).getmetrics()[0]
    for name, run in _runs(shown):
        font = _font(name, size)
        pen.text((left, base), run, fill=colour, font=font, anchor="ls")
        left += font.getlength(run)


def covers(sign: str) -> bool:
    """Tell whether a sign can be written into a picture.

    Parameters
    ----------
    sign : str
        The sign.

    Returns
    -------
    bool
        Whether any of the fonts has it.

    Examples
    --------
    >>> [covers(sign) for sign in ("m", "²", "Ж", "墙", "벽")]
    [True, True, True, True, False]
    """
    return any(sign in _signs(name) for name in _files(sign))


def _files(sign: str) -> tuple[str, ...]:
    """Give the fonts that may have a sign: the large ones only for what they are for."""
    return (PLAIN_FILE, *HAN_FILES) if is_han(sign) else (PLAIN_FILE,)


def _runs(text: str) -> Iterator[tuple[str, str]]:
    """Split a line into runs of one font, from left to right."""
    ordered = in_line(text, covers)
    for name, signs in groupby(ordered, key=_file_of):
        yield name, "".join(signs)


def _file_of(sign: str) -> str:
    return next((name for name in _files(sign) if sign in _signs(name)), PLAIN_FILE)


def _length(text: str, size: int) -> float:
    return sum(_font(name, size).getlength(run) for name, run in _runs(text))


@cache
def _signs(name: str) -> frozenset[str]:
    """Give the signs that a font has."""
    from fontTools.ttLib import TTFont

    with TTFont(BytesIO(font_bytes(name)), lazy=True) as font:
        return frozenset(map(chr, font.getBestCmap()))


@cache
def _font(name: str, size: int) -> FreeTypeFont:
    """Load a font; laid out by the library itself, which is the same everywhere."""
    from PIL.ImageFont import Layout, truetype

    return truetype(BytesIO(font_bytes(name)), size, layout_engine=Layout.BASIC)
