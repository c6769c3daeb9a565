"""The masses of a mix put on scales: into buckets, by whole bags, the water in its parts."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from takeoff.errors import MixError
from takeoff.mix.addition import WaterPart
from takeoff.mix.ingredients import Ingredient, Role
from takeoff.mix.mix_rules import WeighRules
from takeoff.mix.mixes import Bag, Mix
from takeoff.mix.rounding import Reading, read_on_scales
from takeoff.mix.scales import Portion, Scale, split
from takeoff.mix.weigh_sheet import Charge


@dataclass(frozen=True, slots=True)
class Bench:
    """Where a mix is weighed.

    Parameters
    ----------
    scales : sequence of Scale, default ()
        Its scales; without any, masses are not rounded.
    bucket_kg : float or None, default None
        Most that goes into one bucket. [kg]

    Raises
    ------
    MixError
        If a bucket holds nothing.

    Examples
    --------
    >>> Bench((Scale(0.01),), bucket_kg=20.0).bucket_kg
    20.0
    """

    scales: Sequence[Scale] = ()
    bucket_kg: float | None = None

    def __post_init__(self) -> None:
        if self.bucket_kg is not None and not self.bucket_kg > 0.0:
            raise MixError(f"a bucket must hold more than nothing, found {self.bucket_kg:g} kg")


_CLOSE = 1e-9


def charges_of(
    mix: Mix,
    masses_kg: Mapping[Ingredient, float],
    bench: Bench,
    *,
    ice_kg: float = 0.0,
    whole_bags: bool = False,
    rules: WeighRules = WeighRules(),
) -> tuple[Charge, ...]:
    """Put the masses of a mix on scales.

    Parameters
    ----------
    mix : Mix
        The mix.
    masses_kg : mapping of Ingredient to float
        Mass of each ingredient, above 0; of the water, what is to be added. [kg]
    bench : Bench
        Scales and buckets.
    ice_kg : float, default 0.0
        How much of the water to add is ice. [kg]
    whole_bags : bool, default False
        Whether the premix comes to whole bags, which are not weighed.
    rules : WeighRules, optional
        How far a mass may be rounded, and how much water is held back.

    Returns
    -------
    tuple of Charge
        What is weighed.

    Raises
    ------
    MixError
        If a scale is too coarse for an ingredient, or there is more ice than water to add.

    Examples
    --------
    >>> from takeoff.mix.mixes import Basis, Dose, MixLayer, Placing
    >>> cement = Ingredient("cement", Role.CEMENT, 3150.0)
    >>> water = Ingredient("water", Role.WATER, 1000.0)
    >>> paste = Mix("paste", MixLayer.FACE_COAT, Placing.SPRAYED, (Dose(cement, 1.0,
    ...             Basis.OF_CEMENT),), Dose(water, 0.4, Basis.OF_CEMENT), air_share=0.0)
    >>> [(charge.name, charge.mass_kg) for charge in
    ...  charges_of(paste, {cement: 25.0, water: 10.0}, Bench(), ice_kg=3.0)]
    [('cement', 25.0), ('water', 6.0), ('ice', 3.0), ('held-back water', 1.0)]
    """
    if ice_kg > 0.0 and mix.water.ingredient not in masses_kg:
        raise MixError("what is wet brings all of the water; none of it can be ice")
    held_share = rules.held_back_share if mix.held_back_share is None else mix.held_back_share
    exact = tuple(_exact(mix, masses_kg, ice_kg=ice_kg, held_share=held_share))
    bags = 0 if mix.bag is None else _bag_count(masses_kg, mix.bag, whole=whole_bags)
    readings = read_on_scales(
        dict(_loose_kg(exact, mix.bag, bags)),
        bench.scales,
        bucket_kg=bench.bucket_kg,
        within_kg=_within_kg(exact),
        rules=rules,
    )
    weighed = (
        _weighed(charge, readings.get(charge.name, _NOTHING), bench, mix.bag, bags)
        for charge in exact
    )
    # A part of the water that the scale cannot show is left out.
    return tuple(charge for charge in weighed if charge.mass_kg > 0.0)


_NOTHING = Reading(0.0, None)


def _exact(
    mix: Mix, masses_kg: Mapping[Ingredient, float], *, ice_kg: float, held_share: float
) -> Iterator[Charge]:
    """Give what is to be weighed before it is rounded, the water in its parts."""
    at_gun = {dose.ingredient.name for dose in mix.doses if dose.at_gun}
    for ingredient, mass_kg in masses_kg.items():
        if ingredient.role is not Role.WATER:
            yield Charge(ingredient, mass_kg, at_gun=ingredient.name in at_gun)
            continue
        if not 0.0 <= ice_kg <= mass_kg:
            raise MixError(
                f"{ice_kg:.4g} kg of ice cannot be taken from {mass_kg:.4g} kg of water to add"
            )
        held_kg = min(held_share * mass_kg, mass_kg - ice_kg)
        parts = {
            WaterPart.FIRST: mass_kg - ice_kg - held_kg,
            WaterPart.ICE: ice_kg,
            WaterPart.HELD_BACK: held_kg,
        }
        for part, part_kg in parts.items():
            if part_kg > 0.0:
                yield Charge(ingredient, part_kg, water=part)


def _bag_count(masses_kg: Mapping[Ingredient, float], bag: Bag, *, whole: bool) -> int:
    """Count the whole bags in the premix; where it is weighed, what is over is loose."""
    mass_kg = sum(mass for one, mass in masses_kg.items() if one.role is Role.PREMIX)
    return round(mass_kg / bag.mass_kg) if whole else math.floor(mass_kg / bag.mass_kg + _CLOSE)


def _loose_kg(exact: Sequence[Charge], bag: Bag | None, bags: int) -> Iterator[tuple[str, float]]:
    """Give what must be weighed: all but the whole bags."""
    for charge in exact:
        in_bags_kg = 0.0
        if bag is not None and charge.ingredient.role is Role.PREMIX:
            in_bags_kg = bags * bag.mass_kg
        if charge.mass_kg - in_bags_kg > _CLOSE * charge.mass_kg:
            yield charge.name, charge.mass_kg - in_bags_kg


def _within_kg(exact: Sequence[Charge]) -> dict[str, float]:
    """Tell what rounding is held against, where that is more than the mass itself."""
    all_water_kg = sum(max(0.0, charge.water_kg) for charge in exact)
    return {
        charge.name: all_water_kg if charge.ingredient.role is Role.WATER else charge.mass_kg
        for charge in exact
    }


def _weighed(charge: Charge, reading: Reading, bench: Bench, bag: Bag | None, bags: int) -> Charge:
    """Give a charge as the scale shows it, in as many goes as it takes."""
    whole: tuple[Portion, ...] = ()
    if bag is not None and bags and charge.ingredient.role is Role.PREMIX:
        whole = (Portion(bags, bag.mass_kg, bag=True),)
    loose: tuple[Portion, ...] = ()
    if reading.mass_kg > 0.0:
        loose = split(reading.mass_kg, scale=reading.scale, bucket_kg=bench.bucket_kg)
    return replace(
        charge,
        mass_kg=sum(one.count * one.mass_kg for one in whole) + reading.mass_kg,
        scale=reading.scale,
        portions=(*whole, *loose),
    )
