"""A mix outside a published range is noted, with the range and its source; inside it is not."""

from __future__ import annotations

from dataclasses import replace

import pytest

from takeoff.files.shipped import shipped_limits
from takeoff.mix.ingredients import FibreKind, Ingredient, Role
from takeoff.mix.limits import Figure, Limit, limit_notes
from takeoff.mix.mixes import Bag, MixLayer, Placing, Use
from takeoff.mix.moisture import Moisture, on_stock
from takeoff.notes import NoteCode
from tests.unit.mix.making import (
    CEMENT,
    FIBRE,
    LATEX,
    OF_CEMENT,
    OF_DRY,
    OF_TOTAL,
    PIGMENT,
    SAND,
    mix_of,
    mortar,
)

LIMITS = shipped_limits().limits


def notes_of(mix):
    """Give the words of the notes."""
    notes = limit_notes(mix, LIMITS)
    assert {note.code for note in notes} <= {NoteCode.MIX_LIMIT}
    return [note.text for note in notes]


def backer(*, water=0.33, sand=1.0, latex=0.125, fibre=0.03, placing=Placing.POURED, pigment=0.0):
    """Make a backer by its figures."""
    doses = [(CEMENT, 1.0, OF_CEMENT), (SAND, sand, OF_CEMENT), (LATEX, latex, OF_CEMENT)]
    doses += [(FIBRE, fibre, OF_TOTAL)] if fibre else []
    doses += [(PIGMENT, pigment, OF_CEMENT)] if pigment else []
    return mix_of(*doses, water=(water, OF_CEMENT), placing=placing)


def test_a_mix_inside_every_range_is_not_noted():
    assert notes_of(backer()) == []


@pytest.mark.parametrize(
    ("figures", "text"),
    [
        (dict(water=0.41), "water:cement is 0.41; published: 0.3 to 0.4 (GRCA specification, from"),
        (dict(water=0.29), "water:cement is 0.29; published: 0.3 to 0.4"),
        (dict(sand=1.6), "sand:cement is 1.6; published: 0.5 to 1.5"),
        (dict(sand=0.4), "sand:cement is 0.4; published"),
        (dict(latex=0.2), "polymer solids of cement is 9.6 %; published: 4 % to 7 %"),
        (dict(latex=0.05), "polymer solids of cement is 2.4 %"),
        (dict(fibre=0.036), "glass fibre of total is 3.6 %; published: 2 % to 3.5 %"),
        (dict(fibre=0.0), "glass fibre of total is 0 %"),
        (
            dict(fibre=0.03, placing=Placing.SPRAYED),
            "published: 4 % to 5.5 % (GRCA specification, s",
        ),
        (dict(pigment=0.11), "pigment of cement is 11 %; published: at most 10 % (ASTM C979"),
    ],
)
def test_a_figure_outside_is_noted_with_its_range_and_source(figures, text):
    (found,) = notes_of(backer(**figures))
    assert text in found


@pytest.mark.parametrize(
    "figures",
    [
        dict(water=0.4),
        dict(water=0.3),
        dict(sand=1.5),
        dict(latex=0.07 / 0.48),
        dict(fibre=0.035),
        dict(fibre=0.02),
        dict(pigment=0.1),
        dict(fibre=0.055, placing=Placing.SPRAYED),
    ],
)
def test_the_ends_of_a_range_are_inside(figures):
    assert notes_of(backer(**figures)) == []


def test_three_percent_of_fibre_is_asked_of_cladding_only():
    thin = backer(fibre=0.025)
    assert notes_of(thin) == []
    (text,) = notes_of(replace(thin, use=Use.CLADDING))
    assert (
        text == "glass fibre of total is 2.5 %; published: at least 3 % for cladding (UFGS 02870)"
    )


def test_fibre_is_counted_of_total_whatever_the_dose_names():
    # 3.2 % of dry is 2.7 % of total or less; the limit for cladding is 3 % of total.
    of_dry = mix_of(
        (CEMENT, 0.5, OF_DRY),
        (SAND, 0.5, OF_DRY),
        (LATEX, 0.125, OF_CEMENT),
        (FIBRE, 0.032, OF_DRY),
        placing=Placing.POURED,
    )
    (text,) = notes_of(replace(of_dry, use=Use.CLADDING))
    assert "glass fibre of total is 2.6" in text


def test_ranges_for_glass_say_nothing_of_other_fibre_or_of_a_face_coat():
    pva = Ingredient("pva", Role.FIBRE, 1300.0, fibre=FibreKind.PVA)
    soft = mortar((LATEX, 0.125, OF_CEMENT), (pva, 0.013, OF_TOTAL), placing=Placing.POURED)
    assert notes_of(soft) == []
    face = replace(backer(fibre=0.0, placing=Placing.SPRAYED), layer=MixLayer.FACE_COAT)
    assert notes_of(face) == []


def test_what_a_bag_does_not_tell_is_not_judged():
    premix = Ingredient("premix", Role.PREMIX, 2700.0)
    bagged = mix_of((premix, 1.0, OF_DRY), water=(0.12, OF_DRY), bag=Bag(25.0, 0.0135))
    assert notes_of(bagged) == []
    fibred = mix_of(
        (premix, 1.0, OF_DRY), (FIBRE, 0.01, OF_DRY), water=(0.12, OF_DRY), bag=Bag(25.0, 0.0135)
    )
    (text,) = notes_of(fibred)
    assert text.startswith("glass fibre of total is 0.885 %")


def test_water_on_sand_is_no_sand():
    wet = on_stock(backer(sand=1.45), {"sand": Moisture(free_share=0.06)})
    assert notes_of(wet) == []


def test_an_open_range_says_which_end_it_has():
    least = Limit(Figure.GLASS, 0.03, None, "a standard", seen=False)
    assert least.said == "published: at least 3 % (a standard, from memory)"
    assert least.holds(0.9)
    assert not least.holds(0.02)
