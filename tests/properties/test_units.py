"""Written quantities: what must hold of any number in any unit."""

from __future__ import annotations

import re
from collections.abc import Callable
from decimal import Decimal
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from takeoff.errors import QuantityError
from takeoff.quantity_text import read_quantity
from takeoff.report.figures import (
    System,
    written_area,
    written_density,
    written_duration,
    written_length,
    written_mass,
    written_share,
    written_temperature,
    written_volume,
)
from takeoff.unit_tables import DENSITY, KINDS, LENGTH, MASS, Kind, Unit
from takeoff.units import (
    area_m2,
    density_kg_m3,
    duration_s,
    length_m,
    mass_kg,
    share,
    temperature_c,
    volume_m3,
)

in_reach = st.floats(1e-6, 1e9)
decimals = st.decimals(0, 999_999, places=4, allow_nan=False)
units = st.sampled_from([(kind, unit) for kind in KINDS for unit in kind.units])
systems = st.sampled_from(System)


@given(in_reach)
def test_a_number_written_out_is_read_back_to_the_last_bit(si_value: float) -> None:
    assert length_m(f"{si_value!r} m") == si_value
    assert mass_kg(f"{si_value!r} kg") == si_value
    assert volume_m3(f"{si_value!r} m3") == si_value
    assert density_kg_m3(f"{si_value!r} kg/m3") == si_value
    assert duration_s(f"{si_value!r} s") == si_value
    assert temperature_c(f"{si_value!r} C") == si_value


@given(decimals, units)
def test_reading_rounds_only_once(number: Decimal, kind_and_unit: tuple[Kind, Unit]) -> None:
    kind, unit = kind_and_unit
    exact = Fraction(number) * unit.size + unit.zero
    assert read_quantity(f"{number:f} {unit.symbol}", kind) == float(exact)


@given(decimals, st.sampled_from(MASS.units))
def test_a_density_is_its_mass_over_its_volume(number: Decimal, above: Unit) -> None:
    exact = Fraction(number) * above.size * 1000
    assert read_quantity(f"{number:f} {above.symbol}/L", DENSITY) == float(exact)


@given(decimals, units)
def test_a_decimal_comma_is_a_decimal_point(number: Decimal, kind_and_unit: tuple[Kind, Unit]):
    kind, unit = kind_and_unit
    point = f"{number:f} {unit.symbol}"
    assert read_quantity(point.replace(".", ","), kind) == read_quantity(point, kind)


@given(st.integers(1, 999), st.integers(0, 999), units)
def test_a_comma_that_may_part_thousands_is_refused(
    whole: int, rest: int, kind_and_unit: tuple[Kind, Unit]
) -> None:
    kind, unit = kind_and_unit
    readings = f"as '{whole}{rest:03} {unit.symbol}' or as '{whole}.{rest:03} {unit.symbol}'"
    with pytest.raises(QuantityError, match=re.escape(readings)):
        read_quantity(f"{whole},{rest:03} {unit.symbol}", kind)


@given(st.integers(0, 500), st.integers(0, 11), st.integers(0, 63))
def test_feet_and_inches_add_up(feet: int, inches: int, in_64ths: int) -> None:
    exact = (feet * 12 + inches + Fraction(in_64ths, 64)) * Fraction(254, 10_000)
    assert length_m(f"{feet}' {inches} {in_64ths}/64\"") == float(exact)
    assert length_m(f"{feet}ft{inches}-{in_64ths}/64in") == float(exact)


@given(st.text(max_size=100), st.sampled_from(KINDS))
def test_any_text_is_read_or_refused(text: str, kind: Kind) -> None:
    found = read_or_refused(text, kind)
    assert is_refusal(found) if isinstance(found, str) else kind.lowest <= found <= 10**15


@given(
    st.text("0123456789.,/ -'\"½e", max_size=12),
    st.sampled_from(["mm", "m", "in", "ft", '"', "'", ""]),
)
def test_any_text_of_digits_and_marks_is_read_or_refused(text: str, unit: str) -> None:
    found = read_or_refused(text + unit, LENGTH)
    assert is_refusal(found) if isinstance(found, str) else found >= 0.0


@pytest.mark.parametrize(
    ("writer", "reader", "coarsest_unit"),
    [
        (written_area, area_m2, "1 m2"),
        (written_volume, volume_m3, "1 gal"),
        (written_mass, mass_kg, "1 oz"),
        (written_density, density_kg_m3, "1 lb/ft3"),
    ],
)
@given(si_value=in_reach, system=systems)
def test_values_are_written_to_four_figures_or_a_millionth_of_the_unit(
    writer: Callable[[float, System], str],
    reader: Callable[[str], float],
    coarsest_unit: str,
    si_value: float,
    system: System,
) -> None:
    off = abs(reader(writer(si_value, system)) - si_value)
    assert off <= max(0.000501 * si_value, 0.501e-6 * reader(coarsest_unit))


@given(in_reach)
def test_shares_and_durations_are_read_back(si_value: float) -> None:
    assert abs(share(written_share(si_value)) - si_value) <= max(0.000501 * si_value, 0.501e-8)
    assert abs(duration_s(written_duration(si_value)) - si_value) <= 0.5


@given(st.floats(-200.0, 2000.0), systems)
def test_temperatures_are_written_to_a_tenth(si_c: float, system: System) -> None:
    assert abs(temperature_c(written_temperature(si_c, system)) - si_c) <= 0.0501


@given(in_reach, systems)
def test_lengths_are_written_to_four_figures_or_a_sixteenth(si_m: float, system: System) -> None:
    off_m = abs(length_m(written_length(si_m, system)) - si_m)
    assert off_m <= max(0.00051 * si_m, 0.0254 / 32 * 1.0001 if si_m > 0.29 else 0.0, 2e-8)


def read_or_refused(text: str, kind: Kind) -> float | str:
    """Give the value, or what the refusal says."""
    try:
        return read_quantity(text, kind)
    except QuantityError as error:
        return error.text


def is_refusal(found: str) -> bool:
    """Whether a refusal says what it could not read, and after the reason what would do."""
    return found.startswith("cannot read ") and "; " in found
