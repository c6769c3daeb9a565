"""Water and ice at one atmosphere: IAPWS-97, IAPWS-95 and IAPWS-06 as libraries compute them.

``iapws-95`` and ``iapws-06``; the printed figures were measured from iapws 1.5.5 and agree with
CoolProp 8, the molar heat of melting from chemicals (``Hfus('7732-18-5')``).
"""

from __future__ import annotations

import pytest
from CoolProp.CoolProp import PropsSI
from CoolProp.HumidAirProp import HAProps_Aux

from takeoff.files.shipped import shipped_heat, shipped_ingredients
from takeoff.units import mass_kg

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


BTU_KJ = 1.05505585262
MOLAR_MASS_KG = PropsSI("M", "Water")


@pytest.mark.parametrize(
    ("printed_kj_kg", "printed_btu_lb"), [pytest.param(333.43, 143.35, id="RHO-02 iapws")]
)
def test_heat_of_melting(printed_kj_kg, printed_btu_lb):
    melting_kj_kg = shipped_heat().heats.melting_kj_kg
    assert melting_kj_kg == printed_kj_kg
    assert melting_kj_kg * mass_kg("1 lb") / BTU_KJ == pytest.approx(printed_btu_lb, abs=0.005)


@pytest.mark.parametrize("printed_kj_kg", [pytest.param(333.61, id="RHO-02 chemicals")])
def test_molar_heat_of_melting(printed_kj_kg):
    molar_kj_kg = 6010.0 / MOLAR_MASS_KG / 1000.0
    assert molar_kj_kg == pytest.approx(printed_kj_kg, abs=0.005)
    # Two sources of one quantity: half a part in a thousand.
    assert molar_kj_kg == pytest.approx(shipped_heat().heats.melting_kj_kg, rel=6e-4)


def test_heat_of_melting_against_coolprop():
    # CoolProp has the pressure over ice. By Clausius and Clapeyron its slope gives the heat of
    # sublimation, and melting is that less evaporation: 333.4 kJ/kg, within 0.05 of ours.
    triple_k, step_k = 273.16 - 1e-6, 0.05

    def over_ice_pa(below_k):
        return HAProps_Aux("p_ws", triple_k - below_k, 101325.0, 0.0)[0]

    slope_pa_k = (3.0 * over_ice_pa(0.0) - 4.0 * over_ice_pa(step_k) + over_ice_pa(2 * step_k)) / (
        2.0 * step_k
    )
    vapour_m3_kg = 1.0 / PropsSI("D", "T", 273.16, "Q", 1, "Water")
    sublimation_j_kg = triple_k * (vapour_m3_kg - 1.0 / 916.7) * slope_pa_k
    evaporation_j_kg = PropsSI("H", "T", 273.16, "Q", 1, "Water") - PropsSI(
        "H", "T", 273.16, "Q", 0, "Water"
    )
    melting_kj_kg = (sublimation_j_kg - evaporation_j_kg) / 1000.0
    assert shipped_heat().heats.melting_kj_kg == pytest.approx(melting_kj_kg, abs=0.2)


def test_specific_heat_of_water_against_coolprop():
    water_j_kg_k = PropsSI("C", "T", 293.15, "P", 101325.0, "Water")
    assert shipped_heat().heats.water_j_kg_k == pytest.approx(water_j_kg_k, rel=1e-4)
