"""Masses go into buckets and bags, the water in three parts, and nothing is lost on the way."""

from __future__ import annotations

from dataclasses import replace

import pytest

from takeoff.errors import MixError
from takeoff.mix.addition import WaterPart
from takeoff.mix.charging import Bench, charges_of
from takeoff.mix.ingredients import Ingredient, Role
from takeoff.mix.mix_rules import WeighRules
from takeoff.mix.mixes import Bag, Placing
from takeoff.mix.scales import Portion, Scale
from tests.unit.mix.making import CEMENT, FIBRE, OF_CEMENT, OF_DRY, OF_TOTAL, WATER, mix_of, mortar

PREMIX = Ingredient("premix", Role.PREMIX, 2700.0)
BAGGED = mix_of((PREMIX, 1.0, OF_DRY), water=(0.16, OF_DRY), bag=Bag(25.0, 0.0135))


def water_parts(charges):
    """Give the parts of the water."""
    return {
        charge.water: charge.mass_kg for charge in charges if charge.ingredient.role is Role.WATER
    }


def test_a_tenth_of_the_water_is_held_back():
    charges = charges_of(mortar(), {CEMENT: 25.0, WATER: 10.0}, Bench())
    assert water_parts(charges) == {WaterPart.FIRST: 9.0, WaterPart.HELD_BACK: 1.0}


def test_the_mix_says_how_much_is_held_back_before_the_rules_do():
    masses_kg = {CEMENT: 25.0, WATER: 10.0}
    quarter = replace(mortar(), held_back_share=0.25)
    assert water_parts(charges_of(quarter, masses_kg, Bench()))[WaterPart.HELD_BACK] == 2.5
    none = charges_of(mortar(), masses_kg, Bench(), rules=WeighRules(held_back_share=0.0))
    assert water_parts(none) == {WaterPart.FIRST: 10.0}


@pytest.mark.parametrize("ice_kg", [0.0, 2.5, 9.5, 10.0])
def test_the_parts_add_up_to_the_water_to_add(ice_kg):
    bench = Bench((Scale(0.01),))
    parts = water_parts(charges_of(mortar(), {CEMENT: 25.0, WATER: 10.0}, bench, ice_kg=ice_kg))
    assert sum(parts.values()) == pytest.approx(10.0, abs=1e-12)
    assert parts.get(WaterPart.ICE, 0.0) == pytest.approx(ice_kg)
    assert all(mass_kg > 0.0 for mass_kg in parts.values())


def test_each_part_of_the_water_goes_on_the_finest_scale_that_holds_it():
    bench = Bench((Scale(0.001, 2.0), Scale(0.05, 60.0)))
    charges = charges_of(mortar(), {CEMENT: 25.0, WATER: 10.123}, bench)
    assert water_parts(charges) == {WaterPart.FIRST: 9.1, WaterPart.HELD_BACK: 1.012}


def test_a_part_of_the_water_that_the_scale_cannot_show_is_left_out():
    bench = Bench((Scale(0.1),))
    charges = charges_of(mortar(), {CEMENT: 25.0, WATER: 10.0}, bench, ice_kg=0.04)
    assert set(water_parts(charges)) == {WaterPart.FIRST, WaterPart.HELD_BACK}


@pytest.mark.parametrize(
    ("ice_kg", "refusal"),
    [(10.5, "10.5 kg of ice cannot be taken from 10 kg of water"), (-1.0, "-1 kg of ice cannot")],
)
def test_more_ice_than_water_is_refused(ice_kg, refusal):
    with pytest.raises(MixError, match=refusal):
        charges_of(mortar(), {CEMENT: 25.0, WATER: 10.0}, Bench(), ice_kg=ice_kg)


def test_ice_where_no_water_is_added_is_refused():
    with pytest.raises(MixError, match="what is wet brings all of the water"):
        charges_of(mortar(), {CEMENT: 25.0}, Bench(), ice_kg=1.0)


def test_whole_bags_are_not_weighed():
    masses_kg = {PREMIX: 3 * 25.0, WATER: 12.0}
    charge, *_ = charges_of(BAGGED, masses_kg, Bench((Scale(0.5),)), whole_bags=True)
    assert charge.mass_kg == 75.0
    assert charge.portions == (Portion(3, 25.0, bag=True),)
    assert charge.scale is None


def test_a_premix_weighed_out_is_whole_bags_and_a_rest():
    bench = Bench((Scale(0.1),), bucket_kg=10.0)
    charge, *_ = charges_of(BAGGED, {PREMIX: 64.03, WATER: 10.0}, bench)
    assert charge.portions == (
        Portion(2, 25.0, bag=True),
        Portion(1, 10.0),
        Portion(1, 4.0),
    )
    assert charge.mass_kg == pytest.approx(64.0)


def test_less_than_a_bag_is_weighed():
    charge, *_ = charges_of(BAGGED, {PREMIX: 7.04, WATER: 1.1}, Bench((Scale(0.1),)))
    assert charge.portions == (Portion(1, 7.0),)


def test_fibre_at_the_gun_is_marked():
    mix = mortar((FIBRE, 0.05, OF_TOTAL), placing=Placing.SPRAYED)
    *others, fibre = mix.doses
    mix = replace(mix, doses=(*others, replace(fibre, at_gun=True)))
    charges = charges_of(mix, {CEMENT: 10.0, FIBRE: 0.7, WATER: 4.0}, Bench())
    assert {charge.name for charge in charges if charge.at_gun} == {"fibre"}


@pytest.mark.parametrize("bucket_kg", [0.0, -1.0, float("nan")])
def test_a_bucket_holds_something(bucket_kg):
    with pytest.raises(MixError, match="a bucket must hold more than nothing"):
        Bench(bucket_kg=bucket_kg)


def test_fibre_at_the_gun_of_a_poured_mix_is_refused():
    poured = mortar((FIBRE, 0.05, OF_CEMENT), placing=Placing.POURED)
    doses = (*poured.doses[:-1], replace(poured.doses[-1], at_gun=True))
    with pytest.raises(MixError, match="fibre is chopped at the gun, but the mix is poured"):
        replace(poured, doses=doses)
    sprayed = replace(poured, placing=Placing.SPRAYED)
    with pytest.raises(MixError, match="only fibre is chopped at the gun, not cement"):
        replace(sprayed, doses=(replace(poured.doses[0], at_gun=True), *poured.doses[1:]))
