"""Checks of a plan by mass: all is placed once, and every batch fits mixer, scale and bags."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping

from takeoff.batching.batches import Batch, Part
from takeoff.batching.demand import Coat
from takeoff.batching.plans import Plan
from takeoff.batching.pour_rules import Breach, Rule
from takeoff.batching.steps import Split, Step
from takeoff.batching.workshops import Workshop

_NEAR = 1e-6

_Runs = Mapping[tuple[int, int], list[tuple[Part, Batch]]]


def mass_breaches(plan: Plan) -> Iterator[Breach]:
    """Give every rule of mass that a plan breaks.

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
    >>> list(mass_breaches(Plan((), Workshop(()), (), batch_bound=0)))
    []
    """
    runs: dict[tuple[int, int], list[tuple[Part, Batch]]] = {}
    for day in plan.days:
        for number, poured in enumerate(day.batches, start=1):
            where = f"day {day.number}, batch {number}"
            yield from _batch_breaches(poured.batch, plan.shop, where)
            yield from _content_breaches(plan, poured.batch, where)
            for part in poured.batch.parts:
                runs.setdefault((part.casting, part.coat), []).append((part, poured.batch))
    yield from _demand_breaches(plan, runs)


def _batch_breaches(batch: Batch, shop: Workshop, where: str) -> Iterator[Breach]:
    mixer, mix = batch.mixer, batch.step.mix
    if mixer not in shop.mixers:
        yield Breach(Rule.SUITS, where, f"there is no mixer {mixer.name} like this")
    if mixer.suits and mix.name not in mixer.suits:
        yield Breach(Rule.SUITS, where, f"{mixer.name} is not for {mix.name}")
    room_kg = mixer.capacity_m3 * mix.density_kg_m3
    if batch.mass_kg > room_kg * (1.0 + _NEAR):
        text = f"{batch.mass_kg:g} kg in a mixer that holds {room_kg:g} kg"
        yield Breach(Rule.CAPACITY, where, text)
    least_kg = mixer.least_fill_m3 * mix.density_kg_m3
    if batch.mass_kg < least_kg * (1.0 - _NEAR):
        text = f"{batch.mass_kg:g} kg in a mixer that needs {least_kg:g} kg"
        yield Breach(Rule.LEAST_FILL, where, text)
    step_kg = mix.bag_kg if mix.bag_kg is not None else shop.division_kg
    if step_kg is not None:
        steps = batch.mass_kg / step_kg
        if abs(steps - round(steps)) > 1e-3:
            text = f"{batch.mass_kg:g} kg is no multiple of {step_kg:g} kg"
            yield Breach(Rule.SCALE, where, text)
    given_kg = sum(part.gross_kg for part in batch.parts) + mixer.residue_kg
    if batch.mass_kg < given_kg - _NEAR:
        text = f"{given_kg:g} kg are placed and lost of {batch.mass_kg:g} kg"
        yield Breach(Rule.DEMAND, where, text)


def _content_breaches(plan: Plan, batch: Batch, where: str) -> Iterator[Breach]:
    """Find parts that are not of the mix of their batch, or take more or less than they place."""
    for part in batch.parts:
        step = plan.castings[part.casting].coats[part.coat].step
        if (step.mix, step.layer) != (batch.step.mix, batch.step.layer):
            text = f"{step.mix.name} {step.mix.colour} is wanted on {_name(plan, part.casting)}"
            yield Breach(Rule.ONE_MIX, where, text.replace("  ", " "))
        net_kg = part.gross_kg * (1.0 - step.overspray_share)
        if not math.isclose(net_kg, part.end_kg - part.start_kg, rel_tol=_NEAR, abs_tol=_NEAR):
            text = f"{part.gross_kg:g} kg do not leave {part.end_kg - part.start_kg:g} kg"
            yield Breach(Rule.DEMAND, where, text)


def _demand_breaches(plan: Plan, runs: _Runs) -> Iterator[Breach]:
    """Find coats with gaps or overlaps, and faces cut that need not be."""
    for casting, cast in enumerate(plan.castings):
        for number, coat in enumerate(cast.coats):
            where = f"{cast.name}, {coat.step.layer}"
            run = sorted(runs.get((casting, number), []), key=lambda pair: pair[0].start_kg)
            at_kg = 0.0
            for part, _ in run:
                if abs(part.start_kg - at_kg) > _NEAR:
                    text = f"a part starts at {part.start_kg:g} kg, not at {at_kg:g} kg"
                    yield Breach(Rule.DEMAND, where, text)
                at_kg = part.end_kg
            if abs(at_kg - coat.net_kg) > _NEAR:
                text = f"{at_kg:g} kg of {coat.net_kg:g} kg are placed"
                yield Breach(Rule.DEMAND, where, text)
            if len(run) > 1:
                yield from _split_breaches(plan.shop, coat, run, where)


def _split_breaches(
    shop: Workshop, coat: Coat, run: list[tuple[Part, Batch]], where: str
) -> Iterator[Breach]:
    if coat.step.split is Split.STREAM:
        return
    if coat.step.split is Split.SINGLE:
        yield Breach(Rule.SINGLE, where, f"{len(run)} batches")
    gross_kg = sum(part.gross_kg for part, _ in run)
    mixer = run[0][1].mixer
    room_kg = mixer.capacity_m3 * coat.step.mix.density_kg_m3 - mixer.residue_kg
    pot_kg = _in_time_kg(coat.step, shop)
    step_kg = coat.step.mix.bag_kg or shop.division_kg or 0.0
    # Placing is planned in whole ticks, so that a little less than the pot life may be used.
    ticks_kg = 2.0 * shop.rules.tick_s * coat.step.rate_kg_s * coat.step.workers
    if gross_kg <= min(room_kg - step_kg, pot_kg - ticks_kg):
        text = f"{len(run)} batches, though {gross_kg:g} kg go into one"
        yield Breach(Rule.WHOLE_FACE, where, text)
    masses_kg = [batch.mass_kg for _, batch in run]
    if max(masses_kg) - min(masses_kg) > (step_kg or _NEAR) * (1.0 + _NEAR):
        text = f"batches of {min(masses_kg):g} to {max(masses_kg):g} kg"
        yield Breach(Rule.EVEN, where, text)


def _in_time_kg(step: Step, shop: Workshop) -> float:
    """Give what can be placed at most within the pot life, refills not counted."""
    left_s = step.mix.pot_life_s * (1.0 - shop.rules.pot_reserve_share) - shop.rules.haul_s
    if step.hopper_kg is not None:
        rate_kg_s = step.rate_kg_s * step.workers
        load_s = step.hopper_kg * max(1, step.gun_count) / rate_kg_s
        left_s = left_s * load_s / (load_s + shop.rules.refill_s)
    return left_s * step.rate_kg_s * step.workers


def _name(plan: Plan, casting: int) -> str:
    return plan.castings[casting].name
