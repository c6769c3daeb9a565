"""What must hold of any purchase: it covers the order, and nothing that does costs less."""

import itertools
from datetime import date
from decimal import Decimal

from hypothesis import given, settings
from hypothesis import strategies as st

from takeoff.pricing.buying import buy
from takeoff.pricing.pack_choice import least_cost_packs
from takeoff.pricing.packs import Pack
from takeoff.pricing.stock import Stock

# Grams and cents. Bags as they are sold, and odd ones; prices that tie, that follow the mass, any.
SIZES = st.one_of(
    st.sampled_from([1_000, 5_000, 10_000, 20_000, 25_000, 40_000, 50_000]),
    st.integers(1_000, 50_000),
)
PRICES = st.one_of(st.sampled_from([0, 500, 1_000, 2_000]), st.integers(0, 20_000))
DAYS = st.one_of(st.none(), st.dates(date(2026, 11, 20), date(2026, 11, 30)))


@st.composite
def sold(draw):
    """Give one to three sizes with their prices, and an order of up to six of the smallest."""
    sizes = draw(st.lists(SIZES, min_size=1, max_size=3))
    by_mass = [-(-size // 100) for size in sizes]
    prices = draw(st.one_of(st.just(by_mass), st.tuples(*(PRICES for _ in sizes))))
    sums = st.lists(st.sampled_from(sizes), max_size=4).map(sum)
    order = draw(st.one_of(st.integers(0, 6 * min(sizes)), sums))
    return order, list(zip(sizes, prices, strict=True))


def by_trial(order_g, rows):
    """Try every number of every size up to what would do alone."""
    best = None
    for counts in itertools.product(*(range(-(-order_g // size) + 1) for size, _ in rows)):
        mass_g = sum(count * size for count, (size, _) in zip(counts, rows, strict=True))
        if mass_g < order_g:
            continue
        cents = sum(count * price for count, (_, price) in zip(counts, rows, strict=True))
        rank = (cents, mass_g, sum(counts), tuple(-count for count in counts))
        best = min(best or rank, rank)
    return tuple(-count for count in best[3])


def packs_of(rows):
    return tuple(
        Pack("sand", size / 1000, f"{size} g", Decimal(price) / 100) for size, price in rows
    )


@given(sold())
@settings(max_examples=60, deadline=None)
def test_no_packs_that_cover_the_order_are_better(case):
    order_g, rows = case
    assert least_cost_packs(order_g / 1000, packs_of(rows)) == by_trial(order_g, rows)


@given(
    sold(),
    st.lists(
        st.tuples(st.integers(1, 30_000), DAYS, st.sampled_from([None, "A", "B"])), max_size=3
    ),
    DAYS,
    st.booleans(),
)
@settings(max_examples=60, deadline=None)
def test_what_is_drawn_and_bought_is_the_order_and_what_is_left(case, shelf, day, together):
    order_g, rows = case
    stock = [Stock("sand", mass_g / 1000, None, use_by, lot) for mass_g, use_by, lot in shelf]
    one_lot = frozenset({"sand"} if together else ())
    [row] = buy(
        {"sand": order_g / 1000}, {"sand": packs_of(rows)}, stock=stock, day=day, one_lot=one_lot
    )
    drawn_kg = sum(one.mass_kg for one in row.from_stock)
    bought_kg = sum(one.packs * one.pack.pack_kg for one in row.bought)
    assert abs(drawn_kg + bought_kg - order_g / 1000 - row.left_over_kg) < 1e-9
    assert row.cost == sum(one.packs * one.pack.price for one in row.bought)
    passed_over = [one.stock for one in row.stock_passed_over]
    usable = [one for one in stock if one.use_by is None or (day and day <= one.use_by)]
    assert all(one in passed_over for one in stock if one not in usable)
    if together:
        assert len({one.lot for one in row.from_stock}) <= 1
        assert not (row.from_stock and row.bought)
    else:
        assert abs(drawn_kg - min(order_g / 1000, sum(one.mass_kg for one in usable))) < 1e-9
