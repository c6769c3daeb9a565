"""Checks of one day by its pieces: layers in order, joints wet, covers neither early nor late."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise

from takeoff.batching.plans import Plan, PouredDay
from takeoff.batching.pour_rules import Breach, Rule
from takeoff.batching.steps import Step

_NEAR_S = 1e-3
_NEAR_SHARE = 1e-6


@dataclass(frozen=True, slots=True)
class _Work:
    """One batch at work on one coat."""

    at_kg: float
    start_s: float
    end_s: float
    brushed_s: float


def wait_breaches(plan: Plan, day: PouredDay) -> Iterator[Breach]:
    """Give every joint and wait of a day that breaks its rule.

    Parameters
    ----------
    plan : Plan
        The plan.
    day : PouredDay
        One of its days.

    Yields
    ------
    Breach
        One at a time.

    Examples
    --------
    >>> from takeoff.batching.plans import Method
    >>> from takeoff.batching.workshops import Workshop
    >>> day = PouredDay(1, (), 0.0, 0.0, Method.GREEDY)
    >>> list(wait_breaches(Plan((), Workshop(()), (day,), batch_bound=0), day))
    []
    """
    works = _works(plan, day)
    kept = 1.0 - plan.shop.rules.window_reserve_share
    for (casting, coat), run in sorted(works.items()):
        cast = plan.castings[casting]
        step = cast.coats[coat].step
        where = f"day {day.number}, {cast.name}, {step.layer} {step.pass_number}"
        for one, other in pairwise(run):
            gap_s = other.start_s - one.end_s
            if gap_s < -_NEAR_S:
                yield Breach(Rule.ORDER, where, "its batches are placed at the same time")
            if gap_s > step.wet_edge_s * kept + _NEAR_S:
                yield Breach(Rule.WET_EDGE, where, f"a joint stands open {gap_s / 60:g} min")
        if coat == 0:
            continue
        if (casting, coat - 1) not in works:
            yield Breach(Rule.ORDER, where, "what it covers is not placed on this day")
            continue
        yield from _cover_breaches(step, works[casting, coat - 1], run, where, kept)


def _cover_breaches(
    step: Step, under: list[_Work], run: list[_Work], where: str, kept_share: float
) -> Iterator[Breach]:
    """Compare a coat with the one under it: at its first spot and at its last."""
    wait_s = run[0].start_s - under[-1].end_s
    if wait_s < -_NEAR_S:
        yield Breach(Rule.ORDER, where, f"starts {-wait_s / 60:g} min before what it covers ends")
    elif wait_s < step.min_wait_s - _NEAR_S:
        text = f"{wait_s / 60:g} min after what it covers, not {step.min_wait_s / 60:g} min"
        yield Breach(Rule.LEAST_WAIT, where, text)
    if run[0].start_s < under[-1].brushed_s - _NEAR_S:
        yield Breach(Rule.ORDER, where, "starts before what it covers is brushed")
    if step.max_wait_s is None:
        return
    ages_s = (run[0].start_s - under[0].start_s, run[-1].end_s - under[-1].end_s)
    if max(ages_s) > step.max_wait_s * kept_share + _NEAR_S:
        text = f"covers what is {max(ages_s) / 60:g} min old, of {step.max_wait_s / 60:g} min"
        yield Breach(Rule.LONGEST_WAIT, where, text)


def _works(plan: Plan, day: PouredDay) -> dict[tuple[int, int], list[_Work]]:
    """Say when each coat is worked on: a batch is placed evenly, in the order of its parts."""
    works: dict[tuple[int, int], list[_Work]] = {}
    for poured in day.batches:
        gross_kg = sum(part.gross_kg for part in poured.batch.parts)
        lasting_s = poured.place_end_s - poured.place_start_s
        at_s = poured.place_start_s
        for part in poured.batch.parts:
            end_s = at_s + lasting_s * part.gross_kg / gross_kg
            coat = plan.castings[part.casting].coats[part.coat]
            finished = part.end_kg >= coat.net_kg * (1.0 - _NEAR_SHARE)
            brushed = finished and coat.step.brush_s > 0.0
            works.setdefault((part.casting, part.coat), []).append(
                _Work(part.start_kg, at_s, end_s, poured.brush_end_s if brushed else end_s)
            )
            at_s = end_s
    for run in works.values():
        run.sort(key=lambda work: work.at_kg)
    return works
