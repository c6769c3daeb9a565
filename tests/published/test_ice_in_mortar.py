"""Ice in a 1:1 mortar of w/c 0.32, all at 30 °C, and the two forms of the balance.

Derived by us. That the formula leaves physics where not all ice can melt is reported by Jabbar,
Wasit J. Eng. Sci. 5(2), 2017 (abstract read at iasj.net/iasj/article/167318); the printed figure
below zero is that of the formula alone, which our balance turns into ice left at 0 °C.
"""

from __future__ import annotations

import pytest

from takeoff.mix.temperature import Heats, Warmth, heat_balance

# Heat of melting 79.6 times the specific heat of water, solids 0.22 of it.
KELVIN = Heats(220.0, 1000.0, 500.0, 79.6)


@pytest.mark.parametrize(
    ("ice_share", "printed_c"),
    [
        pytest.param(0.0, 30.0, id="TMP-09 no ice"),
        pytest.param(0.25, 18.46, id="TMP-09 a quarter of the water"),
        pytest.param(0.5, 6.93, id="TMP-09 half of the water"),
        pytest.param(0.75, -4.61, id="TMP-09 three quarters, beyond physics"),
    ],
)
def test_ice_as_a_share_of_the_water(ice_share, printed_c):
    ice_kg = ice_share * 32.0
    parts = [Warmth(200.0, 0.0, 30.0), Warmth(0.0, 32.0 - ice_kg, 30.0)]
    balance = heat_balance(parts, heats=KELVIN, ice_kg=ice_kg)
    capacity_kj_k = (200.0 * 0.22 + 32.0) * 1.0
    unclamped_c = balance.temperature_c - balance.unmelted_kg * 79.6 / capacity_kj_k
    assert unclamped_c == pytest.approx(printed_c, abs=0.005)
    assert balance.temperature_c == pytest.approx(max(0.0, printed_c), abs=0.005)
    assert (balance.unmelted_kg > 0.0) == (printed_c < 0.0)


@pytest.mark.parametrize("printed_difference_k", [pytest.param(0.0, id="TMP-08")])
def test_us_and_si_forms_agree(printed_difference_k):
    # The US form counts from 32 F: 144 Btu/lb less 32 is its 112; 144/1.8 is 80.0 K, and the SI
    # form takes 333.4/4.19 = 79.6 K, half a percent less.
    parts = [Warmth(200.0, 0.0, 30.0), Warmth(0.0, 24.0, 30.0)]
    us_c = (0.22 * 200.0 * 86.0 + 24.0 * 86.0 - 112.0 * 8.0) / (0.22 * 200.0 + 32.0)
    si_c = heat_balance(parts, heats=KELVIN, ice_kg=8.0).temperature_c
    assert (us_c - 32.0) / 1.8 - si_c == pytest.approx(printed_difference_k, abs=0.05)
