"""Why a pour cannot be planned, told before any search: each rule with its numbers and a fix."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence

from takeoff.batching.batches import limit_in
from takeoff.batching.bounds import least_batches
from takeoff.batching.demand import Casting, Coat
from takeoff.batching.lots import Bound, batch_limit
from takeoff.batching.pour_rules import Finding, Measure, Rule
from takeoff.batching.steps import Split, Step
from takeoff.batching.timing import cycle_s, placeable_kg, placing_s, pot_ticks, ticks_up
from takeoff.batching.workshops import Workshop
from takeoff.errors import BatchError


def plain_findings(castings: Sequence[Casting], shop: Workshop) -> tuple[Finding, ...]:
    """Give every rule that no order of work could keep, found by arithmetic alone.

    Parameters
    ----------
    castings : sequence of Casting
        What is cast.
    shop : Workshop
        What there is for the pour.

    Returns
    -------
    tuple of Finding
        The findings; empty where only a search can tell.

    Examples
    --------
    >>> from takeoff.batching.mixers import Mixer
    >>> from takeoff.batching.demand import ClassMass
    >>> from takeoff.batching.steps import FreshMix
    >>> step = Step("backer", FreshMix("b", 2000.0, pot_life_s=600.0), rate_kg_s=1.0 / 60.0)
    >>> bench = Casting("bench", 1, (Coat(step, (ClassMass("show_face", 30.0),)),))
    >>> pan = Mixer("pan", 0.025, residue_kg=0.0, least_fill_m3=0.005)
    >>> [finding.rule.value for finding in plain_findings([bench], Workshop((pan,)))]
    ['pot life shorter than the smallest mix']
    """
    steps = list(dict.fromkeys(coat.step for casting in castings for coat in casting.coats))
    found = [finding for step in steps for finding in _step_findings(step, shop)]
    if not found:
        told: dict[tuple[Rule, str], Finding] = {}
        for casting in castings:
            for finding in _casting_findings(casting, shop):
                told.setdefault((finding.rule, finding.where), finding)
        found = list(told.values())
    if not found and shop.day_count is not None:
        found = [one for check in _DAY_CHECKS for one in check(castings, shop, shop.day_count)]
    return tuple(found)


def _step_findings(step: Step, shop: Workshop) -> Iterator[Finding]:
    """Find steps of which no batch can be mixed, or none placed in time."""
    mix, where = step.mix, step.mix.name
    mixers = shop.suiting(mix)
    if not mixers:
        fix = f"add {mix.name} to the suits of a [[mixer]] in the shop file"
        yield Finding(Rule.SUITS, where, 1.0, 0.0, Measure.COUNT, fix)
        return
    if step.workers > shop.hands:
        fix = f"{step.workers} pairs of hands, or fewer that place it"
        yield Finding(Rule.HANDS, where, float(step.workers), float(shop.hands), Measure.COUNT, fix)
    placed_kg = placeable_kg(step, shop.rules)
    if placed_kg <= 0.0:
        planned_s = pot_ticks(step, shop.rules) * shop.rules.tick_s
        fix = "mix nearer to the form, or see the product's data sheet for its pot life"
        yield Finding(Rule.POT_LIFE, where, shop.rules.haul_s, planned_s, Measure.SECONDS, fix)
        return
    if not any(_holds(step, shop, at) for at in range(len(mixers))):
        needed_kg = max(mixer.residue_kg for mixer in mixers) + (mix.bag_kg or 0.0)
        needed_m3 = needed_kg / mix.density_kg_m3
        largest_m3 = max(mixer.capacity_m3 for mixer in mixers)
        fix = f"a mixer of more than {needed_m3 * 1e3:.1f} L"
        yield Finding(Rule.CAPACITY, where, needed_m3, largest_m3, Measure.CUBIC_METRES, fix)
        return
    least_kg = min(mixer.least_fill_m3 * mix.density_kg_m3 - mixer.residue_kg for mixer in mixers)
    if placed_kg < least_kg and not any(_makes(step, shop, at) for at in range(len(mixers))):
        more = math.ceil(step.workers * least_kg / placed_kg - 1e-9)
        fix = (
            f"a smaller mixer, of a least fill below {placed_kg / mix.density_kg_m3 * 1e3:.1f} L, "
            f"or {more} placing workers"
        )
        yield Finding(Rule.POT_LIFE_LEAST_FILL, where, least_kg, placed_kg, Measure.KILOGRAMS, fix)


def _holds(step: Step, shop: Workshop, at: int) -> bool:
    """Tell whether a mixer that suits holds a batch at all."""
    mixer = shop.suiting(step.mix)[at]
    try:
        batch_limit(
            mixer,
            density_kg_m3=step.mix.density_kg_m3,
            division_kg=shop.division_kg,
            bag_kg=step.mix.bag_kg,
        )
    except BatchError:
        return False
    return True


def _makes(step: Step, shop: Workshop, at: int) -> bool:
    """Tell whether a mixer that suits makes a batch that can be placed in time."""
    try:
        limit_in(step, shop.suiting(step.mix)[at], shop)
    except BatchError:
        return False
    return True


def _casting_findings(casting: Casting, shop: Workshop) -> Iterator[Finding]:
    """Find coats that one batch must hold and cannot, joints and covers that come too late."""
    for number, coat in enumerate(casting.coats):
        where = f"{casting.piece}, {coat.step.layer}"
        limits = [
            (limit_in(coat.step, mixer, shop), mixer)
            for at, mixer in enumerate(shop.suiting(coat.step.mix))
            if _makes(coat.step, shop, at)
        ]
        limit, mixer = max(limits, key=lambda pair: pair[0].placed_kg)
        if coat.gross_kg > limit.placed_kg * (1.0 + 1e-9):
            if coat.step.split is Split.SINGLE:
                whole_m3 = (coat.gross_kg + mixer.residue_kg) / coat.step.mix.density_kg_m3
                workers = math.ceil(
                    coat.step.workers * coat.gross_kg / placeable_kg(coat.step, shop.rules) - 1e-9
                )
                fix = f"a mixer of {whole_m3 * 1e3:.1f} L"
                if workers > coat.step.workers:
                    also = "" if limit.bound is Bound.POT_LIFE else f"{fix} and "
                    fix = f"{also}{workers} placing workers"
                yield Finding(
                    Rule.SINGLE_BATCH,
                    where,
                    whole_m3,
                    (limit.placed_kg + mixer.residue_kg) / coat.step.mix.density_kg_m3,
                    Measure.CUBIC_METRES,
                    f"{fix}, or leave the face to be split",
                )
            yield from _joint_findings(coat, shop, where)
        if number + 1 < len(casting.coats):
            yield from _window_findings(coat, casting.coats[number + 1], shop, where)


def _joint_findings(coat: Coat, shop: Workshop, where: str) -> Iterator[Finding]:
    """Find joints that dry while those who place also mix."""
    if shop.hands > coat.step.workers:
        return
    mixers = shop.suiting(coat.step.mix)
    gap_s = min(shop.mix_s(mixer, coat.step.mix) for mixer in mixers) + shop.rules.haul_s
    edge_s = coat.step.wet_edge_s * (1.0 - shop.rules.window_reserve_share)
    if gap_s > edge_s:
        fix = "one more pair of hands: a worker who mixes while the others place"
        yield Finding(Rule.WET_EDGE, where, gap_s, edge_s, Measure.SECONDS, fix)


def _window_findings(coat: Coat, cover: Coat, shop: Workshop, where: str) -> Iterator[Finding]:
    """Find coats that take longer to place than the cover may lag behind."""
    if cover.step.max_wait_s is None:
        return
    oldest_s = cover.step.max_wait_s * (1.0 - shop.rules.window_reserve_share)
    window_s = oldest_s - cover.step.min_wait_s
    tick_s = shop.rules.tick_s
    takes_s = ticks_up(placing_s(coat.step, coat.gross_kg, shop.rules), shop.rules) * tick_s
    if takes_s > window_s:
        if window_s <= 0.0:
            fix = "a longest wait that is above the least wait and the reserve kept of it"
        else:
            workers = math.ceil(coat.step.workers * takes_s / window_s - 1e-9)
            fix = f"{workers} placing workers"
        yield Finding(Rule.FACE_WINDOW, where, takes_s, window_s, Measure.SECONDS, fix)


def _table_findings(castings: Sequence[Casting], shop: Workshop, days: int) -> Iterator[Finding]:
    """Find more castings than tables on so many days, where a table serves once a day."""
    if shop.tables is None or shop.day.demould_s < shop.day.day_s:
        return
    if len(castings) > shop.tables * days:
        needed = math.ceil(len(castings) / shop.tables)
        fix = f"{needed} pour days, or {math.ceil(len(castings) / days)} tables"
        room = float(shop.tables * days)
        yield Finding(Rule.TABLES, "tables", float(len(castings)), room, Measure.COUNT, fix)


def _form_findings(castings: Sequence[Casting], shop: Workshop, days: int) -> Iterator[Finding]:
    """Find more castings of a piece than its forms give on so many days."""
    if shop.day.demould_s < shop.day.day_s:
        return
    for piece, forms in shop.forms.items():
        count = sum(1 for casting in castings if casting.piece == piece)
        if count > forms * days:
            fix = f"{math.ceil(count / forms)} pour days, or {math.ceil(count / days)} forms"
            room = float(forms * days)
            yield Finding(Rule.FORMS, piece, float(count), room, Measure.COUNT, fix)


def _mixer_findings(castings: Sequence[Casting], shop: Workshop, days: int) -> Iterator[Finding]:
    """Find more batches than all mixers can make on so many days."""
    if not shop.mixers:
        return
    cycles = min(cycle_s(mixer, shop.rules) for mixer in shop.mixers)
    needed_s = least_batches(castings, shop) * cycles
    limit_s = shop.day.day_s * len(shop.mixers) * days
    if needed_s > limit_s + cycles:
        more = math.ceil(needed_s / (shop.day.day_s * max(len(shop.mixers), days)))
        fix = f"{more} mixers or days"
        yield Finding(Rule.MIXER_HOURS, "mixers", needed_s, limit_s, Measure.SECONDS, fix)


def _hand_findings(castings: Sequence[Casting], shop: Workshop, days: int) -> Iterator[Finding]:
    """Find more work than all hands can do on so many days."""
    placing = sum(
        placing_s(coat.step, coat.gross_kg, shop.rules) * coat.step.workers
        for casting in castings
        for coat in casting.coats
    )
    mixes = {coat.step.mix for casting in castings for coat in casting.coats}
    mixing = least_batches(castings, shop) * min(
        (shop.mix_s(mixer, mix) for mixer in shop.mixers for mix in mixes), default=0.0
    )
    limit_s = shop.day.day_s * shop.hands * days
    if placing + mixing > limit_s:
        more_days = math.ceil((placing + mixing) / (shop.day.day_s * shop.hands))
        more_hands = math.ceil((placing + mixing) / (shop.day.day_s * days))
        fix = f"{more_days} days, or {more_hands} pairs of hands"
        yield Finding(Rule.HAND_HOURS, "hands", placing + mixing, limit_s, Measure.SECONDS, fix)


_DAY_CHECKS: tuple[Callable[[Sequence[Casting], Workshop, int], Iterator[Finding]], ...] = (
    _table_findings,
    _form_findings,
    _mixer_findings,
    _hand_findings,
)
