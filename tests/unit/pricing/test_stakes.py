from decimal import Decimal

import pytest

from takeoff.pricing.stakes import Stake, ordered


def stake(low, high, what="overspray"):
    return Stake(what, "10 %", Decimal(low), Decimal(high))


@pytest.mark.parametrize(
    ("low", "high", "text"),
    [
        ("0", "41", "+41.00"),
        ("41", "41", "+41.00"),
        ("-41.5", "0", "-41.50"),
        ("-28", "28", "+-28.00"),
        ("28", "-28", "+-28.00"),
        ("-12", "30", "-12.00 to +30.00"),
        ("30", "-12", "-12.00 to +30.00"),
        ("5", "12", "+5.00 to +12.00"),
        ("-12", "-5", "-12.00 to -5.00"),
        ("0", "0", "0.00"),
        ("-0.004", "0.004", "0.00"),
        ("-28.004", "27.996", "+-28.00"),
        ("-0.001", "3", "+3.00"),
    ],
)
def test_what_is_at_stake_is_told_as_a_change(low, high, text):
    assert stake(low, high).at_stake == text


def test_most_money_comes_first_whichever_way_it_goes():
    stakes = [
        stake("-12", "30", "residue"),
        stake("-60", "5", "price"),
        stake("0", "41", "E3"),
        stake("-30", "30", "depth"),
        stake("0", "0", "unit"),
    ]
    assert [one.what for one in ordered(stakes)] == ["price", "E3", "depth", "residue", "unit"]


def test_alike_stakes_keep_their_order():
    stakes = [stake("-5", "5", name) for name in ("b", "a", "c")]
    assert [one.what for one in ordered(stakes)] == ["b", "a", "c"]
