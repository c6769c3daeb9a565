"""The sheet of one batch, to be read at arm's length beside the mixer."""

from __future__ import annotations

from takeoff.report.figures import written_duration, written_volume
from takeoff.report.form_plan import draw_plan, has_plan
from takeoff.report.sheet_batches import SheetBatch, SheetClock, SheetPlace
from takeoff.report.sheet_blocks import FIELD_MM, SheetJob, cautions_mm, draw_cautions, draw_fields
from takeoff.report.sheet_layout import GREY, PALE, Pen, line_mm
from takeoff.report.sheet_steps import SheetLine, SheetMixing
from takeoff.report.sheet_words import hands_text
from takeoff.report.wall_words import wall_words

_HUGE_PT, _CLOCK_PT, _KIND_PT, _WEIGH_PT = 56.0, 34.0, 17.0, 25.0
_ROW_MM, _HEAD_MM = 12.2, 5.0
_MIXING_PT, _MIXING_MM, _TICK_MM = 16.0, 10.0, 9.0
_PLACE_PT, _WHEN_PT, _FOLLOWS_PT = 13.0, 10.0, 14.0
_PLAN_MM, _LEAST_PLAN_MM = 32.0, 20.0
_FIELDS = (
    "temperature of mix",
    "of air",
    "of water",
    "flow",
    "mixing began at",
    "mixing ended at",
    "all in form at",
    "left over",
    "mixed by",
    "placed by",
    "checked by",
    "remarks",
)
_FIELD_COLUMNS = 4
_PLAN_SHARE = 0.58  # of the room for a place, where a picture stands beside its plan
_SEEN = "seen from the open side of the form, plans not to scale"

# Left edge and width of each column of the table, from the left margin, in mm; the table is as
# wide as A4 lets it be, and leaves what Letter has besides to the names.
_NUMBER, _NAME, _WEIGH, _BESIDE, _TICK, _ACTUAL, _LOT = range(7)
_WIDTHS_MM = (7.0, 54.0, 44.0, 31.0, 12.0, 22.0, 20.0)


def draw_batch(pen: Pen, batch: SheetBatch, job: SheetJob, *, day: str, follows: str) -> None:
    """Draw the sheet of a batch, on as many pages as it takes.

    Parameters
    ----------
    pen : Pen
        What draws.
    batch : SheetBatch
        The batch.
    job : SheetJob
        What every sheet of the job needs.
    day : str
        Which day, and which of its batches it is.
    follows : str
        What comes next.

    Examples
    --------
    >>> from takeoff.report.figures import System
    >>> from takeoff.report.sheet_layout import Paper
    >>> from takeoff.report.sheet_weights import Weights
    >>> pen = Pen(Paper.A4)
    >>> batch = SheetBatch("1.1", 1, "b", "", "backer", "poured", "pan", 1.0, 0.001, None, (), (),
    ...                    None)
    >>> draw_batch(pen, batch, SheetJob("hall", Weights(System.METRIC, ()), (), (), {}), day="",
    ...            follows="")
    """
    page = _BatchPage(pen, batch, job, day)
    page.draw_head()
    page.draw_lines()
    page.draw_whole()
    page.draw_places()
    page.draw_foot(follows)


