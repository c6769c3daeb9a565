"""Checks of a plan by days: each piece in one day, on a table and in a form that are free."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from takeoff.batching.placing_rules import DayRules
from takeoff.batching.plans import Plan
from takeoff.batching.pour_rules import Breach, Rule

_NEAR_S = 1e-3


@dataclass(frozen=True, slots=True)
class _Stay:
    """When a casting was worked on, from the start of the first day on."""

    piece: str
    start_s: float
    end_s: float


@dataclass(frozen=True, slots=True)
class _Pool:
    """Places that castings take, and how long each takes to make ready."""

    rule: Rule
    where: str
    limit: int
    reset_s: float


def place_breaches(plan: Plan) -> Iterator[Breach]:
    """Give every rule of days, tables and forms that a plan breaks.

    Parameters
    ----------
    plan : Plan
        The plan.

    Yields
    ------
    Breach
        One at a time.

    Examples
    --------
    >>> from takeoff.batching.workshops import Workshop
    >>> list(place_breaches(Plan((), Workshop(()), (), batch_bound=0)))
    []
    """
    shop = plan.shop
    for day in plan.days:
        if shop.day_count is not None and day.number > shop.day_count:
            text = f"poured on day {day.number} of {shop.day_count}"
            yield Breach(Rule.DAYS, f"day {day.number}", text)
    stays = []
    for number, cast in enumerate(plan.castings):
        spans = _spans(plan, number)
        if len(spans) > 1:
            yield Breach(Rule.ONE_DAY, cast.name, f"poured on {len(spans)} days")
        if spans:
            start_s = min(start_s for start_s, _ in spans.values())
            end_s = max(end_s for _, end_s in spans.values())
            stays.append(_Stay(cast.piece, start_s, end_s))
    if shop.tables is not None:
        tables = _Pool(Rule.TABLES, "tables", shop.tables, 0.0)
        yield from _full_breaches(tables, stays, shop.day)
    for piece, forms in shop.forms.items():
        mine = [stay for stay in stays if stay.piece == piece]
        pool = _Pool(Rule.FORMS, piece, forms, shop.day.reset_s)
        yield from _full_breaches(pool, mine, shop.day)


def _spans(plan: Plan, casting: int) -> dict[int, tuple[float, float]]:
    """Give from when to when a casting is worked on, by day."""
    spans: dict[int, tuple[float, float]] = {}
    for day in plan.days:
        midnight_s = (day.number - 1) * 24.0 * 3600.0
        for poured in day.batches:
            if casting in {part.casting for part in poured.batch.parts}:
                start_s, end_s = spans.get(day.number, (float("inf"), 0.0))
                spans[day.number] = (
                    min(start_s, midnight_s + poured.place_start_s),
                    max(end_s, midnight_s + poured.brush_end_s),
                )
    return spans


def _full_breaches(pool: _Pool, stays: list[_Stay], day: DayRules) -> Iterator[Breach]:
    """Find castings that begin while as many others as there are places still hold theirs."""
    for stay in stays:
        held = sum(
            1
            for other in stays
            if other is not stay
            and other.start_s <= stay.start_s
            and not _gone(other, stay.start_s, day, pool.reset_s)
        )
        if held >= pool.limit:
            at_h = stay.start_s / 3600.0
            text = f"{held + 1} in {pool.limit} at {at_h:g} h from the first day on"
            yield Breach(pool.rule, pool.where, text)


def _gone(stay: _Stay, moment_s: float, day: DayRules, reset_s: float) -> bool:
    """Tell whether a casting is stripped by some moment, its place made ready in working hours."""
    ready_s = stay.end_s + day.demould_s
    midnight_s = 0.0
    while midnight_s <= moment_s + _NEAR_S:
        begun_s = max(ready_s, midnight_s)
        done_s = begun_s + reset_s
        # Begun before a day ends but not done within it, it is begun anew the next morning.
        if done_s <= midnight_s + day.day_s + _NEAR_S and done_s <= moment_s + _NEAR_S:
            return True
        midnight_s += 24.0 * 3600.0
    return False
