from decimal import Decimal

import pytest

from takeoff.pricing.packs import packs_needed, rounded


@pytest.mark.parametrize(
    ("order_kg", "pack_kg", "packs"),
    [(0.0, 25.0, 0), (0.01, 25.0, 1), (25.0, 25.0, 1), (25.001, 25.0, 2), (0.3, 0.1, 3)],
)
def test_packs_cover_the_order(order_kg, pack_kg, packs):
    assert packs_needed(order_kg, pack_kg) == packs


def test_an_empty_pack_is_refused():
    with pytest.raises(ValueError, match="more than nothing"):
        packs_needed(1.0, 0.0)


@pytest.mark.parametrize(("amount", "printed"), [("0.005", "0.01"), ("1.114999", "1.11")])
def test_money_is_rounded_half_up(amount, printed):
    assert rounded(Decimal(amount)) == Decimal(printed)
