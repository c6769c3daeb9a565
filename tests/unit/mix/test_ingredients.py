"""An ingredient counts as dry, as cement and as water by what it is."""

from __future__ import annotations

import pytest

from takeoff.errors import MixError
from takeoff.mix.ingredients import FibreKind, Ingredient, Role
from tests.unit.mix.making import CEMENT, LATEX, PLASTICIZER, POWDER


@pytest.mark.parametrize(
    ("role", "dry"),
    [
        (Role.CEMENT, True),
        (Role.SAND, True),
        (Role.POZZOLAN, True),
        (Role.PREMIX, True),
        (Role.POLYMER, True),
        (Role.PLASTICIZER, False),
        (Role.FIBRE, False),
        (Role.PIGMENT, False),
        (Role.WATER, False),
    ],
)
def test_dry_is_cement_sand_pozzolan_premix_and_powder_polymer(role, dry):
    assert Ingredient("it", role, 2000.0).is_dry is dry


def test_a_liquid_polymer_is_not_dry():
    assert POWDER.is_dry
    assert not LATEX.is_dry


def test_water_in_and_on_sand_is_not_dry():
    wet = Ingredient("sand", Role.SAND, 2500.0, water_share=0.04, absorbed_share=0.01)
    assert wet.dry_share == pytest.approx(0.95)
    assert wet.solids_share == pytest.approx(0.96)


def test_solids_are_what_is_not_water():
    assert LATEX.solids_share == pytest.approx(0.48)
    assert CEMENT.solids_share == 1.0


def test_cement_is_known_everywhere_but_in_a_premix():
    premix = Ingredient("premix", Role.PREMIX, 2700.0)
    told = Ingredient("premix", Role.PREMIX, 2700.0, cement_share=0.48)
    shares = [one.own_cement_share for one in (CEMENT, PLASTICIZER, premix, told)]
    assert shares == [1.0, 0.0, None, 0.48]


@pytest.mark.parametrize(
    ("values", "refusal"),
    [
        (("", Role.SAND, 2650.0), "an ingredient needs a name"),
        (("sand", Role.SAND, 0.0), "sand: a density must be above 0, found 0 kg/m3"),
        (("sand", Role.SAND, -1.0), "found -1 kg/m3"),
        (("sand", Role.SAND, float("nan")), "found nan kg/m3"),
        (("sand", Role.SAND, float("inf")), "found inf kg/m3"),
        (("latex", Role.POLYMER, 1060.0, 1.0), "its own water must be from 0 to below 100 %"),
        (("latex", Role.POLYMER, 1060.0, -0.1), "its own water must be from 0"),
        (("cement", Role.CEMENT, 3150.0, 0.04), "may be a liquid, not cement"),
        (("sand", Role.SAND, 2650.0, 0.6), "moisture of sand must be below 50 %, found 60"),
        (("sand", Role.SAND, 2650.0, 0.0, None, -0.1), "-10.0000% absorbed"),
        (("cement", Role.CEMENT, 3150.0, 0.0, None, 0.1), "only sand absorbs water, not cement"),
        (
            ("sand", Role.SAND, 2650.0, 0.0, None, None, FibreKind.PVA),
            "only a fibre says how it disperses, not sand",
        ),
        (("sand", Role.SAND, 2650.0, 0.0, 0.5), "only a premix says its share of cement"),
        (("bag", Role.PREMIX, 2650.0, 0.0, 0.0), "its cement must be above 0"),
        (("bag", Role.PREMIX, 2650.0, 0.0, 1.2), "at most 100 %"),
    ],
)
def test_what_cannot_be_is_refused(values, refusal):
    with pytest.raises(MixError, match=refusal):
        Ingredient(*values)
