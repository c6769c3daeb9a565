"""Composition of sprayed glass-fibre-reinforced cement, quoting Young 1980.

``young-1980``; the composition (cement 40, water 20, sand 40, glass fibre 5) read in the abstract
at taylorfrancis.com/books/9780203014769/chapters/10.4324/9780203014769-7; its density is ours.
"""

from __future__ import annotations

import pytest

from takeoff.mix.ingredients import Ingredient, Role
from takeoff.mix.mixes import Basis, Dose, Mix, MixLayer, Placing
from takeoff.mix.volumes import fresh_density_kg_m3


@pytest.mark.parametrize("printed_kg_m3", [pytest.param(2115.0, id="GRC-02 air-free density")])
def test_density_without_air(printed_kg_m3):
    sprayed = Mix(
        "Young 1980, sprayed",
        MixLayer.BACKER,
        Placing.SPRAYED,
        doses=(
            Dose(Ingredient("cement", Role.CEMENT, 3150.0), 40.0 / 40.0, Basis.OF_CEMENT),
            Dose(Ingredient("sand", Role.SAND, 2650.0), 40.0 / 40.0, Basis.OF_CEMENT),
            Dose(Ingredient("glass fibre", Role.FIBRE, 2700.0), 5.0 / 40.0, Basis.OF_CEMENT),
        ),
        water=Dose(Ingredient("water", Role.WATER, 1000.0), 20.0 / 40.0, Basis.OF_CEMENT),
        air_share=0.0,
    )
    assert fresh_density_kg_m3(sprayed) == pytest.approx(printed_kg_m3, abs=0.05)
