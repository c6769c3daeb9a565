from dataclasses import replace

import pytest

from takeoff.batching.mixers import Mixer
from takeoff.batching.placing_rules import PlacingRules
from takeoff.batching.timing import (
    cycle_s,
    placeable_kg,
    placing_s,
    pot_ticks,
    ticks_down,
    ticks_up,
)
from tests.unit.batching.pours_made import MIN_S, backer_step, face_mix, face_steps

RULES = PlacingRules()


@pytest.mark.parametrize(
    ("time_s", "up", "down"), [(0.0, 0, 0), (30.0, 1, 1), (30.1, 2, 1), (252.0, 9, 8)]
)
def test_durations_are_rounded_up_and_limits_down(time_s, up, down):
    assert (ticks_up(time_s, RULES), ticks_down(time_s, RULES)) == (up, down)


def test_a_hopper_is_refilled_between_loads_and_not_after_the_last():
    gun, _ = face_steps(face_mix(), gun_count=1, hopper_kg=5.0)
    # 5 kg/min: 20 kg spray for 4 min, with three refills of a minute between four loads.
    assert placing_s(gun, 20.0, RULES) == pytest.approx(7.0 * MIN_S)
    assert placing_s(gun, 5.0, RULES) == pytest.approx(1.0 * MIN_S)
    two = replace(gun, gun_count=2, workers=2)
    assert placing_s(two, 20.0, RULES) == pytest.approx(3.0 * MIN_S)


@pytest.mark.parametrize("hopper_kg", [3.0, 5.0, 6.0, 11.0, 40.0, None])
def test_what_is_placeable_is_the_most_that_is_placed_in_time(hopper_kg):
    step, _ = face_steps(face_mix(), gun_count=1, hopper_kg=hopper_kg)
    most_kg = placeable_kg(step, RULES)
    usable_s = (pot_ticks(step, RULES) - ticks_up(RULES.haul_s, RULES)) * RULES.tick_s
    assert placing_s(step, most_kg, RULES) <= usable_s + 1e-6
    assert placing_s(step, most_kg + 0.1, RULES) > usable_s


def test_nothing_is_placeable_once_carrying_takes_the_pot_life():
    assert placeable_kg(backer_step(pot_life=1.0), RULES) == 0.0


def test_a_mixer_says_its_own_times_or_takes_the_usual():
    pan = Mixer("pan", 0.06, 0.3)
    assert cycle_s(pan, RULES) == RULES.mix_s + RULES.clean_s
    assert cycle_s(replace(pan, mix_s=300.0, clean_s=0.0), RULES) == 300.0
