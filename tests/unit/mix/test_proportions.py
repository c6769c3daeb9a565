"""Doses on any basis are solved for one set of masses."""

from __future__ import annotations

import pytest

from takeoff.errors import MixError
from takeoff.mix.ingredients import Ingredient, Role
from takeoff.mix.mix_rules import MixRules
from takeoff.mix.mixes import Bag
from takeoff.mix.proportions import proportions_of
from tests.unit.mix.making import (
    CEMENT,
    FIBRE,
    FUME,
    LATEX,
    OF_CEMENT,
    OF_DRY,
    OF_TOTAL,
    PIGMENT,
    SAND,
    mix_of,
    mortar,
)


def shares_of(mix):
    """Give the shares of the whole by name."""
    return {part.ingredient.name: part.mass_share for part in proportions_of(mix).parts}


@pytest.mark.parametrize(
    "doses",
    [
        ((CEMENT, 1.0, OF_CEMENT), (SAND, 1.0, OF_CEMENT)),
        ((CEMENT, 0.5, OF_DRY), (SAND, 0.5, OF_DRY)),
        ((CEMENT, 0.5, OF_DRY), (SAND, 1.0, OF_CEMENT)),
        ((CEMENT, 1.0, OF_CEMENT), (SAND, 0.5, OF_DRY)),
        ((CEMENT, 0.4, OF_TOTAL), (SAND, 0.4, OF_TOTAL)),
        ((CEMENT, 1.0, OF_CEMENT), (SAND, 0.4, OF_TOTAL)),
    ],
    ids=lambda doses: " ".join(str(dose[2]) for dose in doses),
)
@pytest.mark.parametrize("water", [(0.5, OF_CEMENT), (0.25, OF_DRY), (0.2, OF_TOTAL)], ids=str)
def test_one_mortar_written_on_any_basis_is_the_same(doses, water):
    assert shares_of(mix_of(*doses, water=water)) == pytest.approx(
        {"cement": 0.4, "sand": 0.4, "water": 0.2}
    )


def test_fibre_of_total_counts_itself():
    # 3 of 100 with 97 of mortar, not 3 to 100.
    assert shares_of(mortar((FIBRE, 0.03, OF_TOTAL)))["fibre"] == pytest.approx(0.03)


def test_pigment_and_fibre_are_not_dry():
    plain = proportions_of(mortar())
    dosed = proportions_of(mortar((FIBRE, 0.05, OF_DRY), (PIGMENT, 0.03, OF_DRY)))
    assert plain.dry_share == pytest.approx(2.0 / 2.33)
    assert dosed.dry_share == pytest.approx(2.0 / (2.33 + 0.1 + 0.06))


def test_water_in_a_liquid_counts_once():
    # Per kg of cement: 0.125 latex holds 0.065 of the 0.33 water, so 0.265 is added.
    solved = proportions_of(mortar((LATEX, 0.125, OF_CEMENT)))
    shares = shares_of(mortar((LATEX, 0.125, OF_CEMENT)))
    assert solved.water_share == pytest.approx(0.33 / 2.39)
    assert shares == pytest.approx(
        {"cement": 1 / 2.39, "sand": 1 / 2.39, "latex": 0.125 / 2.39, "water": 0.265 / 2.39}
    )


def test_thirds_may_be_written_with_three_decimals():
    third = 0.33333
    doses = [(one, third, OF_DRY) for one in (CEMENT, SAND, FUME)]
    assert sum(shares_of(mix_of(*doses)).values()) == pytest.approx(1.0)


PREMIX = Ingredient("premix", Role.PREMIX, 2700.0)
BAG = Bag(mass_kg=25.0, yield_m3=0.0135)


def test_a_premix_that_does_not_say_its_cement_has_none_of_cement():
    solved = proportions_of(mix_of((PREMIX, 1.0, OF_DRY), water=(0.16, OF_DRY), bag=BAG))
    assert solved.cement_share is None
    assert solved.dry_share == pytest.approx(1.0 / 1.16)


def test_a_premix_that_says_its_cement_can_be_dosed_on_it():
    told = Ingredient("premix", Role.PREMIX, 2700.0, cement_share=0.5)
    solved = proportions_of(
        mix_of((told, 1.0, OF_DRY), (PIGMENT, 0.04, OF_CEMENT), water=(0.16, OF_DRY), bag=BAG)
    )
    assert solved.cement_share == pytest.approx(0.5 / 1.18)


@pytest.mark.parametrize(
    ("doses", "options", "refusal"),
    [
        ([(CEMENT, 0.9, OF_CEMENT)], {}, "the cements add up to 90 % of cement, not 100 %"),
        (
            [(CEMENT, 0.48, OF_DRY), (SAND, 0.48, OF_DRY)],
            {},
            "the dry ingredients add up to 96 % of dry, not 100 %",
        ),
        (
            [(CEMENT, 0.5, OF_TOTAL), (SAND, 0.5, OF_TOTAL)],
            {"water": (0.2, OF_TOTAL)},
            "all ingredients and the water add up to 120 % of total",
        ),
        ([(CEMENT, 1.0, OF_CEMENT), (SAND, 1.0, OF_DRY)], {}, "the doses contradict each other"),
        ([(CEMENT, 1.0, OF_CEMENT), (SAND, 1.2, OF_TOTAL)], {}, "the doses contradict each other"),
        ([(CEMENT, 1.0, OF_CEMENT), (FUME, 1.0, OF_DRY)], {}, "the doses contradict each other"),
        ([(SAND, 1.0, OF_DRY)], {"water": (0.2, OF_DRY)}, "there is no cement and no premix"),
        (
            [(CEMENT, 1.0, OF_CEMENT), (LATEX, 0.8, OF_CEMENT)],
            {},
            "water: the liquids alone bring 126.1 % of the water",
        ),
        (
            [(PREMIX, 1.0, OF_DRY), (PIGMENT, 0.03, OF_CEMENT)],
            {"bag": BAG, "water": (0.16, OF_DRY)},
            "pigment is dosed of cement, but the bag does not say its cement",
        ),
    ],
)
def test_doses_that_make_no_mix_are_refused(doses, options, refusal):
    with pytest.raises(MixError, match=refusal):
        proportions_of(mix_of(*doses, **options))


def test_how_well_shares_must_add_up_is_a_rule():
    short = mix_of((CEMENT, 0.5, OF_DRY), (SAND, 0.499, OF_DRY))
    with pytest.raises(MixError, match=r"99.9 % of dry"):
        proportions_of(short)
    assert proportions_of(short, rules=MixRules(closure_share=0.01)).dry_share > 0.8
