"""Common US proportions of latex-modified overlays (ACI 548.4, DOT specifications).

From memory; the figures agree among themselves. Water in the latex counts as mix water.
"""

from __future__ import annotations

import pytest

from takeoff.mix.ingredients import Ingredient, Role
from takeoff.mix.mixes import Basis, Dose, Mix, MixLayer, Placing
from takeoff.mix.weighing import weigh_out
from takeoff.units import mass_kg, volume_m3

LB = mass_kg("1 lb")
LATEX_LB = 24.5 * 8.5
# The latex weighs 8.5 lb to the gallon.
LATEX_KG_M3 = 8.5 * LB / volume_m3("1 gal")


def overlay() -> Mix:
    """Make the paste of the overlay: 658 lb of cement, 24.5 gal of latex, w/c 0.40."""
    latex = Ingredient("latex", Role.POLYMER, LATEX_KG_M3, water_share=1.0 - 0.48)
    return Mix(
        "overlay",
        MixLayer.FACE_COAT,
        Placing.POURED,
        doses=(
            Dose(Ingredient("cement", Role.CEMENT, 3150.0), 1.0, Basis.OF_CEMENT),
            Dose(latex, LATEX_LB / 658.0, Basis.OF_CEMENT),
        ),
        water=Dose(Ingredient("water", Role.WATER, 1000.0), 0.4, Basis.OF_CEMENT),
        air_share=0.0,
    )


@pytest.mark.parametrize(
    ("printed_solids_percent", "printed_water_in_latex_lb", "printed_add_lb"),
    [pytest.param(15, 108, 155, id="MIX-13 from memory")],
)
def test_water_of_the_latex_is_mix_water(
    printed_solids_percent, printed_water_in_latex_lb, printed_add_lb
):
    # 658 lb of cement, 0.52 of the latex is not water to add: 1021.16 lb in the mixer.
    sheet = weigh_out(overlay(), mass_kg=(658.0 + 0.4 * 658.0 + 0.48 * LATEX_LB) * LB)
    lines = {line.name: line for line in sheet.lines}
    assert lines["cement"].mass_kg / LB == pytest.approx(658.0)
    assert lines["latex"].water_kg / LB == pytest.approx(printed_water_in_latex_lb, abs=0.5)
    assert sheet.water_to_add_kg / LB == pytest.approx(printed_add_lb, abs=0.5)
    solids_kg = lines["latex"].mass_kg - lines["latex"].water_kg
    assert round(100.0 * solids_kg / (658.0 * LB)) == printed_solids_percent
