"""The heat of a mix balances, with ice and without, and never below the melting point."""

from __future__ import annotations

import pytest

from takeoff.errors import MixError
from takeoff.mix.temperature import Heats, Warmth, heat_balance, ice_for_kg

HEATS = Heats(920.0, 4184.0, 2097.0, 333.43)
SOLIDS = Warmth(200.0, 0.0, 30.0)


def mortar(water_kg, temperature_c=30.0):
    """Make a mortar of 200 kg of solids at 30 °C and some water."""
    return [SOLIDS, Warmth(0.0, water_kg, temperature_c)]


def test_by_hand_the_warm_and_the_cold_meet_between():
    # 184 kJ/K at 30 C and 32 x 4.184 = 133.888 kJ/K at 10 C: 6858.88/317.888 = 21.5764.
    balance = heat_balance(mortar(32.0, 10.0), heats=HEATS)
    assert balance.temperature_c == pytest.approx(21.5764, abs=1e-4)
    assert balance.unmelted_kg == 0.0


def test_by_hand_ice_melts_at_the_cost_of_the_rest():
    # 184 + 24 x 4.184 = 284.416 kJ/K at 30 C hold 8532.48 kJ; 8 kg of ice take 2667.44;
    # 5865.04 over 317.888 = 18.4500.
    balance = heat_balance(mortar(24.0), heats=HEATS, ice_kg=8.0)
    assert balance.temperature_c == pytest.approx(18.45, abs=5e-5)


def test_by_hand_cold_ice_takes_more():
    # 8 kg of ice from -10 C take 8 x 20.97 = 167.76 kJ more: 5697.28/317.888 = 17.9223.
    balance = heat_balance(mortar(24.0), heats=HEATS, ice_kg=8.0, ice_c=-10.0)
    assert balance.temperature_c == pytest.approx(17.9223, abs=1e-4)


def test_by_hand_ice_that_cannot_melt_is_left_at_zero():
    # 184 + 8 x 4.184 = 217.472 kJ/K at 30 C hold 6524.16 kJ, which melt 19.5668 of 24 kg.
    balance = heat_balance(mortar(8.0), heats=HEATS, ice_kg=24.0)
    assert balance.temperature_c == 0.0
    assert balance.unmelted_kg == pytest.approx(24.0 - 19.5668, abs=1e-4)


def test_just_as_much_ice_as_melts_leaves_none():
    least_kg = 6524.16 / 333.43
    balance = heat_balance(mortar(8.0), heats=HEATS, ice_kg=least_kg)
    assert balance.temperature_c == pytest.approx(0.0, abs=1e-9)
    assert balance.unmelted_kg == pytest.approx(0.0, abs=1e-9)


@pytest.mark.parametrize("wanted_c", [0.0, 5.0, 18.0, 29.9])
@pytest.mark.parametrize("ice_c", [0.0, -12.0])
def test_the_ice_for_a_temperature_gives_it(wanted_c, ice_c):
    ice_kg = ice_for_kg(mortar(32.0), heats=HEATS, wanted_c=wanted_c, water_c=30.0, ice_c=ice_c)
    balance = heat_balance(mortar(32.0 - ice_kg), heats=HEATS, ice_kg=ice_kg, ice_c=ice_c)
    assert balance.temperature_c == pytest.approx(wanted_c, abs=1e-9)


@pytest.mark.parametrize("wanted_c", [30.0, 35.0])
def test_a_mix_that_is_cold_enough_needs_no_ice(wanted_c):
    assert ice_for_kg(mortar(32.0), heats=HEATS, wanted_c=wanted_c, water_c=30.0) == 0.0


@pytest.mark.parametrize(
    ("call", "refusal"),
    [
        (lambda: heat_balance([], heats=HEATS), "nothing to balance"),
        (
            lambda: heat_balance(mortar(24.0), heats=HEATS, ice_kg=8.0, ice_c=2.0),
            "ice cannot be at 2 C",
        ),
        (
            lambda: ice_for_kg(mortar(24.0), heats=HEATS, wanted_c=-1.0, water_c=30.0),
            "a mix cannot be wanted at -1 C",
        ),
    ],
)
def test_what_cannot_be_balanced_is_refused(call, refusal):
    with pytest.raises(MixError, match=refusal):
        call()
