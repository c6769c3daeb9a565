"""Where the surfaces of a piece lie on its flat pattern, and what is written there."""

from __future__ import annotations

import textwrap
from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from takeoff.piece.developing import Development, Pattern
from takeoff.piece.sheets import Sheet
from takeoff.report.figures import System, written_area, written_length

FloatArray = NDArray[np.float64]

_LINES_WIDE = 65.0  # heights of a line that go into the width of a row
_ROOM = 1.25  # width of a row over that of the widest surface
_LEADING = 1.6  # from line to line, in heights of a line
_TITLE = 1.5  # height of a title, likewise
_ASIDE = 4.5  # room for a dimension beside a surface, likewise
_BELOW = 3.4  # and below it
_SIGN = 0.72  # mean width of a sign, likewise
_TALLER = 2.0  # what is this many times as high as its row begins another
_TALLEST = 1.3  # height of a page over its width, with room for a heading
_WIDER = (1.0, 1.5, 2.0, 2.5, 3.0, 3.5, 4.0)  # rows that are tried for a page
_SIGNS_ACROSS = 44  # of a title, of the widest script

_WORDS = {
    Development.FLAT: (),
    Development.DEVELOPED: ("developed, true size",),
    Development.PROJECTED: ("does not develop:", "outline as seen square on"),
}


@dataclass(frozen=True, slots=True, eq=False)
class PiecePattern:
    """The flat pattern of a piece.

    Parameters
    ----------
    name : str
        Name of the piece.
    patterns : tuple of Pattern
        Its surfaces, laid into the plane.
    """

    name: str
    patterns: tuple[Pattern, ...]


@dataclass(frozen=True, slots=True, eq=False)
class Block:
    """Sheets that are dimensioned together.

    Parameters
    ----------
    sheets : tuple of Sheet
        The sheets, where they lie. [m]
    low_m, high_m : ndarray of float, shape (2,)
        Lower left and upper right corner of the rectangle round them. [m]
    """

    sheets: tuple[Sheet, ...]
    low_m: FloatArray
    high_m: FloatArray


@dataclass(frozen=True, slots=True, eq=False)
class Cell:
    """One surface on the sheet.

    Parameters
    ----------
    pattern : Pattern
        The surface.
    blocks : tuple of Block
        What of it is drawn.
    lines : tuple of str
        What is written below it.
    text_at_m : ndarray of float, shape (2,)
        Left end of the foot of the first line. [m]
    low_m, high_m : ndarray of float, shape (2,)
        Lower left and upper right corner of all this. [m]
    """

    pattern: Pattern
    blocks: tuple[Block, ...]
    lines: tuple[str, ...]
    text_at_m: FloatArray
    low_m: FloatArray
    high_m: FloatArray


@dataclass(frozen=True, slots=True, eq=False)
class PieceLayout:
    """One piece on the sheet.

    Parameters
    ----------
    title : tuple of str
        Its name, in lines that fit.
    title_at_m : ndarray of float, shape (2,)
        Left end of the foot of the first of them. [m]
    title_m, text_m, leading_m : float
        Height of the title and of the other lines, and from line to line of these. [m]
    cells : tuple of Cell
        Its surfaces.
    low_m, high_m : ndarray of float, shape (2,)
        Lower left and upper right corner of all this. [m]
    """

    title: tuple[str, ...]
    title_at_m: FloatArray
    title_m: float
    text_m: float
    leading_m: float
    cells: tuple[Cell, ...]
    low_m: FloatArray
    high_m: FloatArray

    @property
    def tallness_ratio(self) -> float:
        """Its height over its width."""
        wide_m, high_m = (self.high_m - self.low_m).tolist()
        return float(high_m / wide_m)


