"""Boxes, lines and words as plain SVG: built as a tree, so that no name can break out of it."""

from __future__ import annotations

import re
import unicodedata
from xml.etree import ElementTree as Tree

INK, QUIET, FAINT, LATE = "#1a1a1a", "#4a4f57", "#c9ccd1", "#9b2335"
HATCHED, PLAIN, DOTTED = "hatched", "plain", "dotted"

_TEXT_PX = 13
_NOT_IN_XML = re.compile("[^\t\n\r\u0020-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")
_PATTERNS = {
    HATCHED: ("#d9dce1", "M-1,1 l2,-2 M0,8 l8,-8 M7,9 l2,-2", "#30353d", "1.6"),
    DOTTED: ("#ffffff", "M2,2 h2 M6,6 h2", "#30353d", "2"),
}


def drawing(width: int, height: int, *, title: str, about: str) -> Tree.Element:
    """Begin a drawing.

    Parameters
    ----------
    width, height : int
        Its size in pixels; it is scaled to where it stands.
    title : str
        What it is.
    about : str
        What it shows, for those who cannot see it.

    Returns
    -------
    Element
        The drawing, its patterns made.

    Examples
    --------
    >>> drawing(10, 5, title="a", about="b").get("viewBox")
    '0 0 10 5'
    """
    root = Tree.Element(
        "svg",
        {
            "xmlns": "http://www.w3.org/2000/svg",
            "width": f"{width}",
            "height": f"{height}",
            "viewBox": f"0 0 {width} {height}",
            "font-family": "system-ui, 'Segoe UI', 'DejaVu Sans', sans-serif",
            "font-size": f"{_TEXT_PX}",
        },
    )
    root.set("role", "img")
    Tree.SubElement(root, "title").text = in_xml(title)
    Tree.SubElement(root, "desc").text = in_xml(about)
    made = Tree.SubElement(root, "defs")
    for name, (paper, path, ink, wide) in _PATTERNS.items():
        size = {"width": "8", "height": "8", "patternUnits": "userSpaceOnUse"}
        pattern = Tree.SubElement(made, "pattern", size, id=name)
        Tree.SubElement(pattern, "rect", {"width": "8", "height": "8", "fill": paper})
        line = {"d": path, "stroke": ink, "stroke-width": wide, "fill": "none"}
        Tree.SubElement(pattern, "path", line)
    return root


def box(  # noqa: PLR0917 - left, top, width and height are read in that order everywhere
    root: Tree.Element, left: float, top: float, width: float, height: float, fill: str = "none"
) -> None:
    """Draw a box.

    Parameters
    ----------
    root : Element
        The drawing.
    left, top, width, height : float
        Where, in pixels.
    fill : str, default "none"
        A colour, or the name of a pattern.

    Examples
    --------
    >>> root = drawing(10, 5, title="a", about="b")
    >>> box(root, 0, 0, 2, 2, HATCHED)
    >>> root[-1].get("fill")
    'url(#hatched)'
    """
    paint = f"url(#{fill})" if fill in _PATTERNS else "#ffffff" if fill == PLAIN else fill
    at = {"x": _px(left), "y": _px(top), "width": _px(max(width, 0.0)), "height": _px(height)}
    Tree.SubElement(root, "rect", {**at, "fill": paint, "stroke": INK, "stroke-width": "1"})


def stroke(
    root: Tree.Element,
    start: tuple[float, float],
    end: tuple[float, float],
    *,
    colour: str = INK,
    wide: float = 1.0,
) -> None:
    """Draw a line.

    Parameters
    ----------
    root : Element
        The drawing.
    start, end : tuple of float
        From where to where, in pixels.
    colour : str, optional
        Its colour.
    wide : float, default 1.0
        Its width in pixels.

    Examples
    --------
    >>> root = drawing(10, 5, title="a", about="b")
    >>> stroke(root, (0, 0), (2.5, 2))
    >>> root[-1].get("x2")
    '2.5'
    """
    at = {"x1": _px(start[0]), "y1": _px(start[1]), "x2": _px(end[0]), "y2": _px(end[1])}
    Tree.SubElement(root, "line", {**at, "stroke": colour, "stroke-width": _px(wide)})


def write(
    root: Tree.Element,
    left: float,
    base: float,
    text: str,
    *,
    anchor: str = "start",
    colour: str = INK,
    bold: bool = False,
) -> None:
    """Write words.

    Parameters
    ----------
    root : Element
        The drawing.
    left, base : float
        Where, in pixels.
    text : str
        The words.
    anchor : str, default "start"
        Whether they begin there, end there, or are set about it.
    colour : str, optional
        Their colour.
    bold : bool, default False
        Whether they are bold.

    Examples
    --------
    >>> root = drawing(10, 5, title="a", about="b")
    >>> write(root, 0, 5, "<b>")
    >>> Tree.tostring(root[-1], encoding="unicode")
    '<text x="0" y="5" fill="#1a1a1a" text-anchor="start">&lt;b&gt;</text>'
    """
    at = {"x": _px(left), "y": _px(base), "fill": colour, "text-anchor": anchor}
    weight = {"font-weight": "600"} if bold else {}
    Tree.SubElement(root, "text", {**at, **weight}).text = in_xml(text)


def svg_text(root: Tree.Element) -> str:
    """Give a drawing as the text of an SVG file.

    Parameters
    ----------
    root : Element
        The drawing.

    Returns
    -------
    str
        The text.

    Examples
    --------
    >>> svg_text(drawing(10, 5, title="a", about="b")).startswith("<svg xmlns")
    True
    """
    return Tree.tostring(root, encoding="unicode")


def in_xml(text: str) -> str:
    """Replace the characters that no XML file may hold.

    Parameters
    ----------
    text : str
        Any text.

    Returns
    -------
    str
        The text, with a mark in their place.

    Examples
    --------
    >>> in_xml("a" + chr(1) + "b")
    'a\ufffdb'
    """
    return _NOT_IN_XML.sub("\ufffd", text)


def fitted(text: str, wide_px: float) -> str:
    """Cut words short where they would run over a width.

    Parameters
    ----------
    text : str
        The words.
    wide_px : float
        The width in pixels.

    Returns
    -------
    str
        As much of them as is sure to fit, with a sign that there is more.

    Examples
    --------
    >>> fitted("a very long name of a piece", 100.0)
    'a very long…'
    """
    room = wide_px / (0.62 * _TEXT_PX)
    taken = 0.0
    for number, sign in enumerate(text):
        taken += 1.7 if unicodedata.east_asian_width(sign) in "WF" else 1.0
        if taken > room:
            return text[: max(number - 1, 0)].rstrip() + "…"
    return text


def _px(number: float) -> str:
    """Write pixels to a hundredth, without zeros at the end."""
    return f"{round(number, 2):g}"
