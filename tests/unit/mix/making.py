"""Ingredients and mixes that the tests of this room start from."""

from __future__ import annotations

from takeoff.mix.ingredients import Ingredient, Role
from takeoff.mix.mixes import Bag, Basis, Dose, Mix, MixLayer, Placing

CEMENT = Ingredient("cement", Role.CEMENT, 3150.0)
SAND = Ingredient("sand", Role.SAND, 2650.0)
FUME = Ingredient("fume", Role.POZZOLAN, 2250.0)
POWDER = Ingredient("polymer powder", Role.POLYMER, 1120.0)
LATEX = Ingredient("latex", Role.POLYMER, 1060.0, water_share=0.52)
PLASTICIZER = Ingredient("plasticizer", Role.PLASTICIZER, 1080.0, water_share=0.6)
FIBRE = Ingredient("fibre", Role.FIBRE, 2700.0)
PIGMENT = Ingredient("pigment", Role.PIGMENT, 4800.0)
WATER = Ingredient("water", Role.WATER, 998.2)

OF_DRY, OF_CEMENT, OF_TOTAL = Basis.OF_DRY, Basis.OF_CEMENT, Basis.OF_TOTAL


def mix_of(
    *doses: tuple[Ingredient, float, Basis],
    water: tuple[float, Basis] = (0.33, OF_CEMENT),
    air_share: float = 0.06,
    placing: Placing = Placing.SPRAYED,
    name: str = "trial",
    bag: Bag | None = None,
) -> Mix:
    """Make a mix from plain triples."""
    return Mix(
        name,
        MixLayer.BACKER,
        placing,
        doses=tuple(Dose(*dose) for dose in doses),
        water=Dose(WATER, *water),
        air_share=air_share,
        bag=bag,
    )


def mortar(*further: tuple[Ingredient, float, Basis], **options: object) -> Mix:
    """Make a mortar of equal cement and sand with whatever else is told."""
    return mix_of((CEMENT, 1.0, OF_CEMENT), (SAND, 1.0, OF_CEMENT), *further, **options)
