"""The sheet of one day for the wall: next mix, kilos, use-by, who, and when nothing more starts."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from takeoff.report.bid_words import counted
from takeoff.report.figures import written_duration
from takeoff.report.pour_clock import PRINTED_S, clock_text, limit_clocks
from takeoff.report.sheet_batches import SheetBatch, SheetClock, SheetPlace
from takeoff.report.sheet_blocks import SheetJob, cautions_mm, draw_cautions
from takeoff.report.sheet_layout import GREY, PALE, Pen, line_mm
from takeoff.report.sheet_words import hands_text
from takeoff.report.wall_words import wall_words

_ROW_MM, _WORD_PT, _BESIDE_PT = 12.8, 11.0, 9.5
_BEGIN_PT, _SMALL_PT, _OVERLEAF_PT = 14.0, 9.5, 13.0
_WIDTHS_MM = (12.0, 21.0, 22.0, 43.0, 22.0, 22.0)
_HEADS = ("mixed", "batch", "mix at", "weigh", "use by", "no face after", "or, where, who")


@dataclass(frozen=True, slots=True)
class WallDay:
    """What the sheet of a day says.

    Parameters
    ----------
    day : int
        Which day.
    batches : tuple of SheetBatch
        Its batches in order.
    makespan_s : float
        When the last of it is placed. [s]
    working_day_s : float or None
        How long the day is. [s]
    piece_starts_s : mapping of str to float
        When each piece must be begun at the latest. [s]
    begun_s : mapping of str to float
        When the plan begins the last of each. [s]
    """

    day: int
    batches: tuple[SheetBatch, ...]
    makespan_s: float
    working_day_s: float | None
    piece_starts_s: Mapping[str, float]
    begun_s: Mapping[str, float]


def draw_wall(pen: Pen, wall: WallDay, job: SheetJob) -> None:
    """Draw the sheet of a day, on as many pages as it takes.

    Parameters
    ----------
    pen : Pen
        What draws.
    wall : WallDay
        The day.
    job : SheetJob
        What every sheet of the job needs.

    Examples
    --------
    >>> from takeoff.report.figures import System
    >>> from takeoff.report.sheet_layout import Paper
    >>> from takeoff.report.sheet_weights import Weights
    >>> job = SheetJob("hall", Weights(System.METRIC, ()), (), (), {})
    >>> draw_wall(Pen(Paper.A4), WallDay(1, (), 0.0, None, {}, {}), job)
    """
    page = _WallPage(pen, wall, job)
    page.draw_head()
    page.draw_rows()
    page.draw_explained()


class _WallPage:
    """One day on its way down the page."""

    def __init__(self, pen: Pen, wall: WallDay, job: SheetJob) -> None:
        self.pen, self.wall, self.job = pen, wall, job
        self.width = pen.right - pen.left
        self.top = pen.new_page()
        last = self.width - sum(_WIDTHS_MM)
        widths = (*_WIDTHS_MM, last)
        self.columns = [(pen.left + sum(widths[:at]), wide) for at, wide in enumerate(widths)]

    def draw_head(self) -> None:
        """Say which day it is, and how its times are read."""
        pen, wall = self.pen, self.wall
        pen.write(f"Day {wall.day}", (pen.left, self.top), 70.0, size=48.0, bold=True)
        room = self.width - 75.0
        done = clock_text(wall.makespan_s, up=True)
        batches = f"{counted(len(wall.batches), 'batch', 'batches')}, done at {done}"
        right = pen.left + 75.0
        pen.write(self.job.title, (right, self.top + 1.0), room, size=15.0, align="R")
        pen.write(batches, (right, self.top + 8.5), room, size=18.0, bold=True, align="R")
        self.top += line_mm(48.0)
        words = "Hours and minutes from the start of the day. The day starts at"
        pen.write(words, (pen.left, self.top), self.width, size=12.0)
        low = self.top + line_mm(12.0) - 0.5
        pen.rule((pen.left + 116.0, low), (pen.left + 146.0, low))
        self.top += line_mm(12.0) + 2.0
        self._draw_heads()

    def _draw_heads(self) -> None:
        for (left, wide), head in zip(self.columns, _HEADS, strict=True):
            self.pen.write(head, (left, self.top), wide - 1.0, size=9.0, colour=GREY)
        self.top += line_mm(9.0) + 0.5
        self.pen.rule((self.pen.left, self.top), (self.pen.right, self.top), width=0.8)

    def draw_rows(self) -> None:
        """Set the batches of the day, a row each; the first without a tick is the next mix."""
        for number, batch in enumerate(self.wall.batches):
            words = self.pen.lines(self._words(batch), self._room(), size=_WORD_PT)
            high = _ROW_MM + len(words) * line_mm(_WORD_PT) + 1.0
            if self.top + high > self.pen.bottom:
                self._continue()
                self._draw_heads()
            if number % 2 == 0:
                self.pen.box((self.pen.left, self.top), (self.width, high), width=0.0, fill=PALE)
            self._draw_row(batch)
            for row, line in enumerate(words):
                at = (self.columns[1][0], self.top + _ROW_MM + row * line_mm(_WORD_PT))
                self.pen.write(line, at, self._room(), size=_WORD_PT)
            self.top += high
        self.pen.rule((self.pen.left, self.top), (self.pen.right, self.top), width=0.8)
        self.top += 2.0

    def _room(self) -> float:
        return self.pen.right - self.columns[1][0] - 1.0

    def _words(self, batch: SheetBatch) -> str:
        """Say what a batch is, and where it goes."""
        pen = self.pen
        mix = f"{pen.name(batch.mix)} {batch.colour}".strip()
        turns = list(dict.fromkeys(place.turn for place in batch.places if place.turn))
        what = ", ".join([mix, *turns])
        places = "; ".join(map(self._place, batch.places))
        return f"{what}, to {places}" if places else what

    def _place(self, place: SheetPlace) -> str:
        """Name a casting, and say how the walls are cast that are poured from the batch."""
        walls = wall_words(dict(place.walls))
        where = f"{self.pen.name(place.piece)}, {place.copy}"
        return f"{where} ({walls})" if walls else where

    def _draw_row(self, batch: SheetBatch) -> None:
        pen, top, weights = self.pen, self.top, self.job.weights
        pen.box((pen.left + 0.5, top + 2.5), (9.0, 9.0), width=0.7, fill=(255, 255, 255))
        texts = [batch.id, *self._times(batch)]
        big = ((1, 26.0, True), (2, 24.0, False), (4, 24.0, True), (5, 24.0, False))
        for (column, size, bold), text in zip(big, texts, strict=True):
            left, wide = self.columns[column]
            at = (left, top + (_ROW_MM - line_mm(size)) / 2)
            pen.write(text, at, wide - 2.0, size=size, bold=bold)
        left, wide = self.columns[3]
        at = (left, top + (_ROW_MM - line_mm(24.0)) / 2)
        pen.write(weights.running(batch.mass_kg), at, wide - 3.0, size=24.0, bold=True)
        left, wide = self.columns[-1]
        clock = batch.clock
        beside = [
            weights.other(batch.mass_kg),
            f"in the {pen.name(batch.mixer)}",
            hands_text(clock.mixed_by, clock.placed_by) if clock else "",
        ]
        for row, line in enumerate(beside):
            at = (left, top + 0.4 + row * line_mm(_BESIDE_PT))
            pen.write(line, at, wide, size=_BESIDE_PT)

    def _times(self, batch: SheetBatch) -> tuple[str, str, str]:
        clock = batch.clock
        if clock is None:
            return "", "", ""
        return clock.mix_at, clock.use_by, _last_start(batch, clock)

    def draw_explained(self) -> None:
        """Say what the times mean, when no other piece may be begun, and what to mind."""
        pen, job = self.pen, self.job
        for text in self._begin_lines():
            self._paragraph(text, size=_BEGIN_PT, bold=True)
        texts = (*_EXPLAINED, *job.notes)
        high = sum(self._height(text, _SMALL_PT) for text in texts)
        size = _SMALL_PT
        if self.top + high + cautions_mm(pen, job.cautions) + 1.0 > pen.bottom:
            self._continue()
            size = _OVERLEAF_PT
        for text in texts:
            self._paragraph(text, size=size)
        if not draw_cautions(pen, job.cautions, (self.top + 1.0, pen.bottom)):
            self._continue()
            draw_cautions(pen, job.cautions, (self.top, pen.bottom))

    def _height(self, text: str, size: float, *, bold: bool = False) -> float:
        return len(self.pen.lines(text, self.width, size=size, bold=bold)) * line_mm(size) + 0.8

    def _paragraph(self, text: str, *, size: float, bold: bool = False) -> None:
        """Write a text below the last one, overleaf where it does not fit."""
        if self.top + self._height(text, size, bold=bold) > self.pen.bottom:
            self._continue()
        at = (self.pen.left, self.top)
        self.top = self.pen.paragraph(text, at, self.width, size=size, bold=bold) + 0.8

    def _begin_lines(self) -> list[str]:
        """Say, piece by piece, when none may be begun any more."""
        wall = self.wall
        if not wall.piece_starts_s or wall.working_day_s is None:
            return []
        limits = ", ".join(
            f"{self.pen.name(piece)} {_begin_by(wall.begun_s[piece], latest_s)}"
            for piece, latest_s in wall.piece_starts_s.items()
        )
        day = written_duration(wall.working_day_s)
        why = f"its last layer would not be in before the day of {day} ends"
        return [f"Begin no other piece after: {limits}; {why}."]

    def _continue(self) -> None:
        self.top = self.pen.new_page()
        text = f"Day {self.wall.day}, continued"
        self.pen.write(text, (self.pen.left, self.top), self.width, size=24.0, bold=True)
        self.top += line_mm(24.0) + 2.0


_EXPLAINED = (
    """Mix at is rounded up, the other times down: to 5 min, or to the minute where a batch goes off
    too fast for that. Done at: the last of the day is in its form, as the plan has it.""",
    """Use by: the last of the batch is in the form; from the end of mixing on it has its pot life.
    Mixing that ends sooner brings it forward by as much.""",
    """No face after: the last face that the batch goes to is started by then, or not from this
    batch: at the pace of the plan what is left would not be in the form in time, or the coat
    under that face would be too old.""",
)


def _last_start(batch: SheetBatch, clock: SheetClock) -> str:
    """Write when the last face of a batch must be started at the latest."""
    starts = [place.start for place in batch.places if place.start is not None]
    return clock.face_words(starts[-1])[1] if starts else clock.use_by


def _begin_by(begun_s: float, latest_s: float) -> str:
    """Write when a piece must be begun at the latest."""
    return limit_clocks(begun_s, latest_s, step_s=PRINTED_S)[1]
