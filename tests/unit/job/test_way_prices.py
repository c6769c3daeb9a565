from decimal import Decimal

import pytest

from takeoff.job.way_prices import WayPrices, WayTime, prices_of_kg
from takeoff.piece.ways import Way
from takeoff.pricing.packs import Pack
from tests.unit.job.trays_made import POURED


def test_water_without_a_price_is_free_and_with_one_is_not():
    # Two thirds of 30 kg are cement, a third is water.
    cement = WayPrices({"cement": Decimal("0.60")})
    assert cement.of_material(POURED, 30.0) == pytest.approx(Decimal("12.00"))
    both = WayPrices({"cement": Decimal("0.60"), "water": Decimal("0.10")})
    assert both.of_material(POURED, 30.0) == pytest.approx(Decimal("13.00"))


def test_a_mix_with_an_ingredient_without_a_price_has_none():
    assert WayPrices({"water": Decimal("0.10")}).of_material(POURED, 30.0) is None


def test_the_cheapest_pack_prices_a_kilogram():
    packs = [
        Pack("cement", 25.0, "25 kg", Decimal("14.00")),
        Pack("cement", 1000.0, "1 t", Decimal("420.00")),
        Pack("cement", 5.0, "5 kg", Decimal("4.00")),
        Pack("fibre", 10.0, "10 kg", Decimal("74.50")),
    ]
    assert prices_of_kg(packs) == {"cement": Decimal("0.42"), "fibre": Decimal("7.45")}


@pytest.mark.parametrize(
    ("time", "price", "inner_form_m2", "taken_s", "form_price"),
    [
        # 0.5 m2 at an hour each, 20 kg at 15 s each: 1800 s + 300 s.
        (WayTime(3600.0, 15.0), Decimal(20), 0.5, 2100.0, Decimal(10)),
        # The time told says what the form takes, or the price does.
        (WayTime(3600.0, 15.0), None, 0.5, 2100.0, Decimal(0)),
        (WayTime(None, 15.0), Decimal(20), 0.5, 300.0, Decimal(10)),
        # Neither does.
        (WayTime(None, 15.0), None, 0.5, None, None),
        # No form is needed.
        (WayTime(None, 15.0), None, 0.0, 300.0, Decimal(0)),
        # Placing is not told.
        (WayTime(3600.0, None), Decimal(20), 0.5, None, Decimal(10)),
    ],
)
def test_an_inner_form_is_told_by_its_price_or_its_time(
    time, price, inner_form_m2, taken_s, form_price
):
    prices = WayPrices(inner_form_m2=price, times={Way.DAMMED: time})
    found_s = prices.taken_s(Way.DAMMED, inner_form_m2=inner_form_m2, placed_kg=20.0)
    assert found_s == taken_s
    assert prices.of_inner_form(Way.DAMMED, inner_form_m2) == form_price


def test_hours_cost_only_where_both_they_and_their_price_are_told():
    assert WayPrices(hour=Decimal("36.00")).of_labour(2100.0) == Decimal("21.00")
    assert WayPrices(hour=Decimal("36.00")).of_labour(None) is None
    assert WayPrices().of_labour(2100.0) is None
