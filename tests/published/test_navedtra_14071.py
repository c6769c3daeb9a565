"""Engineering Aid, US Navy training course NAVEDTRA 14071/14070, chapter 17.

``navedtra-14071``; read at engineeringtraining.tpub.com/14070/css/14070_406.htm and
/14071/css/Example-Using-Absolute-Volume-Method-Continued-409.htm (MIX-01), and
/14070/css/Materials-Estimation-409.htm (MIX-02). Figures as printed, in pounds, cubic feet and US
gallons, with the course's 62.4 lb/ft3 and 8.33 lb/gal of water.
"""

from __future__ import annotations

import pytest

from takeoff.mix.moisture import free_water_kg, stock_from_ssd_kg
from takeoff.mix.volumes import absolute_volume_m3
from takeoff.units import density_kg_m3, mass_kg, volume_m3

LB = mass_kg("1 lb")
FT3 = volume_m3("1 cu ft")
WATER = density_kg_m3("62.4 lb/ft3")

MASSES_LB = {"water": 305.0, "cement": 610.0, "coarse": 1735.0}
DENSITIES = {"water": WATER, "cement": 3.15 * WATER, "coarse": 2.6 * WATER, "fine": 2.65 * WATER}
AIR_SHARE = 0.05


def absolute_ft3(**masses_lb: float) -> float:
    """Give the absolute volume of pounds in cubic feet."""
    return absolute_volume_m3({name: lb * LB for name, lb in masses_lb.items()}, DENSITIES) / FT3


@pytest.mark.parametrize(
    ("name", "printed_ft3"),
    [
        pytest.param("cement", 3.10, id="MIX-01 p. 17-7 cement"),
        pytest.param("water", 4.89, id="MIX-01 p. 17-7 water"),
        pytest.param("coarse", 10.69, id="MIX-01 p. 17-7 coarse aggregate"),
    ],
)
def test_absolute_volumes(name, printed_ft3):
    assert absolute_ft3(**{name: MASSES_LB[name]}) == pytest.approx(printed_ft3, abs=0.005)


@pytest.mark.parametrize(
    ("printed_air_ft3", "printed_sum_ft3", "printed_fine_ft3", "printed_fine_lb"),
    [pytest.param(1.35, 20.03, 6.97, 1152, id="MIX-01 p. 17-7")],
)
def test_sand_fills_the_cubic_yard(
    printed_air_ft3, printed_sum_ft3, printed_fine_ft3, printed_fine_lb
):
    # Printed sums are of printed, rounded terms: a hundredth from the exact ones.
    air_ft3 = 27.0 - 27.0 * (1.0 - AIR_SHARE)
    assert air_ft3 == pytest.approx(printed_air_ft3, abs=1e-9)
    sum_ft3 = absolute_ft3(**MASSES_LB) + air_ft3
    rounded_ft3 = sum(round(absolute_ft3(**{name: lb}), 2) for name, lb in MASSES_LB.items())
    assert rounded_ft3 + air_ft3 == pytest.approx(printed_sum_ft3, abs=0.005)
    assert 27.0 - (rounded_ft3 + air_ft3) == pytest.approx(printed_fine_ft3, abs=0.005)
    assert sum_ft3 == pytest.approx(rounded_ft3 + air_ft3, abs=0.01)
    assert (27.0 - sum_ft3) * FT3 * DENSITIES["fine"] / LB == pytest.approx(
        printed_fine_lb, abs=0.5
    )
    # All of it, with its air, is the cubic yard again.
    masses_kg = {name: lb * LB for name, lb in {**MASSES_LB, "fine": printed_fine_lb}.items()}
    assert absolute_volume_m3(masses_kg, DENSITIES, air_share=AIR_SHARE) / FT3 == pytest.approx(
        27.0, abs=0.005
    )


@pytest.mark.parametrize(
    ("ssd_lb", "surface_share", "printed_free_lb", "printed_stock_lb"),
    [
        pytest.param(1735.0, 0.02, 34.70, 1770, id="MIX-02 coarse aggregate"),
        pytest.param(1153.0, 0.06, 69.18, 1222, id="MIX-02 fine aggregate"),
    ],
)
def test_free_surface_moisture(ssd_lb, surface_share, printed_free_lb, printed_stock_lb):
    free_lb = free_water_kg(ssd_lb * LB, surface_share=surface_share) / LB
    assert free_lb == pytest.approx(printed_free_lb, abs=0.005)
    stock_lb = stock_from_ssd_kg(ssd_lb * LB, surface_share=surface_share) / LB
    assert stock_lb == pytest.approx(printed_stock_lb, abs=0.5)


@pytest.mark.parametrize(
    ("printed_free_lb", "printed_free_gal", "printed_add_gal"),
    [pytest.param(103.88, 12.47, 24.13, id="MIX-02")],
)
def test_water_to_add(printed_free_lb, printed_free_gal, printed_add_gal):
    free_lb = (
        free_water_kg(1735.0 * LB, surface_share=0.02)
        + free_water_kg(1153.0 * LB, surface_share=0.06)
    ) / LB
    assert free_lb == pytest.approx(printed_free_lb, abs=0.005)
    assert free_lb / 8.33 == pytest.approx(printed_free_gal, abs=0.005)
    assert 36.6 - free_lb / 8.33 == pytest.approx(printed_add_gal, abs=0.005)
