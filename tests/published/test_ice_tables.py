"""Mix temperature in tables: an ice quantity sheet, a case study of extreme weather, PCA EB001.

TMP-02: 'Ice quantity calculation' sheet, anonymous, without a stable address; specific heat of
solids 0.22. TMP-03 and TMP-04: 'Case study of extreme weather concreting', two tables, read at
constructionduniya.blogspot.com/2012/05/case-study-of-extreme-weather.html; 0.92 and 4.184 kJ/kg K,
335 kJ/kg (misprinted 33.5, but 335 is what its figures hold). The source rounds temperatures to
whole degrees. TMP-05 and TMP-06: PCA EB001, 14th edition, chapter 13, from memory; the figures
agree among themselves.
"""

from __future__ import annotations

import math

import pytest

from takeoff.mix.temperature import Heats, Warmth, heat_balance

KILOJOULE = Heats(920.0, 4184.0, 2097.0, 335.0)
# Counted per kilogram of water, as the sheet does.
PER_WATER = Heats(220.0, 1000.0, 500.0, 80.0)


def parts_of(cement, aggregate, water):
    """Make solids and water of pairs of kg and °C."""
    return [
        Warmth(cement[0], 0.0, cement[1]),
        Warmth(aggregate[0], 0.0, aggregate[1]),
        Warmth(0.0, water[0], water[1]),
    ]


def capacity_kj_k(parts, heats, ice_kg=0.0):
    """Add up what warms all of it by one kelvin."""
    melted_kj_k = ice_kg * heats.water_j_kg_k / 1000.0
    return sum(part.kilojoules_per_kelvin(heats) for part in parts) + melted_kj_k


@pytest.mark.parametrize(
    ("printed_numerator", "printed_denominator", "printed_c"),
    [pytest.param(28151.5, 702.5, 40.1, id="TMP-02")],
)
def test_ice_quantity_sheet(printed_numerator, printed_denominator, printed_c):
    parts = parts_of((375.0, 46.2), (2000.0, 41.0), (180.0, 35.0))
    denominator = capacity_kj_k(parts, PER_WATER)
    balance = heat_balance(parts, heats=PER_WATER)
    assert denominator == pytest.approx(printed_denominator, abs=0.05)
    assert balance.temperature_c * denominator == pytest.approx(printed_numerator, abs=0.05)
    assert balance.temperature_c == pytest.approx(printed_c, abs=0.05)


@pytest.mark.parametrize(
    ("printed_kj_k", "printed_c", "printed_ice_percent"),
    [pytest.param(2736.1, 27, 28.93, id="TMP-03 M30")],
)
def test_extreme_weather_m30(printed_kj_k, printed_c, printed_ice_percent):
    parts = parts_of((360.0, 40.0), (1828.2, 37.0), (122.8, 30.0))
    assert capacity_kj_k(parts, KILOJOULE, 50.0) == pytest.approx(printed_kj_k, abs=0.05)
    balance = heat_balance(parts, heats=KILOJOULE, ice_kg=50.0)
    assert round(balance.temperature_c) == printed_c
    # The source cuts 28.935 off.
    cut_percent = math.floor(1e4 * 50.0 / (122.8 + 50.0)) / 100.0
    assert cut_percent == printed_ice_percent


@pytest.mark.parametrize(
    ("printed_kj_k", "printed_kj", "printed_c"),
    [pytest.param(2945.6, 80705.3, 27, id="TMP-04 M35")],
)
def test_extreme_weather_m35(printed_kj_k, printed_kj, printed_c):
    parts = parts_of((410.0, 40.0), (1799.9, 37.0), (168.1, 30.0))
    capacity = capacity_kj_k(parts, KILOJOULE, 50.0)
    balance = heat_balance(parts, heats=KILOJOULE, ice_kg=50.0)
    assert capacity == pytest.approx(printed_kj_k, abs=0.05)
    # The heat is printed 1.2 kJ, 15 in a million, too low; no rounding of its terms gives that.
    assert balance.temperature_c * capacity - printed_kj == pytest.approx(1.21, abs=0.05)
    assert round(balance.temperature_c) == printed_c


@pytest.mark.parametrize(
    ("water_kg", "ice_kg", "printed_kj_k", "printed_c", "apart_c"),
    [
        pytest.param(123.0, 0.0, 2515, 31.8, 0.0202, id="TMP-05 from memory"),
        pytest.param(123.0, 44.0, 2699, 24.1, -0.0503, id="TMP-06 from memory, 44 kg of ice"),
    ],
)
def test_pca_table(water_kg, ice_kg, printed_kj_k, printed_c, apart_c):
    parts = parts_of((335.0, 66.0), (1839.0, 27.0), (water_kg, 27.0))
    assert capacity_kj_k(parts, KILOJOULE, ice_kg) == pytest.approx(printed_kj_k, abs=0.5)
    # 24.1503 is printed as 24.1.
    balance = heat_balance(parts, heats=KILOJOULE, ice_kg=ice_kg)
    assert printed_c - balance.temperature_c == pytest.approx(apart_c, abs=0.0005)
