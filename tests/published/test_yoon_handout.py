"""ACI mix design example, a handout by Seyoon Yoon, with a trial of a hundredth of a cubic yard.

No stable public address. The source prints 3.58 lb of trial water where the unrounded figure is
3.59; its coarse aggregate is drier than saturated, so it adds water.
"""

from __future__ import annotations

import pytest

from takeoff.mix.moisture import free_water_kg, stock_from_ssd_kg
from takeoff.mix.volumes import absolute_volume_m3
from takeoff.units import density_kg_m3, mass_kg, volume_m3

LB = mass_kg("1 lb")
FT3 = volume_m3("1 cu ft")
WATER = density_kg_m3("62.4 lb/ft3")
DENSITIES = {"water": WATER, "cement": 3.15 * WATER, "coarse": 2.68 * WATER, "fine": 2.67 * WATER}
CEMENT_LB, COARSE_LB = 385.0 / 0.57, 12.15 * 103.0
MASSES_LB = {"water": 385.0, "cement": CEMENT_LB, "coarse": COARSE_LB}


def absolute_ft3(**masses_lb: float) -> float:
    """Give the absolute volume of pounds in cubic feet."""
    return absolute_volume_m3({name: lb * LB for name, lb in masses_lb.items()}, DENSITIES) / FT3


@pytest.mark.parametrize(
    ("name", "printed_ft3", "within_ft3"),
    [
        pytest.param("cement", 3.44, 0.005, id="MIX-05 cement"),
        pytest.param("coarse", 7.483, 0.0005, id="MIX-05 coarse aggregate"),
        pytest.param("water", 6.17, 0.005, id="MIX-05 water"),
    ],
)
def test_absolute_volumes(name, printed_ft3, within_ft3):
    assert absolute_ft3(**{name: MASSES_LB[name]}) == pytest.approx(printed_ft3, abs=within_ft3)


@pytest.mark.parametrize(
    ("printed_sum_ft3", "printed_fine_ft3", "printed_fine_lb"),
    [pytest.param(17.9, 9.1, 1516, id="MIX-05")],
)
def test_sand_fills_the_cubic_yard(printed_sum_ft3, printed_fine_ft3, printed_fine_lb):
    sum_ft3 = absolute_ft3(**MASSES_LB) + 0.03 * 27.0
    assert sum_ft3 == pytest.approx(printed_sum_ft3, abs=0.01)
    assert 27.0 - sum_ft3 == pytest.approx(printed_fine_ft3, abs=0.01)
    # The source goes on with 9.1.
    fine_lb = printed_fine_ft3 * FT3 * DENSITIES["fine"] / LB
    assert fine_lb == pytest.approx(printed_fine_lb, abs=0.5)


@pytest.mark.parametrize(
    ("ssd_lb", "surface_share", "printed_trial_lb"),
    [
        pytest.param(1516.0, 0.0237, 15.52, id="MIX-05 fine aggregate"),
        pytest.param(1251.0, -0.0081, 12.41, id="MIX-05 coarse aggregate, drier"),
    ],
)
def test_stock_of_the_trial(ssd_lb, surface_share, printed_trial_lb):
    trial_lb = stock_from_ssd_kg(ssd_lb / 100.0 * LB, surface_share=surface_share) / LB
    assert trial_lb == pytest.approx(printed_trial_lb, abs=0.005)


@pytest.mark.parametrize("printed_trial_lb", [pytest.param(3.58, id="MIX-05")])
def test_dry_aggregate_adds_water(printed_trial_lb):
    free_lb = (
        free_water_kg(15.16 * LB, surface_share=0.0237)
        + free_water_kg(12.51 * LB, surface_share=-0.0081)
    ) / LB
    assert 3.85 - free_lb - printed_trial_lb == pytest.approx(0.012, abs=0.0005)
