from decimal import Decimal

import pytest

from takeoff.files.toml_money import money


@pytest.mark.parametrize(
    ("value", "amount"),
    [
        ("18.40", "18.40"),
        ("18,40", "18.40"),
        (" 1200.00 ", "1200.00"),
        ("12.", "12"),
        (".5", "0.5"),
        (7.9, "7.9"),
        (0.1, "0.1"),
        (12, "12"),
        (0, "0"),
        ("999999999.99", "999999999.99"),
    ],
)
def test_money_is_read_as_it_is_written(value, amount):
    assert money(value) == Decimal(amount)


@pytest.mark.parametrize(
    ("value", "refusal"),
    [
        ("", "is not a price; write it like 18.40"),
        (".", "is not a price"),
        ("-1", "'-1' is not a price"),
        ("+1", "is not a price"),
        ("free", "is not a price"),
        ("EUR 18.40", "is not a price"),
        ("1,200.00", "is not a price"),
        ("1 200.00", "is not a price"),
        ("1_200", "is not a price"),
        ("1e3", "is not a price"),
        ("NaN", "is not a price"),
        (float("inf"), "is not a price"),
        (1e30, "is not a price"),
        (True, "is not a price"),
        (None, "is not a price"),
        ([18.4], "is not a price"),
        ("\u0661\u0662", "is not a price"),
        ("1,200", "can be read two ways; write 1200.00 or 1.20"),
        ("1.200", "has more than two decimals"),
        ("14.205", "has more than two decimals; give the price of a larger pack or measure"),
        (0.125, "has more than two decimals"),
        ("9999999999.99", "is longer than any price"),
        (10**40, "is longer than any price"),
    ],
)
def test_what_is_no_money_is_refused(value, refusal):
    with pytest.raises(ValueError, match=refusal):
        money(value)
