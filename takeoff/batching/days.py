"""Waves laid on days, one after the other, each as early as the day has room for it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from takeoff.batching.batches import Batch
from takeoff.batching.bounds import least_ticks
from takeoff.batching.calendars import Calendar, mixed_later
from takeoff.batching.clocks import Pour, Start, pour_of
from takeoff.batching.cp_schedule import solve
from takeoff.batching.demand import Casting
from takeoff.batching.dispatch import Starts, dispatch
from takeoff.batching.places import Places, Taken, day_start_s
from takeoff.batching.plans import Method, PouredBatch, PouredDay
from takeoff.batching.timing import ticks_up
from takeoff.batching.workshops import Workshop


@dataclass(frozen=True, slots=True)
class Wave:
    """Castings whose lots stand alone, and a clock for them by themselves.

    Parameters
    ----------
    castings : tuple of int
        Numbers of the castings.
    batches : tuple of Batch
        Their batches.
    starts : tuple of Start
        When each starts, where the wave has a day for itself.
    """

    castings: tuple[int, ...]
    batches: tuple[Batch, ...]
    starts: Starts


class Days:
    """Days being filled.

    Parameters
    ----------
    castings : sequence of Casting
        The castings of the job.
    shop : Workshop
        What there is for the pour.
    work_limit_ratio : float or None
        Work that the solver may do for a day; None to leave it out. [-]
    """

    def __init__(
        self, castings: Sequence[Casting], shop: Workshop, *, work_limit_ratio: float | None
    ) -> None:
        self.castings = castings
        self.shop = shop
        self.work_limit_ratio = work_limit_ratio
        self.places = Places(castings, shop)
        self.done: list[PouredDay] = []
        self._open(0)

    def lay(self, wave: Wave) -> bool:
        """Put a wave on the first day that has room for it; False where no day will have."""
        while not self._laid(wave):
            if not self.batches and self._is_free(wave):
                return False
            self._close()
            self._open(self.number + 1)
        return True

    def finish(self) -> tuple[PouredDay, ...]:
        """Close the last day, and give all that have a pour."""
        self._close()
        return tuple(self.done)

    def _open(self, number: int) -> None:
        self.number = number
        self.batches: list[Batch] = []
        self.starts: list[Start] = []
        self.releases: dict[int, int] = {}
        self.taken: list[tuple[Wave, Taken]] = []
        self.calendar = Calendar(pour_of(self.castings, (), self.shop))

    def _is_free(self, wave: Wave) -> bool:
        """Tell whether all that the wave needs is free from the start of this day on."""
        taken = self.places.taken_by(wave.castings)
        return taken is None or max(taken.free_s, default=0.0) <= day_start_s(self.number)

    def _laid(self, wave: Wave) -> bool:
        """Put a wave on the day that is open, if it fits."""
        taken = self.places.taken_by(wave.castings)
        if taken is None:
            return False
        start_s = day_start_s(self.number)
        releases = {
            number: max(0, ticks_up(free_s - start_s, self.shop.rules))
            for number, free_s in zip(wave.castings, taken.free_s, strict=True)
        }
        pour = pour_of(self.castings, wave.batches, self.shop, releases=releases)
        starts = self._fitted(pour, wave.starts)
        if starts is None:
            return False
        for task, start in zip(pour.tasks, starts, strict=True):
            self.calendar.book(task, start)
        self.batches += wave.batches
        self.starts += starts
        self.releases |= releases
        self.taken.append((wave, taken))
        self._leave(wave, taken, pour, starts)
        return True

    def _fitted(self, pour: Pour, alone: Starts) -> Starts | None:
        """Fit a wave into what is left of the day: anew, or as it stands alone, whole."""
        found = [dispatch(pour, self.calendar), self._shifted(pour, alone)]
        return min(
            (starts for starts in found if starts is not None), key=pour.end_ticks, default=None
        )

    def _shifted(self, pour: Pour, alone: Starts) -> Starts | None:
        """Start a wave as it stands alone as early as all of it fits."""
        least = max(
            (task.release - start.place for task, start in zip(pour.tasks, alone, strict=True)),
            default=0,
        )
        for shift in range(max(0, least), pour.day_ticks - pour.end_ticks(alone) + 1):
            starts = tuple(Start(start.mix + shift, start.place + shift) for start in alone)
            if self.calendar.fits(pour.tasks, starts):
                return starts
        return None

    def _leave(self, wave: Wave, taken: Taken, pour: Pour, starts: Starts) -> None:
        """Note when forms and tables of a wave are free again."""
        ends = dict.fromkeys(wave.castings, 0)
        for batch, task, start in zip(wave.batches, pour.tasks, starts, strict=True):
            for part in batch.parts:
                ends[part.casting] = max(ends[part.casting], start.place + task.busy_ticks)
        start_s, tick_s = day_start_s(self.number), self.shop.rules.tick_s
        self.places.leave(taken, [start_s + ends[one] * tick_s for one in wave.castings])

    def _close(self) -> None:
        """Shorten the day where the solver can, and write it down."""
        if not self.batches:
            return
        pour = pour_of(self.castings, self.batches, self.shop, releases=self.releases)
        starts, bound, method = tuple(self.starts), least_ticks(pour), Method.GREEDY
        slots = [slot for _, taken in self.taken for mine in taken.slots for slot in mine]
        # Where a place serves twice on one day, the order of its castings must stay.
        settled = len(slots) > len(set(slots)) or pour.end_ticks(starts) <= bound
        if self.work_limit_ratio is not None and not settled:
            solved = solve(pour, starts, work_limit_ratio=self.work_limit_ratio)
            bound = max(bound, solved.bound_ticks)
            if solved.starts is not None and pour.end_ticks(solved.starts) <= pour.end_ticks(
                starts
            ):
                starts = mixed_later(pour, solved.starts)
                method = Method.CONSTRAINT_PROGRAMMING
                at = 0
                for wave, taken in self.taken:
                    span = slice(at, at + len(wave.batches))
                    alone = pour_of(self.castings, wave.batches, self.shop)
                    self._leave(wave, taken, alone, starts[span])
                    at += len(wave.batches)
        self.done.append(self._day(pour, starts, bound, method))

    def _day(self, pour: Pour, starts: Starts, bound: int, method: Method) -> PouredDay:
        tick_s = self.shop.rules.tick_s
        poured = [
            PouredBatch(
                batch=batch,
                mix_start_s=start.mix * tick_s,
                mix_end_s=(start.mix + task.mix_ticks) * tick_s,
                place_start_s=start.place * tick_s,
                place_end_s=(start.place + task.place_ticks) * tick_s,
                brush_end_s=(start.place + task.busy_ticks) * tick_s,
                use_by_s=(start.mix + task.mix_ticks) * tick_s + batch.step.mix.pot_life_s,
            )
            for batch, task, start in zip(self.batches, pour.tasks, starts, strict=True)
        ]
        poured.sort(key=lambda one: (one.mix_start_s, one.place_start_s, one.batch.mixer.name))
        return PouredDay(
            self.number + 1, tuple(poured), pour.end_ticks(starts) * tick_s, bound * tick_s, method
        )
