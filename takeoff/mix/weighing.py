"""What is put on the scale for a volume, a mass or whole bags of a mix."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from takeoff.errors import MixError
from takeoff.mix.charging import Bench, charges_of
from takeoff.mix.checking import mix_faults, mix_notes
from takeoff.mix.ingredients import Role
from takeoff.mix.mix_rules import WeighRules
from takeoff.mix.mixes import Mix
from takeoff.mix.proportions import Proportions, proportions_of
from takeoff.mix.scales import Scale
from takeoff.mix.volumes import fresh_density_kg_m3
from takeoff.mix.weigh_sheet import WeighedMix, weigh_sheet
from takeoff.notes import Note, NoteCode


def weigh_out(
    mix: Mix,
    *,
    volume_m3: float | None = None,
    mass_kg: float | None = None,
    bags: int | None = None,
    scales: Sequence[Scale] = (),
    bucket_kg: float | None = None,
    ice_kg: float = 0.0,
    rules: WeighRules = WeighRules(),
) -> WeighedMix:
    """Weigh a mix for exactly one of a volume, a mass or a number of bags.

    Parameters
    ----------
    mix : Mix
        The mix.
    volume_m3 : float, optional
        Fresh volume wanted. [m³]
    mass_kg : float, optional
        Mass wanted, all ingredients together. [kg]
    bags : int, optional
        Whole bags of a premix.
    scales : sequence of Scale, default ()
        Scales of the shop; without any, masses are not rounded.
    bucket_kg : float, optional
        Most that goes into one bucket. [kg]
    ice_kg : float, default 0.0
        How much of the water to add is ice. [kg]
    rules : WeighRules, optional
        How far a mass may be rounded, and how much water is held back.

    Returns
    -------
    WeighedMix
        The masses, rounded to the scales, and the volume and shares that these masses give.

    Raises
    ------
    MixError
        If not exactly one amount above 0 is given, bags are asked of a mix without a bag, the mix
        is absurd, a scale is too coarse for an ingredient, or there is more ice than water.

    Examples
    --------
    >>> from takeoff.mix.ingredients import Ingredient
    >>> from takeoff.mix.mixes import Basis, Dose, MixLayer, Placing
    >>> mortar = Mix("mortar", MixLayer.BACKER, Placing.PACKED, doses=(
    ...     Dose(Ingredient("cement", Role.CEMENT, 3150.0), 1.0, Basis.OF_CEMENT),
    ...     Dose(Ingredient("sand", Role.SAND, 2650.0), 1.0, Basis.OF_CEMENT)),
    ...     water=Dose(Ingredient("water", Role.WATER, 998.0), 0.4, Basis.OF_CEMENT),
    ...     air_share=0.05)
    >>> sheet = weigh_out(mortar, mass_kg=24.0, scales=[Scale(0.01)])
    >>> [(line.name, line.mass_kg) for line in sheet.lines]
    [('water', 3.6), ('cement', 10.0), ('sand', 10.0), ('held-back water', 0.4)]
    """
    try:
        proportions = _sound_proportions(mix)
        asked_kg = _asked_kg(mix, proportions, volume_m3=volume_m3, mass_kg=mass_kg, bags=bags)
        masses_kg = {
            part.ingredient: part.mass_share * asked_kg
            for part in proportions.parts
            if part.mass_share > 0.0
        }
        charges = charges_of(
            mix,
            masses_kg,
            Bench(tuple(scales), bucket_kg),
            ice_kg=ice_kg,
            whole_bags=bags is not None,
            rules=rules,
        )
    except MixError as error:
        raise error.at(mix.name) from None
    sheet = weigh_sheet(mix, charges, notes=mix_notes(mix))
    return _with_rounding_note(sheet, asked_kg / fresh_density_kg_m3(mix), rules)


def _sound_proportions(mix: Mix) -> Proportions:
    """Give the shares of a mix that holds no slip."""
    faults = mix_faults(mix)
    if faults:
        raise MixError("; ".join(fault.text for fault in faults))
    return proportions_of(mix)


def _asked_kg(
    mix: Mix,
    proportions: Proportions,
    *,
    volume_m3: float | None,
    mass_kg: float | None,
    bags: int | None,
) -> float:
    """Give the whole mass for the one amount that was asked for."""
    told = {"volume": volume_m3, "mass": mass_kg, "bags": bags}
    amounts = {what: amount for what, amount in told.items() if amount is not None}
    if len(amounts) != 1:
        raise MixError(f"give one of volume, mass or bags, found {' and '.join(amounts) or 'none'}")
    what, amount = amounts.popitem()
    if not 0.0 < amount < float("inf"):
        raise MixError(f"the {what} to weigh must be above 0, found {amount:g}")
    if what == "volume":
        return amount * fresh_density_kg_m3(mix)
    if what == "mass":
        return amount
    if mix.bag is None:
        raise MixError("comes from ingredients, not from bags; give a volume or a mass")
    premix = next(part for part in proportions.parts if part.ingredient.role is Role.PREMIX)
    return amount * mix.bag.mass_kg / premix.mass_share


def _with_rounding_note(sheet: WeighedMix, asked_m3: float, rules: WeighRules) -> WeighedMix:
    """Note a volume that rounding to the scale has moved."""
    if abs(sheet.volume_m3 - asked_m3) <= rules.volume_share * asked_m3:
        return sheet
    text = (
        f"rounded to the scale it gives {1000.0 * sheet.volume_m3:.4g} L, "
        f"{1000.0 * asked_m3:.4g} L were asked for"
    )
    note = Note(NoteCode.ROUNDED, text, where=sheet.mix.name)
    return replace(sheet, notes=(*sheet.notes, note))
