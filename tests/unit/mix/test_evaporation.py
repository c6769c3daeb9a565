"""A fresh surface dries faster in warm, dry wind, and not at all where dew falls."""

from __future__ import annotations

import pytest

from takeoff.errors import MixError
from takeoff.mix.evaporation import Weather, evaporation_kg_m2_h


def rate(mix_c=25.0, air_c=25.0, humidity_share=0.4, wind_m_s=5.0):
    """Give the rate of one weather."""
    return evaporation_kg_m2_h(Weather(air_c, humidity_share, wind_m_s), mix_c=mix_c)


def test_by_hand():
    # 43^2.5 = 12124.71; 0.6 of it is 7274.82; times 18 + 4 = 22, times 5e-6: 0.80023.
    assert rate() == pytest.approx(0.80023, abs=5e-6)


@pytest.mark.parametrize(
    "faster",
    [dict(mix_c=30.0), dict(humidity_share=0.2), dict(wind_m_s=8.0), dict(mix_c=30.0, air_c=30.0)],
)
def test_it_dries_faster(faster):
    assert rate(**faster) > rate()


def test_dew_is_no_drying():
    assert rate(mix_c=5.0, air_c=30.0, humidity_share=0.9) == 0.0


@pytest.mark.parametrize(
    ("weather", "refusal"),
    [
        (dict(humidity_share=1.2), "humidity is from 0 to 100 %, found 120"),
        (dict(humidity_share=-0.1), "humidity is from 0 to 100 %"),
        (dict(air_c=-20.0), "air of -20 C is beyond the equation"),
        (dict(air_c=float("nan")), "air of nan C"),
        (dict(wind_m_s=60.0), "wind of 60 m/s is beyond"),
        (dict(mix_c=70.0), "a mix at 70 C is beyond"),
    ],
)
def test_weather_beyond_the_equation_is_refused(weather, refusal):
    with pytest.raises(MixError, match=refusal):
        rate(**weather)
