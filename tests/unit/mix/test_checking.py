"""Slips of the pen are found, and said where they stand; sound mixes pass."""

from __future__ import annotations

from dataclasses import replace

import pytest

from takeoff.mix.checking import mix_faults, mix_notes
from takeoff.mix.ingredients import Ingredient, Role
from takeoff.mix.mix_rules import MixRules
from takeoff.mix.mixes import Bag, Placing
from takeoff.notes import Note, NoteCode
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
    SAND,
    mix_of,
    mortar,
)

BAG = Bag(mass_kg=25.0, yield_m3=0.0135)
LIGHT = Ingredient("premix", Role.PREMIX, 840.0)


def test_a_sound_mix_has_no_fault():
    assert mix_faults(mortar((FIBRE, 0.05, OF_TOTAL), (PIGMENT, 0.1, OF_CEMENT))) == ()


@pytest.mark.parametrize(
    ("mix", "about", "text"),
    [
        (mortar(water=(33.0, OF_CEMENT)), "water", "water is 33 times the cement; at most 1.2"),
        (mortar(water=(0.033, OF_CEMENT)), "water", "less than 0.1 is not credible"),
        (mortar(air_share=0.5), "air", "air is 50 % of the volume; at most 30 %"),
        (mortar((FIBRE, 0.3, OF_TOTAL)), "fibre", "fibre would be 30 % of the total mass; at most"),
        (mortar((PIGMENT, 0.5, OF_DRY)), "pigment", "at most 15 % is credible for a pigment"),
        (mortar((PLASTICIZER, 0.2, OF_DRY)), "plasticizer", "credible for a plasticizer"),
        (mortar((LATEX, 3.0, OF_CEMENT), water=(1.9, OF_CEMENT)), "latex", "for a polymer"),
        (mortar((FUME, 4.0, OF_CEMENT)), "fume", "at most 50 % is credible for a pozzolan"),
        (
            mix_of((CEMENT, 1.0, OF_CEMENT), (SAND, 50.0, OF_CEMENT), water=(1.0, OF_CEMENT)),
            "sand",
            "at most 90 % is credible for a sand",
        ),
        (
            mortar((replace(PIGMENT, density_kg_m3=4.8), 0.02, OF_DRY)),
            "pigment",
            "the density of pigment is 4.8 kg/m3; only 100 to 8000 kg/m3 is credible",
        ),
        (
            mix_of((LIGHT, 1.0, OF_DRY), water=(0.16, OF_DRY), bag=BAG),
            "premix",
            "only 1000 to 3500 kg/m3 is credible; check mass, yield, water and air of the bag",
        ),
        (
            mix_of(
                (replace(LIGHT, density_kg_m3=2700.0), 1.0, OF_DRY), water=(2.0, OF_DRY), bag=BAG
            ),
            "water",
            "water is 2 times the dry mass",
        ),
        (mix_of((CEMENT, 0.9, OF_CEMENT)), "", "the cements add up to 90 % of cement"),
        (mortar((LATEX, 0.8, OF_CEMENT)), "water", "the liquids alone bring"),
    ],
    ids=lambda value: value if isinstance(value, str) else "",
)
def test_a_slip_is_found_and_placed(mix, about, text):
    faults = mix_faults(mix)
    assert [fault.about for fault in faults if text in fault.text] == [about]


def test_all_slips_are_found_at_once():
    faults = mix_faults(mortar((FIBRE, 0.3, OF_TOTAL), air_share=0.5, water=(4.0, OF_CEMENT)))
    assert [fault.about for fault in faults] == ["air", "water", "fibre"]


def test_the_limits_are_rules():
    foam = mortar(air_share=0.5)
    assert mix_faults(foam, rules=MixRules(air_share=0.6)) == ()


def limits_of(mix):
    """Give the notes on what it lacks."""
    return [note for note in mix_notes(mix) if note.code is NoteCode.MIX_LIMIT]


def test_a_pour_without_plasticizer_is_noted():
    (note,) = limits_of(mortar(placing=Placing.POURED))
    assert "no standard gives one" in note.text


def test_other_placings_plasticized_pours_and_bags_are_not():
    bagged = mix_of(
        (replace(LIGHT, density_kg_m3=2700.0), 1.0, OF_DRY),
        water=(0.16, OF_DRY),
        placing=Placing.POURED,
        bag=BAG,
    )
    poured = mortar((PLASTICIZER, 0.005, OF_DRY), placing=Placing.POURED)
    assert [limits_of(mix) for mix in (bagged, poured, mortar())] == [[], [], []]


def test_the_notes_of_a_mix_are_kept():
    own = Note(NoteCode.FROM_MEMORY, "figures from memory")
    assert mix_notes(replace(mortar(), notes=(own,)))[0] == own
