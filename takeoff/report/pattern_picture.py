"""The flat pattern of a piece as SVG, for a page."""

from __future__ import annotations

from xml.etree import ElementTree as Tree

import numpy as np
from numpy.typing import NDArray

from takeoff.piece.surfaces import SurfaceClass
from takeoff.report.figures import System
from takeoff.report.painting import PALETTE
from takeoff.report.pattern_layout import (
    Block,
    Cell,
    PieceLayout,
    PiecePattern,
    beside_m,
    dimension_text,
    laid_out_on_a_page,
)
from takeoff.report.svg_drawing import INK, QUIET, in_xml

FloatArray = NDArray[np.float64]

_WIDE_PX = 1000.0
_FILL_SHARE = "0.3"
_DASHES: dict[SurfaceClass, str] = {
    SurfaceClass.SHOW_FACE: "",
    SurfaceClass.RETURN: "9 3",
    SurfaceClass.UPRIGHT: "9 3 2 3",
    SurfaceClass.BACK: "2 3",
}


def pattern_svg(piece: PiecePattern, *, system: System = System.METRIC) -> str:
    """Draw the flat pattern of a piece as SVG.

    Parameters
    ----------
    piece : PiecePattern
        The piece.
    system : System, default System.METRIC
        Units of what is written.

    Returns
    -------
    str
        One ``svg`` element, as wide as where it stands. Each surface is a ``path`` with its id
        in ``data-surface``; classes differ by colour, by the dashes of their outline, and by
        what is written.

    Examples
    --------
    >>> pattern_svg(PiecePattern("<bench>", ())).count("&lt;bench&gt;")
    2
    """
    layout = laid_out_on_a_page(piece, system=system)
    paper = _Paper(layout)
    root = paper.root
    Tree.SubElement(root, "title").text = in_xml(f"Flat pattern of {piece.name}")
    for number, line in enumerate(layout.title):
        at_m = layout.title_at_m - np.array([0.0, 1.6 * number * layout.title_m])
        paper.write(line, at_m, layout.title_m, bold=True)
    for cell in layout.cells:
        paper.draw(cell, system)
    return Tree.tostring(root, encoding="unicode")


class _Paper:
    """A drawing in pixels of a layout in metres."""

    def __init__(self, layout: PieceLayout) -> None:
        margin_m = layout.text_m
        self.layout = layout
        self.left_m = float(layout.low_m[0]) - margin_m
        self.top_m = float(layout.high_m[1]) + margin_m
        size_m = layout.high_m - layout.low_m + 2.0 * margin_m
        self.px_per_m = _WIDE_PX / float(size_m[0])
        high = _rounded(float(size_m[1]) * self.px_per_m)
        self.root = Tree.Element(
            "svg",
            {
                "xmlns": "http://www.w3.org/2000/svg",
                "viewBox": f"0 0 {_rounded(_WIDE_PX)} {high}",
                "font-family": "system-ui, 'Segoe UI', 'DejaVu Sans', sans-serif",
            },
        )
        self.root.set("role", "img")

    def at(self, points_m: FloatArray) -> list[str]:
        """Give points as pairs of pixels."""
        across = (points_m[:, 0] - self.left_m) * self.px_per_m
        down = (self.top_m - points_m[:, 1]) * self.px_per_m
        return [f"{_rounded(x)},{_rounded(y)}" for x, y in zip(across, down, strict=True)]

    def write(
        self,
        text: str,
        at_m: FloatArray,
        height_m: float,
        *,
        anchor: str = "start",
        bold: bool = False,
        upright: bool = False,
    ) -> None:
        """Write a line of text."""
        x, y = self.at(at_m[None, :])[0].split(",")
        attributes = {
            "x": x,
            "y": y,
            "font-size": _rounded(1.3 * height_m * self.px_per_m),
            "fill": INK,
            "text-anchor": anchor,
        }
        if bold:
            attributes["font-weight"] = "600"
        if upright:
            attributes["transform"] = f"rotate(-90 {x} {y})"
        Tree.SubElement(self.root, "text", attributes).text = in_xml(text)

    def draw(self, cell: Cell, system: System) -> None:
        """Draw one surface with its dimensions and words."""
        layout = self.layout
        for block in cell.blocks:
            self._outline(cell, block)
            self._dimensions(block, system)
        for number, line in enumerate(cell.lines):
            at_m = cell.text_at_m - np.array([0.0, number * layout.leading_m])
            self.write(line, at_m, layout.text_m, bold=number == 0)

    def _outline(self, cell: Cell, block: Block) -> None:
        """Draw sheets that belong together as one path."""
        loops_m = [
            loop_m
            for sheet in block.sheets
            for loop_m in (sheet.outer_m, *(hole.points_m for hole in sheet.holes))
        ]
        colour = "#{:02x}{:02x}{:02x}".format(*PALETTE[cell.pattern.surface_class])
        path = Tree.SubElement(
            self.root,
            "path",
            {
                "d": " ".join(f"M{' '.join(self.at(loop_m))}Z" for loop_m in loops_m),
                "data-surface": cell.pattern.id,
                "fill": colour,
                "fill-opacity": _FILL_SHARE,
                "fill-rule": "evenodd",
                "stroke": INK,
                "stroke-width": "1.2",
                "stroke-dasharray": _DASHES[cell.pattern.surface_class] or "none",
            },
        )
        Tree.SubElement(path, "title").text = in_xml("; ".join(cell.lines))
        for sheet in block.sheets:
            for hole in sheet.holes:
                low_m, high_m = hole.points_m.min(axis=0), hole.points_m.max(axis=0)
                if hole.opening and (high_m - low_m).min() > 1.5 * self.layout.text_m:
                    middle_m = (low_m + high_m) / 2.0
                    self.write(hole.opening, middle_m, self.layout.text_m, anchor="middle")

    def _dimensions(self, block: Block, system: System) -> None:
        """Draw the overall width below and the height on the left."""
        text_m = self.layout.text_m
        (left_m, foot_m), (right_m, top_m) = block.low_m.tolist(), block.high_m.tolist()
        below_m, aside_m = foot_m - 1.2 * text_m, left_m - 1.2 * text_m
        for start, end, tick in (
            ((left_m, below_m), (right_m, below_m), (0.0, 0.5)),
            ((aside_m, foot_m), (aside_m, top_m), (0.5, 0.0)),
        ):
            self._line(np.array([start, end]))
            for tip in (start, end):
                reach_m = np.array(tick) * text_m
                self._line(np.array([np.array(tip) - reach_m, np.array(tip) + reach_m]))
        width, height = (
            dimension_text(length_m, system) for length_m in (block.high_m - block.low_m).tolist()
        )
        middle_m = (left_m + right_m) / 2.0
        self.write(width, np.array([middle_m, below_m - 1.3 * text_m]), text_m, anchor="middle")
        height_at_m = foot_m + beside_m(block, text_m, system) / 2.0
        at_m = np.array([aside_m - 0.5 * text_m, height_at_m])
        self.write(height, at_m, text_m, anchor="middle", upright=True)

    def _line(self, ends_m: FloatArray) -> None:
        """Draw a thin line."""
        (x1, y1), (x2, y2) = (pair.split(",") for pair in self.at(ends_m))
        ends = {"x1": x1, "y1": y1, "x2": x2, "y2": y2}
        Tree.SubElement(self.root, "line", {**ends, "stroke": QUIET, "stroke-width": "0.8"})


def _rounded(number_px: float) -> str:
    """Give a number of pixels, to a hundredth."""
    return f"{number_px:.2f}".rstrip("0").rstrip(".")
