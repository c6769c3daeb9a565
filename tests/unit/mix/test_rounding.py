"""Masses are rounded to the scale that holds them, and a scale too coarse says what would do."""

from __future__ import annotations

import re

import pytest

from takeoff.errors import MixError
from takeoff.mix.mix_rules import WeighRules
from takeoff.mix.rounding import read_on_scales
from takeoff.mix.scales import Scale


def read(masses_kg, *scales, **options):
    """Give what the scales show."""
    readings = read_on_scales(masses_kg, scales, **options)
    return {name: reading.mass_kg for name, reading in readings.items()}


def test_each_ingredient_goes_on_the_finest_scale_that_holds_it():
    bench, floor = Scale(0.001, 2.0), Scale(0.05, 60.0)
    readings = read_on_scales({"cement": 20.011, "pigment": 0.4126}, [floor, bench])
    assert readings["cement"].scale is floor
    assert readings["cement"].mass_kg == 20.0
    assert readings["pigment"].scale is bench
    assert readings["pigment"].mass_kg == 0.413


def test_a_bucketful_is_what_stands_on_the_scale():
    bench, floor = Scale(0.01, 20.0), Scale(0.1, 60.0)
    whole = read_on_scales({"cement": 40.04}, [bench, floor])["cement"]
    in_buckets = read_on_scales({"cement": 40.04}, [bench, floor], bucket_kg=15.0)["cement"]
    assert (whole.scale, in_buckets.scale) == (floor, bench)
    assert (whole.mass_kg, in_buckets.mass_kg) == (40.0, 40.04)


def test_without_scales_nothing_is_rounded():
    assert read({"cement": 10.0031}) == {"cement": 10.0031}


def test_rounding_up_to_two_percent_passes():
    assert read({"pigment": 0.2549}, Scale(0.01)) == {"pigment": 0.25}
    with pytest.raises(MixError, match=r"244.9 g of pigment would be weighed as 240 g \(-2 %\)"):
        read({"pigment": 0.2449}, Scale(0.01), rules=WeighRules(rounding_share=0.019))


@pytest.mark.parametrize("name", ["pigment", "plasticizer", "fibre"])
def test_the_factor_told_is_enough_and_a_smaller_one_may_not_be(name):
    masses_kg = {"cement": 10.0, name: 0.0124}
    with pytest.raises(MixError, match=rf"12.4 g of {name}.*at least") as refusal:
        read(masses_kg, Scale(0.01))
    factor = float(re.search(r"at least ([\d.]+) times", str(refusal.value))[1])
    # 10 g over 2 x 2 % is 250 g, which is 20.2 times 12.4 g.
    assert factor == 20.2
    larger_kg = {each: factor * mass_kg for each, mass_kg in masses_kg.items()}
    assert read(larger_kg, Scale(0.01))[name] == 0.25
    # At 11.7 times it, 145.1 g would be shown as 150 g: 3.4 % too much.
    with pytest.raises(MixError, match=r"145.1 g"):
        read({each: 11.7 * mass_kg for each, mass_kg in masses_kg.items()}, Scale(0.01))


def test_every_scale_too_coarse_is_named():
    scales = [Scale(0.001, 0.01), Scale(0.1, 50.0)]
    with pytest.raises(MixError, match=r"40 g of fibre .*reads to 100 g.*at least 62.5 times"):
        read({"pigment": 0.009, "fibre": 0.04}, *scales)


def test_nothing_is_rounded_away():
    with pytest.raises(MixError, match=r"would be weighed as 0 g \(-100 %\)"):
        read({"sand": 0.2}, Scale(0.5))


def test_water_to_add_is_held_against_all_water():
    with pytest.raises(MixError, match="of water would be weighed"):
        read({"water": 0.32}, Scale(0.05))
    assert read({"water": 0.32}, Scale(0.05), within_kg={"water": 4.0}) == {"water": 0.3}
