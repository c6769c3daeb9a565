"""One filling of the mixer: its lines in order of addition, and what they add up to."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import accumulate

from takeoff.mix.addition import LAST, WaterPart, turn_of
from takeoff.mix.ingredients import Ingredient, Role
from takeoff.mix.mixes import Mix
from takeoff.mix.scales import Portion, Scale
from takeoff.mix.volumes import absolute_volume_m3
from takeoff.notes import Note

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
class Charge:
    """What is weighed of one ingredient, before anything is counted from it.

    Parameters
    ----------
    ingredient : Ingredient
        The ingredient.
    mass_kg : float
        What the scale shall show. [kg]
    water : WaterPart, default first
        Which part of the water to add it is, where it is water.
    at_gun : bool, default False
        Whether it is chopped into the spray.
    scale : Scale or None, default None
        The scale; None where it is not rounded.
    portions : tuple of Portion, default ()
        In how many goes; empty for one.
    """

    ingredient: Ingredient
    mass_kg: float
    water: WaterPart = WaterPart.FIRST
    at_gun: bool = False
    scale: Scale | None = None
    portions: tuple[Portion, ...] = ()

    @property
    def name(self) -> str:
        """What the sheet calls it."""
        plain = self.ingredient.role is not Role.WATER or self.water is WaterPart.FIRST
        words = {WaterPart.ICE: "ice", WaterPart.HELD_BACK: f"held-back {self.ingredient.name}"}
        return self.ingredient.name if plain else words[self.water]

    @property
    def water_kg(self) -> float:
        """Mix water in it; below 0 where dry sand takes water up, in [kg]."""
        wet_share = 1.0 if self.ingredient.role is Role.WATER else self.ingredient.water_share
        return self.mass_kg * wet_share


@dataclass(frozen=True, slots=True)
class WeighedLine:
    """One line of the weigh sheet.

    Parameters
    ----------
    charge : Charge
        What is weighed.
    shares : Shares
        The mass on each basis.
    running_kg : float
        This and all before it. [kg]
    rank : int
        Place in the order of addition.
    when : str
        When it goes into the mixer.
    """

    charge: Charge
    shares: Shares
    running_kg: float
    rank: int
    when: str

    @property
    def name(self) -> str:
        """What the sheet calls it."""
        return self.charge.name

    @property
    def role(self) -> Role:
        """Its part in the mix."""
        return self.charge.ingredient.role

    @property
    def mass_kg(self) -> float:
        """What the scale shall show, in [kg]."""
        return self.charge.mass_kg

    @property
    def density_kg_m3(self) -> float:
        """Density of its particles or of the liquid; of ice, once it has melted, in [kg/m³]."""
        return self.charge.ingredient.density_kg_m3

    @property
    def water_kg(self) -> float:
        """Mix water in it, in [kg]."""
        return self.charge.water_kg

    @property
    def held_back(self) -> bool:
        """Whether it is water that is held back."""
        return self.charge.water is WaterPart.HELD_BACK

    @property
    def is_last(self) -> bool:
        """Whether it goes in only after the rest is mixed and has rested."""
        return self.rank >= LAST


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
        All mix water: to add, as ice, in liquid polymer and admixtures, and free on sand. [kg]
    water_to_add_kg : float
        Water from the tap, what is held back included; without the ice. [kg]
    water_cement_ratio : float or None
        Total water over cement; None where the cement is not known. [-]
    water_binder_ratio : float or None
        Total water over cement and pozzolan; None where they are not known. [-]
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
    notes: tuple[Note, ...] = ()

    @property
    def mixer_kg(self) -> float:
        """Mass in the mixer, without what is chopped at the gun, in [kg]."""
        return sum(line.mass_kg for line in self.lines if not line.charge.at_gun)


def weigh_sheet(mix: Mix, charges: Sequence[Charge], *, notes: tuple[Note, ...] = ()) -> WeighedMix:
    """Count everything on a weigh sheet from the masses that are really weighed.

    Parameters
    ----------
    mix : Mix
        The mix they belong to.
    charges : sequence of Charge
        What is weighed, cement or premix among it.
    notes : tuple of Note, default ()
        Doubts to go with them.

    Returns
    -------
    WeighedMix
        The sheet.

    Examples
    --------
    >>> from takeoff.mix.mixes import Basis, Dose, MixLayer, Placing
    >>> cement = Ingredient("cement", Role.CEMENT, 3150.0)
    >>> water = Ingredient("water", Role.WATER, 1000.0)
    >>> paste = Mix("paste", MixLayer.FACE_COAT, Placing.SPRAYED, (Dose(cement, 1.0,
    ...             Basis.OF_CEMENT),), Dose(water, 0.4, Basis.OF_CEMENT), air_share=0.0)
    >>> sheet = weigh_sheet(paste, [Charge(cement, 3.15), Charge(water, 1.26)])
    >>> round(sheet.volume_m3, 6), round(sheet.water_cement_ratio, 6)
    (0.00226, 0.4)
    """
    mass_kg = sum(charge.mass_kg for charge in charges)
    volume_m3 = absolute_volume_m3(
        {charge.name: charge.mass_kg for charge in charges},
        {charge.name: charge.ingredient.density_kg_m3 for charge in charges},
        air_share=mix.air_share,
    )
    cement_kg = _cement_kg(charges)
    water_kg = sum(charge.water_kg for charge in charges)
    return WeighedMix(
        mix=mix,
        lines=_lines(charges, cement_kg),
        mass_kg=mass_kg,
        volume_m3=volume_m3,
        density_kg_m3=mass_kg / volume_m3,
        air_share=mix.air_share,
        water_total_kg=water_kg,
        water_to_add_kg=sum(
            charge.mass_kg
            for charge in charges
            if charge.ingredient.role is Role.WATER and charge.water is not WaterPart.ICE
        ),
        water_cement_ratio=water_kg / cement_kg if cement_kg else None,
        water_binder_ratio=_water_binder_ratio(charges, water_kg),
        notes=notes,
    )


def _lines(charges: Sequence[Charge], cement_kg: float | None) -> tuple[WeighedLine, ...]:
    """Put what is weighed in order of addition, each mass on the three bases."""
    dry_kg = sum(charge.mass_kg * charge.ingredient.dry_share for charge in charges)
    total_kg = sum(charge.mass_kg for charge in charges)
    turns = [
        turn_of(charge.ingredient, water=charge.water, at_gun=charge.at_gun) for charge in charges
    ]
    in_order = sorted(zip(turns, charges, strict=True), key=lambda pair: pair[0].rank)
    running = accumulate(charge.mass_kg for _, charge in in_order)
    return tuple(
        WeighedLine(
            charge=charge,
            shares=Shares(
                of_dry=charge.mass_kg / dry_kg,
                of_cement=charge.mass_kg / cement_kg if cement_kg else None,
                of_total=charge.mass_kg / total_kg,
            ),
            running_kg=running_kg,
            rank=turn.rank,
            when=turn.words,
        )
        for (turn, charge), running_kg in zip(in_order, running, strict=True)
    )


def _cement_kg(charges: Sequence[Charge]) -> float | None:
    """Add up the cement; None where the bag of a premix does not say."""
    cement_kg = 0.0
    for charge in charges:
        if charge.ingredient.own_cement_share is None:
            return None
        cement_kg += charge.mass_kg * charge.ingredient.own_cement_share
    return cement_kg


def _water_binder_ratio(charges: Sequence[Charge], water_kg: float) -> float | None:
    """Total water over cement and pozzolan; what a premix holds of them is not known."""
    if any(charge.ingredient.role is Role.PREMIX for charge in charges):
        return None
    return water_kg / sum(
        charge.mass_kg for charge in charges if charge.ingredient.role in _BINDERS
    )
