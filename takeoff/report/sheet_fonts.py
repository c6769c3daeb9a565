"""The fonts of the printed sheets: they come with the package, licence beside them."""

from __future__ import annotations

from importlib.resources import as_file, files
from importlib.util import find_spec
from io import BytesIO
from typing import TYPE_CHECKING

from takeoff.errors import MissingExtraError

if TYPE_CHECKING:
    from fpdf import FPDF
    from fpdf.fonts import TTFFont

FAMILY = "sheet"
PLAIN_FILE = "DejaVuSansCondensed.ttf"
HAN_FILES = ("DroidSansFallback-GB2312.ttf", "DroidSansFallback-Big5-JIS.ttf")
_OWN = {"": PLAIN_FILE, "B": "DejaVuSansCondensed-Bold.ttf"}
_HAN = dict(zip(("han", "han2"), HAN_FILES, strict=True))
_HAN_FROM = "\u2e80"  # Chinese and Japanese begin here


def sheets_can_be_made() -> bool:
    """Tell whether the library that writes PDF is installed.

    Returns
    -------
    bool
        True where it is.

    Examples
    --------
    >>> sheets_can_be_made()
    True
    """
    return find_spec("fpdf") is not None


def font_bytes(name: str) -> bytes:
    """Read a font that comes with the package.

    Parameters
    ----------
    name : str
        Its file.

    Returns
    -------
    bytes
        The font.

    Examples
    --------
    >>> font_bytes(PLAIN_FILE)[:4].hex()
    '00010000'
    """
    return (files("takeoff.report") / "fonts" / name).read_bytes()


def empty_pdf(size_mm: tuple[float, float]) -> FPDF:
    """Begin a document that has the fonts of the sheets, on paper of one size.

    Parameters
    ----------
    size_mm : tuple of float
        Width and height. [mm]

    Returns
    -------
    FPDF
        The document, without a page.

    Raises
    ------
    MissingExtraError
        If the library that writes PDF is not installed.

    Examples
    --------
    >>> empty_pdf((210.0, 297.0)).pages_count
    0
    """
    try:
        from fpdf import FPDF
    except ImportError:
        raise MissingExtraError(
            "sheets need the extra [report]; install it, as in pip install '.[report]'",
            where="batches.pdf",
        ) from None
    pdf = FPDF(unit="mm", format=size_mm)
    for style, name in _OWN.items():
        _add(pdf, FAMILY, name, style=style)
    return pdf


def add_han(pdf: FPDF) -> None:
    """Add the fonts of Chinese and Japanese: they are large, and few jobs need them.

    Parameters
    ----------
    pdf : FPDF
        The document.

    Examples
    --------
    >>> pdf = empty_pdf((210.0, 297.0))
    >>> add_han(pdf)
    >>> set("墙 壁 櫃 カ") - covered_signs(pdf)
    set()
    """
    for family, name in _HAN.items():
        _add(pdf, family, name)
    pdf.set_fallback_fonts(list(_HAN), exact_match=False)


def is_han(sign: str) -> bool:
    """Tell whether a sign may be in the fonts of Chinese and Japanese.

    Parameters
    ----------
    sign : str
        The sign.

    Returns
    -------
    bool
        Whether it lies where they begin, or beyond.

    Examples
    --------
    >>> is_han("墙"), is_han("Ж")
    (True, False)
    """
    return sign >= _HAN_FROM


def covered_signs(pdf: FPDF) -> frozenset[str]:
    """Give the signs that a document with these fonts can print, bold or not.

    Parameters
    ----------
    pdf : FPDF
        The document.

    Returns
    -------
    frozenset of str
        The signs.

    Examples
    --------
    >>> set("m² ½ é Ω Ж") - covered_signs(empty_pdf((210.0, 297.0)))
    set()
    """
    cover = {key: frozenset(font.cmap) for key, font in _embedded(pdf).items()}
    own = cover[FAMILY] & cover[f"{FAMILY}B"]
    every = own.union(*(cover[family] for family in _HAN if family in cover))
    return frozenset(map(chr, every))


def _add(pdf: FPDF, family: str, name: str, *, style: str = "") -> None:
    """Add a font, and keep it in memory: its file is read on until the document is written."""
    with as_file(files("takeoff.report") / "fonts" / name) as path:
        pdf.add_font(family, style, path)
        reader = _embedded(pdf)[family + style].ttfont.reader
        kept = BytesIO(path.read_bytes())
        reader.file.close()
        reader.file = kept


def _embedded(pdf: FPDF) -> dict[str, TTFFont]:
    from fpdf.fonts import TTFFont

    return {key: font for key, font in pdf.fonts.items() if isinstance(font, TTFFont)}
