"""Glass fibre of the whole mass, as standards count it, and of dry, as shops do.

Derived: 200 kg dry and 32 kg water, sand:cement 1, w/c 0.32.
"""

from __future__ import annotations

import pytest

from takeoff.mix.ingredients import Ingredient, Role
from takeoff.mix.mixes import Basis, Dose, Mix, MixLayer, Placing
from takeoff.mix.weighing import weigh_out


@pytest.mark.parametrize(
    ("of_total", "printed_percent_of_dry"),
    [
        pytest.param(0.02, 2.367, id="GRC-03 2 % of total"),
        pytest.param(0.03, 3.588, id="GRC-03 3 % of total"),
        pytest.param(0.05, 6.105, id="GRC-03 5 % of total"),
    ],
)
def test_fibre_of_total_in_percent_of_dry(of_total, printed_percent_of_dry):
    mix = Mix(
        "backer",
        MixLayer.BACKER,
        Placing.SPRAYED,
        doses=(
            Dose(Ingredient("cement", Role.CEMENT, 3150.0), 1.0, Basis.OF_CEMENT),
            Dose(Ingredient("sand", Role.SAND, 2650.0), 1.0, Basis.OF_CEMENT),
            Dose(Ingredient("glass fibre", Role.FIBRE, 2700.0), of_total, Basis.OF_TOTAL),
        ),
        water=Dose(Ingredient("water", Role.WATER, 1000.0), 0.32, Basis.OF_CEMENT),
        air_share=0.0,
    )
    fibre = weigh_out(mix, mass_kg=232.0).lines[-1]
    assert fibre.shares.of_total == pytest.approx(of_total)
    assert 100.0 * fibre.shares.of_dry == pytest.approx(printed_percent_of_dry, abs=0.0005)
