from decimal import Decimal
from fractions import Fraction

import pytest

from takeoff.pricing.lines import (
    LineKind,
    Terms,
    line_of,
    price_up,
    printed_quantity,
    total_of,
)


def charged(amount, kind=LineKind.RATE):
    return line_of("work", Decimal(1), "job", Decimal(amount), kind)


@pytest.mark.parametrize(
    ("number", "printed"),
    [
        ("0", "0"),
        ("600", "600"),
        ("23.420", "23.42"),
        ("2.0005", "2.001"),
        ("2.0004", "2"),
        ("2.000499", "2"),
        ("2.000499999", "2.001"),
        ("2.0004999999999997", "2.001"),
        ("2.0004995", "2.001"),
        ("2.0004994", "2"),
        ("0.0004", "0"),
        ("123456.7895", "123456.79"),
        ("1/3", "0.333"),
    ],
)
def test_a_quantity_is_printed_to_three_decimals_halves_up(number, printed):
    assert str(printed_quantity(Fraction(number))) == printed


@pytest.mark.parametrize(
    "reached",
    [0.1 + 0.2 + 1.7005, 2.0005, 3 * 0.66683333333333333, 1.0 + 1.0005, 4.001 / 2, 6.0015 / 3],
)
def test_noise_of_floats_costs_no_thousandth(reached):
    assert printed_quantity(Fraction(repr(reached))) == Decimal("2.001")


@pytest.mark.parametrize(
    ("quantity", "price", "amount"),
    [
        ("2.345", "12.50", "29.31"),  # 29.3125
        ("0.05", "0.10", "0.01"),  # 0.005
        ("0.049", "0.10", "0.00"),  # 0.0049
        ("3", "3.20", "9.60"),
        ("0", "12.50", "0.00"),
    ],
)
def test_an_amount_is_quantity_times_price_to_the_cent(quantity, price, amount):
    line = line_of("boards", Decimal(quantity), "m²", Decimal(price), LineKind.RATE)
    assert str(line.amount) == amount


def test_markup_is_on_all_that_is_charged_and_tax_on_all_with_it():
    kinds = (LineKind.MATERIAL, LineKind.ITEM, LineKind.LABOUR, LineKind.RATE)
    lines = price_up(
        [charged("25.00", kind) for kind in kinds], Terms(Decimal("0.15"), Decimal("0.2"))
    )
    # 4 x 25.00 = 100.00; 15 % of it 15.00; 20 % of 115.00 is 23.00; together 138.00.
    assert [line.amount for line in lines[4:]] == [Decimal("15.00"), Decimal("23.00")]
    assert total_of(lines) == Decimal("138.00")


def test_the_minimum_tops_up_what_the_markup_left_and_is_taxed():
    lines = price_up([charged("100.00")], Terms(Decimal("0.1"), Decimal("0.2"), Decimal(250)))
    # 100.00 + 10.00 = 110.00; to 250.00 lack 140.00; 20 % of 250.00 is 50.00; together 300.00.
    assert [(line.kind, line.amount) for line in lines[1:]] == [
        (LineKind.MARKUP, Decimal("10.00")),
        (LineKind.MINIMUM, Decimal("140.00")),
        (LineKind.TAX, Decimal("50.00")),
    ]
    assert lines[2].what == "up to the minimum charge of 250.00"
    assert total_of(lines) == Decimal("300.00")


@pytest.mark.parametrize("minimum", [None, Decimal(0), Decimal("99.99"), Decimal("100.00")])
def test_terms_that_add_nothing_have_no_line(minimum):
    assert price_up([charged("100.00")], Terms(minimum_charge=minimum)) == (charged("100.00"),)


def test_a_job_of_nothing_comes_to_the_minimum():
    lines = price_up([], Terms(Decimal("0.15"), Decimal("0.2"), Decimal("50.00")))
    # No lines: markup 0.00, 50.00 lack, tax 10.00.
    assert total_of(lines) == Decimal("60.00")


def test_a_share_finer_than_a_percent_is_charged_as_it_is_written():
    *_, tax = price_up([charged("400.00")], Terms(tax_share=Decimal("0.08875")))
    # 400.00 x 0.08875 = 35.50
    assert (tax.what, tax.quantity, tax.amount) == (
        "tax of 8.875 %",
        Decimal("0.08875"),
        Decimal("35.50"),
    )


def test_terms_are_put_on_once_however_often_lines_are_priced_up():
    terms = Terms(Decimal("0.15"), Decimal("0.2"), Decimal("500.00"))
    once = price_up([charged("100.00")], Terms(Decimal("0.5"), Decimal("0.1"), Decimal(900)))
    assert price_up(once, terms) == price_up([charged("100.00")], terms)


def test_each_amount_is_rounded_before_it_is_added_up():
    third = line_of("release", Decimal("0.333"), "m²", Decimal("0.10"), LineKind.RATE)
    # 0.333 x 0.10 = 0.0333, printed 0.03; three of them are 0.09, not the 0.10 of 0.0999.
    assert total_of([third] * 3) == Decimal("0.09")
