"""Volumes, densities and air follow from the masses and densities of the parts."""

from __future__ import annotations

import pytest

from takeoff.errors import MixError
from takeoff.mix.ingredients import Ingredient, Role
from takeoff.mix.mixes import Bag
from takeoff.mix.volumes import (
    absolute_volume_m3,
    bag_yield_m3,
    bagged_density_kg_m3,
    fresh_density_kg_m3,
    measured_air_share,
    measured_density_kg_m3,
    measured_yield_m3,
)
from tests.unit.mix.making import OF_DRY, PIGMENT, mix_of, mortar

MASSES = {"cement": 31.5, "sand": 26.5, "water": 10.0}
DENSITIES = {"cement": 3150.0, "sand": 2650.0, "water": 1000.0}


def test_each_part_fills_its_own_volume():
    assert absolute_volume_m3(MASSES, DENSITIES) == pytest.approx(0.030)


def test_air_is_a_share_of_the_finished_volume():
    # 30 L without air is 95 parts of 100.
    assert absolute_volume_m3(MASSES, DENSITIES, air_share=0.05) == pytest.approx(0.030 / 0.95)


def test_nothing_weighed_has_no_volume():
    assert absolute_volume_m3({}, {}) == 0.0


@pytest.mark.parametrize(
    ("masses_kg", "densities_kg_m3", "air_share", "refusal"),
    [
        (MASSES, {"cement": 3150.0}, 0.0, r"sand: needs a density above 0 kg/m3, found None"),
        (MASSES, DENSITIES | {"sand": 0.0}, 0.0, r"sand: needs a density above 0 kg/m3, found 0"),
        (MASSES, DENSITIES | {"sand": float("nan")}, 0.0, "found nan"),
        ({"cement": -1.0}, DENSITIES, 0.0, "cement: a mass must be at least 0 kg, found -1"),
        ({"cement": float("inf")}, DENSITIES, 0.0, "cement: a mass must be at least 0 kg"),
        (MASSES, DENSITIES, 1.0, "air must be from 0 to below 100 %"),
        (MASSES, DENSITIES, -0.1, "air must be from 0"),
    ],
)
def test_what_has_no_volume_is_refused(masses_kg, densities_kg_m3, air_share, refusal):
    with pytest.raises(MixError, match=refusal):
        absolute_volume_m3(masses_kg, densities_kg_m3, air_share=air_share)


def test_density_of_a_mix_is_its_mass_over_its_volume():
    # Per kg of cement: 1/3150 + 1/2650 + 0.33/998.2 = 1.025413e-3 m3 for 2.33 kg.
    assert fresh_density_kg_m3(mortar(air_share=0.0)) == pytest.approx(2272.25, abs=0.01)
    assert fresh_density_kg_m3(mortar(air_share=0.06)) == pytest.approx(2135.92, abs=0.01)


def test_the_density_of_a_powder_gives_the_yield_of_its_bag_back():
    bag = Bag(mass_kg=25.0, yield_m3=0.0135)
    density_kg_m3 = bagged_density_kg_m3(
        bag, water_kg=4.0, water_density_kg_m3=998.2, air_share=0.05
    )
    premix = Ingredient("premix", Role.PREMIX, density_kg_m3)
    plain = mix_of((premix, 1.0, OF_DRY), water=(0.16, OF_DRY), air_share=0.05, bag=bag)
    assert bag_yield_m3(plain) == pytest.approx(0.0135)
    # 0.5 kg of pigment at 4800 kg/m3 beside it, and the air of both.
    dosed = mix_of(
        (premix, 1.0, OF_DRY),
        (PIGMENT, 0.02, OF_DRY),
        water=(0.16, OF_DRY),
        air_share=0.05,
        bag=bag,
    )
    assert bag_yield_m3(dosed) == pytest.approx(0.0135 + 0.5 / 4800.0 / 0.95)


def test_a_yield_that_the_water_fills_is_refused():
    bag = Bag(mass_kg=25.0, yield_m3=0.003)
    with pytest.raises(MixError, match=r"leave no room for the 25 kg of powder in a yield of 3 L"):
        bagged_density_kg_m3(bag, water_kg=4.0, water_density_kg_m3=998.2, air_share=0.0)


def test_a_mix_from_ingredients_has_no_bag_to_yield():
    with pytest.raises(MixError, match="trial: comes from ingredients, not from a bag"):
        bag_yield_m3(mortar())


@pytest.mark.parametrize(
    ("full_kg", "empty_kg", "measure_m3"), [(2.0, 2.0, 0.007), (2.0, 3.0, 0.007), (3.0, 2.0, 0.0)]
)
def test_a_measure_that_gives_no_density_is_refused(full_kg, empty_kg, measure_m3):
    with pytest.raises(MixError, match="gives no density"):
        measured_density_kg_m3(full_kg=full_kg, empty_kg=empty_kg, measure_m3=measure_m3)


def test_air_is_what_the_density_lacks():
    assert measured_air_share(
        density_kg_m3=fresh_density_kg_m3(mortar(air_share=0.06)),
        air_free_density_kg_m3=fresh_density_kg_m3(mortar(air_share=0.0)),
    ) == pytest.approx(0.06)


@pytest.mark.parametrize("density_kg_m3", [0.0, 2101.0])
def test_a_density_above_that_without_air_is_refused(density_kg_m3):
    with pytest.raises(MixError, match=r"at most the 2100 kg/m3 without air"):
        measured_air_share(density_kg_m3=density_kg_m3, air_free_density_kg_m3=2100.0)


@pytest.mark.parametrize(("mass_kg", "density_kg_m3"), [(0.0, 2000.0), (10.0, 0.0)])
def test_nothing_gives_no_yield(mass_kg, density_kg_m3):
    with pytest.raises(MixError, match="give no yield"):
        measured_yield_m3(mass_kg=mass_kg, density_kg_m3=density_kg_m3)
