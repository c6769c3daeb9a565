"""A weigh sheet in its weather: ice, setting, drying, coat and spray station, and their doubts."""

from __future__ import annotations

import pytest
from pydantic import TypeAdapter

import takeoff
from takeoff.documents import WeighDocument
from takeoff.errors import MixError
from takeoff.notes import NoteCode

HOT = {"all": "32 C", "water": "15 C"}


def sheet_of(mix="backer-poured", **told):
    """Weigh 40 kg, and check the document on the way."""
    sheet = takeoff.weigh(mix, mass="40 kg", **told)
    document = sheet.to_dict()
    TypeAdapter(WeighDocument).validate_python(document)
    return document


def notes_of(document, code):
    """Give the words of the notes of one code."""
    return [note["text"] for note in document["notes"] if note["code"] == code.value]


def mass_of(document, name):
    """Give the mass of one line."""
    return sum(row["mass_kg"] for row in document["ingredients"] if row["name"] == name)


def test_by_hand_the_mix_without_ice():
    # 40 kg: fibre 1.2, cement and sand 38.8/2.39 = 16.234310, dispersion 2.029289 (0.974059
    # solids, 1.055230 water), water 4.302092. Heat capacities: solids 34.642678 x 0.92 =
    # 31.871264, water of the dispersion 1.055230 x 4.184 = 4.415082, water 17.999953 kJ/K.
    # (36.286346 x 32 + 17.999953 x 15)/54.286299 = 26.3633.
    heat = sheet_of(at=HOT)["heat"]
    assert heat["mix_c"] == pytest.approx(26.3633, abs=1e-3)
    assert (heat["ice_kg"], heat["unmelted_kg"], heat["told"]) == (0.0, 0.0, False)


def test_the_ice_wanted_brings_the_mix_to_what_is_wanted():
    document = sheet_of(at=HOT, wanted="20 C")
    ice_kg = mass_of(document, "ice")
    # (26.3633 - 20) x 54.286299 / (333.43 + 15 x 4.184) = 0.8719.
    assert ice_kg == pytest.approx(0.8719, abs=1e-3)
    assert document["heat"]["mix_c"] == pytest.approx(20.0, abs=1e-9)
    assert document["heat"]["ice_share_of_water"] == pytest.approx(
        ice_kg / document["water_total_kg"]
    )
    assert notes_of(document, NoteCode.MIX_TEMPERATURE) == []


def test_ice_is_part_of_the_water_and_moves_nothing_else():
    plain, iced = sheet_of(at=HOT, scale="10 g"), sheet_of(at=HOT, wanted="20 C", scale="10 g")
    assert iced["water_total_kg"] == pytest.approx(plain["water_total_kg"])
    assert iced["water_to_add_kg"] + iced["heat"]["ice_kg"] == pytest.approx(
        plain["water_to_add_kg"]
    )
    assert iced["volume_m3"] == pytest.approx(plain["volume_m3"])
    names = [row["name"] for row in iced["ingredients"]]
    assert names[:2] == ["water", "ice"]
    assert [row["name"] for row in iced["ingredients"] if row["held_back"]] == ["held-back water"]
    assert iced["heat"]["mix_c"] == pytest.approx(20.0, abs=0.05)


def test_there_is_no_ice_by_default():
    assert mass_of(sheet_of(at={"all": "45 C"}), "ice") == 0.0


def test_warming_on_the_way_is_made_up_for():
    without, with_gain = (sheet_of(at=HOT, wanted="20 C", gain=gain) for gain in (None, "2 C"))
    assert mass_of(with_gain, "ice") > mass_of(without, "ice")
    assert with_gain["heat"]["mix_c"] == pytest.approx(20.0, abs=1e-9)


def test_cold_ice_is_less_ice():
    cold = sheet_of(at={**HOT, "ice": "-15 C"}, wanted="20 C")
    assert mass_of(cold, "ice") < mass_of(sheet_of(at=HOT, wanted="20 C"), "ice")


def test_much_ice_is_noted():
    (text,) = notes_of(sheet_of(at=HOT, wanted="12 C"), NoteCode.MIX_TEMPERATURE)
    assert "of all water is ice; the balance is trusted to about 20 % (Jabbar 2017)" in text


def test_common_practice_no_source_of_a_quarter_as_ice():
    # About a quarter of the mix water as ice in warm weather: 0.3257 x 4.302092 = 1.401191 kg,
    # which cool by 1.401191 x (333.43 + 30 x 4.184)/54.286299 = 11.846 K.
    document = sheet_of(at={"all": "30 C"}, ice="32.57 %")
    assert document["heat"]["ice_share_of_water"] == pytest.approx(0.2615, abs=1e-3)
    assert 30.0 - document["heat"]["mix_c"] == pytest.approx(11.846, abs=1e-3)


