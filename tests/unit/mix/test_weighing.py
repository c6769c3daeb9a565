"""Weigh sheets against arithmetic by hand, and what is refused before anything is weighed."""

from __future__ import annotations

import pytest

from takeoff.errors import MixError
from takeoff.mix.ingredients import Ingredient, Role
from takeoff.mix.mixes import Bag, Placing
from takeoff.mix.scales import Scale
from takeoff.mix.volumes import absolute_volume_m3, bagged_density_kg_m3
from takeoff.mix.weighing import weigh_out
from takeoff.notes import NoteCode
from tests.unit.mix.making import (
    CEMENT,
    FIBRE,
    FUME,
    LATEX,
    OF_CEMENT,
    OF_DRY,
    OF_TOTAL,
    PIGMENT,
    PLASTICIZER,
    POWDER,
    SAND,
    mix_of,
    mortar,
)


def masses_of(sheet):
    """Give the masses by ingredient, the parts of the water together."""
    masses_kg = {}
    for line in sheet.lines:
        name = line.charge.ingredient.name
        masses_kg[name] = masses_kg.get(name, 0.0) + line.mass_kg
    return masses_kg


FACE_COAT = mortar((LATEX, 0.125, OF_CEMENT), water=(0.33, OF_CEMENT), air_share=0.06)


def test_by_hand_a_face_coat_with_latex_for_a_volume():
    # For 1 kg of cement: sand 1, latex 0.125 (0.060 solids, 0.065 water), water 0.33 in all and
    # 0.33 - 0.065 = 0.265 to add; together 2.39 kg.
    # Litres: 1/3.150 = 0.317460, 1/2.650 = 0.377358, 0.125/1.060 = 0.117925,
    # 0.265/0.9982 = 0.265478; together 1.078221, with 6 % air 1.078221/0.94 = 1.147044.
    # 20 L: 20/1.147044 = 17.43612 times all of it.
    sheet = weigh_out(FACE_COAT, volume_m3=0.020)
    assert masses_of(sheet) == pytest.approx(
        {"water": 4.62057, "latex": 2.17952, "cement": 17.43612, "sand": 17.43612}, abs=2e-5
    )
    assert sheet.mass_kg == pytest.approx(41.67233, abs=5e-5)
    assert sheet.density_kg_m3 == pytest.approx(2083.62, abs=0.01)
    assert sheet.volume_m3 == pytest.approx(0.020)
    assert sheet.water_total_kg == pytest.approx(5.75392, abs=2e-5)
    assert sheet.water_to_add_kg == pytest.approx(4.62057, abs=2e-5)
    assert sheet.water_cement_ratio == pytest.approx(0.33)


POURED = mix_of(
    (CEMENT, 0.50, OF_DRY),
    (FUME, 0.05, OF_DRY),
    (SAND, 0.43, OF_DRY),
    (POWDER, 0.02, OF_DRY),
    (PLASTICIZER, 0.005, OF_DRY),
    (PIGMENT, 0.02, OF_CEMENT),
    (FIBRE, 0.025, OF_TOTAL),
    water=(0.16, OF_DRY),
    air_share=0.04,
    placing=Placing.POURED,
)


def test_by_hand_a_poured_backer_on_three_bases_for_a_mass():
    # For 100 kg dry: cement 50, fume 5, sand 43, powder 2; plasticizer 0.5 (60 % water: 0.3);
    # water 16 in all, 15.7 to add; pigment 2 % of 50 = 1. Without fibre 117.2 kg, which is
    # 97.5 % of 120.205128; fibre 3.005128. For 50 kg all times 50/120.205128 = 0.4159556.
    # Litres: cement 6.602470, fume 0.924346, sand 6.749469, powder 0.742777,
    # plasticizer 0.192572, water 6.542279, pigment 0.086657, fibre 0.462963;
    # together 22.303533, with 4 % air 22.303533/0.96 = 23.232847.
    sheet = weigh_out(POURED, mass_kg=50.0)
    assert masses_of(sheet) == pytest.approx(
        {
            "water": 6.530503,
            "plasticizer": 0.207978,
            "pigment": 0.415956,
            "cement": 20.797782,
            "fume": 2.079778,
            "polymer powder": 0.831911,
            "sand": 17.886092,
            "fibre": 1.250000,
        },
        abs=1e-6,
    )
    assert sheet.volume_m3 == pytest.approx(0.023232847, abs=1e-8)
    assert sheet.water_total_kg == pytest.approx(0.16 * 41.595563, abs=1e-6)
    assert sheet.water_cement_ratio == pytest.approx(0.32)
    assert sheet.water_binder_ratio == pytest.approx(16.0 / 55.0)


def bagged():
    """Make a premix of 22.68 kg to the bag that yields 12 L with 3 kg of water and 5 % air."""
    bag = Bag(mass_kg=22.68, yield_m3=0.012)
    density_kg_m3 = bagged_density_kg_m3(
        bag, water_kg=3.0, water_density_kg_m3=998.2, air_share=0.05
    )
    latex = Ingredient("latex", Role.POLYMER, 1050.0, water_share=0.5)
    return mix_of(
        (Ingredient("premix", Role.PREMIX, density_kg_m3), 1.0, OF_DRY),
        (latex, 0.05, OF_DRY),
        (FIBRE, 0.03, OF_DRY),
        water=(3.0 / 22.68, OF_DRY),
        air_share=0.05,
        bag=bag,
    )


