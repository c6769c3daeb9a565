"""A day's hands, guns and mixers as they are booked, tick by tick."""

from __future__ import annotations

from collections.abc import Sequence

from takeoff.batching.clocks import Pour, Start, Task


class Calendar:
    """Who and what is busy when, on one day.

    Parameters
    ----------
    pour : Pour
        Hands, guns and day.
    """

    def __init__(self, pour: Pour) -> None:
        self.pour = pour
        self.hands = [0] * pour.day_ticks
        self.guns = [0] * pour.day_ticks
        self.mixers: dict[str, list[tuple[int, int, Task]]] = {}

    def copied(self) -> Calendar:
        """Give a copy that may be booked without touching this one."""
        other = Calendar(self.pour)
        other.hands, other.guns = self.hands[:], self.guns[:]
        other.mixers = {name: booked[:] for name, booked in self.mixers.items()}
        return other

    def earliest(self, task: Task, least: int) -> int | None:
        """Give the first tick from which a task can be placed, mixed straight before.

        None where that is not on this day.
        """
        before = task.mix_ticks + self.pour.haul_ticks
        place = max(least, before)
        while place + task.busy_ticks <= self.pour.day_ticks:
            later = self._free_from(task, place - before, place)
            if later is None:
                return place
            place = later + before
        return None

    def fits(self, tasks: Sequence[Task], starts: Sequence[Start]) -> bool:
        """Tell whether tasks can all be booked just so."""
        pairs = list(zip(tasks, starts, strict=True))
        # Each by itself first: that costs no copy, and mostly says no.
        if not all(self.fits_one(task, start) for task, start in pairs):
            return False
        trial = self.copied()
        for task, start in pairs:
            if not trial.fits_one(task, start):
                return False
            trial.book(task, start)
        return True

    def fits_one(self, task: Task, start: Start) -> bool:
        """Tell whether one task can be booked just so."""
        ends = start.place + task.busy_ticks <= self.pour.day_ticks
        return ends and start.mix >= 0 and self._free_from(task, start.mix, start.place) is None

    def book(self, task: Task, start: Start) -> None:
        """Take hands, guns and mixer for a task."""
        _add(self.hands, start.mix, task.mix_ticks, 1)
        _add(self.hands, start.place, task.busy_ticks, task.workers)
        if task.guns:
            _add(self.guns, start.place, task.place_ticks, task.guns)
        booked = self.mixers.setdefault(task.mixer, [])
        booked.append((start.mix, start.mix + task.mix_ticks, task))

    def _free_from(self, task: Task, mix: int, place: int) -> int | None:
        """Give None where all is free; else a later tick to mix from, after what is in the way."""
        mixed = mix + task.mix_ticks
        for first, last, other in self.mixers.get(task.mixer, ()):
            if mix < last + self.pour.gap_ticks(other, task) and (
                first < mixed + self.pour.gap_ticks(task, other)
            ):
                return last + self.pour.gap_ticks(other, task)
        clash = _last_above(self.hands, mix, mixed, self.pour.hands - 1)
        if clash is not None:
            return clash + 1
        shift = mix - place
        spare = self.pour.hands - task.workers
        clash = _last_above(self.hands, place, place + task.busy_ticks, spare)
        if clash is not None:
            return clash + 1 + shift
        if task.guns and self.pour.guns is not None:
            spare = self.pour.guns - task.guns
            clash = _last_above(self.guns, place, place + task.place_ticks, spare)
            if clash is not None:
                return clash + 1 + shift
        return None


def mixed_later(pour: Pour, starts: Sequence[Start]) -> tuple[Start, ...]:
    """Mix every batch as late as its placing allows, so that none stands in its bucket for nothing.

    Parameters
    ----------
    pour : Pour
        The tasks and what they share.
    starts : sequence of Start
        A plan of them.

    Returns
    -------
    tuple of Start
        The same plan with the same placing, mixed later where hands and mixers are free.

    Examples
    --------
    >>> task = Task("pan", ("b", ""), 12, 4, 9, 0, 48, workers=1)
    >>> pour = Pour((task,), (), 2, None, haul_ticks=2, wash_ticks=20, day_ticks=960)
    >>> mixed_later(pour, [Start(mix=0, place=40)])
    (Start(mix=26, place=40),)
    """
    later = list(starts)
    for number in sorted(range(len(later)), key=lambda one: later[one].mix, reverse=True):
        task, start = pour.tasks[number], later[number]
        latest = start.place - pour.haul_ticks - task.mix_ticks
        if latest == start.mix:
            continue
        others = Calendar(pour)
        for other, (busy, booked) in enumerate(zip(pour.tasks, later, strict=True)):
            if other != number:
                others.book(busy, booked)
        tries = (Start(mix, start.place) for mix in range(latest, start.mix, -1))
        later[number] = next((one for one in tries if others.fits_one(task, one)), start)
    return tuple(later)


def _add(used: list[int], first: int, count: int, more: int) -> None:
    """Make more busy from a tick on."""
    last = first + count
    used[first:last] = [busy + more for busy in used[first:last]]


def _last_above(used: list[int], first: int, last: int, spare: int) -> int | None:
    """Give the last tick in a span at which more are busy than may be; None where none is."""
    span = used[first:last]
    if not span or max(span) <= spare:
        return None
    return first + max(tick for tick, busy in enumerate(span) if busy > spare)