def test_ice_that_does_not_melt_is_reported_and_the_mix_is_at_zero():
    document = sheet_of(at={"all": "12 C"}, ice="100 %")
    assert document["heat"]["mix_c"] == 0.0
    # 36.286346 x 12 = 435.436 kJ melt 1.3059 of 4.3021 kg.
    assert document["heat"]["unmelted_kg"] == pytest.approx(4.3021 - 1.3059, abs=1e-3)
    texts = notes_of(document, NoteCode.MIX_TEMPERATURE)
    assert texts[0].startswith("3 kg of the 4.3 kg of ice finds no heat to melt: a slush at 0 C")
    assert "at most 75 % is published" in texts[1]


def test_what_ice_cannot_reach_is_refused():
    # (36.286346 x 45 - 4.302092 x 333.43)/54.286299 = 3.66.
    with pytest.raises(
        MixError, match=r"all 4.302 kg of water to add as ice bring it to 3.7 C, not"
    ):
        sheet_of(at={"all": "45 C"}, wanted="2 C")


def test_a_mix_colder_than_wanted_gets_no_ice_and_is_told_of_warm_water():
    document = sheet_of(at={"all": "10 C"}, wanted="18 C")
    assert mass_of(document, "ice") == 0.0
    (text,) = notes_of(document, NoteCode.MIX_TEMPERATURE)
    # 8 K x 36.286346 / 17.999953 = 16.13 K above 18 C.
    assert text.startswith(
        "comes to 10.0 C by itself, colder than the 18 C wanted; that takes wate"
    )
    assert text.endswith("water of 34 C")


@pytest.mark.parametrize(
    ("told", "refusal"),
    [
        (dict(at={"sand": "30 C"}), "the temperature of water is not told, only of sand"),
        (dict(at={"all": "30 C", "gravel": "20 C"}), "a temperature is told of 'gravel', which"),
        (dict(at={"all": "30 C", "ice": "3 C"}, ice="1 kg"), "ice cannot be at 3 C"),
        (dict(at={"all": "-5 C"}), "water at -5 C is ice; tell water=5C"),
        (dict(at={"all": "30 C"}, wanted="1 C", gain="3 C"), "a mix cannot come to -2 C"),
        (
            dict(at={"all": "30 C"}, ice="5 kg"),
            "5 kg of ice cannot be taken from 4.302 kg of water",
        ),
        (
            dict(air="30 C", humidity="40 %", wind="5 m/s"),
            "drying needs the temperature of the mix",
        ),
    ],
)
def test_what_is_not_enough_is_refused(told, refusal):
    with pytest.raises(MixError, match=f"backer-poured: {refusal}"):
        sheet_of(**told)


@pytest.mark.parametrize(
    ("told", "refusal"),
    [
        (dict(temperature="-5 C"), "a fresh mix is at 0 to 60 C, found -5 C"),
        (dict(temperature="86 C"), "a fresh mix is at 0 to 60 C, found 86 C"),
        (dict(at={"cement": "150 C"}), "cement at 150 C is not credible; -40 to 100 C is"),
        (dict(at={"water": "-2 C"}), "water at -2 C is not credible; 0 to 100 C is"),
        (dict(at={"all": "30 C"}, gain="35 C"), "a gain of 35 K is not credible"),
    ],
)
def test_temperatures_that_can_only_be_slips_are_refused(told, refusal):
    with pytest.raises(MixError, match=refusal):
        sheet_of(**told)


MIX_WITH_TIMES = """\
name = "timed"
layer = "backer"
placing = "packed"
pot_life = "30 min"
wait = "60 min"
water = { w_c = 0.35 }
air = { share = "5 %" }

[[dose]]
ingredient = "grey-cement"
share = "100 %"
basis = "of_cement"

[[dose]]
ingredient = "silica-sand"
share = "100 %"
basis = "of_cement"
"""


@pytest.fixture
def timed(tmp_path):
    """Write a mix without polymer that states its times."""
    path = tmp_path / "timed.toml"
    path.write_text(MIX_WITH_TIMES, encoding="utf-8")
    return path


def test_heat_shortens_the_pot_life_and_no_wait(timed):
    heat = sheet_of(timed, temperature="30 C")["heat"]
    # exp(4811 (1/303.15 - 1/293.15)) = 0.582
    assert heat["setting_ratio"] == pytest.approx(0.582, abs=0.001)
    assert heat["pot_life_s"] == pytest.approx(1800.0 * heat["setting_ratio"])
    assert heat["wait_s"] == 3600.0


def test_cold_lengthens_the_wait_and_no_pot_life(timed):
    heat = sheet_of(timed, temperature="10 C")["heat"]
    assert heat["setting_ratio"] == pytest.approx(1.785, abs=0.001)
    assert heat["pot_life_s"] == 1800.0
    assert heat["wait_s"] == pytest.approx(3600.0 * heat["setting_ratio"])


WEATHER = dict(temperature="28 C", air="28 C", humidity="50 %", wind="15 km/h")