def test_by_hand_three_bags_with_latex_and_fibre():
    # Powder of a bag: 12 x 0.95 - 3/0.9982 = 11.4 - 3.005410 = 8.394590 L, 2701.73 kg/m3.
    # Three bags: premix 68.04; latex 5 % = 3.402 (1.701 water); fibre 3 % = 2.0412;
    # water 9 in all, 9 - 1.701 = 7.299 to add; together 80.7822 kg.
    # Litres: 3 x 8.394590 = 25.183770, latex 3.24, water 7.312162, fibre 0.756;
    # together 36.491932, with 5 % air 36.491932/0.95 = 38.412560.
    sheet = weigh_out(bagged(), bags=3)
    assert masses_of(sheet) == pytest.approx(
        {"water": 7.299, "latex": 3.402, "premix": 68.04, "fibre": 2.0412}
    )
    assert sheet.mass_kg == pytest.approx(80.7822)
    assert sheet.volume_m3 == pytest.approx(0.03841256, abs=1e-8)
    assert sheet.water_total_kg == pytest.approx(9.0)
    assert sheet.water_cement_ratio is None


def test_common_practice_no_source_of_a_plasticized_pour_by_the_bag():
    # Water about 12 % of dry, plasticizer about 0.5 %, glass fibre about 3 %, of a 25 kg bag.
    premix = Ingredient("premix", Role.PREMIX, 2700.0)
    pour = mix_of(
        (premix, 1.0, OF_DRY),
        (PLASTICIZER, 0.005, OF_DRY),
        (FIBRE, 0.03, OF_DRY),
        water=(0.12, OF_DRY),
        placing=Placing.POURED,
        bag=Bag(mass_kg=25.0, yield_m3=0.013),
    )
    sheet = weigh_out(pour, bags=1)
    assert masses_of(sheet) == pytest.approx(
        {"water": 3.0 - 0.6 * 0.125, "plasticizer": 0.125, "premix": 25.0, "fibre": 0.75}
    )
    assert {line.name: line.shares.of_dry for line in sheet.lines}["fibre"] == pytest.approx(0.03)


def test_rounded_masses_are_what_everything_is_counted_from():
    sheet = weigh_out(POURED, mass_kg=50.0, scales=[Scale(0.01)])
    masses_kg = masses_of(sheet)
    assert masses_kg == pytest.approx(
        {
            "water": 6.53,
            "plasticizer": 0.21,
            "pigment": 0.42,
            "cement": 20.8,
            "fume": 2.08,
            "polymer powder": 0.83,
            "sand": 17.89,
            "fibre": 1.25,
        }
    )
    assert sheet.mass_kg == pytest.approx(sum(masses_kg.values()))
    assert sheet.volume_m3 == pytest.approx(
        absolute_volume_m3(
            masses_kg,
            {line.name: line.density_kg_m3 for line in sheet.lines},
            air_share=sheet.air_share,
        )
    )
    assert sheet.water_total_kg == pytest.approx(6.53 + 0.6 * 0.21)
    assert sheet.water_cement_ratio == pytest.approx((6.53 + 0.6 * 0.21) / 20.8)


def test_a_volume_moved_by_rounding_is_noted():
    plain = mix_of((CEMENT, 1.0, OF_CEMENT), water=(0.4, OF_CEMENT), air_share=0.0)
    (note,) = weigh_out(plain, mass_kg=14.13, scales=[Scale(0.2)]).notes
    assert note.code is NoteCode.ROUNDED
    assert "were asked for" in note.text
    assert weigh_out(plain, mass_kg=14.0, scales=[Scale(0.2)]).notes == ()


def test_water_that_the_liquids_bring_whole_is_no_line():
    soaked = mortar((LATEX, 0.5, OF_CEMENT), water=(0.26, OF_CEMENT))
    sheet = weigh_out(soaked, mass_kg=10.0)
    assert sheet.water_to_add_kg == 0.0
    assert "water" not in masses_of(sheet)
    assert sheet.water_total_kg == pytest.approx(0.26 * masses_of(sheet)["cement"])


@pytest.mark.parametrize(
    ("amount", "refusal"),
    [
        ({}, "trial: give one of volume, mass or bags, found none"),
        ({"volume_m3": 0.01, "mass_kg": 20.0}, "found volume and mass"),
        ({"volume_m3": 0.0}, "the volume to weigh must be above 0, found 0"),
        ({"mass_kg": -1.0}, "the mass to weigh must be above 0, found -1"),
        ({"mass_kg": float("nan")}, "the mass to weigh must be above 0, found nan"),
        ({"volume_m3": float("inf")}, "found inf"),
        ({"bags": 1}, "trial: comes from ingredients, not from bags; give a volume or a mass"),
        ({"mass_kg": 20.0, "bucket_kg": 0.0}, "trial: a bucket must hold more than nothing"),
        ({"mass_kg": 0.5, "scales": [Scale(0.1)]}, "trial: .* on the scale that reads to 100 g"),
        ({"mass_kg": 20.0, "ice_kg": 5.0}, "trial: 5 kg of ice cannot be taken from 2.21"),
        ({"mass_kg": 20.0, "ice_kg": -1.0}, "trial: -1 kg of ice cannot be taken"),
    ],
)
def test_what_cannot_be_weighed_is_refused(amount, refusal):
    with pytest.raises(MixError, match=refusal):
        weigh_out(FACE_COAT, **amount)


def test_no_bag_is_no_amount():
    with pytest.raises(MixError, match="the bags to weigh must be above 0, found 0"):
        weigh_out(bagged(), bags=0)


def test_a_coarse_scale_is_refused_for_a_fine_dose():
    with pytest.raises(MixError, match=r"208 g of plasticizer would be weighed as 200 g \(-4 %\)"):
        weigh_out(POURED, mass_kg=50.0, scales=[Scale(0.1)])


def test_an_absurd_mix_is_not_weighed():
    with pytest.raises(MixError, match=r"trial: air is 50 %.*; fibre would be 30 %"):
        weigh_out(mortar((FIBRE, 0.3, OF_TOTAL), air_share=0.5), mass_kg=10.0)
