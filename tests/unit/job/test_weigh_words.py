"""Scales, rates, moisture and weather are read from words, and told apart."""

from __future__ import annotations

import math

import pytest

from takeoff.errors import MixError, QuantityError
from takeoff.files.mix_file import read_mix
from takeoff.job.weigh_words import (
    read_conditions,
    read_rate_kg_s,
    read_scale,
    read_scales,
    read_stock,
    read_use,
)
from tests.house.walking import ROOT

POURED = read_mix("backer-poured")
NOTHING = dict(at=None, wanted=None, ice=None, gain=None, temperature=None)
NO_WEATHER = (None, None, None)


@pytest.mark.parametrize(
    ("text", "division_kg", "capacity_kg", "name"),
    [
        ("10 g", 0.01, math.inf, "10 g"),
        ("10g to 30kg", 0.01, 30.0, "10g"),
        ("0.5 g up to 2 kg", 0.0005, 2.0, "0.5 g"),
        ("0.01 lb to 100 lb", 0.0045359237, 45.359237, "0.01 lb"),
    ],
)
def test_a_scale_is_its_division_and_what_it_holds(text, division_kg, capacity_kg, name):
    scale = read_scale(text)
    assert scale.division_kg == pytest.approx(division_kg, rel=1e-12)
    assert scale.capacity_kg == pytest.approx(capacity_kg)
    assert scale.name == name


def test_scales_told_go_before_those_of_the_shop():
    shop = ROOT / "samples" / "ferry-hall" / "shop.toml"
    assert [scale.name for scale in read_scales(None, shop)] == ["10 g"]
    assert [scale.name for scale in read_scales(("1 g",), shop)] == ["1 g"]
    assert read_scales(None, None) == ()


@pytest.mark.parametrize(
    ("text", "kg_min"),
    [("125 g in 15 s", 0.5), ("4.75kg/30s", 9.5), ("9.5 kg/min", 9.5), ("1 lb / min", 0.45359237)],
)
def test_a_rate_is_a_mass_in_a_time(text, kg_min):
    assert 60.0 * read_rate_kg_s(text) == pytest.approx(kg_min)


@pytest.mark.parametrize(
    ("text", "refusal"),
    [
        ("125 g", "cannot read '125 g' as a rate"),
        ("125 g in 0 s", "it takes no time"),
        ("125 g in 15 m", "cannot read"),
        ("125 / 15 s", "has no unit"),
    ],
)
def test_what_is_no_rate_is_refused(text, refusal):
    with pytest.raises(QuantityError, match=refusal):
        read_rate_kg_s(text)


def test_moisture_of_the_only_sand_needs_no_name():
    by_name = read_stock(POURED, moisture={"silica-sand": "4 %"}, absorption={"silica-sand": "1 %"})
    assert read_stock(POURED, moisture="4 %", absorption="1 %") == by_name
    assert by_name.doses[1].share == pytest.approx(1.05)
    dry = read_stock(POURED, moisture="-0.5 %", absorption="0.5 %")
    assert dry.doses[1].share == pytest.approx(1.0)


def test_no_moisture_leaves_the_mix_as_it_is():
    assert read_stock(POURED, moisture=None, absorption={}) == POURED


def test_moisture_of_a_sand_not_there_is_refused(tmp_path):
    with pytest.raises(MixError, match="has no sand named beach; its sand: silica-sand"):
        read_stock(POURED, moisture={"beach": "4 %"}, absorption=None)


def test_a_use_is_one_of_two():
    assert read_use(POURED, None) is POURED
    with pytest.raises(MixError, match="'facade' is not one of cladding, other"):
        read_use(POURED, "facade")


def test_ice_is_a_mass_or_a_share():
    at = {"all": "30 C"}
    mass = read_conditions(**{**NOTHING, "at": at, "ice": "2 kg"}, weather=NO_WEATHER)
    part = read_conditions(**{**NOTHING, "at": at, "ice": "25 %"}, weather=NO_WEATHER)
    assert (mass.ice_kg, mass.ice_share) == (2.0, None)
    assert (part.ice_kg, part.ice_share) == (None, 0.25)


@pytest.mark.parametrize(("gain", "gain_c"), [("2 C", 2.0), ("3.6 F", 2.0), ("2K", 2.0)])
def test_a_gain_is_a_difference(gain, gain_c):
    conditions = read_conditions(**{**NOTHING, "gain": gain}, weather=NO_WEATHER)
    assert conditions.gain_c == pytest.approx(gain_c)


@pytest.mark.parametrize(
    ("told", "weather", "refusal"),
    [
        (dict(wanted="18 C"), NO_WEATHER, "ice needs the temperatures of what goes into the mixer"),
        (dict(ice="2 kg"), NO_WEATHER, "ice needs the temperatures"),
        (
            dict(wanted="18 C", ice="2 kg", at={"all": "30 C"}),
            NO_WEATHER,
            "the temperature wanted, or the ice, not both",
        ),
        (
            dict(temperature="18 C", at={"all": "30 C"}),
            NO_WEATHER,
            "the temperature of the mix, or those of its ingredients, not both",
        ),
        ({}, ("30 C", None, "10 km/h"), "drying needs air, humidity and wind, all three"),
    ],
)
def test_what_contradicts_itself_is_refused(told, weather, refusal):
    with pytest.raises(MixError, match=refusal):
        read_conditions(**{**NOTHING, **told}, weather=weather)