class _BatchPage:
    """One batch on its way down the page."""

    def __init__(self, pen: Pen, batch: SheetBatch, job: SheetJob, day: str) -> None:
        self.pen, self.batch, self.job, self.day = pen, batch, job, day
        self._cautions = job.cautions_of(batch.mix)
        self.top = pen.new_page()
        self.width = pen.right - pen.left
        self.plan_mm = _PLAN_MM
        spare = self.width - sum(_WIDTHS_MM)
        widths = [wide + (spare if at == _NAME else 0.0) for at, wide in enumerate(_WIDTHS_MM)]
        self.columns = [(pen.left + sum(widths[:at]), wide) for at, wide in enumerate(widths)]

    def draw_head(self) -> None:
        """Say which batch it is, of what, by when, by whom."""
        pen, batch, top = self.pen, self.batch, self.top
        high = line_mm(_HUGE_PT)
        clock_left = pen.left + 0.56 * self.width
        if batch.id:
            room = clock_left - pen.left - 4.0
            pen.write(f"Batch {batch.id}", (pen.left, top), room, size=_HUGE_PT, bold=True)
            self._draw_clock(clock_left, batch.clock)
        else:
            self._draw_kind(clock_left)
        self.top = top + high + 1.0
        pen.rule((pen.left, self.top), (pen.right, self.top), width=0.8)
        self.top += 1.0
        mix = f"{pen.name(batch.mix)} {batch.colour}".strip()
        what = ", ".join(word for word in (mix, batch.layer, batch.placing) if word)
        pen.write(what, (pen.left, self.top), self.width, size=18.0, bold=True)
        self.top += line_mm(18.0)
        clock = batch.clock
        who = hands_text(clock.mixed_by, clock.placed_by) if clock else ""
        words = [f"in the {pen.name(batch.mixer)}", who, self.day, self.job.title]
        line = " | ".join(word for word in words if word)
        pen.write(line, (pen.left, self.top), self.width, size=12.0)
        self.top += line_mm(12.0) + 1.0

    def _draw_kind(self, clock_left: float) -> None:
        """Leave room for the number of a batch that is made several times."""
        pen, count = self.pen, self.batch.count
        pen.write("Batch", (pen.left, self.top), 60.0, size=44.0, bold=True)
        low = self.top + line_mm(44.0) - 2.5
        pen.rule((pen.left + 50.0, low), (pen.left + 70.0, low), width=0.6)
        pen.write(
            f"of {count}", (pen.left + 73.0, self.top), clock_left - pen.left - 75.0, size=44.0,
            bold=True,
        )  # fmt: skip
        if self.batch.pot_life_s is None:
            after = "pot life not told: data sheet rules"
        else:
            after = f"{written_duration(self.batch.pot_life_s)} after mixing ends"
        self._draw_limit(clock_left, pen.right, "USE BY", after, size=_KIND_PT)

    def _draw_clock(self, left: float, clock: SheetClock | None) -> None:
        """Say when to mix, and by when it must be in the form."""
        if clock is None:
            return
        middle = left + (self.pen.right - left) / 2
        self._draw_limit(left, middle - 1.5, "MIX AT", clock.mix_at)
        self._draw_limit(middle + 1.5, self.pen.right, "USE BY", clock.use_by)

    def _draw_limit(
        self, left: float, right: float, head: str, text: str, *, size: float = _CLOCK_PT
    ) -> None:
        pen, top, room = self.pen, self.top, right - left - 3.0
        pen.box((left, top + 1.0), (right - left, line_mm(_HUGE_PT) - 3.0), width=0.8)
        pen.write(head, (left + 1.5, top + 2.0), room, size=11.0, bold=True, align="C")
        high = line_mm(size) + line_mm(11.0)
        at = top + 1.5 + line_mm(11.0) + max(0.0, line_mm(_HUGE_PT) - 4.0 - high) / 2
        pen.write(text, (left + 1.5, at), room, size=size, bold=True, align="C")

    def draw_lines(self) -> None:
        """Set what goes into the mixer in order, a row each."""
        heads = (
            "",
            "add in this order",
            "weigh",
            "or | running total",
            "done",
            "actual",
            "pack lot",
        )
        for (left, wide), head in zip(self.columns, heads, strict=True):
            align = "R" if head == "weigh" else "L"
            room = wide - (3.0 if align == "R" else 0.0)
            self.pen.write(head, (left, self.top), room, size=9.0, align=align, colour=GREY)
        self.top += _HEAD_MM
        for number, step in enumerate(self.batch.steps, 1):
            if isinstance(step, SheetMixing):
                self._draw_mixing(number, step)
                continue
            when = self.pen.lines(step.when, self.columns[_NAME][1] - 1.0, size=_WHEN_PT)
            high = max(_ROW_MM, 7.8 + len(when) * line_mm(_WHEN_PT))
            self._need(high)
            self._draw_line(number, step, high)
            self.top += high

    def _draw_line(self, number: int, line: SheetLine, high: float) -> None:
        pen, weights, top = self.pen, self.job.weights, self.top
        self._draw_number(number, high)
        left, wide = self.columns[_NAME]
        pen.write(pen.name(line.name), (left, top + 0.8), wide - 1.0, size=16.0, bold=True)
        pen.paragraph(line.when, (left, top + 7.6), wide - 1.0, size=_WHEN_PT)
        left, wide = self.columns[_WEIGH]
        reading = weights.reading(line.mass_kg)
        pen.write(reading, (left, top + 1.2), wide - 3.0, size=_WEIGH_PT, bold=True, align="R")
        left, wide = self.columns[_BESIDE]
        pen.write(weights.other(line.mass_kg), (left, top + 1.2), wide - 1.0, size=11.0)
        running = "not into the mixer"
        if line.running_kg is not None:
            running = f"total {weights.running(line.running_kg)}"
        pen.write(running, (left, top + 6.8), wide - 1.0, size=13.0, bold=True)
        self._draw_tick(1.6)
        for column in (_ACTUAL, _LOT):
            left, wide = self.columns[column]
            pen.rule((left, top + _ROW_MM - 2.3), (left + wide - 2.0, top + _ROW_MM - 2.3))

    def _draw_mixing(self, number: int, step: SheetMixing) -> None:
        """Set how long to mix and to let rest between what goes in before and after."""
        pen, (left, _), (right, _) = self.pen, self.columns[_NAME], self.columns[_TICK]
        lines = pen.lines(step.words, right - left - 2.0, size=_MIXING_PT, bold=True)
        high = max(_MIXING_MM, len(lines) * line_mm(_MIXING_PT) + 3.0)
        self._need(high)
        self._draw_number(number, high)
        top = self.top + (high - len(lines) * line_mm(_MIXING_PT)) / 2
        room = right - left - 2.0
        pen.paragraph(step.words, (left, top), room, size=_MIXING_PT, bold=True)
        self._draw_tick((high - _TICK_MM) / 2)
        self.top += high

    def _draw_number(self, number: int, high: float) -> None:
        """Write the number of a row, every other one on a pale ground."""
        if number % 2:
            self.pen.box((self.pen.left, self.top), (self.width, high), width=0.0, fill=PALE)
        left, wide = self.columns[_NUMBER]
        self.pen.write(str(number), (left + 1.0, self.top + 2.5), wide, size=14.0)

    def _draw_tick(self, below: float) -> None:
        """Draw a box to tick, so far below the top of its row."""
        at = (self.columns[_TICK][0], self.top + below)
        self.pen.box(at, (_TICK_MM, _TICK_MM), width=0.7, fill=(255, 255, 255))

    def draw_whole(self) -> None:
        """Say what the whole batch weighs, as a check."""
        pen, weights, batch = self.pen, self.job.weights, self.batch
        self._need(_ROW_MM)
        pen.rule((pen.left, self.top), (pen.right, self.top), width=0.8)
        left, wide = self.columns[_NAME]
        pen.write("whole batch", (left, self.top + 0.8), wide, size=16.0, bold=True)
        volume = written_volume(batch.volume_m3, weights.system)
        apart_kg = batch.at_gun_kg
        gun = f", of it {weights.reading(apart_kg)} at the gun" if apart_kg > 0.0 else ""
        pen.write(f"{volume} fresh{gun}", (left, self.top + 7.6), wide, size=10.0)
        left, wide = self.columns[_WEIGH]
        reading = weights.running(batch.mass_kg)
        at = (left, self.top + 1.2)
        pen.write(reading, at, wide - 3.0, size=_WEIGH_PT, bold=True, align="R")
        left, wide = self.columns[_BESIDE]
        pen.write(weights.other(batch.mass_kg), (left, self.top + 1.2), wide, size=11.0)
        self.top += _ROW_MM
        pen.rule((pen.left, self.top), (pen.right, self.top), width=0.8)
        self.top += 1.5

    def draw_places(self) -> None:
        """Say and show where it goes, form by form."""
        places = self.batch.places
        across = 2 if len(places) <= 2 else 3
        wide = (self.width + 4.0) / across
        self._fit_plans(across, wide - 4.0)
        for first in range(0, len(places), across):
            row = places[first : first + across]
            high = max(self._place_height(place, wide - 4.0) for place in row)
            fresh = self._need(high + (line_mm(10.0) if first == 0 else 0.0))
            if first == 0 or fresh:
                head = "goes here" if self.batch.clock else "one piece takes, over all its batches"
                self.pen.write(
                    f"{head}; {_SEEN}",
                    (self.pen.left, self.top),
                    self.width,
                    size=10.0,
                    colour=GREY,
                )
                self.top += line_mm(10.0)
            for number, place in enumerate(row):
                self._draw_place(place, self.pen.left + number * wide, wide - 4.0)
            self.top += high

    def _fit_plans(self, across: int, width: float) -> None:
        """Draw plans as large as they can be with the foot still on the same page."""
        pen, places = self.pen, self.batch.places
        self.plan_mm = 0.0
        rows = [places[first : first + across] for first in range(0, len(places), across)]
        words = sum(max(self._place_height(place, width) for place in row) for row in rows)
        foot = self._fields_mm() + cautions_mm(pen, self._cautions) + 2.0
        room = pen.bottom - self.top - line_mm(10.0) - words - foot
        fits = room / max(1, len(rows))
        self.plan_mm = min(_PLAN_MM, fits) if fits >= _LEAST_PLAN_MM else _PLAN_MM

    def _fields_mm(self) -> float:
        return -(-len(_FIELDS) // _FIELD_COLUMNS) * FIELD_MM + line_mm(_FOLLOWS_PT) + 1.0

    def _place_height(self, place: SheetPlace, width: float) -> float:
        name = self.pen.lines(self.pen.name(place.piece), width, size=_PLACE_PT, bold=True)
        words = len(self._words(place, width))
        shown = self.plan_mm if has_plan(place) or place.piece in self.job.pictures else 0.0
        return shown + line_mm(_PLACE_PT) * (len(name) + 1) + line_mm(10.0) * words + 2.0

    def _says_all(self, place: SheetPlace) -> bool:
        """Tell whether the plan names every class that the batch goes to."""
        plain = {"show face", "return", "upright"}
        return has_plan(place) and all(
            name in plain for name, mass_kg in place.classes if mass_kg > 0.0
        )

    def _words(self, place: SheetPlace, width: float) -> list[str]:
        """Say what the plan does not: how the walls are cast, and what goes to other classes."""
        walls = wall_words(dict(place.walls))
        lines = self.pen.lines(walls, width, size=10.0, bold=True) if walls else []
        if self._says_all(place):
            return lines
        weights = self.job.weights
        return lines + [f"{name} {weights.rounded(kg)}" for name, kg in place.classes if kg > 0.0]

    def _draw_place(self, place: SheetPlace, left: float, width: float) -> None:
        pen, at = self.pen, (left, self.top)
        top = pen.paragraph(pen.name(place.piece), at, width, size=_PLACE_PT, bold=True)
        which = ", ".join(text for text in (place.copy, place.turn) if text)
        pen.write(which + _start_words(place, self.batch.clock), (left, top), width, size=_PLACE_PT)
        top += line_mm(_PLACE_PT)
        self._draw_shown(place, (left, top), width)
        if has_plan(place) or place.piece in self.job.pictures:
            top += self.plan_mm
        for words in self._words(place, width):
            pen.write(words, (left, top), width, size=10.0, bold=True)
            top += line_mm(10.0)

    def _draw_shown(self, place: SheetPlace, at: tuple[float, float], width: float) -> None:
        """Show a form as a plan, as a picture, or as one beside the other."""
        picture, (left, top), high = self.job.pictures.get(place.piece), at, self.plan_mm - 1.0
        planned = 0.0
        if has_plan(place):
            planned = width if picture is None else _PLAN_SHARE * width
            draw_plan(self.pen, place, at, (planned, high), weights=self.job.weights)
        if picture is not None:
            self.pen.picture(picture, (left + planned + 1.0, top), (width - planned - 1.0, high))

    def draw_foot(self, follows: str) -> None:
        """Leave lines to fill in, say what comes next and what to mind."""
        pen = self.pen
        self._need(self._fields_mm())
        top = self.top
        if follows:
            pen.write(follows, (pen.left, top), self.width, size=_FOLLOWS_PT, bold=True)
            top += line_mm(_FOLLOWS_PT)
        top = draw_fields(pen, top, _FIELDS, columns=_FIELD_COLUMNS) + 1.0
        if not draw_cautions(pen, self._cautions, (top, pen.bottom)):
            self._continue()
            draw_cautions(pen, self._cautions, (self.top, pen.bottom))

    def _need(self, height: float) -> bool:
        """Go on overleaf where there is not so much room left; tell whether it was needed."""
        if self.top + height <= self.pen.bottom:
            return False
        self._continue()
        return True

    def _continue(self) -> None:
        self.top = self.pen.new_page()
        batch = self.batch
        which = batch.id or f"of {self.pen.name(batch.mix)}"
        text = f"Batch {which}, continued"
        self.pen.write(text, (self.pen.left, self.top), self.width, size=24.0, bold=True)
        self.top += line_mm(24.0) + 2.0


def _start_words(place: SheetPlace, clock: SheetClock | None) -> str:
    """Say when a face is started, and when at the latest."""
    if place.start is None or clock is None:
        return ""
    start, latest = clock.face_words(place.start)
    why = ", coat under it" if place.start.covers_too_late else ""
    return f": start {start}, not after {latest}{why}"
