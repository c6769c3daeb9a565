"""Density of water at one atmosphere: IAPWS-97 and IAPWS-95 as two libraries compute it.

``iapws-95``; the printed figures were measured from iapws 1.5.5 and agree with CoolProp 8.
"""

from __future__ import annotations

import pytest
from CoolProp.CoolProp import PropsSI

from takeoff.files.shipped import shipped_ingredients

PRINTED_KG_M3 = {4: "999.975", 10: "999.702", 20: "998.207", 30: "995.65", 40: "992.22"}


@pytest.mark.parametrize(
    ("temperature_c", "printed"),
    [pytest.param(*row, id=f"RHO-01 {row[0]} C") for row in PRINTED_KG_M3.items()],
)
def test_density_of_water(temperature_c, printed):
    density_kg_m3 = PropsSI("D", "T", temperature_c + 273.15, "P", 101325.0, "Water")
    half_last_digit = 0.5 * 10.0 ** -len(printed.split(".")[1])
    assert density_kg_m3 == pytest.approx(float(printed), abs=half_last_digit)


def test_the_water_of_every_mix_is_that_of_twenty_degrees():
    water = shipped_ingredients()["water"].ingredient
    assert water.density_kg_m3 == pytest.approx(float(PRINTED_KG_M3[20]), abs=0.05)


@pytest.mark.parametrize("temperature_c", [4, 10, 30])
def test_the_warmth_of_the_water_moves_less_than_a_scale_can_show(temperature_c):
    # At most 0.3 % of a tenth of the mass of a mix.
    water = shipped_ingredients()["water"].ingredient
    assert water.density_kg_m3 == pytest.approx(float(PRINTED_KG_M3[temperature_c]), rel=0.003)
