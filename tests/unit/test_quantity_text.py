"""Signs that keyboards, phones and drawings put in place of the plain ones."""

from __future__ import annotations

import sys
import unicodedata
from fractions import Fraction

import pytest

from takeoff.errors import QuantityError
from takeoff.quantity_text import read_quantity, read_unit
from takeoff.unit_tables import LENGTH, MASS, TEMPERATURE

VULGAR_FRACTIONS = tuple(
    sign
    for sign in map(chr, range(sys.maxunicode + 1))
    if unicodedata.decomposition(sign).startswith("<fraction>")
    and sign != "\N{FRACTION NUMERATOR ONE}"
)
SPACES = "\t\N{NO-BREAK SPACE}\N{THIN SPACE}\N{NARROW NO-BREAK SPACE}\N{HAIR SPACE}\N{FIGURE SPACE}"


def inches(number: Fraction) -> float:
    return float(number * Fraction(254, 10_000))


def test_the_character_set_has_the_fractions_that_a_shop_writes() -> None:
    assert set("½⅓⅔¼¾⅛⅜⅝⅞") <= set(VULGAR_FRACTIONS)


@pytest.mark.parametrize("sign", VULGAR_FRACTIONS)
def test_a_vulgar_fraction_is_its_digits(sign: str) -> None:
    over, under = unicodedata.normalize("NFKC", sign).split("\N{FRACTION SLASH}")
    exact = Fraction(int(over), int(under))
    assert read_quantity(f"{sign} in", LENGTH) == inches(exact)
    assert read_quantity(f"3{sign} in", LENGTH) == inches(3 + exact)
    assert read_quantity(f"3 {sign}in", LENGTH) == inches(3 + exact)
    assert read_quantity(f"3-{sign}\N{DOUBLE PRIME}", LENGTH) == inches(3 + exact)


def test_a_numerator_of_one_waits_for_what_is_below_the_line() -> None:
    assert read_quantity("2\N{FRACTION NUMERATOR ONE}16 in", LENGTH) == inches(Fraction(33, 16))


@pytest.mark.parametrize("text", ["½2 in", "½½ in", "1.5½ in", "½/2 in", "1/½ in"])
def test_a_vulgar_fraction_is_no_digit_of_another_number(text: str) -> None:
    with pytest.raises(QuantityError, match="stopped at"):
        read_quantity(text, LENGTH)


@pytest.mark.parametrize("space", SPACES)
def test_every_kind_of_space_parts_words(space: str) -> None:
    assert read_quantity(f"1{space}1/2{space}in", LENGTH) == inches(Fraction(3, 2))


@pytest.mark.parametrize("space", SPACES)
def test_no_kind_of_space_parts_thousands(space: str) -> None:
    with pytest.raises(QuantityError, match="stopped at '250 mm'"):
        read_quantity(f"1{space}250 mm", LENGTH)


@pytest.mark.parametrize(
    "text",
    [
        "5\N{RIGHT SINGLE QUOTATION MARK} 3\N{RIGHT DOUBLE QUOTATION MARK}",
        "5\N{LEFT SINGLE QUOTATION MARK} 3\N{LEFT DOUBLE QUOTATION MARK}",
        "5\N{PRIME} 3\N{DOUBLE PRIME}",
        "5\N{PRIME} 3\N{PRIME}\N{PRIME}",
        "5\N{PRIME}\N{EN DASH}3\N{DOUBLE PRIME}",
        "5\N{PRIME} \N{MINUS SIGN} 3\N{DOUBLE PRIME}",
        "5\N{MODIFIER LETTER APOSTROPHE} 3\N{MODIFIER LETTER DOUBLE PRIME}",
        "5\N{ACUTE ACCENT} 3\N{ACUTE ACCENT}\N{ACUTE ACCENT}",
    ],
)
def test_marks_of_feet_and_inches_take_many_shapes(text: str) -> None:
    assert read_quantity(text, LENGTH) == inches(Fraction(63))


def test_the_slash_of_fractions_and_other_hyphens_are_plain_ones() -> None:
    assert read_quantity("1\N{NON-BREAKING HYPHEN}3\N{FRACTION SLASH}16 in", LENGTH) == inches(
        Fraction(19, 16)
    )


def test_marks_that_only_look_like_degrees_are_degrees() -> None:
    assert read_quantity("20 \N{MASCULINE ORDINAL INDICATOR}C", TEMPERATURE) == 20.0
    assert read_quantity("20 \N{RING ABOVE}C", TEMPERATURE) == 20.0


@pytest.mark.parametrize("sign", ["\N{ZERO WIDTH SPACE}", "\0", "\N{SINGLE LOW-9 QUOTATION MARK}"])
def test_a_sign_that_cannot_be_seen_or_told_is_refused(sign: str) -> None:
    with pytest.raises(QuantityError, match="stopped at"):
        read_quantity(f"1{sign}5 mm", LENGTH)


def test_a_refusal_names_the_kind_that_was_wanted() -> None:
    with pytest.raises(QuantityError, match=r"cannot read '5 mm' as a mass.*a unit of length"):
        read_quantity("5 mm", MASS)


def test_a_unit_of_another_kind_is_refused() -> None:
    with pytest.raises(QuantityError, match="'mm' is not a unit of mass; write one of kg, g, mg"):
        read_unit("mm", MASS)
