"""Values as people read them."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from takeoff.errors import QuantityError
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

FOOT_M = 0.3048
INCH_M = 0.0254
POUND_KG = 0.45359237
OUNCE_KG = POUND_KG / 16
GALLON_M3 = 231 * INCH_M**3
YARD3_M3 = 0.9144**3


@pytest.mark.parametrize(
    ("si_m", "text"),
    [
        (0.0, "0 mm"),
        (-0.0, "0 mm"),
        (0.004, "4 mm"),
        (0.0035, "3.5 mm"),
        (0.00002, "0.02 mm"),
        (1e-17, "0 mm"),
        (0.647, "647 mm"),
        (1.23456, "1235 mm"),
        (9.9994, "9999 mm"),
        (9.9996, "10 m"),
        (12.3456, "12.35 m"),
        (243.64, "243.6 m"),
        (12_345.6, "12346 m"),
        (-0.004, "-4 mm"),
    ],
)
def test_a_metric_length_is_in_millimetres_up_to_ten_metres(si_m: float, text: str) -> None:
    assert written_length(si_m, System.METRIC) == text


@pytest.mark.parametrize(
    ("si_m", "text"),
    [
        (0.0, "0 in"),
        (0.004, "0.1575 in"),
        (0.00001, "0.000394 in"),
        (3 / 16 * INCH_M, "3/16 in"),
        (1.5 * INCH_M, "1 1/2 in"),
        (0.11, "4.331 in"),
        (12 * INCH_M, "1 ft"),
        (11.99 * INCH_M, "1 ft"),
        (25.5 * INCH_M, "2 ft 1 1/2 in"),
        (24.5 * INCH_M, "2 ft 1/2 in"),
        (1.0, "3 ft 3 3/8 in"),
        (-25.5 * INCH_M, "-2 ft 1 1/2 in"),
        (-0.004, "-0.1575 in"),
        (99.9 * FOOT_M, "99 ft 10 13/16 in"),
        (147.64 * FOOT_M, "147.6 ft"),
    ],
)
def test_a_us_length_is_in_feet_and_sixteenths_unless_a_sixteenth_is_coarse(
    si_m: float, text: str
) -> None:
    assert written_length(si_m, System.US) == text


@pytest.mark.parametrize(
    ("writer", "si_value", "metric", "us"),
    [
        (written_area, 0.0, "0 m²", "0 sq ft"),
        (written_area, 0.00125, "0.00125 m²", "0.01345 sq ft"),
        (written_area, 9.290304, "9.29 m²", "100 sq ft"),
        (written_area, 1234.56, "1235 m²", "13289 sq ft"),
        (written_volume, 0.0005, "0.5 L", "0.1321 gal"),
        (written_volume, 5 * GALLON_M3, "18.93 L", "5 gal"),
        (written_volume, 0.9999, "999.9 L", "1.308 cu yd"),
        (written_volume, 0.99996, "1 m³", "1.308 cu yd"),
        (written_volume, 2 * YARD3_M3, "1.529 m³", "2 cu yd"),
        (written_mass, 0.093, "93 g", "3.28 oz"),
        (written_mass, 0.99996, "1 kg", "2 lb 3.27 oz"),
        (written_mass, 40 * POUND_KG, "18.14 kg", "40 lb"),
        (written_mass, 40 * POUND_KG + 2 * OUNCE_KG, "18.2 kg", "40 lb 2 oz"),
        (written_mass, 2 * POUND_KG + 3 * OUNCE_KG, "992.2 g", "2 lb 3 oz"),
        (written_mass, 99.9999 * POUND_KG, "45.36 kg", "100 lb"),
        (written_mass, 1234.56, "1235 kg", "2722 lb"),
        (written_mass, -40 * POUND_KG, "-18.14 kg", "-40 lb"),
        (written_mass, 0.0, "0 g", "0 oz"),
        (written_density, 2100.0, "2100 kg/m³", "131.1 lb/cu ft"),
        (written_density, 32.5, "32.5 kg/m³", "2.029 lb/cu ft"),
        (written_temperature, 20.0, "20 C", "68 F"),
        (written_temperature, -40.0, "-40 C", "-40 F"),
        (written_temperature, 22.25, "22.2 C", "72 F"),
        (written_temperature, -0.01, "0 C", "32 F"),
    ],
)
def test_a_value_is_written_in_either_system(
    writer: Callable[[float, System], str], si_value: float, metric: str, us: str
) -> None:
    assert writer(si_value, System.METRIC) == metric
    assert writer(si_value, System.US) == us


@pytest.mark.parametrize(
    ("si_s", "text"),
    [
        (0.0, "0 s"),
        (12.5, "12.5 s"),
        (59.996, "1 min"),
        (90.0, "1 min 30 s"),
        (1500.4, "25 min"),
        (5400.0, "1 h 30 min"),
        (86_400.0 + 60.0, "1 d 1 min"),
        (2_419_200.0, "28 d"),
        (-90.0, "-1 min 30 s"),
    ],
)
def test_a_duration_leaves_out_what_is_zero(si_s: float, text: str) -> None:
    assert written_duration(si_s) == text


@pytest.mark.parametrize(
    ("si_share", "text"), [(0.0, "0 %"), (0.1, "10 %"), (0.0352, "3.52 %"), (1.5, "150 %")]
)
def test_a_share_is_written_in_percent(si_share: float, text: str) -> None:
    assert written_share(si_share) == text


@pytest.mark.parametrize("system", System)
@pytest.mark.parametrize("number", [float("nan"), float("inf"), float("-inf")])
def test_what_is_no_number_is_not_written(number: float, system: System) -> None:
    for writer in (
        written_length,
        written_area,
        written_volume,
        written_mass,
        written_density,
        written_temperature,
    ):
        with pytest.raises(QuantityError, match="is not a finite number, so it cannot be written"):
            writer(number, system)
    for plain_writer in (written_duration, written_share):
        with pytest.raises(QuantityError, match="is not a finite number"):
            plain_writer(number)


@pytest.mark.parametrize("number", [1e300, 5e-324])
def test_numbers_out_of_all_reach_are_still_written(number: float) -> None:
    texts = [
        writer(number, system)
        for system in System
        for writer in (written_length, written_area, written_volume, written_mass, written_density)
    ]
    assert all("e" not in text.lower().split(" ")[0] for text in texts)


def test_only_powers_are_not_plain_signs() -> None:
    texts = [
        writer(1234.5678, system)
        for system in System
        for writer in (written_length, written_area, written_volume, written_mass, written_density)
    ]
    assert {sign for text in texts for sign in text if not sign.isascii()} == {"²", "³"}


def test_a_system_may_be_told_by_its_word() -> None:
    assert written_length(0.02, System("metric")) == "20 mm"
    assert written_mass(40 * POUND_KG, System("us")) == "40 lb"
