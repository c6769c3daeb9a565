"""Masses are written as the scale shows them, and a mass written so can be read back."""

from __future__ import annotations

import pytest

import takeoff
from takeoff.report.figures import System
from takeoff.report.scale_text import portions_text, running_text, scale_unit, written_reading
from takeoff.units import mass_kg


@pytest.mark.parametrize(
    ("division", "mass", "text"),
    [
        ("10 g", "15.3 kg", "15.30 kg"),
        ("10 g", "121.84 kg", "121.84 kg"),
        ("10 g", "940 g", "940 g"),
        ("1 g", "940 g", "940 g"),
        ("0.1 g", "412.5 g", "412.5 g"),
        ("0.1 g", "1.0004 kg", "1.0004 kg"),
        ("500 g", "36 kg", "36.0 kg"),
        ("1 kg", "36 kg", "36 kg"),
        ("5 kg", "35 kg", "35 kg"),
        ("10 g", "1 kg", "1.00 kg"),
        ("0.01 lb", "33.73 lb", "33.73 lb"),
        ("0.5 lb", "0.5 lb", "0.5 lb"),
        ("1/2 lb", "3 lb", "3.0 lb"),
        ("0.1 oz", "33 lb 11.7 oz", "33 lb 11.7 oz"),
        ("1 oz", "15 oz", "15 oz"),
        ("1/4 oz", "2 lb 3.75 oz", "2 lb 3.75 oz"),
        ("1 oz", "16 oz", "1 lb 0 oz"),
    ],
)
def test_a_reading_has_the_unit_and_the_decimals_of_its_scale(division, mass, text):
    shown = written_reading(mass_kg(mass), division_kg=mass_kg(division), unit=scale_unit(division))
    assert shown == text
    assert mass_kg(shown) == pytest.approx(mass_kg(mass), rel=1e-12)


@pytest.mark.parametrize(
    ("name", "unit"),
    [("0.01lb", "lb"), ("1/4 ounce", "oz"), ("2 lb 3 oz", "oz"), ("10 g", ""), (None, "")],
)
def test_the_unit_is_the_one_the_division_is_told_in(name, unit):
    assert scale_unit(name) == unit


def lines_of(mix="backer-poured", **told):
    """Give the lines of a sheet."""
    return takeoff.weigh(mix, **told).to_dict()["ingredients"]


def test_the_running_total_is_to_the_finest_division():
    lines = lines_of(mass="40 kg", scale=["1 g to 2 kg", "20 g"])
    assert running_text(lines[-1], lines, System.METRIC) == "40.010 kg"


def test_without_a_scale_masses_are_rounded_for_people():
    lines = lines_of(mass="40 kg")
    assert running_text(lines[-1], lines, System.METRIC) == "40 kg"


def test_what_goes_to_the_gun_has_no_running_total():
    lines = lines_of("backer-sprayed", mass="40 kg")
    assert running_text(lines[-1], lines, System.METRIC) == "-"


def test_buckets_are_listed_full_ones_first():
    lines = lines_of(mass="90 kg", scale="10 g", bucket="15 kg")
    texts = [portions_text(line, System.METRIC) for line in lines]
    assert texts[0] == ""
    assert texts[2] == "2 x 15.00 kg + 6.53 kg"
