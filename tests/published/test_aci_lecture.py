"""University lecture, ACI mix design sample problem (5000 psi).

No stable public address.
"""

from __future__ import annotations

import pytest

from takeoff.mix.moisture import stock_from_oven_dry_kg
from takeoff.mix.volumes import absolute_volume_m3
from takeoff.units import density_kg_m3, mass_kg, volume_m3

LB = mass_kg("1 lb")
FT3 = volume_m3("1 cu ft")
WATER = density_kg_m3("62.4 lb/ft3")
DENSITIES = {"water": WATER, "cement": 3.15 * WATER, "coarse": 2.7 * WATER, "fine": 2.65 * WATER}
MASSES_LB = {"water": 280.0, "cement": 700.0, "coarse": 1701.0}


def absolute_ft3(**masses_lb: float) -> float:
    """Give the absolute volume of pounds in cubic feet."""
    return absolute_volume_m3({name: lb * LB for name, lb in masses_lb.items()}, DENSITIES) / FT3


@pytest.mark.parametrize(
    ("name", "printed_ft3"),
    [
        pytest.param("water", 4.49, id="MIX-06 water"),
        pytest.param("cement", 3.56, id="MIX-06 cement"),
        pytest.param("coarse", 10.1, id="MIX-06 coarse aggregate"),
    ],
)
def test_absolute_volumes(name, printed_ft3):
    assert absolute_ft3(**{name: MASSES_LB[name]}) == pytest.approx(printed_ft3, abs=0.006)


@pytest.mark.parametrize(
    ("printed_air_ft3", "printed_fine_ft3", "printed_fine_lb"),
    [pytest.param(1.62, 7.23, 1195.55, id="MIX-06")],
)
def test_sand_fills_the_cubic_yard(printed_air_ft3, printed_fine_ft3, printed_fine_lb):
    # The source goes on with its rounded terms.
    air_ft3 = 27.0 - 27.0 * (1.0 - 0.06)
    assert air_ft3 == pytest.approx(printed_air_ft3, abs=1e-9)
    parts_ft3 = sum(round(absolute_ft3(**{name: lb}), 2) for name, lb in MASSES_LB.items())
    assert 27.0 - air_ft3 - parts_ft3 == pytest.approx(printed_fine_ft3, abs=0.005)
    assert 27.0 - air_ft3 - absolute_ft3(**MASSES_LB) == pytest.approx(printed_fine_ft3, abs=0.006)
    fine_lb = printed_fine_ft3 * FT3 * DENSITIES["fine"] / LB
    assert fine_lb == pytest.approx(printed_fine_lb, abs=0.005)
    masses_kg = {name: lb * LB for name, lb in {**MASSES_LB, "fine": printed_fine_lb}.items()}
    assert absolute_volume_m3(masses_kg, DENSITIES, air_share=0.06) / FT3 == pytest.approx(
        27.0, abs=0.01
    )


@pytest.mark.parametrize("printed_lb", [pytest.param(1246.96, id="MIX-06 fine aggregate")])
def test_stock_to_weigh(printed_lb):
    stock_lb = stock_from_oven_dry_kg(1195.55 * LB, absorption_share=0.013, surface_share=0.03) / LB
    assert stock_lb == pytest.approx(printed_lb, abs=0.005)
