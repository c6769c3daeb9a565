"""What goes in when: bundles last, what must come apart first."""

from __future__ import annotations

import pytest

from takeoff.mix.addition import LAST, WaterPart, turn_of
from takeoff.mix.ingredients import FibreKind, Ingredient, Role
from tests.unit.mix.making import (
    CEMENT,
    FIBRE,
    FUME,
    LATEX,
    PIGMENT,
    PLASTICIZER,
    POWDER,
    SAND,
    WATER,
)


def fibre(kind):
    """Make a fibre of a kind."""
    return Ingredient(kind.value, Role.FIBRE, 2000.0, fibre=kind)


def test_bundled_glass_goes_in_last_and_is_only_mixed_through():
    turn = turn_of(fibre(FibreKind.BUNDLED_GLASS))
    assert turn == turn_of(FIBRE)
    assert turn.rank >= LAST > turn_of(SAND).rank
    assert turn.words == "last, slowly, only until mixed through"


@pytest.mark.parametrize("kind", [FibreKind.PVA, FibreKind.DISPERSIBLE_GLASS])
def test_dispersible_fibre_goes_in_at_the_start(kind):
    turn = turn_of(fibre(kind))
    assert turn_of(WATER).rank < turn.rank < turn_of(CEMENT).rank
    assert turn.words.startswith("at the start, into the water")


def test_fibre_at_the_gun_never_goes_into_the_mixer():
    assert turn_of(fibre(FibreKind.BUNDLED_GLASS), at_gun=True).words.startswith(
        "not into the mixer"
    )


def test_the_water_goes_in_in_three_parts():
    first, ice, held = (turn_of(WATER, water=part) for part in WaterPart)
    assert first.rank < ice.rank < turn_of(CEMENT).rank < turn_of(SAND).rank < held.rank < LAST
    assert held.words.endswith("never more")


def test_liquids_go_in_with_the_water_and_powders_after_the_pigment():
    assert turn_of(LATEX).words == turn_of(PLASTICIZER).words == "with the water"
    ranks = [turn_of(one).rank for one in (PIGMENT, CEMENT, FUME, POWDER, SAND)]
    assert ranks == sorted(ranks)


def test_wet_sand_is_no_liquid():
    wet = Ingredient("sand", Role.SAND, 2500.0, water_share=0.04, absorbed_share=0.0)
    assert turn_of(wet) == turn_of(SAND)
