"""Course EA102, ACI absolute volume method, solution table in SI for a batch of 30 kg.

No stable public address. The heading of the sheet states other data; the solution table agrees
with the inputs used here.
"""

from __future__ import annotations

import pytest

from takeoff.mix.ingredients import Ingredient, Role
from takeoff.mix.mix_rules import WeighRules
from takeoff.mix.mixes import Basis, Dose, Mix, MixLayer, Placing
from takeoff.mix.volumes import absolute_volume_m3, fresh_density_kg_m3
from takeoff.mix.weighing import weigh_out

DENSITIES = {"water": 1000.0, "cement": 3155.0, "coarse": 2660.0, "fine": 2700.0}
MASSES_KG = {"cement": 456.0, "coarse": 719.0, "water": 228.0}


def concrete() -> Mix:
    """Make the mix of the table, every dose on the cement."""

    def dose(name: str, role: Role, mass_kg: float) -> Dose:
        return Dose(Ingredient(name, role, DENSITIES[name]), mass_kg / 456.0, Basis.OF_CEMENT)

    return Mix(
        "EA102",
        MixLayer.BACKER,
        Placing.POURED,
        doses=(
            dose("cement", Role.CEMENT, 456.0),
            dose("coarse", Role.SAND, 719.0),
            dose("fine", Role.SAND, 883.0),
        ),
        water=dose("water", Role.WATER, 228.0),
        air_share=0.03,
    )


@pytest.mark.parametrize(
    ("name", "printed_m3"),
    [
        pytest.param("cement", 0.145, id="MIX-07 cement"),
        pytest.param("coarse", 0.270, id="MIX-07 coarse aggregate"),
    ],
)
def test_absolute_volumes(name, printed_m3):
    assert absolute_volume_m3({name: MASSES_KG[name]}, DENSITIES) == pytest.approx(
        printed_m3, abs=0.0005
    )


@pytest.mark.parametrize(
    ("printed_m3", "printed_kg"), [pytest.param(0.327, 883, id="MIX-07 fine aggregate")]
)
def test_sand_fills_the_cubic_metre(printed_m3, printed_kg):
    fine_m3 = 1.0 - 0.03 - absolute_volume_m3(MASSES_KG, DENSITIES)
    assert fine_m3 == pytest.approx(printed_m3, abs=0.0005)
    assert fine_m3 * DENSITIES["fine"] == pytest.approx(printed_kg, abs=0.5)


@pytest.mark.parametrize(
    ("printed_kg_m3", "printed_factor"), [pytest.param(2286, 76.2, id="MIX-07")]
)
def test_density(printed_kg_m3, printed_factor):
    assert fresh_density_kg_m3(concrete()) == pytest.approx(printed_kg_m3, abs=0.5)
    assert fresh_density_kg_m3(concrete()) / 30.0 == pytest.approx(printed_factor, abs=0.05)


@pytest.mark.parametrize(
    ("name", "printed_kg"),
    [
        pytest.param("cement", 5.984, id="MIX-07 cement"),
        pytest.param("water", 2.992, id="MIX-07 water"),
        pytest.param("coarse", 9.436, id="MIX-07 coarse aggregate"),
        pytest.param("fine", 11.588, id="MIX-07 fine aggregate"),
    ],
)
def test_batch_of_thirty_kilograms(name, printed_kg):
    whole = WeighRules(held_back_share=0.0)
    lines = weigh_out(concrete(), mass_kg=30.0, rules=whole).lines
    (mass_kg,) = [line.mass_kg for line in lines if line.name == name]
    assert mass_kg == pytest.approx(printed_kg, abs=0.0005)
