import pytest

from takeoff.errors import QuantityError
from takeoff.files.dxf_units import INSERT_UNITS, declared_unit, unit_in_force
from takeoff.notes import NoteCode


def header(**variables):
    return {f"${name}": str(value).encode() for name, value in variables.items()}


def test_every_code_has_a_unit_but_the_one_for_none():
    assert sorted(INSERT_UNITS) == list(range(1, 25))


@pytest.mark.parametrize("variables", [{}, {"INSUNITS": 0}, {"INSUNITS": 25}, {"INSUNITS": "mm"}])
def test_a_unit_that_is_not_stated_is_none(variables):
    assert declared_unit(header(**variables)) is None
    assert unit_in_force(None, header(**variables), where="a.dxf") == (None, ())


def test_a_declared_unit_is_noted():
    unit, notes = unit_in_force(None, header(INSUNITS=4, MEASUREMENT=1), where="a.dxf")
    assert (unit.name, unit.metres_per_unit, unit.source) == ("mm", 0.001, "declared")
    assert [note.code for note in notes] == [NoteCode.UNIT_DECLARED]


@pytest.mark.parametrize(
    ("code", "system", "says"),
    [(1, 1, r"= 1 says in, but \$MEASUREMENT = 1 says metric"), (4, 0, "= 0 says imperial")],
)
def test_header_values_that_disagree_are_both_named(code, system, says):
    import re

    _, notes = unit_in_force(None, header(INSUNITS=code, MEASUREMENT=system), where="a.dxf")
    assert notes[1].code is NoteCode.UNIT_DISAGREES
    assert re.search(says, notes[1].text)


@pytest.mark.parametrize("system", [0, 2, "x"])
def test_header_values_that_agree_or_say_nothing_are_not_doubted(system):
    _, notes = unit_in_force(None, header(INSUNITS=1, MEASUREMENT=system), where="a.dxf")
    assert len(notes) == 1


def test_the_told_unit_wins_and_the_difference_is_named():
    unit, notes = unit_in_force("mm", header(INSUNITS=1), where="a.dxf")
    assert unit.source == "told"
    assert "declares in ($INSUNITS = 1), but mm was told" in notes[0].text


def test_a_told_unit_that_is_the_declared_one_is_not_doubted():
    assert unit_in_force("inch", header(INSUNITS=1), where="a.dxf")[1] == ()


def test_a_told_unit_must_be_one_of_length():
    with pytest.raises(QuantityError, match="kg"):
        unit_in_force("kg", {}, where="a.dxf")
