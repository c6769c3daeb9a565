"""Evaporation: the table of Lerch (1957) and PCA EB001, the example of ACI 305R, two forms.

All from memory. Ours is the SI form of Uno (1998); the table is read off a chart, and the equation
follows it within 12 % or 0.012 lb/sq ft h, whichever is larger. The equation itself is good to 40 %
against measurement (Hover 2020).
"""

from __future__ import annotations

import pytest

from takeoff.mix.evaporation import Weather, evaporation_kg_m2_h
from takeoff.units import area_m2, mass_kg, speed_m_s, temperature_c

PSF_H = mass_kg("1 lb") / area_m2("1 sq ft")

# Concrete, air [F], relative humidity [%], wind [mph], printed rate, and how far the print lies
# from the equation [lb/sq ft h].
LERCH = (
    (70, 70, 70, 0, 0.015, 0.0032),
    (70, 70, 70, 5, 0.038, 0.0026),
    (70, 70, 70, 10, 0.062, 0.0029),
    (70, 70, 70, 15, 0.085, 0.0023),
    (70, 70, 70, 20, 0.110, 0.0036),
    (70, 70, 70, 25, 0.135, 0.0050),
    (70, 70, 90, 10, 0.020, 0.0003),
    (70, 70, 50, 10, 0.100, 0.0016),
    (70, 70, 30, 10, 0.135, -0.0028),
    (70, 70, 10, 10, 0.175, -0.0022),
    (50, 50, 70, 10, 0.026, 0.0004),
    (60, 60, 70, 10, 0.043, 0.0027),
    (80, 80, 70, 10, 0.077, -0.0053),
    (90, 90, 70, 10, 0.110, -0.0003),
    (80, 70, 50, 10, 0.175, -0.0010),
    (60, 70, 50, 10, 0.045, 0.0092),
    (90, 90, 10, 0, 0.070, 0.0041),
    (90, 90, 10, 10, 0.336, 0.0050),
    (90, 90, 10, 25, 0.740, 0.0113),
    (70, 40, 50, 0, 0.035, 0.0007),
    (70, 40, 50, 10, 0.162, -0.0103),
    (70, 40, 50, 25, 0.357, -0.0223),
)


def rate_kg_m2_h(concrete, air, humidity_percent, wind):
    """Give our rate of one row."""
    weather = Weather(temperature_c(air), humidity_percent / 100.0, speed_m_s(wind))
    return evaporation_kg_m2_h(weather, mix_c=temperature_c(concrete))


def us_rate(concrete_f, air_f, humidity_percent, wind_mph):
    """Give the rate of the US form in lb/sq ft h."""
    driven = concrete_f**2.5 - humidity_percent / 100.0 * air_f**2.5
    return driven * (1.0 + 0.4 * wind_mph) * 1e-6


@pytest.mark.parametrize(
    ("weather", "printed", "apart"),
    [
        pytest.param(row[:4], *row[4:], id=f"EVP-01 from memory, E{n}")
        for n, row in enumerate(LERCH)
    ],
)
def test_drying_tendency(weather, printed, apart):
    concrete_f, air_f, humidity_percent, wind_mph = weather
    ours = rate_kg_m2_h(f"{concrete_f} F", f"{air_f} F", humidity_percent, f"{wind_mph} mph")
    assert ours / PSF_H == pytest.approx(printed, rel=0.12, abs=0.012)
    assert printed - ours / PSF_H == pytest.approx(apart, abs=0.0001)


@pytest.mark.parametrize(
    ("words", "printed"),
    [pytest.param(("87 F", "80 F", 50, "12 mph"), 0.25, id="EVP-02 from memory")],
)
def test_nomograph_example(words, printed):
    # Read off a chart: the US form gives 0.243, the SI form of Uno 0.233, 7 % less.
    assert printed - us_rate(87.0, 80.0, 50, 12.0) == pytest.approx(0.0065, abs=0.0005)
    assert printed - rate_kg_m2_h(*words) / PSF_H == pytest.approx(0.0170, abs=0.0005)


@pytest.mark.parametrize("printed_ratio", [pytest.param(1.0, id="EVP-03")])
def test_si_against_us_form(printed_ratio):
    si = rate_kg_m2_h("25 C", "25 C", 40, "20 km/h")
    us = us_rate(77.0, 77.0, 40, 20.0 / 1.609344) * PSF_H
    # They agree to 2 to 6 %: here to 4.1 %.
    assert printed_ratio - si / us == pytest.approx(0.0407, abs=0.0005)
