"""What is weighed for each batch of a plan, so that it covers what is placed of it."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from takeoff.batching.batches import Batch
from takeoff.batching.plans import Plan
from takeoff.errors import MixError
from takeoff.files.order import Shop
from takeoff.mix.ingredients import Role
from takeoff.mix.mixes import Mix
from takeoff.mix.weigh_sheet import WeighedMix
from takeoff.mix.weighing import weigh_out

_SLACK_KG = 1e-9
_PIGMENT_SHARE = 0.01
_TRIES = 100

# A mix, and what is made of it.
Key = tuple[str, float]


def weighed_batches(plan: Plan, mixes: Mapping[str, Mix], shop: Shop) -> dict[Key, WeighedMix]:
    """Weigh every batch of a plan; batches of one mix and mass are weighed alike.

    Parameters
    ----------
    plan : Plan
        The plan.
    mixes : mapping of str to Mix
        The mixes by name.
    shop : Shop
        The scales.

    Returns
    -------
    dict
        What is weighed, by mix and planned mass.

    Raises
    ------
    MixError
        If the scale is too coarse for an ingredient, or for one colour in all batches.

    Examples
    --------
    >>> from takeoff.batching.workshops import Workshop
    >>> weighed_batches(Plan((), Workshop(()), (), 0), {}, Shop((), 1, None, None, None, {}))
    {}
    """
    made: dict[Key, WeighedMix] = {}
    for day in plan.days:
        for poured in day.batches:
            batch = poured.batch
            key = key_of(batch)
            if key not in made:
                try:
                    made[key] = _weighed(batch, mixes[batch.step.mix.name], shop)
                except MixError as error:
                    raise error.at(batch.step.mix.name) from None
    for name in mixes:
        _check_colour(name, [one for (mix, _), one in made.items() if mix == name])
    return made


def key_of(batch: Batch) -> Key:
    """Give what a batch is weighed by.

    Parameters
    ----------
    batch : Batch
        The batch.

    Returns
    -------
    tuple of str and float
        Its mix and mass. [kg]

    Examples
    --------
    >>> from takeoff.batching.lots import Bound
    >>> from takeoff.batching.mixers import Mixer
    >>> from takeoff.batching.steps import FreshMix, Step
    >>> step = Step("backer", FreshMix("b", 2000.0, 1800.0), 0.1)
    >>> key_of(Batch(Mixer("pan", 0.03, 0.1), step, (), 40.0, Bound.DEMAND))
    ('b', 40.0)
    """
    return batch.step.mix.name, batch.mass_kg


def _weighed(batch: Batch, mix: Mix, shop: Shop) -> WeighedMix:
    """Weigh a batch so that, rounded to the scales, it still covers what is placed of it."""
    if batch.step.mix.bag_kg is not None:
        return weigh_out(mix, bags=round(batch.mass_kg / batch.step.mix.bag_kg), scales=shop.scales)
    asked_kg = batch.mass_kg
    weighed = weigh_out(mix, mass_kg=asked_kg, scales=shop.scales)
    for _ in range(_TRIES):
        if shop.division_kg is None or weighed.mass_kg >= batch.mass_kg - _SLACK_KG:
            break
        asked_kg += shop.division_kg
        weighed = weigh_out(mix, mass_kg=asked_kg, scales=shop.scales)
    return weighed


def _check_colour(name: str, weighed: Iterable[WeighedMix]) -> None:
    """Refuse batches of one mix whose pigment differs, by cement, more than the eye forgives."""
    ratios = [
        pigment_kg / cement_kg
        for one in weighed
        if (pigment_kg := _mass_kg(one, Role.PIGMENT)) > 0.0
        and (cement_kg := _mass_kg(one, Role.CEMENT) + _mass_kg(one, Role.PREMIX)) > 0.0
    ]
    if ratios and max(ratios) > min(ratios) * (1.0 + _PIGMENT_SHARE):
        apart = max(ratios) / min(ratios) - 1.0
        raise MixError(
            f"batches of different size differ in pigment by {apart:.1%} of what they hold, more "
            f"than {_PIGMENT_SHARE:.0%}, once rounded to the scale; weigh pigment on a finer scale",
            where=name,
        )


def _mass_kg(weighed: WeighedMix, role: Role) -> float:
    return sum(line.mass_kg for line in weighed.lines if line.role is role)
