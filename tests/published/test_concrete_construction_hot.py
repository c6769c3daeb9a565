"""Mix temperature in US units, Concrete Construction, 'If you get it when it's hot'.

Read at concreteconstruction.net/how-to/if-you-get-it-when-its-hot_o (TMP-01), and the rule of thumb
of 'Using crushed ice in concrete' at .../how-to/using-crushed-ice-in-concrete_o (TMP-07): a degree
Fahrenheit for each 2 % of the water. Specific heat of solids 0.22 of water, melting 144 Btu/lb.
"""

from __future__ import annotations

import pytest

from takeoff.mix.temperature import Heats, Warmth, heat_balance
from takeoff.units import mass_kg, temperature_c

LB = mass_kg("1 lb")
WATER_J_KG_K = 4184.0
# 1 Btu/lb is 1/1.8 of what warms a kilogram of water by one kelvin.
HEATS = Heats(0.22 * WATER_J_KG_K, WATER_J_KG_K, 2097.0, 144.0 / 1.8 * WATER_J_KG_K / 1000.0)


def fahrenheit(celsius: float) -> float:
    """Give degrees Fahrenheit."""
    return 1.8 * celsius + 32.0


@pytest.mark.parametrize("printed_f", [pytest.param(77.6, id="TMP-01")])
def test_mix_temperature_without_ice(printed_f):
    parts = [
        Warmth(470.0 * LB, 0.0, temperature_c("150 F")),
        Warmth(3300.0 * LB, 0.0, temperature_c("70 F")),
        Warmth(0.0, 260.0 * LB, temperature_c("70 F")),
    ]
    balance = heat_balance(parts, heats=HEATS)
    assert fahrenheit(balance.temperature_c) == pytest.approx(printed_f, abs=0.05)


@pytest.mark.parametrize(
    ("cement_kg", "aggregate_kg", "water_kg", "printed_f"),
    [pytest.param(335.0, 1839.0, 167.0, -1.0, id="TMP-07 ordinary concrete at 30 C")],
)
def test_two_percent_of_ice_is_a_degree(cement_kg, aggregate_kg, water_kg, printed_f):
    ice_kg = 0.02 * water_kg
    parts = [Warmth(cement_kg + aggregate_kg, 0.0, 30.0), Warmth(0.0, water_kg - ice_kg, 30.0)]
    balance = heat_balance(parts, heats=HEATS, ice_kg=ice_kg)
    assert 1.8 * (balance.temperature_c - 30.0) == pytest.approx(printed_f, abs=0.05)