def laid_out(pieces: Sequence[PiecePattern], *, system: System) -> tuple[PieceLayout, ...]:
    """Lay the surfaces of pieces out so that nothing lies over anything else.

    Parameters
    ----------
    pieces : sequence of PiecePattern
        The pieces.
    system : System
        Units of what is written.

    Returns
    -------
    tuple of PieceLayout
        One below the other, the surfaces of each in rows. The y axis points up, from 0 down. All
        that is written is of one height, which suits the widest surface of all.

    Examples
    --------
    >>> laid_out([PiecePattern("bench", ())], system=System.METRIC)[0].title
    ('bench',)
    """
    row_m = _row_m(pieces)
    top_m = 0.0
    placed = []
    for piece in pieces:
        layout = _piece_layout(piece, row_m, top_m, system)
        placed.append(layout)
        top_m = float(layout.low_m[1]) - 4.0 * layout.text_m
    return tuple(placed)


def laid_out_on_a_page(piece: PiecePattern, *, system: System) -> PieceLayout:
    """Lay out the surfaces of one piece in rows so wide that a page holds all of them.

    Parameters
    ----------
    piece : PiecePattern
        The piece.
    system : System
        Units of what is written.

    Returns
    -------
    PieceLayout
        The piece, with rows no wider than that takes; the least tall of those that were tried
        where none is low enough.

    Examples
    --------
    >>> laid_out_on_a_page(PiecePattern("bench", ()), system=System.METRIC).cells
    ()
    """
    row_m = _row_m([piece])
    layouts = [_piece_layout(piece, times * row_m, 0.0, system) for times in _WIDER]
    fitting = (layout for layout in layouts if layout.tallness_ratio <= _TALLEST)
    return next(fitting, min(layouts, key=lambda layout: layout.tallness_ratio))


def _row_m(pieces: Sequence[PiecePattern]) -> float:
    """Give the width of rows that hold the widest surface of all."""
    widest_m = (_widest_m(pattern) for piece in pieces for pattern in piece.patterns)
    return _ROOM * max(widest_m, default=1.0)


def _piece_layout(piece: PiecePattern, row_m: float, top_m: float, system: System) -> PieceLayout:
    """Lay out one piece in rows of a width, below a line."""
    text_m = row_m / _LINES_WIDE
    title = tuple(textwrap.wrap(piece.name, _SIGNS_ACROSS, max_lines=3)) or ("",)
    title_m = _TITLE * text_m
    title_at_m = np.array([0.0, top_m - title_m])
    at_m = np.array([0.0, top_m - (_LEADING * len(title) + 1.0) * title_m])
    cells: list[Cell] = []
    foot_m = float(at_m[1])
    for pattern in piece.patterns:
        cell = _cell(pattern, text_m, system)
        size_m = cell.high_m - cell.low_m
        full = at_m[0] + size_m[0] > row_m or size_m[1] > _TALLER * (at_m[1] - foot_m)
        if at_m[0] > 0.0 and full:
            at_m = np.array([0.0, foot_m - 2.0 * text_m])
        cells.append(_moved(cell, at_m + np.array([0.0, -size_m[1]]) - cell.low_m))
        at_m = at_m + np.array([size_m[0] + 3.0 * text_m, 0.0])
        foot_m = min(foot_m, float(cells[-1].low_m[1]))
    right_m = max([row_m, *(float(cell.high_m[0]) for cell in cells)])
    return PieceLayout(
        title=title,
        title_at_m=title_at_m,
        title_m=title_m,
        text_m=text_m,
        leading_m=_LEADING * text_m,
        cells=tuple(cells),
        low_m=np.array([0.0, foot_m]),
        high_m=np.array([right_m, top_m]),
    )


def _widest_m(pattern: Pattern) -> float:
    """Width that a surface asks of a row; a tall one asks for half its height."""
    sizes_m = [np.ptp(sheet.outer_m, axis=0) for sheet in pattern.sheets]
    return max((max(float(size_m[0]), float(size_m[1]) / 2.0) for size_m in sizes_m), default=0.1)


