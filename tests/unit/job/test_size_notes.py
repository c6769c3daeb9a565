"""A piece that exceeds what the shop holds or moves is noted, with by how much."""

from __future__ import annotations

import numpy as np
import pytest
import trimesh

from takeoff.geometry.mesh import Mesh
from takeoff.job.size_notes import lying_sizes_m, size_notes
from takeoff.notes import NoteCode
from takeoff.piece.casting import classify_castings
from takeoff.piece.classifying import classify
from takeoff.piece.surfaces import ModelKind
from takeoff.report.figures import System

UP = np.array([0.0, 0.0, 1.0])


def texts(**told):
    return [note.text for note in size_notes("panel", **{"handling_kg": 50.0, **told})]


@pytest.mark.parametrize("room_m", [(3.2, 1.5), (1.5, 3.2)])
@pytest.mark.parametrize(
    ("size_m", "told"),
    [
        ((3.2, 1.5), None),
        ((3.2 + 1e-7, 1.5), None),  # the seventh digit of a drawing
        ((1.2, 0.8), None),
        ((3.4, 1.2), "lies 3400 x 1200 mm; max_piece is 3200 x 1500 mm: 200 mm too long"),
        ((3.0, 1.6), "lies 3000 x 1600 mm; max_piece is 3200 x 1500 mm: 100 mm too wide"),
        (
            (12.5, 1.6),
            "lies 12.5 m x 1600 mm; max_piece is 3200 x 1500 mm: 9300 mm too long, 100 mm too wide",
        ),
    ],
)
def test_both_sides_are_held_against_the_room_either_way_round(size_m, room_m, told):
    assert texts(sizes_m=[size_m], max_piece_m=room_m) == ([] if told is None else [told])


def test_a_piece_that_fits_one_way_is_not_noted():
    assert texts(sizes_m=[(3.6, 1.0), (3.1, 1.4)], max_piece_m=(3.2, 1.5)) == []


def test_the_way_that_misses_by_least_is_told():
    (text,) = texts(sizes_m=[(3.6, 1.0), (3.3, 1.4)], max_piece_m=(3.2, 1.5))
    assert text.endswith("lies 3300 x 1400 mm; max_piece is 3200 x 1500 mm: 100 mm too long")


@pytest.mark.parametrize(
    ("handling_kg", "system", "told"),
    [
        (120.0, System.METRIC, None),
        (
            129.1,
            System.METRIC,
            "handled at 129.1 kg; max_kg is 120 kg: 9.1 kg too heavy",
        ),
        (
            129.1,
            System.US,
            "handled at 284.6 lb; max_kg is 264.6 lb: 20 lb 1 oz too heavy",
        ),
    ],
)
def test_the_handling_weight_is_held_against_what_the_shop_moves(handling_kg, system, told):
    notes = size_notes(
        "panel", sizes_m=[(1.0, 1.0)], handling_kg=handling_kg, max_kg=120.0, system=system
    )
    assert [note.text for note in notes] == ([] if told is None else [told])


def test_notes_say_which_piece_and_what_of_it():
    notes = size_notes(
        "panel", sizes_m=[(4.0, 1.0)], handling_kg=200.0, max_piece_m=(3.2, 1.5), max_kg=120.0
    )
    assert [note.code for note in notes] == [NoteCode.TOO_LARGE, NoteCode.TOO_HEAVY]
    assert {note.where for note in notes} == {"panel"}


def test_without_limits_nothing_is_noted():
    assert texts(sizes_m=[(40.0, 10.0)], handling_kg=1e4) == []


def test_a_piece_lies_with_its_show_face_down():
    slab = Mesh.from_trimesh(trimesh.creation.box((2.0, 0.3, 1.0)), unit="m")
    surfaces = classify(slab, kind=ModelKind.PIECE, show_direction=np.array([0.0, -1.0, 0.0]))
    assert lying_sizes_m(surfaces) == (pytest.approx((2.0, 1.0)),)


def test_of_a_form_only_what_is_cast_lies_on_the_table():
    block, plug = trimesh.creation.box((1.0, 0.8, 0.3)), trimesh.creation.box((0.7, 0.5, 0.3))
    plug.apply_translation((0.0, 0.0, 0.25))
    form = Mesh.from_trimesh(block.difference(plug, engine="manifold"), unit="m")
    (cast,) = classify_castings(form, kind=ModelKind.FORM, show_direction=-UP)
    assert lying_sizes_m(cast) == (pytest.approx((0.7, 0.5)),)
