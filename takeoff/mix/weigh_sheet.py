"""One filling of the mixer: its lines in order of addition, and what they add up to."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from takeoff.mix.ingredients import Ingredient, Role
from takeoff.mix.mixes import Mix
from takeoff.mix.volumes import absolute_volume_m3
from takeoff.notes import Note

# Rank in the order of addition, and what the weigh sheet says of it.
_LIQUID = (1, "with the water")
_WHEN = {
    Role.WATER: (0, "first, into the mixer"),
    Role.PLASTICIZER: _LIQUID,
    Role.PIGMENT: (2, "before the cement, while mixing"),
    Role.CEMENT: (3, "then, while mixing"),
    Role.POZZOLAN: (4, "then, while mixing"),
    Role.PREMIX: (5, "then, while mixing"),
    Role.POLYMER: (6, "then, while mixing"),
    Role.SAND: (7, "then, while mixing"),
    Role.FIBRE: (8, "last, slowly, only until mixed through"),
}
_BINDERS = frozenset({Role.CEMENT, Role.POZZOLAN})


@dataclass(frozen=True, slots=True)
class Shares:
    """One mass on each basis.

    Parameters
    ----------
    of_dry : float
        Over cement, sand, pozzolan, premix and powder polymer. [-]
    of_cement : float or None
        Over the cement; None where the bag of a premix does not say. [-]
    of_total : float
        Over the whole mass in the mixer. [-]
    """

    of_dry: float
    of_cement: float | None
    of_total: float


@dataclass(frozen=True, slots=True)
class WeighedLine:
    """One line of the weigh sheet.

    Parameters
    ----------
    name : str
        The ingredient.
    role : Role
        Its part in the mix.
    mass_kg : float
        What the scale shall show. [kg]
    density_kg_m3 : float
        Density of its particles or of the liquid. [kg/m³]
    water_kg : float
        Water in it. [kg]
    shares : Shares
        The mass on each basis.
    when : str
        When it goes into the mixer.
    """

    name: str
    role: Role
    mass_kg: float
    density_kg_m3: float
    water_kg: float
    shares: Shares
    when: str


@dataclass(frozen=True, slots=True)
class WeighedMix:
    """One filling of the mixer, as weighed.

    Parameters
    ----------
    mix : Mix
        The mix.
    lines : tuple of WeighedLine
        What is weighed, in order of addition.
    mass_kg : float
        Sum of the lines. [kg]
    volume_m3 : float
        Fresh volume of what is weighed, air included. [m³]
    density_kg_m3 : float
        Fresh density. [kg/m³]
    air_share : float
        Air as a share of the fresh volume. [-]
    water_total_kg : float
        All water: to add, and in liquid polymer and admixtures. [kg]
    water_to_add_kg : float
        Water from the tap. [kg]
    water_cement_ratio : float or None
        Total water over cement; None where the cement is not known. [-]
    water_binder_ratio : float or None
        Total water over cement and pozzolan; None where they are not known. [-]
    division_kg : float or None
        Division of the scale that the masses are rounded to; None where they are not. [kg]
    notes : tuple of Note
        Doubts a person must see.
    """

    mix: Mix
    lines: tuple[WeighedLine, ...]
    mass_kg: float
    volume_m3: float
    density_kg_m3: float
    air_share: float
    water_total_kg: float
    water_to_add_kg: float
    water_cement_ratio: float | None
    water_binder_ratio: float | None
    division_kg: float | None
    notes: tuple[Note, ...] = ()


def weigh_sheet(
    mix: Mix,
    masses_kg: Mapping[Ingredient, float],
    *,
    division_kg: float | None = None,
    notes: tuple[Note, ...] = (),
) -> WeighedMix:
    """Count everything on a weigh sheet from the masses that are really weighed.

    Parameters
    ----------
    mix : Mix
        The mix they belong to.
    masses_kg : mapping of Ingredient to float
        Mass of each ingredient, cement or premix among them. [kg]
    division_kg : float, optional
        Division of the scale that the masses are rounded to. [kg]
    notes : tuple of Note, default ()
        Doubts to go with them.

    Returns
    -------
    WeighedMix
        The sheet.

    Examples
    --------
    >>> from takeoff.mix.mixes import Basis, Dose, MixUse, Placing
    >>> cement = Ingredient("cement", Role.CEMENT, 3150.0)
    >>> water = Ingredient("water", Role.WATER, 1000.0)
    >>> paste = Mix("paste", MixUse.FACE_COAT, Placing.SPRAYED, (Dose(cement, 1.0,
    ...             Basis.OF_CEMENT),), Dose(water, 0.4, Basis.OF_CEMENT), air_share=0.0)
    >>> sheet = weigh_sheet(paste, {cement: 3.15, water: 1.26})
    >>> round(sheet.volume_m3, 6), round(sheet.water_cement_ratio, 6)
    (0.00226, 0.4)
    """
    mass_kg = sum(masses_kg.values())
    volume_m3 = absolute_volume_m3(
        {ingredient.name: mass for ingredient, mass in masses_kg.items()},
        {ingredient.name: ingredient.density_kg_m3 for ingredient in masses_kg},
        air_share=mix.air_share,
    )
    lines = _lines(masses_kg)
    cement_kg = _cement_kg(masses_kg)
    water_kg = sum(line.water_kg for line in lines)
    return WeighedMix(
        mix=mix,
        lines=lines,
        mass_kg=mass_kg,
        volume_m3=volume_m3,
        density_kg_m3=mass_kg / volume_m3,
        air_share=mix.air_share,
        water_total_kg=water_kg,
        water_to_add_kg=sum(line.mass_kg for line in lines if line.role is Role.WATER),
        water_cement_ratio=water_kg / cement_kg if cement_kg else None,
        water_binder_ratio=_water_binder_ratio(masses_kg, water_kg),
        division_kg=division_kg,
        notes=notes,
    )


def _lines(masses_kg: Mapping[Ingredient, float]) -> tuple[WeighedLine, ...]:
    """Put what is weighed in order of addition, each mass on the three bases."""
    dry_kg = sum(mass for ingredient, mass in masses_kg.items() if ingredient.is_dry)
    cement_kg = _cement_kg(masses_kg)
    total_kg = sum(masses_kg.values())
    return tuple(
        WeighedLine(
            name=ingredient.name,
            role=ingredient.role,
            mass_kg=mass_kg,
            density_kg_m3=ingredient.density_kg_m3,
            water_kg=mass_kg * (1.0 if ingredient.role is Role.WATER else ingredient.water_share),
            shares=Shares(
                of_dry=mass_kg / dry_kg,
                of_cement=mass_kg / cement_kg if cement_kg else None,
                of_total=mass_kg / total_kg,
            ),
            when=_rank_and_words(ingredient)[1],
        )
        for ingredient, mass_kg in sorted(
            masses_kg.items(), key=lambda pair: _rank_and_words(pair[0])[0]
        )
    )


def _rank_and_words(ingredient: Ingredient) -> tuple[int, str]:
    """Give the place of an ingredient in the order of addition."""
    return _LIQUID if ingredient.water_share else _WHEN[ingredient.role]


def _cement_kg(masses_kg: Mapping[Ingredient, float]) -> float | None:
    """Add up the cement; None where the bag of a premix does not say."""
    cement_kg = 0.0
    for ingredient, mass_kg in masses_kg.items():
        if ingredient.own_cement_share is None:
            return None
        cement_kg += mass_kg * ingredient.own_cement_share
    return cement_kg


def _water_binder_ratio(masses_kg: Mapping[Ingredient, float], water_kg: float) -> float | None:
    """Total water over cement and pozzolan; what a premix holds of them is not known."""
    if any(ingredient.role is Role.PREMIX for ingredient in masses_kg):
        return None
    return water_kg / sum(
        mass for ingredient, mass in masses_kg.items() if ingredient.role in _BINDERS
    )
