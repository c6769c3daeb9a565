"""Blocks that several printed sheets have: cautions at their foot, lines to fill in."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field

from takeoff.report.sheet_layout import GREY, Pen, line_mm
from takeoff.report.sheet_weights import Weights

FIELD_MM = 8.6
_GAP_MM = 5.0
_HEAD_PT, _ALL_PT, _SOME_PT, _LEAST_PT = 10.0, (13.0, 11.5), 10.0, 9.0
_FEW_COUNT, _LEAST_COUNT = 5, 4  # of cautions: dust, caustic, what the mix brings, whose rules


@dataclass(frozen=True, slots=True, eq=False)
class SheetJob:
    """What every sheet of a job needs.

    Parameters
    ----------
    title : str
        Name and date of the job.
    weights : Weights
        How masses are written.
    cautions : tuple of str
        What to mind.
    notes : tuple of str
        What a person must see.
    pictures : mapping of str to bytes
        A PNG of each piece by its name, from the open side of its form.
    mix_cautions : mapping of str to tuple of str, default empty
        What of it concerns each mix, by name.
    """

    title: str
    weights: Weights
    cautions: tuple[str, ...]
    notes: tuple[str, ...]
    pictures: Mapping[str, bytes]
    mix_cautions: Mapping[str, tuple[str, ...]] = field(default_factory=dict)

    def cautions_of(self, mix: str) -> tuple[str, ...]:
        """Give what to mind where one mix is mixed and placed.

        Parameters
        ----------
        mix : str
            Its name.

        Returns
        -------
        tuple of str
            The sentences; all of the job for a mix that has none of its own.
        """
        return self.mix_cautions.get(mix, self.cautions)


def draw_fields(pen: Pen, top: float, labels: Sequence[str], *, columns: int) -> float:
    """Draw lines to fill in, each with what belongs on it.

    Parameters
    ----------
    pen : Pen
        What draws.
    top : float
        Top of the first row. [mm]
    labels : sequence of str
        What belongs on each line.
    columns : int
        How many stand in a row.

    Returns
    -------
    float
        Top of what follows. [mm]

    Examples
    --------
    >>> from takeoff.report.sheet_layout import Paper
    >>> pen = Pen(Paper.A4)
    >>> draw_fields(pen, pen.new_page(), ["mixed by", "placed by"], columns=2)
    18.6
    """
    wide = (pen.right - pen.left + _GAP_MM) / columns
    for number, label in enumerate(labels):
        row, column = divmod(number, columns)
        left, low = pen.left + column * wide, top + (row + 1) * FIELD_MM
        pen.write(label, (left, low - line_mm(9.0) - 0.6), wide - 25.0, size=9.0)
        pen.rule((left + wide - _GAP_MM - 18.5, low - 1.0), (left + wide - _GAP_MM, low - 1.0))
    return top + -(-len(labels) // columns) * FIELD_MM


def draw_cautions(pen: Pen, cautions: Sequence[str], room: tuple[float, float]) -> bool:
    """Draw cautions in two columns at the foot of what is left of a page.

    Parameters
    ----------
    pen : Pen
        What draws.
    cautions : sequence of str
        The sentences, first what a batch brings soonest, last whose rules to follow.
    room : tuple of float
        Top and bottom of what is left. [mm]

    Returns
    -------
    bool
        Whether the first few and the last of them fit; nothing is drawn where they do not. All
        are drawn where there is room for type that is read at arm's length, else as many as fit,
        with the words that all are at the end.

    Examples
    --------
    >>> from takeoff.report.sheet_layout import Paper
    >>> pen = Pen(Paper.A4)
    >>> top = pen.new_page()
    >>> draw_cautions(pen, ["Wet cement is caustic."], (top, pen.bottom))
    True
    """
    top, bottom = room
    for shown, size in _choices(cautions):
        columns = _columns(pen, shown, size)
        height = _height_mm(columns, size)
        if top + height <= bottom:
            some = f": {len(shown)} of {len(cautions)}, all of them on the sheet at the end"
            head = "Caution" + (some if len(shown) < len(cautions) else "")
            _print_columns(pen, head, columns, bottom - height, size)
            return True
    return False


def cautions_mm(pen: Pen, cautions: Sequence[str]) -> float:
    """Give the least height that cautions take.

    Parameters
    ----------
    pen : Pen
        What draws.
    cautions : sequence of str
        The sentences.

    Returns
    -------
    float
        Height. [mm]

    Examples
    --------
    >>> from takeoff.report.sheet_layout import Paper
    >>> round(cautions_mm(Pen(Paper.A4), ["Wet cement is caustic."]), 1)
    8.2
    """
    *_, (least, size) = _choices(cautions)
    return _height_mm(_columns(pen, least, size), size)


def _choices(cautions: Sequence[str]) -> Iterator[tuple[Sequence[str], float]]:
    """Give which cautions may be shown and in what type: all, then fewer and fewer."""
    yield from ((cautions, size) for size in _ALL_PT)
    yield cautions, _SOME_PT
    for count in range(len(cautions) - 1, _FEW_COUNT - 1, -1):
        yield [*cautions[: count - 1], cautions[-1]], _SOME_PT
    for count in (_FEW_COUNT, _LEAST_COUNT):
        few = cautions if len(cautions) <= count else [*cautions[: count - 1], cautions[-1]]
        yield few, _LEAST_PT


def _height_mm(columns: tuple[list[str], list[str]], size: float) -> float:
    return line_mm(_HEAD_PT) + max(map(len, columns)) * line_mm(size)


def _columns(pen: Pen, cautions: Sequence[str], size: float) -> tuple[list[str], list[str]]:
    """Break cautions into lines, in two columns as even as whole sentences let them be."""
    width = (pen.right - pen.left - _GAP_MM) / 2
    blocks = [pen.lines(f"- {sentence}", width, size=size) for sentence in cautions]
    cuts = range(len(blocks) + 1)
    best = min(cuts, key=lambda cut: max(_count(blocks[:cut]), _count(blocks[cut:])))
    first = [line for block in blocks[:best] for line in block]
    return first, [line for block in blocks[best:] for line in block]


def _count(blocks: Sequence[Sequence[str]]) -> int:
    return sum(map(len, blocks))


def _print_columns(
    pen: Pen, head: str, columns: tuple[list[str], list[str]], top: float, size: float
) -> None:
    width = (pen.right - pen.left - _GAP_MM) / 2
    pen.rule((pen.left, top - 0.5), (pen.right, top - 0.5), width=0.2, colour=GREY)
    pen.write(head, (pen.left, top), pen.right - pen.left, size=_HEAD_PT, bold=True)
    for column, lines in enumerate(columns):
        for row, line in enumerate(lines):
            at = (
                pen.left + column * (width + _GAP_MM),
                top + line_mm(_HEAD_PT) + row * line_mm(size),
            )
            pen.write(line, at, width + 1.0, size=size)
