"""Masses are rounded to the scale, and a scale too coarse says what would do."""

from __future__ import annotations

import re

import pytest

from takeoff.errors import MixError
from takeoff.mix.mix_rules import WeighRules
from takeoff.mix.rounding import rounded_to_scale_kg


@pytest.mark.parametrize(
    ("mass_kg", "division_kg", "shown_kg"),
    [
        (17.4361, 0.01, 17.44),
        (17.4361, 0.1, 17.4),
        (17.4361, 0.02, 17.44),
        (0.3, 0.1, 0.3),
        (2.675, 0.005, 2.675),
        (100.0, 0.5, 100.0),
        (45.2, 0.45359237, 45.359237),
    ],
)
def test_a_mass_is_shown_to_the_division(mass_kg, division_kg, shown_kg):
    assert rounded_to_scale_kg({"cement": mass_kg}, division_kg) == {"cement": shown_kg}


def test_rounding_up_to_two_percent_passes():
    assert rounded_to_scale_kg({"pigment": 0.2549}, 0.01) == {"pigment": 0.25}
    with pytest.raises(MixError, match=r"244.9 g of pigment would be weighed as 240 g \(-2 %\)"):
        rounded_to_scale_kg({"pigment": 0.2449}, 0.01, rules=WeighRules(rounding_share=0.019))


def test_the_factor_told_is_enough():
    masses_kg = {"cement": 10.0, "pigment": 0.0124, "fibre": 0.034}
    with pytest.raises(MixError, match=r"12.4 g of pigment.*34 g of fibre.*at least") as refusal:
        rounded_to_scale_kg(masses_kg, 0.01)
    factor = float(re.search(r"at least ([\d.]+) times", str(refusal.value))[1])
    # 10 g over 2 x 2 % is 250 g, which is 20.2 times 12.4 g.
    assert factor == 20.2
    larger_kg = {name: factor * mass_kg for name, mass_kg in masses_kg.items()}
    assert rounded_to_scale_kg(larger_kg, 0.01)["pigment"] == 0.25


def test_nothing_is_rounded_away():
    with pytest.raises(MixError, match=r"would be weighed as 0 g \(-100 %\)"):
        rounded_to_scale_kg({"sand": 0.2}, 0.5)


@pytest.mark.parametrize("division_kg", [0.0, -0.01, float("nan"), float("inf")])
def test_a_scale_has_a_division(division_kg):
    with pytest.raises(MixError, match="the division of a scale must be above 0"):
        rounded_to_scale_kg({"sand": 0.2}, division_kg)