def test_polymer_is_to_be_watched_at_half_the_rate(timed):
    # 46^2.5 = 14351.1, half of it times 19, times 5e-6: 0.68 kg/m2 h.
    with_polymer, without = sheet_of(**WEATHER), sheet_of(timed, **WEATHER)
    assert with_polymer["drying"]["rate_kg_m2_h"] == pytest.approx(0.6817, abs=1e-4)
    assert without["drying"]["rate_kg_m2_h"] == with_polymer["drying"]["rate_kg_m2_h"]
    assert (with_polymer["drying"]["limit_kg_m2_h"], without["drying"]["limit_kg_m2_h"]) == (0.5, 1)
    (text,) = notes_of(with_polymer, NoteCode.DRYING)
    assert text.startswith("dries at 0.68 kg/m2 h, 0.5 or more may crack it")
    assert "equation of Uno 1998" in text
    assert notes_of(without, NoteCode.DRYING) == []


def test_silica_fume_is_to_be_watched_like_polymer(tmp_path):
    path = tmp_path / "fume.toml"
    dose = '\n[[dose]]\ningredient = "silica-fume"\nshare = "8 %"\nbasis = "of_cement"\n'
    path.write_text(MIX_WITH_TIMES + dose, encoding="utf-8")
    assert len(notes_of(sheet_of(path, **WEATHER), NoteCode.DRYING)) == 1


def test_a_coat_is_weighed_by_its_area():
    coat = sheet_of("face-coat-sprayed", coat="4 mm")["coat"]
    assert coat["mass_kg_m2"] == pytest.approx(4.0 * 2.083617, abs=1e-5)
    assert coat["mass_range_kg_m2"] is None


def test_the_tolerance_for_cladding_is_one_sided():
    document = sheet_of(coat="16 mm", use="cladding")
    span = document["coat"]["mass_range_kg_m2"]
    assert span["low"] == span["aimed"] == document["coat"]["mass_kg_m2"]
    assert span["high"] == pytest.approx(span["aimed"] * 22.0 / 16.0)
    (text,) = [text for text in notes_of(document, NoteCode.MIX_LIMIT) if "thickness" in text]
    assert "6 mm over and 0 mm under for cladding (UFGS 02870): 16 mm is the least" in text


def test_a_spray_station_is_held_against_the_mix():
    document = sheet_of("backer-sprayed", slurry="4.75 kg in 30 s", glass="125 g in 15 s")
    spray = document["spray"]
    assert spray["fibre_share"] == pytest.approx(0.05)
    assert 60.0 * spray["wanted_glass_kg_s"] == pytest.approx(0.5)
    assert notes_of(document, NoteCode.SPRAY_OFF) == []


def test_a_spray_station_that_is_off_is_noted():
    told = dict(slurry="4.75 kg in 30 s", glass="110 g in 15 s")
    (text,) = notes_of(sheet_of("backer-sprayed", **told), NoteCode.SPRAY_OFF)
    assert text == "the spray station gives 4.43 % of fibre, the mix has 5 %: set it anew"


def test_the_bucket_alone_says_how_much_fibre_to_chop():
    spray = sheet_of("backer-sprayed", slurry="9.5 kg/min")["spray"]
    assert (spray["glass_kg_s"], spray["fibre_share"]) == (None, None)
    assert 60.0 * spray["wanted_glass_kg_s"] == pytest.approx(0.5)


@pytest.mark.parametrize(
    ("mix", "told", "refusal"),
    [
        ("backer-poured", dict(slurry="9.5 kg/min"), "no fibre of it is chopped at the gun"),
        ("backer-sprayed", dict(glass="125 g in 15 s"), "the bag alone says nothing"),
    ],
)
def test_a_spray_station_that_is_none_is_refused(mix, told, refusal):
    with pytest.raises(MixError, match=f"{mix}: {refusal}"):
        sheet_of(mix, **told)


def test_every_scale_is_named_on_its_line():
    document = sheet_of(scale=["1 g to 2 kg", "20 g to 60 kg"])
    scales = {row["name"]: row["scale"] for row in document["ingredients"]}
    assert scales["ar-glass-fibre"] == "1 g"
    assert scales["white-cement"] == "20 g"


def test_buckets_hold_what_they_hold():
    document = sheet_of(scale="10 g", bucket="7.5 kg")
    (cement,) = [row for row in document["ingredients"] if row["name"] == "white-cement"]
    assert [(one["count"], one["mass_kg"]) for one in cement["portions"]] == [(2, 7.5), (1, 1.23)]


def test_the_share_held_back_can_be_told():
    document = sheet_of(hold_back="25 %", scale="10 g")
    assert mass_of(document, "held-back water") == pytest.approx(1.08)
    assert mass_of(sheet_of(hold_back="0 %"), "held-back water") == 0.0


def test_doses_outside_published_ranges_are_noted(timed):
    texts = notes_of(sheet_of(timed), NoteCode.MIX_LIMIT)
    assert [text.split(";")[0] for text in texts] == [
        "polymer solids of cement is 0 %",
        "glass fibre of total is 0 %",
    ]


def test_the_settings_hold_every_word():
    settings = sheet_of(at=HOT, wanted="20 C", scale="10 g")["settings"]
    assert settings["at"] == HOT
    assert (settings["wanted"], settings["scale"], settings["mass"]) == ("20 C", "10 g", "40 kg")
