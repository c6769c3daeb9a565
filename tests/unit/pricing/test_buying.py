from datetime import date
from decimal import Decimal

import pytest

from takeoff.errors import PriceError, QuantityError
from takeoff.pricing.buying import buy
from takeoff.pricing.packs import Pack
from takeoff.pricing.stock import Drawn, Stock

BAG = Pack("cement", 25.0, "25 kg", Decimal("14.20"))
BIG = Pack("cement", 1000.0, "1 t", Decimal("410"))
PAIL = Pack("oxide", 2.0, "2 kg", Decimal("31.50"))
PACKS = {"cement": (BAG, BIG), "oxide": (PAIL,)}
DAY = date(2026, 11, 25)


def test_a_job_is_bought_by_hand():
    cement, oxide = buy({"cement": 1060.0, "oxide": 5.0}, PACKS)
    # 1 t + 3 x 25 kg = 410.00 + 42.60; 43 x 25 kg would be 610.60, 2 x 1 t 820.00
    assert [(row.pack, row.packs, row.cost) for row in cement.bought] == [
        (BAG, 3, Decimal("42.60")),
        (BIG, 1, Decimal("410.00")),
    ]
    assert (cement.cost, cement.left_over_kg) == (Decimal("452.60"), 15.0)
    assert [(row.packs, row.cost) for row in oxide.bought] == [(3, Decimal("94.50"))]
    assert (oxide.order_kg, oxide.left_over_kg, oxide.from_stock) == (5.0, 1.0, ())


def test_stock_comes_off_the_order_before_packs_are_counted():
    [row] = buy({"cement": 60.0}, PACKS, stock=[Stock("cement", 11.0, lot="A")], day=DAY)
    assert row.from_stock == (Drawn("A", 11.0),)
    assert (row.bought[0].packs, row.left_over_kg, row.order_kg) == (2, 1.0, 60.0)
    assert row.cost == Decimal("28.40")


def test_stock_that_covers_the_order_leaves_nothing_to_buy_and_needs_no_price():
    [row] = buy({"oxide": 0.1 * 3}, {}, stock=[Stock("oxide", 0.3)], day=DAY)
    assert (row.bought, row.left_over_kg, row.cost) == ((), 0.0, Decimal("0.00"))


def test_stock_of_other_ingredients_is_left_alone():
    [row] = buy({"oxide": 2.0}, PACKS, stock=[Stock("cement", 50.0)], day=DAY)
    assert (row.from_stock, row.bought[0].packs) == ((), 1)


def test_stock_past_its_use_by_is_bought_anew_and_said():
    old = Stock("cement", 60.0, use_by=date(2026, 11, 1))
    [row] = buy({"cement": 50.0}, PACKS, stock=[old], day=DAY)
    assert row.from_stock == ()
    assert row.bought[0].packs == 2
    assert row.stock_passed_over == ((old, "past its use-by 2026-11-01 on 2026-11-25"),)


def test_one_colour_comes_from_one_lot_before_least_cost():
    shelf = [Stock("oxide", 3.0, lot="A"), Stock("oxide", 4.0, lot="B")]
    lot = frozenset({"oxide"})
    [mixed] = buy({"oxide": 6.0}, PACKS, stock=shelf, day=DAY)
    assert [one.lot for one in mixed.from_stock] == ["A", "B"]
    [covered] = buy({"oxide": 4.0}, PACKS, stock=shelf, day=DAY, one_lot=lot)
    assert (covered.from_stock, covered.cost) == ((Drawn("B", 4.0),), Decimal("0.00"))
    [new] = buy({"oxide": 6.0}, PACKS, stock=shelf, day=DAY, one_lot=lot)
    assert (new.from_stock, new.bought[0].packs) == ((), 3)
    assert [one.stock.lot for one in new.stock_passed_over] == ["A", "B"]


def test_no_order_buys_nothing():
    [row] = buy({"cement": 0.0}, PACKS, stock=[Stock("cement", 5.0)])
    assert (row.from_stock, row.bought, row.left_over_kg, row.cost) == ((), (), 0.0, 0)
    assert buy({}, PACKS) == ()


def test_a_free_pack_costs_nothing_and_is_counted():
    free = Pack("sand", 20.0, "20 kg", Decimal(0))
    [row] = buy({"sand": 41.0}, {"sand": (free,)})
    assert (row.bought[0].packs, row.cost, row.left_over_kg) == (3, 0, 19.0)


def test_costs_are_to_the_cent_and_add_up():
    [row] = buy({"cement": 1060.0}, PACKS)
    assert [str(part.cost) for part in row.bought] == ["42.60", "410.00"]
    assert str(row.cost) == "452.60"


def test_all_ingredients_without_a_pack_are_named_at_once():
    with pytest.raises(PriceError, match=r"no pack and price for fibre, sand; give each"):
        buy({"fibre": 1.0, "cement": 1.0, "sand": 1.0}, PACKS | {"sand": ()})


@pytest.mark.parametrize("mass_kg", [-1.0, float("nan"), float("inf")])
def test_masses_that_are_none_are_refused(mass_kg):
    with pytest.raises(QuantityError, match="of cement is no mass; it must be 0 kg or more"):
        buy({"cement": mass_kg}, PACKS)
    with pytest.raises(QuantityError, match="of oxide is no mass"):
        buy({"cement": 1.0}, PACKS, stock=[Stock("oxide", mass_kg)])


@pytest.mark.parametrize("pack_kg", [0.0, -1.0, float("nan"), float("inf")])
def test_packs_of_no_mass_are_refused(pack_kg):
    with pytest.raises(PriceError, match="a pack of sand must hold more than nothing"):
        buy({"sand": 1.0}, {"sand": (Pack("sand", pack_kg, "?", Decimal(1)),)})


@pytest.mark.parametrize("price", ["14.205", "-1", "NaN", "Infinity"])
def test_prices_that_no_bill_can_hold_are_refused(price):
    with pytest.raises(PriceError, match="for 20 kg of sand is no price in whole cents"):
        buy({"sand": 1.0}, {"sand": (Pack("sand", 20.0, "20 kg", Decimal(price)),)})