def _cell(pattern: Pattern, text_m: float, system: System) -> Cell:
    """Set out one surface, its dimensions and what is written below, from the origin on."""
    apart = pattern.development is Development.DEVELOPED
    groups = [(sheet,) for sheet in pattern.sheets] if apart else [pattern.sheets]
    blocks: list[Block] = []
    left_m = 0.0
    for group in groups:
        if group:
            block = _block(group)
            shift_m = np.array([left_m + _ASIDE * text_m, 0.0]) - block.low_m
            blocks.append(_moved_block(block, shift_m))
            left_m = float(blocks[-1].high_m[0]) + text_m
    lines = _lines(pattern, system)
    first_m = -_BELOW * text_m - text_m if blocks else -text_m
    foot_m = first_m - _LEADING * text_m * (len(lines) - 1) - 0.5 * text_m
    wide_m = max(len(line) for line in lines) * _SIGN * text_m
    tops_m = (float(one.low_m[1]) + beside_m(one, text_m, system) for one in blocks)
    high_m = max(tops_m, default=0.0)
    return Cell(
        pattern=pattern,
        blocks=tuple(blocks),
        lines=lines,
        text_at_m=np.array([0.0, first_m]),
        low_m=np.array([0.0, foot_m]),
        high_m=np.array([max(left_m, wide_m), high_m]),
    )


def beside_m(block: Block, text_m: float, system: System) -> float:
    """Give the length of a line beside some sheets: their height, or the words if these are longer.

    Words stand about the middle of it, so that they never reach below the foot of the sheets, where
    the overall width is written.

    Parameters
    ----------
    block : Block
        The sheets.
    text_m : float
        Height of a line. [m]
    system : System
        Units of what is written.

    Returns
    -------
    float
        The length. [m]

    Examples
    --------
    >>> strip = Block((), np.array([0.0, 0.0]), np.array([1.0, 0.04]))
    >>> round(beside_m(strip, 0.1, System.METRIC), 3), beside_m(strip, 0.01, System.METRIC)
    (0.36, 0.04)
    """
    height_m = float(block.high_m[1] - block.low_m[1])
    return max(height_m, len(dimension_text(height_m, system)) * _SIGN * text_m)


def dimension_text(length_m: float, system: System) -> str:
    """Write an overall dimension: to a tenth of a millimetre, or in feet and inches.

    Parameters
    ----------
    length_m : float
        Length. [m]
    system : System
        Units to write.

    Returns
    -------
    str
        The length with its unit.

    Examples
    --------
    >>> dimension_text(1.2192, System.METRIC), dimension_text(1.2192, System.US)
    ('1219.2 mm', '4 ft')
    """
    if system == System.US:
        return written_length(length_m, system)
    return f"{length_m * 1000.0:.1f}".removesuffix(".0") + " mm"


def _lines(pattern: Pattern, system: System) -> tuple[str, ...]:
    """Say what a surface is."""
    name = f"{pattern.id} {pattern.surface_class.value.replace('_', ' ')}"
    of_opening = f", wall of {pattern.opening}" if pattern.opening else ""
    depth = f", {written_length(pattern.depth_m, system)} deep" if pattern.depth_m else ""
    remarks = _WORDS[pattern.development] if pattern.sheets else ("no outline of its own",)
    if pattern.sheets and not remarks and not pattern.is_true():
        remarks = ("outline of whole facets:", f"{written_area(pattern.drawn_m2, system)} drawn")
    return (name + of_opening, written_area(pattern.area_m2, system) + depth, *remarks)


def _block(sheets: tuple[Sheet, ...]) -> Block:
    """Take sheets together."""
    points_m = np.concatenate([sheet.outer_m for sheet in sheets])
    return Block(sheets, points_m.min(axis=0), points_m.max(axis=0))


def _moved_block(block: Block, shift_m: FloatArray) -> Block:
    """Move sheets."""
    sheets = tuple(
        Sheet(
            sheet.outer_m + shift_m,
            tuple(replace(hole, points_m=hole.points_m + shift_m) for hole in sheet.holes),
        )
        for sheet in block.sheets
    )
    return Block(sheets, block.low_m + shift_m, block.high_m + shift_m)


def _moved(cell: Cell, shift_m: FloatArray) -> Cell:
    """Move a surface with all that is written there."""
    return replace(
        cell,
        blocks=tuple(_moved_block(block, shift_m) for block in cell.blocks),
        text_at_m=cell.text_at_m + shift_m,
        low_m=cell.low_m + shift_m,
        high_m=cell.high_m + shift_m,
    )
