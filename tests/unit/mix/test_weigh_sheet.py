"""The sheet counts everything from the masses that are really weighed."""

from __future__ import annotations

import pytest

from takeoff.mix.addition import WaterPart
from takeoff.mix.ingredients import Ingredient, Role
from takeoff.mix.weigh_sheet import Charge, weigh_sheet
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
    mortar,
)

MASSES = {
    FIBRE: 1.0,
    SAND: 12.0,
    POWDER: 0.5,
    FUME: 1.0,
    CEMENT: 10.0,
    PIGMENT: 0.4,
    PLASTICIZER: 0.1,
    LATEX: 2.0,
    WATER: 2.4,
}


def sheet_of(masses_kg):
    """Count a sheet from plain masses."""
    return weigh_sheet(mortar(), [Charge(*pair) for pair in masses_kg.items()])


def test_lines_stand_in_the_order_of_addition():
    names = [line.name for line in sheet_of(MASSES).lines]
    assert names[0] == "water"
    assert set(names[1:3]) == {"plasticizer", "latex"}
    assert names[3:] == ["pigment", "cement", "fume", "polymer powder", "sand", "fibre"]


def test_the_running_total_follows_the_order():
    lines = sheet_of(MASSES).lines
    totals_kg = [line.running_kg for line in lines]
    assert totals_kg[0] == lines[0].mass_kg
    assert totals_kg == sorted(totals_kg)
    assert totals_kg[-1] == pytest.approx(sum(MASSES.values()))


def test_three_parts_of_the_water_are_three_lines():
    parts = [(WaterPart.HELD_BACK, 0.4), (WaterPart.FIRST, 2.0), (WaterPart.ICE, 1.0)]
    charges = [Charge(WATER, mass_kg, water=part) for part, mass_kg in parts]
    sheet = weigh_sheet(mortar(), [Charge(CEMENT, 10.0), *charges])
    assert [line.name for line in sheet.lines] == ["water", "ice", "cement", "held-back water"]
    assert [line.held_back for line in sheet.lines] == [False, False, False, True]
    assert sheet.water_total_kg == pytest.approx(3.4)
    assert sheet.water_to_add_kg == pytest.approx(2.4)


def test_fibre_at_the_gun_is_in_the_sheet_and_not_in_the_mixer():
    sheet = weigh_sheet(
        mortar(), [Charge(CEMENT, 10.0), Charge(WATER, 4.0), Charge(FIBRE, 0.7, at_gun=True)]
    )
    assert (sheet.mass_kg, sheet.mixer_kg) == (pytest.approx(14.7), pytest.approx(14.0))
    assert [line.is_last for line in sheet.lines] == [False, False, True]


def test_each_line_says_when():
    words = {line.name: line.when for line in sheet_of(MASSES).lines}
    assert words["water"] == "first, into the mixer"
    assert words["latex"] == words["plasticizer"] == "with the water"
    assert words["fibre"] == "last, slowly, only until mixed through"


def test_water_is_counted_wherever_it_is():
    sheet = sheet_of(MASSES)
    # 2.4 from the tap, 52 % of 2.0 latex, 60 % of 0.1 plasticizer.
    assert sheet.water_to_add_kg == pytest.approx(2.4)
    assert sheet.water_total_kg == pytest.approx(2.4 + 1.04 + 0.06)
    assert sheet.water_cement_ratio == pytest.approx(0.35)
    assert sheet.water_binder_ratio == pytest.approx(3.5 / 11.0)


def test_all_three_shares_are_given():
    shares = {line.name: line.shares for line in sheet_of(MASSES).lines}
    # Dry: 10 cement, 1 fume, 12 sand, 0.5 powder. In all: 29.4.
    assert shares["fibre"].of_dry == pytest.approx(1.0 / 23.5)
    assert shares["fibre"].of_cement == pytest.approx(0.1)
    assert shares["fibre"].of_total == pytest.approx(1.0 / 29.4)


def test_what_a_premix_hides_is_not_told():
    premix = Ingredient("premix", Role.PREMIX, 2700.0)
    sheet = sheet_of({premix: 25.0, WATER: 4.0, FIBRE: 0.75})
    assert sheet.water_cement_ratio is None
    assert sheet.water_binder_ratio is None
    assert [line.shares.of_cement for line in sheet.lines] == [None, None, None]
    assert sheet.lines[-1].shares.of_dry == pytest.approx(0.03)


def test_what_the_bag_tells_is():
    premix = Ingredient("premix", Role.PREMIX, 2700.0, cement_share=0.5)
    sheet = sheet_of({premix: 25.0, WATER: 4.0})
    assert sheet.water_cement_ratio == pytest.approx(0.32)
    assert sheet.water_binder_ratio is None
