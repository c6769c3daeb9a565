"""Slips of the pen in a mix, found before anything is weighed from it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from takeoff.errors import MixError
from takeoff.mix.ingredients import Role
from takeoff.mix.mix_rules import MixRules
from takeoff.mix.mixes import Mix, Placing
from takeoff.mix.moisture import Moisture, untold_note
from takeoff.mix.proportions import Proportions, proportions_of
from takeoff.notes import Note, NoteCode


@dataclass(frozen=True, slots=True)
class MixFault:
    """One absurd figure of a mix.

    Parameters
    ----------
    text : str
        What was found, and what the limit is.
    about : str
        The ingredient it is about, or ``"air"``; empty for the mix as a whole.
    """

    text: str
    about: str = ""


def mix_faults(mix: Mix, *, rules: MixRules = MixRules()) -> tuple[MixFault, ...]:
    """List what in a mix can only be a slip.

    Parameters
    ----------
    mix : Mix
        The mix.
    rules : MixRules, optional
        The limits.

    Returns
    -------
    tuple of MixFault
        What was found; empty for a mix that can be weighed.

    Examples
    --------
    >>> from takeoff.mix.ingredients import Ingredient
    >>> from takeoff.mix.mixes import Basis, Dose, MixLayer
    >>> soup = Mix("soup", MixLayer.BACKER, Placing.POURED, doses=(
    ...     Dose(Ingredient("cement", Role.CEMENT, 3150.0), 1.0, Basis.OF_CEMENT),),
    ...     water=Dose(Ingredient("water", Role.WATER, 998.0), 40.0, Basis.OF_CEMENT),
    ...     air_share=0.05)
    >>> mix_faults(soup)[0].text
    'water is 40 times the cement; at most 1.2 is credible'
    """
    alone = (*_air_faults(mix, rules), *_density_faults(mix, rules))
    try:
        proportions = proportions_of(mix, rules=rules)
    except MixError as error:
        return (*alone, MixFault(error.text, "" if error.where == mix.name else error.where))
    return (
        *alone,
        *_water_faults(mix, proportions, rules),
        *_dose_faults(proportions, rules),
    )


def mix_notes(mix: Mix) -> tuple[Note, ...]:
    """Give the doubts about a mix: those of its file, and what it lacks for its placing.

    Parameters
    ----------
    mix : Mix
        The mix.

    Returns
    -------
    tuple of Note
        The doubts.

    Examples
    --------
    >>> from takeoff.mix.ingredients import Ingredient
    >>> from takeoff.mix.mixes import Basis, Dose, MixLayer
    >>> stiff = Mix("stiff", MixLayer.BACKER, Placing.POURED, doses=(
    ...     Dose(Ingredient("cement", Role.CEMENT, 3150.0), 1.0, Basis.OF_CEMENT),),
    ...     water=Dose(Ingredient("water", Role.WATER, 998.0), 0.4, Basis.OF_CEMENT),
    ...     air_share=0.05)
    >>> mix_notes(stiff)[0].code.value
    'mix-limit'
    """
    return (*mix.notes, *_pouring_notes(mix), *_moisture_notes(mix))


def _pouring_notes(mix: Mix) -> Iterator[Note]:
    """Note a poured mix without the means to pour it."""
    roles = {dose.ingredient.role for dose in mix.doses}
    if mix.placing is Placing.POURED and not roles & {Role.PLASTICIZER, Role.PREMIX}:
        text = (
            "poured, with no plasticizer among its doses: no standard gives one; if the product's "
            "data sheet does, add the dose to the shop's own copy of the mix"
        )
        yield Note(NoteCode.MIX_LIMIT, text, where=mix.name)


def _moisture_notes(mix: Mix) -> Iterator[Note]:
    """Note sands whose moisture nobody has told."""
    for dose in mix.doses:
        sand = dose.ingredient
        if sand.role is Role.SAND and sand.absorbed_share is None:
            note = untold_note(mix.name, sand.name, Moisture().untold)
            yield from () if note is None else (note,)


def _air_faults(mix: Mix, rules: MixRules) -> Iterator[MixFault]:
    """Hold the air against the most that is credible."""
    if mix.air_share > rules.air_share:
        yield MixFault(
            f"air is {_percent(mix.air_share)} of the volume; at most "
            f"{_percent(rules.air_share)} is credible",
            "air",
        )


def _density_faults(mix: Mix, rules: MixRules) -> Iterator[MixFault]:
    """Hold each density against what a powder, fibre or liquid can have."""
    for dose in mix.doses:
        name, density_kg_m3 = dose.ingredient.name, dose.ingredient.density_kg_m3
        least, most = rules.least_density_kg_m3, rules.most_density_kg_m3
        why = "check the unit of its density"
        if dose.ingredient.role is Role.PREMIX:
            least, most = rules.least_premix_kg_m3, rules.most_premix_kg_m3
            why = "check mass, yield, water and air of the bag"
        if not least <= density_kg_m3 <= most:
            yield MixFault(
                f"the density of {name} is {density_kg_m3:.4g} kg/m3; only {least:g} to "
                f"{most:g} kg/m3 is credible; {why}",
                name,
            )


def _water_faults(mix: Mix, proportions: Proportions, rules: MixRules) -> Iterator[MixFault]:
    """Hold the water against the cement, or the dry mass where the cement is not known."""
    powder_share, what = proportions.cement_share, "cement"
    if powder_share is None:
        powder_share, what = proportions.dry_share, "dry mass"
    ratio = proportions.water_share / powder_share
    name = mix.water.ingredient.name
    if ratio > rules.water_cement_ratio:
        limit = f"at most {rules.water_cement_ratio:g} is credible"
        yield MixFault(f"{name} is {ratio:.4g} times the {what}; {limit}", name)
    if ratio < rules.least_water_cement_ratio and what == "cement":
        limit = f"less than {rules.least_water_cement_ratio:g} is not credible"
        yield MixFault(f"{name} is {ratio:.4g} times the {what}; {limit}", name)


def _dose_faults(proportions: Proportions, rules: MixRules) -> Iterator[MixFault]:
    """Hold each ingredient against the most that is credible for its role."""
    for part in proportions.parts:
        limit = rules.role_limit_share(part.ingredient.role)
        if part.mass_share > limit:
            yield MixFault(
                f"{part.ingredient.name} would be {_percent(part.mass_share)} of the total mass; "
                f"at most {_percent(limit)} is credible for a {part.ingredient.role}",
                part.ingredient.name,
            )


def _percent(share: float) -> str:
    """Write a share in percent."""
    return f"{100.0 * share:.4g} %"
