"""What is above 23 kg (51 lb) is noted, and never with a number of people."""

from __future__ import annotations

import re
from decimal import Decimal

import pytest

from takeoff.job.lifting import heavy_packs_note, heavy_piece_note, lifting_words, passed_23kg
from takeoff.notes import NoteCode
from takeoff.pricing.packs import Pack
from takeoff.report.figures import System


def pack(ingredient, mass_kg):
    return Pack(ingredient, mass_kg, f"{mass_kg:g} kg", Decimal("9.50"))


@pytest.mark.parametrize(
    ("mass_kg", "passed"),
    [
        (0.0, False),
        (22.68, False),  # a bag of 50 lb
        (23.0, False),
        (10 * 2.3, False),
        (11.5 + 11.4 + 0.1, False),
        (23.01, True),
        (25.0, True),
        (42.6, True),
    ],
)
def test_the_load_constant_itself_is_not_passed(mass_kg, passed):
    assert passed_23kg(mass_kg) is passed


def test_all_heavy_packs_stand_in_one_note():
    note = heavy_packs_note(
        [pack("white-cement", 25.0), pack("fibre", 10.0), pack("silica-sand", 50.0)]
    )
    assert note.code is NoteCode.HEAVY
    assert note.text.startswith("packs of white-cement (25 kg), silica-sand (50 kg) are above")


def test_a_pack_that_comes_up_twice_is_named_once():
    note = heavy_packs_note([pack("white-cement", 25.0), pack("white-cement", 25.0)])
    assert note.text.count("white-cement") == 1


def test_light_packs_are_not_noted():
    assert heavy_packs_note([pack("fibre", 10.0), pack("sand", 23.0)]) is None


@pytest.mark.parametrize(("system", "weighed"), [(System.METRIC, "71 kg"), (System.US, "156.5 lb")])
def test_a_heavy_piece_is_noted_with_what_is_not_computed(system, weighed):
    note = heavy_piece_note("bench", 71.0, system=system)
    assert note.code is NoteCode.HEAVY
    assert note.where == "bench"
    assert re.fullmatch(
        rf"handled at {weighed}, above 23 kg \(51 lb\), .* mechanical handling or an assessed team "
        r"lift, local rules; lifting points, suction and early strength are not computed",
        note.text,
    )


def test_a_light_piece_is_not_noted():
    assert heavy_piece_note("tile", 23.0, system=System.METRIC) is None


def test_no_number_of_people_is_said():
    numbers = re.findall(r"\d+", lifting_words())
    assert numbers == ["23", "51", "94", "110"]
    assert "one person under ideal conditions" in lifting_words()
