"""University course CIVL 1112, ACI mix design, group example 2.

No stable public address; the same problem stands at
civildigital.com/aci-mix-design-practical-example. The source sets an oven-dry mass of the coarse
aggregate against its saturated gravity, and rounds on the way: tolerances are those of its steps.
"""

from __future__ import annotations

import math

import pytest

from takeoff.mix.moisture import free_water_kg, stock_from_oven_dry_kg
from takeoff.mix.volumes import absolute_volume_m3
from takeoff.units import density_kg_m3, mass_kg, volume_m3

LB = mass_kg("1 lb")
FT3 = volume_m3("1 cu ft")
WATER = density_kg_m3("62.4 lb/ft3")
DENSITIES = {"water": WATER, "cement": 3.15 * WATER, "coarse": 2.65 * WATER, "fine": 2.6 * WATER}
MASSES_LB = {"water": 340.0, "cement": 1030.0, "coarse": 1701.0}


def absolute_ft3(**masses_lb: float) -> float:
    """Give the absolute volume of pounds in cubic feet."""
    return absolute_volume_m3({name: lb * LB for name, lb in masses_lb.items()}, DENSITIES) / FT3


@pytest.mark.parametrize(
    ("printed_coarse_ft3", "printed_fine_ft3", "printed_fine_lb"),
    [pytest.param(10.29, 5.48, 889, id="MIX-04")],
)
def test_sand_fills_the_cubic_yard(printed_coarse_ft3, printed_fine_ft3, printed_fine_lb):
    assert absolute_ft3(coarse=1701.0) == pytest.approx(printed_coarse_ft3, abs=0.005)
    # The source goes on with its rounded terms.
    parts_ft3 = [round(absolute_ft3(**{name: lb}), 2) for name, lb in MASSES_LB.items()]
    fine_ft3 = 27.0 * (1.0 - 0.02) - sum(parts_ft3)
    assert fine_ft3 == pytest.approx(printed_fine_ft3, abs=0.005)
    assert printed_fine_ft3 * FT3 * DENSITIES["fine"] / LB == pytest.approx(
        printed_fine_lb, abs=0.5
    )
    exact_ft3 = 27.0 * (1.0 - 0.02) - absolute_ft3(**MASSES_LB)
    assert exact_ft3 == pytest.approx(fine_ft3, abs=0.006)


@pytest.mark.parametrize(
    ("oven_dry_lb", "absorption_share", "surface_share", "printed_lb"),
    [
        pytest.param(889.0, 0.011, 0.03, 925, id="MIX-04 fine aggregate"),
        pytest.param(1701.0, 0.005, 0.01, 1727, id="MIX-04 coarse aggregate"),
    ],
)
def test_stock_to_weigh(oven_dry_lb, absorption_share, surface_share, printed_lb):
    stock_lb = (
        stock_from_oven_dry_kg(
            oven_dry_lb * LB, absorption_share=absorption_share, surface_share=surface_share
        )
        / LB
    )
    assert math.floor(stock_lb + 0.5) == printed_lb


@pytest.mark.parametrize("printed_lb", [pytest.param(296, id="MIX-04")])
def test_only_surface_water_comes_off_the_water_to_add(printed_lb):
    free_lb = (
        free_water_kg(1701.0 * LB, surface_share=0.01)
        + free_water_kg(889.0 * LB, surface_share=0.03)
    ) / LB
    assert 340.0 - free_lb == pytest.approx(printed_lb, abs=0.5)
