"""The order in which a mix is made: what goes in when, and what the sheet says of it."""

from __future__ import annotations

from enum import StrEnum
from typing import NamedTuple

from takeoff.mix.ingredients import Ingredient, Role


class WaterPart(StrEnum):
    """Which part of the water to add a line is."""

    FIRST = "first"
    ICE = "ice"
    HELD_BACK = "held-back"


class Turn(NamedTuple):
    """When something goes in: its rank in the order, and the words for it.

    Parameters
    ----------
    rank : int
        Place in the order of addition; equal ranks go in together.
    words : str
        What the sheet says.
    """

    rank: int
    words: str


LAST = 20
"""From this rank on, what goes in waits until the rest is mixed and has rested."""

_WATER = {
    WaterPart.FIRST: Turn(0, "first, into the mixer"),
    WaterPart.ICE: Turn(1, "crushed, with the water; all melted before the mix leaves the mixer"),
    WaterPart.HELD_BACK: Turn(10, "when all is wet, as much as it needs; never more"),
}
_DISPERSED = Turn(2, "at the start, into the water, until no clump is left")
_LIQUID = Turn(3, "with the water")
_POWDERS = {
    Role.PLASTICIZER: _LIQUID,
    Role.PIGMENT: Turn(4, "before the cement, while mixing"),
    Role.CEMENT: Turn(5, "then, while mixing"),
    Role.POZZOLAN: Turn(6, "then, while mixing"),
    Role.PREMIX: Turn(7, "then, while mixing"),
    Role.POLYMER: Turn(8, "then, while mixing"),
    Role.SAND: Turn(9, "then, while mixing"),
    Role.FIBRE: Turn(LAST, "last, slowly, only until mixed through"),
}
AT_GUN = Turn(LAST + 1, "not into the mixer: at the gun, chopped into the spray")
"""What never goes into the mixer."""


def turn_of(
    ingredient: Ingredient, *, water: WaterPart = WaterPart.FIRST, at_gun: bool = False
) -> Turn:
    """Tell when an ingredient goes in.

    Parameters
    ----------
    ingredient : Ingredient
        The ingredient.
    water : WaterPart, default first
        Which part of the water it is, where it is water.
    at_gun : bool, default False
        Whether it is chopped into the spray.

    Returns
    -------
    Turn
        Its turn. Bundled fibre goes last and is only mixed through, so that the bundles stay
        whole; dispersible fibre goes first, since it must come apart.

    Examples
    --------
    >>> from takeoff.mix.ingredients import FibreKind
    >>> pva = Ingredient("pva", Role.FIBRE, 1300.0, fibre=FibreKind.PVA)
    >>> turn_of(pva).words
    'at the start, into the water, until no clump is left'
    """
    if ingredient.role is Role.WATER:
        return _WATER[water]
    if at_gun:
        return AT_GUN
    if ingredient.fibre is not None and ingredient.fibre.is_dispersible:
        return _DISPERSED
    if ingredient.water_share and ingredient.role is not Role.SAND:
        return _LIQUID
    return _POWDERS[ingredient.role]
