"""Why a pour cannot be planned, told before any search: each rule with its numbers and ways out."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace

from takeoff.batching.batches import limit_in
from takeoff.batching.cases import (
    Case,
    Obstacle,
    Way,
    in_turn,
    with_hands,
    with_mixer,
    with_placing,
)
from takeoff.batching.day_findings import day_obstacles
from takeoff.batching.demand import Casting, Coat
from takeoff.batching.lots import BatchLimit, Bound, batch_limit, weighed_kg
from takeoff.batching.mixers import Mixer
from takeoff.batching.pour_rules import Finding, Measure, Rule
from takeoff.batching.steps import Split, Step
from takeoff.batching.timing import placeable_kg, placing_s, pot_ticks, ticks_up
from takeoff.batching.workshops import Workshop
from takeoff.errors import BatchError

_MOST_PLACING = 100
_NAMED = 2


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
    found = plain_obstacles(Case(tuple(castings), shop))
    return tuple(obstacle.finding(obstacle.ways) for obstacle in found)


def plain_obstacles(case: Case) -> tuple[Obstacle, ...]:
    """Give every rule that no order of work could keep, with the ways round it.

    Parameters
    ----------
    case : Case
        The pour.

    Returns
    -------
    tuple of Obstacle
        One for each rule and layer, that of the piece which misses it most.

    Examples
    --------
    >>> plain_obstacles(Case((), Workshop(())))
    ()
    """
    found = [one for step in case.steps for one in _step_obstacles(step, case.shop)]
    if not found:
        kinds = {(casting.piece, casting.coats): casting for casting in case.castings}
        found = [one for cast in kinds.values() for one in _casting_obstacles(cast, case.shop)]
    if not found and case.shop.day_count is not None:
        found = list(day_obstacles(case.castings, case.shop, case.shop.day_count))
    return tuple(_worst(found))


def _worst(found: Iterable[Obstacle]) -> Iterator[Obstacle]:
    """Tell each rule once a layer, with the piece that misses it most and how many others do."""
    groups: dict[tuple[Rule, str], list[Obstacle]] = {}
    for one in found:
        groups.setdefault((one.rule, one.where.rpartition(", ")[2]), []).append(one)
    for (_, layer), alike in groups.items():
        worst = max(alike, key=lambda one: one.value_count - one.limit_count)
        names = dict.fromkeys(one.where.rpartition(", ")[0] for one in (worst, *alike))
        yield replace(worst, where=f"{named(list(names))}, {layer}") if any(names) else worst


def named(names: Sequence[str]) -> str:
    """Name some pieces, and say how many others there are.

    Parameters
    ----------
    names : sequence of str
        The pieces.

    Returns
    -------
    str
        The words.

    Examples
    --------
    >>> named(["bench"]), named(["bench", "panel"]), named(["bench", "panel", "sill", "step"])
    ('bench', 'bench and panel', 'bench and 3 others')
    """
    if len(names) <= _NAMED:
        return " and ".join(names)
    return f"{names[0]} and {len(names) - 1} others"


def _step_obstacles(step: Step, shop: Workshop) -> Iterator[Obstacle]:
    """Find steps of which no batch can be mixed, or none placed in time."""
    mix = step.mix
    if not shop.suiting(mix):
        if shop.mixers:
            yield _unsuited(step, shop)
        return
    if step.workers > shop.hands:
        fewer = shop.hands
        ways = (
            Way(f"{step.workers} pairs of hands", with_hands(step.workers)),
            Way(f"hands = {fewer} in [{step.told_in}]", with_placing([step.told_in], fewer)),
        )
        counts = float(step.workers), float(shop.hands)
        yield Obstacle(Rule.HANDS, mix.name, *counts, Measure.COUNT, ways)
    if placeable_kg(step, shop.rules) <= 0.0:
        yield _no_time(step, shop)
    elif not any(_holds(step, shop, mixer) for mixer in shop.suiting(mix)):
        yield _no_room(step, shop)
    else:
        yield from _least_fills(step, shop)


def _unsuited(step: Step, shop: Workshop) -> Obstacle:
    mixer = max(shop.mixers, key=lambda one: one.capacity_m3)
    text = f"add {step.mix.name} to the suits of [[mixer]] '{mixer.name}' in the shop file"

    def change(case: Case) -> Case:
        mixers = tuple(
            replace(one, suits=(*one.suits, step.mix.name)) if one.name == mixer.name else one
            for one in case.shop.mixers
        )
        return replace(case, shop=replace(case.shop, mixers=mixers))

    return Obstacle(Rule.SUITS, step.mix.name, 1.0, 0.0, Measure.COUNT, (Way(text, change),))


def _no_time(step: Step, shop: Workshop) -> Obstacle:
    """Give what is left for carrying where half of what is planned with stays for placing."""
    rules = shop.rules
    ticks = pot_ticks(step, rules)
    haul_s = ticks // 2 * rules.tick_s
    ways = []
    if ticks > 0:
        text = f"carrying of at most {haul_s / 60.0:g} min (haul in the shop file)"
        nearer = replace(rules, haul_s=haul_s)
        ways.append(Way(text, lambda case: replace(case, shop=replace(case.shop, rules=nearer))))
    least_s = 2.0 * (rules.haul_s + rules.tick_s) / (1.0 - rules.pot_reserve_share)
    ways.append(_longer_pot_life(step, least_s))
    times_s = rules.haul_s, ticks * rules.tick_s
    return Obstacle(Rule.POT_LIFE, step.mix.name, *times_s, Measure.SECONDS, tuple(ways))


def _longer_pot_life(step: Step, pot_life_s: float) -> Way:
    least_s = math.ceil(pot_life_s / 60.0 - 1e-9) * 60.0
    text = f"a pot life of {least_s / 60.0:g} min, if the product's data sheet gives it"

    def longer(one: Step) -> Step:
        if one.mix != step.mix:
            return one
        return replace(one, mix=replace(one.mix, pot_life_s=max(one.mix.pot_life_s, least_s)))

    return Way(text, lambda case: case.with_steps(longer))


def _no_room(step: Step, shop: Workshop) -> Obstacle:
    mixers = shop.suiting(step.mix)
    needed_kg = max(mixer.residue_kg for mixer in mixers) + (step.mix.bag_kg or 0.0)
    needed_m3 = needed_kg / step.mix.density_kg_m3 + shop.rounding_m3
    largest = max(mixers, key=lambda mixer: mixer.capacity_m3)
    holds_m3 = largest.capacity_m3 + shop.rounding_m3
    least_m3 = _up(needed_m3 * 1e4) / 1e4
    way = Way(
        f"a mixer of more than {least_m3 * 1e3:.1f} L", with_mixer(largest.name, least_m3 + 1e-4)
    )
    name = step.mix.name
    return Obstacle(Rule.CAPACITY, name, needed_m3, holds_m3, Measure.CUBIC_METRES, (way,))


def _least_fills(step: Step, shop: Workshop) -> Iterator[Obstacle]:
    """Find mixers whose least fill is more than can be placed in time."""
    mix = step.mix
    placed_kg = placeable_kg(step, shop.rules)
    mixers = shop.suiting(mix)
    least_kg = min(mixer.least_fill_m3 * mix.density_kg_m3 - mixer.residue_kg for mixer in mixers)
    if placed_kg >= least_kg or any(_makes(step, shop, mixer) for mixer in mixers):
        return
    most_m3 = math.floor(placed_kg / mix.density_kg_m3 * 1e4) / 1e4
    more = _up(step.workers * least_kg / placed_kg)

    def smaller(case: Case) -> Case:
        changed = tuple(
            replace(one, least_fill_m3=min(one.least_fill_m3, most_m3)) if one in mixers else one
            for one in case.shop.mixers
        )
        return replace(case, shop=replace(case.shop, mixers=changed))

    ways = [Way(_placing_words(step, more), with_placing([step.told_in], more))]
    if most_m3 > 0.0:
        text = f"a smaller mixer, of a least fill of at most {most_m3 * 1e3:.1f} L"
        ways.insert(0, Way(text, smaller))
    masses_kg = least_kg, placed_kg
    rule = Rule.POT_LIFE_LEAST_FILL
    yield Obstacle(rule, mix.name, *masses_kg, Measure.KILOGRAMS, tuple(ways))


def _placing_words(step: Step, workers: int) -> str:
    guns = ", each with a gun" if step.gun_count else ""
    return f"{workers} placing workers{guns} (hands = {workers} in [{step.told_in}])"


def _up(value_count: float) -> int:
    return math.ceil(value_count - 1e-9)


def _holds(step: Step, shop: Workshop, mixer: Mixer) -> bool:
    """Tell whether a mixer that suits holds a batch at all."""
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


def _makes(step: Step, shop: Workshop, mixer: Mixer) -> bool:
    """Tell whether a mixer that suits makes a batch that can be placed in time."""
    try:
        limit_in(step, mixer, shop)
    except BatchError:
        return False
    return True


def _casting_obstacles(casting: Casting, shop: Workshop) -> Iterator[Obstacle]:
    """Find coats that one batch must hold and cannot, joints and covers that come too late."""
    for number, coat in enumerate(casting.coats):
        where = f"{casting.piece}, {coat.step.told_in}"
        limit, mixer = max(
            (
                (limit_in(coat.step, mixer, shop), mixer)
                for mixer in shop.suiting(coat.step.mix)
                if _makes(coat.step, shop, mixer)
            ),
            key=lambda pair: pair[0].placed_kg,
        )
        if coat.gross_kg > limit.placed_kg * (1.0 + 1e-9):
            if coat.step.split is Split.SINGLE:
                yield _more_than_one(coat, shop, limit, mixer, where)
            yield from _joints(coat, shop, where)
        if number + 1 < len(casting.coats):
            yield from _windows(coat, casting.coats[number + 1], shop, where)


def _more_than_one(
    coat: Coat, shop: Workshop, limit: BatchLimit, mixer: Mixer, where: str
) -> Obstacle:
    """Give what would hold a coat, and place it, in one batch."""
    step = coat.step
    whole_kg = coat.gross_kg + mixer.residue_kg
    whole_m3 = whole_kg / step.mix.density_kg_m3 + shop.rounding_m3
    # A batch is rounded up to the scale, or to whole bags.
    rounded_kg = weighed_kg(whole_kg, division_kg=shop.division_kg, bag_kg=step.mix.bag_kg)
    least_m3 = _up((rounded_kg / step.mix.density_kg_m3 + shop.rounding_m3) * 1e4) / 1e4
    workers = _up(step.workers * coat.gross_kg / placeable_kg(step, shop.rules))
    texts, changes = [], []
    if limit.bound is not Bound.POT_LIFE or least_m3 > mixer.capacity_m3 + shop.rounding_m3:
        texts.append(f"a mixer of {least_m3 * 1e3:.1f} L")
        changes.append(with_mixer(mixer.name, least_m3))
    if workers > step.workers:
        texts.append(_placing_words(step, workers))
        changes.append(with_placing([step.told_in], workers))
    split = Split.WHOLE

    def splitting(case: Case) -> Case:
        return case.with_steps(
            lambda one: replace(one, split=split) if one.told_in == step.told_in else one
        )

    ways = (
        Way(" and ".join(texts), in_turn(changes)),
        Way(f"leave the face to be split (no one_batch in [{step.told_in}])", splitting),
    )
    held_m3 = (limit.placed_kg + mixer.residue_kg) / step.mix.density_kg_m3 + shop.rounding_m3
    return Obstacle(Rule.SINGLE_BATCH, where, whole_m3, held_m3, Measure.CUBIC_METRES, ways)


def _joints(coat: Coat, shop: Workshop, where: str) -> Iterator[Obstacle]:
    """Find joints that dry while those who place also mix."""
    if shop.hands > coat.step.workers:
        return
    mixers = shop.suiting(coat.step.mix)
    gap_s = min(shop.mix_s(mixer, coat.step.mix) for mixer in mixers) + shop.rules.haul_s
    edge_s = coat.step.wet_edge_s * (1.0 - shop.rules.window_reserve_share)
    if gap_s > edge_s:
        text = "one more pair of hands: a worker who mixes while the others place"
        way = Way(text, with_hands(shop.hands + 1))
        yield Obstacle(Rule.WET_EDGE, where, gap_s, edge_s, Measure.SECONDS, (way,))


def _windows(coat: Coat, cover: Coat, shop: Workshop, where: str) -> Iterator[Obstacle]:
    """Find coats that take longer to place than the cover may lag behind."""
    if cover.step.max_wait_s is None:
        return
    kept = 1.0 - shop.rules.window_reserve_share
    window_s = cover.step.max_wait_s * kept - cover.step.min_wait_s
    takes_s = _takes_s(coat, coat.step.workers, shop)
    if takes_s <= window_s:
        return
    workers = next(
        (
            count
            for count in range(coat.step.workers + 1, _MOST_PLACING)
            if _takes_s(coat, count, shop) <= window_s
        ),
        None,
    )
    ways = []
    if workers is not None:
        words = _placing_words(coat.step, workers)
        ways.append(Way(words, with_placing([coat.step.told_in], workers)))
    longest_s = _up((cover.step.min_wait_s + takes_s) / kept / 60.0) * 60.0
    ways.append(_longer_wait(cover.step, longest_s))
    yield Obstacle(Rule.FACE_WINDOW, where, takes_s, window_s, Measure.SECONDS, tuple(ways))


def _takes_s(coat: Coat, workers: int, shop: Workshop) -> float:
    """Give the time that so many take to place a coat, in whole ticks."""
    guns = workers if coat.step.gun_count else 0
    step = replace(coat.step, workers=workers, gun_count=guns)
    return ticks_up(placing_s(step, coat.gross_kg, shop.rules), shop.rules) * shop.rules.tick_s


def _longer_wait(step: Step, longest_s: float) -> Way:
    told_s = _up(longest_s / step.wait_ratio / 60.0) * 60.0
    text = f"a longest wait of {told_s / 60.0:g} min ({step.longest_wait_key})"
    most_s = told_s * step.wait_ratio

    def longer(one: Step) -> Step:
        if one.max_wait_s is None or one.longest_wait_key != step.longest_wait_key:
            return one
        return replace(one, max_wait_s=max(one.max_wait_s, most_s))

    return Way(f"{text}, if a trial shows that it bonds", lambda case: case.with_steps(longer))
