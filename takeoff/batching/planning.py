"""A plan of a pour: castings in waves, waves on days, every batch on the clock."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from takeoff.batching.batches import Batch, make_batches
from takeoff.batching.bounds import fits_day, least_batches
from takeoff.batching.clocks import Pour, pour_of
from takeoff.batching.cp_schedule import solve, solver_installed
from takeoff.batching.days import Days, Wave
from takeoff.batching.demand import Casting
from takeoff.batching.dispatch import Starts, dispatch
from takeoff.batching.plans import Plan
from takeoff.batching.turns import day_groups, in_pouring_order
from takeoff.batching.waves import Cost, Cuts, cheapest_waves
from takeoff.batching.workshops import Workshop


@dataclass(frozen=True, slots=True)
class SearchRules:
    """How long and with what a plan is searched.

    Parameters
    ----------
    solver : bool or None, default None
        Whether the solver shortens the days; None for where it is installed.
    day_work_ratio : float, default 0.3
        Work that it may do for a day, in its own unit, 0 to leave days as they are: on days of 50
        pieces a third of what a proof takes gave the same length. [-]
    wave_work_ratio : float, default 0.05
        Work that it may do to fit a wave that the greedy clock could not. [-]
    wider_count : int, default 2
        By so many castings a wave may be larger than the greedy clock alone can fit, where the
        solver is at hand.
    """

    solver: bool | None = None
    day_work_ratio: float = 0.3
    wave_work_ratio: float = 0.05
    wider_count: int = 2

    @property
    def solves(self) -> bool:
        """Whether the solver is used."""
        return solver_installed() if self.solver is None else self.solver


PROVING = SearchRules(day_work_ratio=4.0)


def plan_pour(
    castings: Sequence[Casting], shop: Workshop, *, rules: SearchRules = SearchRules()
) -> Plan | None:
    """Plan a pour with few batches and short days.

    Parameters
    ----------
    castings : sequence of Casting
        What is cast, in the order the shop wants it.
    shop : Workshop
        What there is for the pour.
    rules : SearchRules, optional
        How long and with what to search.

    Returns
    -------
    Plan or None
        The plan; None where none was found, on as many days as there may be.

    Raises
    ------
    BatchError
        If no mixer can make a batch of a step.

    Examples
    --------
    >>> from takeoff.batching.demand import ClassMass, Coat
    >>> from takeoff.batching.mixers import Mixer
    >>> from takeoff.batching.steps import FreshMix, Step
    >>> step = Step("backer", FreshMix("b", 2000.0, 1800.0), rate_kg_s=10.0 / 60.0)
    >>> panel = Casting("panel", 1, (Coat(step, (ClassMass("show_face", 120.0),)),))
    >>> shop = Workshop((Mixer("pan", 0.030, residue_kg=0.0),), hands=2)
    >>> plan = plan_pour([panel], shop)
    >>> plan.batch_count, plan.days[0].makespan_s / 60.0
    (2, 21.0)
    """
    plan = _plan(castings, shop, rules)
    if plan is None and shop.day_count is not None and rules.solves:
        # Larger waves take fewer batches, but not always fewer days.
        plan = _plan(castings, shop, replace(rules, solver=False))
    return plan


def _plan(castings: Sequence[Casting], shop: Workshop, rules: SearchRules) -> Plan | None:
    """Cut castings into waves, and lay these on days."""
    ordered = in_pouring_order(castings, shop)
    searched = _Waves(ordered, shop, rules)
    cuts = searched.cut()
    if cuts is None:
        return None
    shortens = rules.solves and rules.day_work_ratio > 0.0
    days = Days(ordered, shop, work_limit_ratio=rules.day_work_ratio if shortens else None)
    for wave in searched.shared(cuts):
        if not days.lay(wave):
            return None
    poured = days.finish()
    if shop.day_count is not None and poured and poured[-1].number > shop.day_count:
        return None
    return Plan(ordered, shop, poured, least_batches(ordered, shop))


class _Waves:
    """Waves over the places between castings, each put on the clock at most once."""

    def __init__(self, castings: Sequence[Casting], shop: Workshop, rules: SearchRules) -> None:
        self.castings = castings
        self.shop = shop
        self.rules = rules
        self.batches: dict[tuple[int, int], tuple[Batch, ...]] = {}
        self.costs: dict[tuple[int, int], Cost] = {}
        self.starts: dict[tuple[int, int], Starts | None] = {}
        self.groups = day_groups(castings, shop)
        self.ends = list(self._greedy_ends())

    def cut(self) -> Cuts | None:
        """Cut the castings into waves; None where one casting alone cannot be poured."""
        return cheapest_waves(len(self.castings), self._cost, self._can_pour)

    def shared(self, cuts: Cuts) -> tuple[Wave, ...]:
        """Let waves in a row share batches of one mix, where that saves one and can be poured."""
        done: list[Wave] = []
        runs: list[Cuts] = []
        for first, last in cuts:
            starts = self.starts[first, last] or ()
            alone = Wave(tuple(range(first, last)), self._made(first, last), starts)
            if done and self._room(runs[-1][0][0], last):
                run = (*runs[-1], (first, last))
                joined = self._joined(run, fewer_than=len(done[-1].batches) + len(alone.batches))
                if joined is not None:
                    done[-1], runs[-1] = joined, run
                    continue
            done.append(alone)
            runs.append(((first, last),))
        return tuple(done)

    def _joined(self, run: Cuts, *, fewer_than: int) -> Wave | None:
        """Make the lots of waves in a row together, if that saves a batch and can be poured."""
        batches = make_batches(self.castings, [range(*cut) for cut in run], self.shop)
        if len(batches) >= fewer_than:
            return None
        starts = self._clocked(batches)
        if starts is None:
            return None
        return Wave(tuple(range(run[0][0], run[-1][1])), batches, starts)

    def _greedy_ends(self) -> Iterator[int]:
        """Give the place up to which the greedy clock can pour in one wave, from each place on."""
        end = 0
        for first in range(len(self.castings)):
            end = max(end, first)
            while end < len(self.castings) and self._room(first, end + 1):
                if self._greedy(first, end + 1) is None:
                    break
                end += 1
            yield end

    def _cost(self, first: int, last: int) -> Cost | None:
        wider = self.rules.wider_count if self.rules.solves else 0
        if last > max(self.ends[first], first) + wider or not self._room(first, last):
            return None
        if (first, last) not in self.costs:
            batches = self._made(first, last)
            leftover_kg = sum(batch.leftover_kg for batch in batches)
            self.costs[first, last] = (float(len(batches)), round(leftover_kg, 6))
        return self.costs[first, last]

    def _room(self, first: int, last: int) -> bool:
        """Tell whether there are forms and tables for a wave, on the day that it belongs to."""
        if self.shop.day.demould_s >= self.shop.day.day_s:
            return self.groups[first] == self.groups[last - 1]
        # What is stripped on the day it is cast may be cast in again, but not by the same wave.
        return len(set(day_groups(self.castings[first:last], self.shop))) == 1

    def _can_pour(self, first: int, last: int) -> bool:
        if self._greedy(first, last) is None and self.rules.solves:
            self.starts[first, last] = self._clocked(self._made(first, last))
        return self.starts[first, last] is not None

    def _greedy(self, first: int, last: int) -> Starts | None:
        if (first, last) not in self.starts:
            pour = pour_of(self.castings, self._made(first, last), self.shop)
            self.starts[first, last] = _dispatched(pour)
        return self.starts[first, last]

    def _clocked(self, batches: tuple[Batch, ...]) -> Starts | None:
        """Put batches on the clock of a day, by the solver where the greedy clock fails."""
        pour = pour_of(self.castings, batches, self.shop)
        starts = _dispatched(pour)
        if starts is None and self.rules.solves and fits_day(pour):
            limit = self.rules.wave_work_ratio
            starts = solve(pour, work_limit_ratio=limit, shorten=False).starts
        return starts

    def _made(self, first: int, last: int) -> tuple[Batch, ...]:
        if (first, last) not in self.batches:
            waves = (range(first, last),)
            self.batches[first, last] = make_batches(self.castings, waves, self.shop)
        return self.batches[first, last]


def _dispatched(pour: Pour) -> Starts | None:
    """Put a pour on the clock quickly; None at once where it cannot end in time."""
    return dispatch(pour, thorough=False) if fits_day(pour) else None
