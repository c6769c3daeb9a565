from datetime import date
from decimal import Decimal

import pytest

from takeoff.errors import PriceError
from takeoff.pricing.lines import total_of
from takeoff.pricing.materials import Market, Need, materials_of
from takeoff.pricing.packs import Pack
from takeoff.pricing.stock import Stock

MARKET = Market(
    {
        "cement": (Pack("cement", 25.0, "25 kg", Decimal("14.20")),),
        "sand": (Pack("sand", 25.0, "25 kg", Decimal("7.90")),),
    }
)


def test_lots_share_their_packs():
    needs = [Need("cement", 30.0, 30.5), Need("cement", 15.0, 15.5), Need("sand", 10.0, 10.1)]
    cement, sand = materials_of(needs, MARKET)
    assert [bought.packs for one in (cement, sand) for bought in one.purchase.bought] == [2, 1]
    assert cement.loss_kg == pytest.approx(1.0)
    assert total_of((*cement.lines, *sand.lines)) == Decimal("36.30")


def test_tap_water_has_no_price():
    [water] = materials_of([Need("water", 5.0, 5.1, bought=False)], MARKET)
    assert (water.purchase, water.cost, water.lines) == (None, None, ())


def test_all_ingredients_without_a_price_are_named_at_once():
    needs = [Need("fibre", 1.0, 1.0), Need("cement", 1.0, 1.0), Need("polymer", 1.0, 1.0)]
    with pytest.raises(PriceError, match="no pack and price for fibre, polymer"):
        materials_of(needs, MARKET)


def test_a_range_is_that_of_every_lot_it_goes_into():
    needs = [Need("cement", 10.0, 10.0, low_ratio=0.8, high_ratio=1.5), Need("cement", 5.0, 6.0)]
    [cement] = materials_of(needs, MARKET)
    assert cement.order_range_kg == pytest.approx((14.0, 21.0))


def test_stock_is_used_before_packs_are_bought():
    stock = (Stock("cement", 20.0, use_by=date(2026, 12, 1)),)
    market = Market(MARKET.packs, stock, day=date(2026, 11, 25))
    [cement] = materials_of([Need("cement", 40.0, 40.0)], market)
    assert (cement.purchase.from_stock[0].mass_kg, cement.cost) == (20.0, Decimal("14.20"))
