"""A piece weighs the sum of its parts: wet, cured, and as it is handled."""

from __future__ import annotations

import math

import pytest

from takeoff.errors import LayerVolumeError
from takeoff.job.handling import PartKind, PartMass, piece_weights
from takeoff.notes import NoteCode
from takeoff.report.figures import System

ORIGIN = (0.0, 0.0, 0.0)


def mix(mass_kg, centroid_m=ORIGIN, high_kg=None):
    return PartMass(PartKind.MIX, mass_kg, centroid_m, high_kg)


def codes(notes):
    return [note.code for note in notes]


# By hand: a slab of 1 m x 1 m, face coat 4 (3 to 5) mm of 2000 kg/m3 over 16 mm of 2100 kg/m3,
# on the show face z = 0 and behind it: 8 (6 to 10) kg at z = -2 mm and 33.6 kg at z = -12 mm; a
# pad of 0.5 L, a core of 2 L and 30 kg/m3 in the backer, 4 items of 0.4 kg.
SLAB = (
    mix(0.004 * 2000.0, (0.5, 0.5, -0.002), high_kg=0.005 * 2000.0),
    mix(0.016 * 2100.0, (0.5, 0.5, -0.012)),
    mix(0.0005 * 2100.0, None),
    mix(-0.002 * 2100.0, None),
    PartMass(PartKind.CORE, 0.002 * 30.0),
    PartMass(PartKind.ITEM, 4 * 0.4),
)


def test_a_slab_weighed_by_hand():
    weights = piece_weights(SLAB, name="slab", removed_kg=1.0)
    assert weights.wet_kg == pytest.approx(8.0 + 33.6 + 1.05 - 4.2)
    assert weights.core_kg == pytest.approx(0.06)
    assert weights.items_kg == pytest.approx(1.6)
    assert weights.cured_kg == pytest.approx(38.45 + 0.06 + 1.6 - 1.0)
    assert weights.handling_kg == pytest.approx(38.45 + 2.0 + 0.06 + 1.6)
    assert weights.centre_of_gravity_m == pytest.approx(
        (0.5, 0.5, (8.0 * -0.002 + 33.6 * -0.012) / 41.6)
    )


def test_the_basis_of_the_cured_weight_is_said():
    assert piece_weights(SLAB, removed_kg=1.0).cured_basis == (
        "all mix water kept, as after sealed curing; without 1 kg that finishing takes off; with "
        "60 g of cores; with 1.6 kg of items; a drier piece is lighter"
    )
    assert piece_weights([mix(10.0)]).cured_basis == (
        "all mix water kept, as after sealed curing; a drier piece is lighter"
    )


def test_parts_whose_place_nobody_told_are_noted():
    (note,) = piece_weights(SLAB, name="slab").doubts
    assert note.code is NoteCode.PLACE_UNTOLD
    assert note.where == "slab"
    assert note.text == (
        "the centre of gravity leaves out 1.05 kg of mix, 4.2 kg of mix displaced, 60 g of cores, "
        "1.6 kg of items: nobody told where they are"
    )


def test_a_piece_of_placed_parts_leaves_no_doubt():
    weights = piece_weights([mix(3.0, (0.0, 0.0, 0.0)), mix(1.0, (4.0, 0.0, 0.0))])
    assert weights.centre_of_gravity_m == pytest.approx((1.0, 0.0, 0.0))
    assert (weights.note, weights.doubts) == (None, ())


def test_where_no_place_is_known_there_is_no_centre_of_gravity():
    assert piece_weights([mix(3.0, None)]).centre_of_gravity_m is None
    assert piece_weights([]).centre_of_gravity_m is None


def test_a_form_weighs_in_only_where_the_piece_is_turned_in_it():
    assert piece_weights([mix(15.0)], form_kg=40.0).handling_kg == 15.0
    turned = piece_weights([mix(15.0)], turned=True, form_kg=40.0)
    assert (turned.wet_kg, turned.cured_kg, turned.handling_kg) == (15.0, 15.0, 55.0)
    assert turned.note.code is NoteCode.HEAVY
    assert turned.doubts == ()


def test_a_form_that_nobody_weighed_is_noted():
    weights = piece_weights([mix(15.0)], name="tile", turned=True)
    assert (weights.handling_kg, weights.note) == (15.0, None)
    (note,) = weights.doubts
    assert (note.code, note.where) == (NoteCode.FORM_NOT_WEIGHED, "tile")
    assert "the handling weight of 15 kg does not include it; with it" in note.text
    assert "it may well be above 23 kg (51 lb)" in note.text
    heavy = piece_weights([mix(50.0)], turned=True)
    assert codes([heavy.note, *heavy.doubts]) == [NoteCode.HEAVY, NoteCode.FORM_NOT_WEIGHED]
    assert "may well be" not in heavy.doubts[0].text


def test_the_heaviest_that_a_piece_may_come_out_at_decides():
    assert piece_weights([mix(22.0)]).note is None
    assert piece_weights([mix(22.0, high_kg=24.0)]).note.code is NoteCode.HEAVY


def test_notes_are_written_in_the_units_of_the_job():
    weights = piece_weights([mix(71.0)], system=System.US)
    assert weights.note.text.startswith("handled at 156.5 lb, above 23 kg (51 lb)")


@pytest.mark.parametrize(
    ("parts", "told", "words"),
    [
        ([mix(2.0), mix(-3.0, None)], {}, "cores displace 1 kg more mix than the piece holds"),
        ([mix(2.0)], {"removed_kg": 2.5}, "finishing cannot take 2.5 kg off a piece with 2 kg"),
        ([mix(2.0)], {"removed_kg": -1.0}, "finishing cannot take -1 kg off"),
        ([mix(2.0)], {"removed_kg": math.nan}, "finishing cannot take nan kg off"),
        ([mix(2.0)], {"form_kg": -1.0}, "a form of -1 kg is none"),
        ([mix(2.0)], {"form_kg": math.inf, "turned": True}, "a form of inf kg is none"),
    ],
)
def test_what_leaves_no_piece_is_refused(parts, told, words):
    with pytest.raises(LayerVolumeError, match=words):
        piece_weights(parts, **told)


@pytest.mark.parametrize(
    ("kind", "mass_kg", "high_kg"),
    [
        (PartKind.CORE, -0.1, None),
        (PartKind.ITEM, -0.1, None),
        (PartKind.MIX, math.nan, None),
        (PartKind.MIX, 1.0, math.inf),
    ],
)
def test_a_part_of_no_mass_is_refused(kind, mass_kg, high_kg):
    with pytest.raises(LayerVolumeError, match=f"cannot be that of {kind} in a piece"):
        PartMass(kind, mass_kg, high_kg=high_kg)
