"""The greedy clock: whatever can start first starts, and what comes too late is mended."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from takeoff.batching.calendars import Calendar
from takeoff.batching.clocks import Lag, Pour, Start

Starts = tuple[Start, ...]

# How many batches may wait for their cover at once; fewer make covers come sooner.
_WAITING = (1_000, 2, 1)
_REPAIRS = 16


def dispatch(
    pour: Pour, calendar: Calendar | None = None, *, thorough: bool = True
) -> Starts | None:
    """Put the tasks of a pour on the clock, each mixed straight before it is placed.

    Parameters
    ----------
    pour : Pour
        The tasks and what binds them.
    calendar : Calendar, optional
        What of the day is taken already; it is not changed.
    thorough : bool, default True
        Whether to look for the shortest day; otherwise the first plan found will do.

    Returns
    -------
    tuple of Start or None
        When each task starts; None where none was found, which does not prove that there is none.

    Notes
    -----
    Of the tasks that may start next, the one that can start first does. Where a cover then comes
    too late, what it covers is started later, and all is tried again. That is done with fewer and
    fewer batches waiting for their cover at once, and the shortest day is kept.

    Examples
    --------
    >>> from takeoff.batching.clocks import Task
    >>> task = Task("pan", ("b", ""), 12, 4, 9, 0, 48, workers=2)
    >>> pour = Pour((task,) * 3, (), hands=4, guns=None, haul_ticks=2, wash_ticks=20, day_ticks=960)
    >>> [start.mix for start in dispatch(pour)], pour.end_ticks(dispatch(pour))
    ([0, 16, 32], 55)
    """
    if pour.hands < max((task.workers for task in pour.tasks), default=1):
        return None
    free = Calendar(pour) if calendar is None else calendar
    best: Starts | None = None
    for waiting in _WAITING if thorough else reversed(_WAITING):
        found = _Attempt(pour, free, waiting).repaired()
        if found is not None and (best is None or pour.end_ticks(found) < pour.end_ticks(best)):
            best = found
        if best is not None and not (thorough and pour.lags):
            break
    return best


@dataclass(frozen=True, slots=True)
class _TooLate:
    """A task that must not start before some tick, or the one that covers it is too late."""

    task: int
    floor: int


class _Attempt:
    """One way of choosing what starts next, repeated until no cover is too late."""

    def __init__(self, pour: Pour, calendar: Calendar, waiting: int) -> None:
        self.pour = pour
        self.calendar = calendar
        self.waiting = waiting
        self.into: list[list[Lag]] = [[] for _ in pour.tasks]
        self.out: list[list[Lag]] = [[] for _ in pour.tasks]
        for lag in pour.lags:
            self.into[lag.after].append(lag)
            self.out[lag.before].append(lag)

    def repaired(self) -> Starts | None:
        """Try, start later what is covered too late, and try again."""
        floors = [task.release for task in self.pour.tasks]
        for _ in range(_REPAIRS):
            found = _Run(self, floors).starts()
            if not isinstance(found, _TooLate):
                return found
            floors[found.task] = max(floors[found.task] + 1, found.floor)
        return None


class _Run:
    """One run through the tasks: what is placed, what may come next, and from when on."""

    def __init__(self, attempt: _Attempt, floors: Sequence[int]) -> None:
        self.attempt = attempt
        self.tasks = attempt.pour.tasks
        self.calendar = attempt.calendar.copied()
        self.least = list(floors)
        self.due = [attempt.pour.day_ticks] * len(self.tasks)
        self.before = [len(lags) for lags in attempt.into]
        self.after = [len(lags) for lags in attempt.out]
        self.ready = {number for number, count in enumerate(self.before) if count == 0}
        self.places: dict[int, int] = {}
        self.uncovered = 0

    def starts(self) -> Starts | _TooLate | None:
        """Give when each task starts, or what to start later, or None where the day is over."""
        while self.ready:
            chosen = self._chosen()
            if chosen is None:
                return None
            number, place = chosen
            for lag in self.attempt.into[number]:
                if lag.most is not None and place > self.places[lag.before] + lag.most:
                    return _TooLate(lag.before, place - lag.most)
            self._put(number, place)
        return tuple(self._start(number) for number in range(len(self.tasks)))

    def _start(self, number: int) -> Start:
        place = self.places[number]
        return Start(place - self.attempt.pour.haul_ticks - self.tasks[number].mix_ticks, place)

    def _chosen(self) -> tuple[int, int] | None:
        """Choose the task that starts next, and when; None where one fits no more."""
        best: tuple[tuple[bool, int, int, int], int] | None = None
        full = self.uncovered >= self.attempt.waiting
        for number in self.ready:
            too_many = full and not self.attempt.into[number]
            if best is not None and (too_many, self.least[number]) > best[0][:2]:
                continue
            place = self.calendar.earliest(self.tasks[number], self.least[number])
            if place is None:
                return None
            rank = (too_many, place, self.due[number], number)
            if best is None or rank < best[0]:
                best = (rank, place)
        return None if best is None else (best[0][3], best[1])

    def _put(self, number: int, place: int) -> None:
        """Book a task, and open what only waited for it."""
        self.places[number] = place
        self.ready.remove(number)
        self.calendar.book(self.tasks[number], self._start(number))
        self.uncovered += bool(self.after[number])
        for lag in self.attempt.into[number]:
            self.after[lag.before] -= 1
            self.uncovered -= self.after[lag.before] == 0
        for lag in self.attempt.out[number]:
            self.least[lag.after] = max(self.least[lag.after], place + lag.least)
            if lag.most is not None:
                self.due[lag.after] = min(self.due[lag.after], place + lag.most)
            self.before[lag.after] -= 1
            if self.before[lag.after] == 0:
                self.ready.add(lag.after)
