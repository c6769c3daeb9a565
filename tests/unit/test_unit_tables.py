"""The tables of units contradict neither themselves nor one another."""

from __future__ import annotations

import re
from fractions import Fraction

import pytest

from takeoff.errors import QuantityError
from takeoff.quantity_text import read_quantity, read_unit
from takeoff.unit_tables import AREA, KINDS, LENGTH, MASS, VOLUME, Kind, Unit

EACH_KIND = [pytest.param(kind, id=kind.name) for kind in KINDS]
EACH_UNIT = [
    pytest.param(kind, unit, id=f"{kind.name}: {unit.spellings[0]}")
    for kind in KINDS
    for unit in kind.units
]


@pytest.mark.parametrize("kind", EACH_KIND)
def test_no_spelling_stands_for_two_units(kind: Kind) -> None:
    spellings = [spelling.lower() for unit in kind.units for spelling in set(unit.spellings)]
    assert len(spellings) == len(set(spellings))


@pytest.mark.parametrize(("kind", "unit"), EACH_UNIT)
def test_every_spelling_is_read_as_its_unit(kind: Kind, unit: Unit) -> None:
    for spelling in unit.spellings:
        assert read_unit(spelling, kind) == float(unit.size)
        assert read_quantity(f"7 {spelling}", kind) == float(7 * unit.size + unit.zero)


@pytest.mark.parametrize("kind", EACH_KIND)
def test_chains_name_known_units_and_descend(kind: Kind) -> None:
    sizes = {unit.symbol: unit.size for unit in kind.units}
    for chain in kind.chains:
        along = [sizes[symbol] for symbol in chain]
        assert along == sorted(set(along), reverse=True)


@pytest.mark.parametrize("kind", EACH_KIND)
def test_examples_are_read(kind: Kind) -> None:
    assert all(read_quantity(example, kind) >= 0.0 for example in kind.examples)


@pytest.mark.parametrize(
    ("kind", "word"),
    [pytest.param(kind, word, id=word) for kind in KINDS for word in kind.doubtful],
)
def test_a_doubtful_word_is_refused_with_what_to_write(kind: Kind, word: str) -> None:
    with pytest.raises(QuantityError, match=re.escape(f"; {kind.doubtful[word]}") + "$"):
        read_quantity(f"7 {word}", kind)


def sizes(kind: Kind) -> dict[str, Fraction]:
    return {unit.symbol: unit.size for unit in kind.units}


def test_areas_and_volumes_are_powers_of_lengths() -> None:
    for symbol in ("mm", "cm", "dm", "m", "km", "in", "ft", "yd"):
        assert sizes(AREA)[f"{symbol}2"] == sizes(LENGTH)[symbol] ** 2
        assert sizes(VOLUME)[f"{symbol}3"] == sizes(LENGTH)[symbol] ** 3


def test_us_volumes_and_masses_divide_as_they_are_defined() -> None:
    volume, mass = sizes(VOLUME), sizes(MASS)
    assert volume["gal"] == 231 * volume["in3"] == 4 * volume["qt"]
    assert volume["qt"] == 2 * volume["pt"] == 32 * volume["fl oz"]
    assert mass["lb"] == 16 * mass["oz"] == mass["short ton"] / 2000 == mass["long ton"] / 2240
