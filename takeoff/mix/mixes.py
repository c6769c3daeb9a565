"""A mix as it is written down: doses on a named basis, water, air, and a bag where there is one."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from enum import StrEnum

from takeoff.errors import MixError
from takeoff.mix.ingredients import Ingredient, Role
from takeoff.notes import Note


class Basis(StrEnum):
    """What a share is counted on.

    Dry is cement, sand, pozzolan, dry premix and powder polymer; not pigment, fibre,
    plasticizer or a liquid. Total is the whole mass in the mixer.
    """

    OF_DRY = "of_dry"
    OF_CEMENT = "of_cement"
    OF_TOTAL = "of_total"


class MixLayer(StrEnum):
    """The layer that a mix is for."""

    FACE_COAT = "face_coat"
    BACKER = "backer"


class Use(StrEnum):
    """What the casting is for, where a standard sets a limit by it."""

    CLADDING = "cladding"
    OTHER = "other"


class Placing(StrEnum):
    """How a mix gets into the form."""

    SPRAYED = "sprayed"
    PACKED = "packed"
    POURED = "poured"


@dataclass(frozen=True, slots=True)
class Dose:
    """So much of one ingredient, as a share of a named basis.

    Parameters
    ----------
    ingredient : Ingredient
        What is added.
    share : float
        Its mass as weighed (a liquid with its water), on the basis. [-]
    basis : Basis
        What the share is counted on.
    at_gun : bool, default False
        Whether it is chopped into the spray, and never goes into the mixer.

    Raises
    ------
    MixError
        If the share is not above 0.

    Examples
    --------
    >>> sand = Ingredient("silica sand", Role.SAND, 2650.0)
    >>> Dose(sand, 1.0, Basis.OF_CEMENT).share
    1.0
    """

    ingredient: Ingredient
    share: float
    basis: Basis
    at_gun: bool = False

    def __post_init__(self) -> None:
        if not 0.0 < self.share < float("inf"):
            raise MixError(
                f"a dose must be above 0, found {self.share:g} {self.basis}; leave it out if "
                "there is none",
                where=self.ingredient.name,
            )


@dataclass(frozen=True, slots=True)
class Bag:
    """What a bag of dry premix holds and gives.

    Parameters
    ----------
    mass_kg : float
        Dry mass in the bag. [kg]
    yield_m3 : float
        Fresh volume that it gives with its water and air alone, before any dose. [m³]

    Raises
    ------
    MixError
        If a figure is not above 0.

    Examples
    --------
    >>> Bag(mass_kg=25.0, yield_m3=0.0135).mass_kg
    25.0
    """

    mass_kg: float
    yield_m3: float

    def __post_init__(self) -> None:
        if not (0.0 < self.mass_kg < float("inf") and 0.0 < self.yield_m3 < float("inf")):
            raise MixError(
                f"mass and yield of a bag must be above 0, found {self.mass_kg:g} kg and "
                f"{self.yield_m3:g} m3"
            )


@dataclass(frozen=True, slots=True)
class Mixing:
    """How long to mix, to let rest, and to mix again.

    Parameters
    ----------
    mix_s : float
        Mixing once all but the bundled fibre is in. [s]
    rest_s : float, default 0.0
        Rest after it. [s]
    again_s : float, default 0.0
        Mixing after the rest. [s]

    Raises
    ------
    MixError
        If there is nothing to mix, or a time is below 0.

    Examples
    --------
    >>> Mixing(mix_s=180.0, rest_s=180.0, again_s=120.0).rest_s
    180.0
    """

    mix_s: float
    rest_s: float = 0.0
    again_s: float = 0.0

    def __post_init__(self) -> None:
        if not (0.0 < self.mix_s < float("inf")):
            raise MixError(f"a mixing time must be above 0, found {self.mix_s:g} s")
        if not (0.0 <= self.rest_s < float("inf") and 0.0 <= self.again_s < float("inf")):
            raise MixError(
                "a rest and a second mixing are at least 0 s, found "
                f"{self.rest_s:g} and {self.again_s:g}"
            )


@dataclass(frozen=True, slots=True)
class Mix:
    """A mix: what it is for, and what goes into it.

    Parameters
    ----------
    name : str
        Name on the weigh sheet.
    layer : MixLayer
        The layer it is for.
    placing : Placing
        How it gets into the form.
    doses : tuple of Dose
        All ingredients but the mixing water.
    water : Dose
        All of the water, that in liquid polymer and admixtures included. [-]
    air_share : float
        Air as a share of the fresh volume. [-]
    pot_life_s : float or None, default None
        Time from mixing to the last placing, at 20 °C; None where the shop has not said. [s]
    bag : Bag or None, default None
        The bag of a dry premix; None for a mix from ingredients.
    notes : tuple of Note, default ()
        Doubts about its figures.
    use : Use, default other
        What the casting is for.
    mixing : Mixing or None, default None
        How long to mix; None where nobody has said.
    wait_s : float or None, default None
        Wait before the next layer, at 20 °C; None where the shop has not said. [s]
    held_back_share : float or None, default None
        Share of the water to add that is held back; None leaves it to the rules of weighing. [-]

    Raises
    ------
    MixError
        If it has no name, a figure is out of range, or one ingredient is dosed twice.

    Examples
    --------
    >>> cement = Ingredient("white cement", Role.CEMENT, 3150.0)
    >>> water = Ingredient("water", Role.WATER, 998.0)
    >>> paste = Mix("paste", MixLayer.FACE_COAT, Placing.SPRAYED,
    ...             doses=(Dose(cement, 1.0, Basis.OF_CEMENT),),
    ...             water=Dose(water, 0.4, Basis.OF_CEMENT), air_share=0.02)
    >>> paste.pot_life_s is None
    True
    """

    name: str
    layer: MixLayer
    placing: Placing
    doses: tuple[Dose, ...]
    water: Dose
    air_share: float
    pot_life_s: float | None = None
    bag: Bag | None = None
    notes: tuple[Note, ...] = ()
    use: Use = Use.OTHER
    mixing: Mixing | None = None
    wait_s: float | None = None
    held_back_share: float | None = None

    def __post_init__(self) -> None:
        faults = tuple(self._faults())
        if faults:
            raise MixError("; ".join(faults), where=self.name)

    def _faults(self) -> Iterator[str]:
        """List what cannot be."""
        if not self.name:
            yield "a mix needs a name"
        if not 0.0 <= self.air_share < 1.0:
            yield f"air must be from 0 to below 100 % of the volume, found {self.air_share:.4%}"
        for what, time_s in (("pot life", self.pot_life_s), ("wait", self.wait_s)):
            if time_s is not None and not 0.0 < time_s < float("inf"):
                yield f"the {what} must be above 0, found {time_s:g} s"
        if self.held_back_share is not None and not 0.0 <= self.held_back_share < 1.0:
            yield (
                "from 0 to below 100 % of the water can be held back, found "
                f"{100.0 * self.held_back_share:.4g} %"
            )
        yield from self._ingredient_faults()

    def _ingredient_faults(self) -> Iterator[str]:
        """List what of its ingredients cannot be."""
        ingredients = [dose.ingredient for dose in (*self.doses, self.water)]
        names = [ingredient.name for ingredient in ingredients]
        for name in sorted({name for name in names if names.count(name) > 1}):
            yield f"{name} is dosed twice; add the two up"
        if [ingredient.role is Role.WATER for ingredient in ingredients].count(True) != 1 or (
            self.water.ingredient.role is not Role.WATER
        ):
            yield "water is given once, apart from the doses"
        premixes = [ingredient for ingredient in ingredients if ingredient.role is Role.PREMIX]
        if len(premixes) != (self.bag is not None):
            yield "a premix comes with its bag, and a bag holds one premix"
        for dose in self.doses:
            if dose.at_gun and self.placing is not Placing.SPRAYED:
                yield f"{dose.ingredient.name} is chopped at the gun, but the mix is {self.placing}"
            if dose.at_gun and dose.ingredient.role is not Role.FIBRE:
                yield f"only fibre is chopped at the gun, not {dose.ingredient.name}"
