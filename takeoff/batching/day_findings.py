"""Why a pour does not go on the days that there are, told before any search."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace

from takeoff.batching.bounds import least_batches
from takeoff.batching.cases import Case, Change, Obstacle, Way, days_way, with_hands
from takeoff.batching.demand import Casting
from takeoff.batching.pour_rules import Measure, Rule
from takeoff.batching.timing import cycle_s, placing_s
from takeoff.batching.workshops import Workshop


def day_obstacles(castings: Sequence[Casting], shop: Workshop, days: int) -> tuple[Obstacle, ...]:
    """Give every rule of forms, tables and hours that no order of work keeps on so many days.

    Parameters
    ----------
    castings : sequence of Casting
        What is cast.
    shop : Workshop
        What there is for the pour.
    days : int
        The days that there are.

    Returns
    -------
    tuple of Obstacle
        What stands in the way.

    Examples
    --------
    >>> panels = [Casting("panel", copy, ()) for copy in (1, 2, 3)]
    >>> [one] = day_obstacles(panels, Workshop((), forms={"panel": 1}), 2)
    >>> [way.text for way in one.ways]
    ['3 pour days', '2 forms']
    """
    return tuple(one for check in _CHECKS for one in check(castings, shop, days))


def _tables(castings: Sequence[Casting], shop: Workshop, days: int) -> Iterator[Obstacle]:
    """Find more castings than tables on so many days, where a table serves once a day."""
    if shop.tables is None or shop.day.demould_s < shop.day.day_s:
        return
    count, room = len(castings), shop.tables * days
    if count > room:
        tables = _up(count / days)
        ways = (days_way(_up(count / shop.tables)), Way(f"{tables} tables", _with_tables(tables)))
        yield Obstacle(Rule.TABLES, "tables", float(count), float(room), Measure.COUNT, ways)


def _forms(castings: Sequence[Casting], shop: Workshop, days: int) -> Iterator[Obstacle]:
    """Find more castings of a piece than its forms give on so many days."""
    if shop.day.demould_s < shop.day.day_s:
        return
    for piece, forms in shop.forms.items():
        count = sum(1 for casting in castings if casting.piece == piece)
        if count > forms * days:
            more = _up(count / days)
            ways = (days_way(_up(count / forms)), Way(f"{more} forms", _with_forms(piece, more)))
            counts = float(count), float(forms * days)
            yield Obstacle(Rule.FORMS, piece, *counts, Measure.COUNT, ways)


def _mixers(castings: Sequence[Casting], shop: Workshop, days: int) -> Iterator[Obstacle]:
    """Find more batches than all mixers can make on so many days."""
    if not shop.mixers:
        return
    cycles = min(cycle_s(mixer, shop.rules) for mixer in shop.mixers)
    needed_s = least_batches(castings, shop) * cycles
    limit_s = shop.day.day_s * len(shop.mixers) * days
    if needed_s > limit_s + cycles:
        more = _up((needed_s - cycles) / (shop.day.day_s * max(len(shop.mixers), days)))
        more = max(more, days + 1)
        days_too = days_way(more)
        text = f"{more} mixers or days"
        ways = (days_too, Way(text, _with_mixers(more), says_too=days_too.text))
        yield Obstacle(Rule.MIXER_HOURS, "mixers", needed_s, limit_s, Measure.SECONDS, ways)


def _hands(castings: Sequence[Casting], shop: Workshop, days: int) -> Iterator[Obstacle]:
    """Find more work than all hands can do on so many days."""
    placing_all_s = sum(
        placing_s(coat.step, coat.gross_kg, shop.rules) * coat.step.workers
        for casting in castings
        for coat in casting.coats
    )
    mixes = {coat.step.mix for casting in castings for coat in casting.coats}
    mixing_s = least_batches(castings, shop) * min(
        (shop.mix_s(mixer, mix) for mixer in shop.mixers for mix in mixes), default=0.0
    )
    work_s = placing_all_s + mixing_s
    limit_s = shop.day.day_s * shop.hands * days
    if work_s > limit_s:
        hands = _up(work_s / (shop.day.day_s * days))
        ways = (
            days_way(_up(work_s / (shop.day.day_s * shop.hands))),
            Way(f"{hands} pairs of hands", with_hands(hands)),
        )
        yield Obstacle(Rule.HAND_HOURS, "hands", work_s, limit_s, Measure.SECONDS, ways)


def _with_tables(tables: int) -> Change:
    def change(case: Case) -> Case:
        return replace(case, shop=replace(case.shop, tables=max(tables, case.shop.tables or 0)))

    return change


def _with_mixers(count: int) -> Change:
    """Let there be so many mixers, the new ones like the largest."""

    def change(case: Case) -> Case:
        largest = max(case.shop.mixers, key=lambda mixer: mixer.capacity_m3)
        more = (
            replace(largest, name=f"{largest.name} {number}")
            for number in range(len(case.shop.mixers), count)
        )
        return replace(case, shop=replace(case.shop, mixers=(*case.shop.mixers, *more)))

    return change


def _with_forms(piece: str, forms: int) -> Change:
    def change(case: Case) -> Case:
        told = dict(case.shop.forms) | {piece: max(forms, case.shop.forms.get(piece, 0))}
        return replace(case, shop=replace(case.shop, forms=told))

    return change


def _up(value_count: float) -> int:
    return math.ceil(value_count - 1e-9)


_CHECKS: tuple[Callable[[Sequence[Casting], Workshop, int], Iterator[Obstacle]], ...] = (
    _tables,
    _forms,
    _mixers,
    _hands,
)
