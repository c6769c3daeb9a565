"""Priced lines: what must hold of any quantity, price and terms."""

from __future__ import annotations

from decimal import ROUND_HALF_UP, Decimal
from fractions import Fraction

from hypothesis import given
from hypothesis import strategies as st

from takeoff.pricing.lines import LineKind, Terms, price_up, printed_quantity, total_of
from takeoff.pricing.rates import Measure, Rate, rate_lines

cents = st.decimals(0, 99_999, places=2, allow_nan=False)
shares = st.decimals(0, 1, places=4, allow_nan=False)
rates = st.builds(
    Rate,
    what=st.just("work"),
    per=st.sampled_from(Measure),
    price=cents,
    hours_s=st.none() | st.floats(1.0, 360_000.0),
    labour=st.booleans(),
)
quantities = st.fixed_dictionaries({measure: st.floats(0.0, 1e6) for measure in Measure})
terms = st.builds(Terms, shares, shares, st.none() | cents)


def by_hand(quantity: Decimal, price: Decimal) -> Decimal:
    return (quantity * price).quantize(Decimal("0.01"), rounding=ROUND_HALF_UP)


@given(st.lists(rates, max_size=6), quantities, terms)
def test_a_page_adds_up_by_hand(
    charged: list[Rate], counted: dict[Measure, float], on_top: Terms
) -> None:
    lines = price_up(rate_lines(charged, counted), on_top)
    assert all(line.amount == by_hand(line.quantity, line.price) for line in lines)
    assert total_of(lines) == sum(line.amount for line in lines)
    assert price_up(lines, on_top) == lines


@given(st.lists(rates, max_size=6), quantities, terms)
def test_no_bid_before_tax_is_below_its_minimum(
    charged: list[Rate], counted: dict[Measure, float], on_top: Terms
) -> None:
    lines = price_up(rate_lines(charged, counted), on_top)
    untaxed = total_of(line for line in lines if line.kind is not LineKind.TAX)
    assert untaxed >= (on_top.minimum_charge or 0)


@given(st.fractions(0, 10**9))
def test_a_printed_quantity_is_the_nearest_of_three_decimals(number: Fraction) -> None:
    printed = printed_quantity(number)
    assert abs(Fraction(printed) - number) <= Fraction("0.0005005")
    assert str(printed) == f"{printed:.3f}".rstrip("0").rstrip(".")


@given(st.integers(0, 10**8), st.floats(-1e-12, 1e-12))
def test_a_half_goes_up_in_spite_of_the_noise_of_floats(thousandths: int, noise: float) -> None:
    half = Fraction(2 * thousandths + 1, 2000)
    reached = Fraction(repr(float(half) * (1.0 + noise)))
    assert printed_quantity(reached) == Decimal(thousandths + 1).scaleb(-3)


@given(st.floats(0.0, 1e6), cents)
def test_us_and_metric_rates_are_charged_on_the_same_area(area_m2: float, price: Decimal) -> None:
    charged = [Rate("a", Measure.FORM_M2, price), Rate("b", Measure.FORM_FT2, price)]
    metric, us = rate_lines(charged, {Measure.FORM_M2: area_m2})
    back = Fraction(us.quantity) * Fraction(9290304, 10**8)
    assert abs(back - Fraction(metric.quantity)) <= Fraction("0.0006")
