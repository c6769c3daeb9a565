"""Units told, missing or absurd."""

import pytest

from takeoff.errors import QuantityError
from takeoff.files.drawing_unit import SizeRules, size_note, told_unit, unit_missing
from takeoff.notes import NoteCode


def test_a_unit_told_says_so():
    unit = told_unit("inch")
    assert (unit.name, unit.metres_per_unit, unit.source) == ("inch", 0.0254, "told")


def test_a_unit_that_is_no_length_is_refused():
    with pytest.raises(QuantityError, match="kg"):
        told_unit("kg")


def test_a_missing_unit_is_told_with_every_size():
    text = unit_missing((96.0, 25.0), where="top.stl").text
    for size in ("0.096 x 0.025 m if it is in mm", "0.96 x 0.25 m", "2.438 x 0.635 m", "29.26 x"):
        assert size in text
    assert "--unit" in text


@pytest.mark.parametrize("size_m", [(0.1, 0.02), (2.4, 0.6, 0.04), (20.0, 1.0)])
def test_an_ordinary_size_is_not_doubted(size_m):
    assert size_note(size_m, told_unit("mm"), where="top.stl") is None


@pytest.mark.parametrize(
    ("size_m", "unit", "words"),
    [
        ((0.096, 0.025), "mm", "0.96 m in cm, 2.438 m in in"),
        ((61.9, 16.1), "in", "2.437 m in mm"),
        ((1e9, 1.0), "m", "is absurd; the unit is m"),
    ],
)
def test_an_absurd_size_is_doubted_with_what_it_would_be(size_m, unit, words):
    note = size_note(size_m, told_unit(unit), where="top.stl")
    assert (note.code, note.where) == (NoteCode.SIZE_ABSURD, "top.stl")
    assert words in note.text


def test_what_is_absurd_can_be_set():
    rules = SizeRules(smallest_m=0.5)
    assert size_note((0.4, 0.4), told_unit("mm"), where="", rules=rules) is not None
