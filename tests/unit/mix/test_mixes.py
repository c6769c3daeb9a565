"""A mix that contradicts itself is refused where it is made."""

from __future__ import annotations

from dataclasses import replace

import pytest

from takeoff.errors import MixError
from takeoff.mix.ingredients import Ingredient, Role
from takeoff.mix.mixes import Bag, Dose, Mixing
from tests.unit.mix.making import CEMENT, OF_CEMENT, SAND, WATER, mortar

BAG = Bag(mass_kg=25.0, yield_m3=0.0135)
PREMIX = Ingredient("premix", Role.PREMIX, 2700.0)


@pytest.mark.parametrize(
    ("changes", "refusal"),
    [
        ({"name": ""}, "a mix needs a name"),
        ({"air_share": 1.0}, "air must be from 0 to below 100 %"),
        ({"air_share": -0.01}, "air must be from 0"),
        ({"air_share": float("nan")}, "air must be from 0"),
        ({"pot_life_s": 0.0}, "the pot life must be above 0, found 0 s"),
        ({"wait_s": 0.0}, "the wait must be above 0, found 0 s"),
        (
            {"held_back_share": 1.5},
            "from 0 to below 100 % of the water can be held back, found 150",
        ),
        ({"doses": (Dose(SAND, 1.0, OF_CEMENT),) * 2}, "sand is dosed twice; add the two up"),
        ({"water": Dose(SAND, 1.0, OF_CEMENT)}, "water is given once, apart from the doses"),
        ({"doses": (Dose(WATER, 1.0, OF_CEMENT),)}, "water is given once"),
        ({"bag": BAG}, "a bag holds one premix"),
        ({"doses": (Dose(PREMIX, 1.0, OF_CEMENT),)}, "a premix comes with its bag"),
    ],
)
def test_a_mix_that_contradicts_itself_is_refused(changes, refusal):
    with pytest.raises(MixError, match=refusal):
        replace(mortar(), **changes)


def test_all_that_is_wrong_is_said_at_once():
    with pytest.raises(MixError, match=r"^trial: air must .*; the pot life must"):
        replace(mortar(), air_share=2.0, pot_life_s=-1.0)


@pytest.mark.parametrize(
    ("times_s", "refusal"),
    [
        ((0.0,), "a mixing time must be above 0, found 0 s"),
        ((float("nan"),), "a mixing time must be above 0"),
        ((180.0, -1.0), "a rest and a second mixing are at least 0 s, found -1 and 0"),
        ((180.0, 0.0, -1.0), "found 0 and -1"),
    ],
)
def test_mixing_takes_time(times_s, refusal):
    with pytest.raises(MixError, match=refusal):
        Mixing(*times_s)


@pytest.mark.parametrize("share", [0.0, -0.1, float("nan"), float("inf")])
def test_a_dose_is_above_nothing(share):
    with pytest.raises(MixError, match=r"cement: a dose must be above 0, found .* of_cement"):
        Dose(CEMENT, share, OF_CEMENT)


@pytest.mark.parametrize("bag", [(0.0, 0.01), (25.0, 0.0), (-1.0, 0.01), (25.0, float("nan"))])
def test_a_bag_holds_and_yields_something(bag):
    with pytest.raises(MixError, match="mass and yield of a bag must be above 0"):
        Bag(*bag)
