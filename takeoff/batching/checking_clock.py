"""Checks of one day by its clock: each batch by itself, and what all of them share."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from itertools import combinations

from takeoff.batching.plans import PouredBatch, PouredDay
from takeoff.batching.pour_rules import Breach, Rule
from takeoff.batching.workshops import Workshop

_NEAR_S = 1e-3


def clock_breaches(shop: Workshop, day: PouredDay) -> Iterator[Breach]:
    """Give every rule of the clock that a day breaks.

    Parameters
    ----------
    shop : Workshop
        What there is for the pour.
    day : PouredDay
        The day.

    Yields
    ------
    Breach
        One at a time.

    Examples
    --------
    >>> from takeoff.batching.plans import Method
    >>> list(clock_breaches(Workshop(()), PouredDay(1, (), 0.0, 0.0, Method.GREEDY)))
    []
    """
    for number, poured in enumerate(day.batches, start=1):
        yield from _batch_breaches(shop, poured, f"day {day.number}, batch {number}")
    where = f"day {day.number}"
    yield from _mixer_breaches(shop, day, where)
    hands = [(one.mix_start_s, one.mix_end_s, 1) for one in day.batches]
    hands += [(one.place_start_s, one.brush_end_s, one.batch.step.workers) for one in day.batches]
    yield from _crowd_breaches(Rule.HANDS, hands, shop.hands, where)
    if shop.guns is not None:
        spraying = (
            (one.place_start_s, one.place_end_s, one.batch.step.gun_count) for one in day.batches
        )
        yield from _crowd_breaches(Rule.GUNS, spraying, shop.guns, where)


def _batch_breaches(shop: Workshop, poured: PouredBatch, where: str) -> Iterator[Breach]:
    step, mixer, rules = poured.batch.step, poured.batch.mixer, shop.rules
    mix_s = max(rules.mix_s if mixer.mix_s is None else mixer.mix_s, step.mix.mix_s)
    pot_s = step.mix.pot_life_s
    gross_kg = sum(part.gross_kg for part in poured.batch.parts)
    placing_s = gross_kg / (step.rate_kg_s * step.workers)
    if step.hopper_kg is not None:
        loads = math.ceil(gross_kg / (step.hopper_kg * max(1, step.gun_count)) - 1e-6)
        placing_s += rules.refill_s * (loads - 1)
    # What it takes at least, or may take at most, and what the plan gives it.
    at_least = (
        (Rule.MIXING, mix_s, poured.mix_end_s - poured.mix_start_s),
        (Rule.HAUL, rules.haul_s, poured.place_start_s - poured.mix_end_s),
        (Rule.RATE, placing_s, poured.place_end_s - poured.place_start_s),
        (Rule.RATE, 0.0, poured.brush_end_s - poured.place_end_s),
        (Rule.DAY, 0.0, poured.mix_start_s),
        (Rule.DAY, 0.0, shop.day.day_s - poured.brush_end_s),
        (
            Rule.POT_LIFE,
            poured.place_end_s - poured.mix_end_s,
            pot_s * (1.0 - rules.pot_reserve_share),
        ),
        (Rule.POT_LIFE, poured.use_by_s - poured.mix_end_s, pot_s),
    )
    for rule, least_s, given_s in at_least:
        if given_s < least_s - _NEAR_S:
            yield Breach(rule, where, f"{given_s / 60:g} min where {least_s / 60:g} min are needed")


def _mixer_breaches(shop: Workshop, day: PouredDay, where: str) -> Iterator[Breach]:
    """Find batches of one mixer that leave no time to scrape or to wash it."""
    for one, other in combinations(day.batches, 2):
        if one.batch.mixer.name != other.batch.mixer.name:
            continue
        first, second = sorted((one, other), key=lambda poured: poured.mix_start_s)
        mixer, before, after = first.batch.mixer, first.batch.step.mix, second.batch.step.mix
        needed_s = shop.rules.clean_s if mixer.clean_s is None else mixer.clean_s
        if (before.name, before.colour) != (after.name, after.colour):
            needed_s = max(needed_s, shop.rules.wash_s)
        if second.mix_start_s - first.mix_end_s < needed_s - _NEAR_S:
            between_s = second.mix_start_s - first.mix_end_s
            text = (
                f"{mixer.name} has {between_s / 60:g} min from {before.name} to {after.name} at "
                f"{second.mix_start_s / 60:g} min and needs {needed_s / 60:g} min"
            )
            yield Breach(Rule.CLEANING, where, text)


def _crowd_breaches(
    rule: Rule, spans: Iterable[tuple[float, float, int]], limit: int, where: str
) -> Iterator[Breach]:
    """Find moments at which more are busy than there are."""
    changes: dict[float, int] = {}
    for start_s, end_s, count in spans:
        changes[start_s] = changes.get(start_s, 0) + count
        changes[end_s] = changes.get(end_s, 0) - count
    busy = 0
    for moment_s in sorted(changes):
        busy += changes[moment_s]
        if busy > limit:
            yield Breach(rule, where, f"{busy} of {limit} busy at {moment_s / 60:g} min")
