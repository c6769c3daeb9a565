"""Wet sand is weighed heavier and takes water off the mix; dry sand does the opposite."""

from __future__ import annotations

import pytest

from takeoff.errors import MixError
from takeoff.mix.moisture import (
    free_water_in_stock_kg,
    free_water_kg,
    stock_from_oven_dry_kg,
    stock_from_ssd_kg,
)


@pytest.mark.parametrize("surface_share", [0.06, 0.0, -0.01])
def test_what_is_added_to_the_sand_is_the_water_it_brings(surface_share):
    stock_kg = stock_from_ssd_kg(100.0, surface_share=surface_share)
    water_kg = free_water_kg(100.0, surface_share=surface_share)
    assert stock_kg - 100.0 == pytest.approx(water_kg)
    assert free_water_in_stock_kg(stock_kg, surface_share=surface_share) == pytest.approx(water_kg)


def test_absorbed_water_is_weighed_but_not_free():
    # Common practice, no source: sand takes up about 0.25 % inside its grains.
    stock_kg = stock_from_oven_dry_kg(100.0, absorption_share=0.0025, surface_share=0.03)
    assert stock_kg == pytest.approx(103.25)
    assert free_water_kg(100.0, surface_share=0.03) == pytest.approx(3.0)


@pytest.mark.parametrize(
    ("call", "refusal"),
    [
        (lambda: stock_from_ssd_kg(-1.0, surface_share=0.06), "must be at least 0 kg, found -1"),
        (lambda: free_water_kg(float("nan"), surface_share=0.06), "found nan"),
        (lambda: free_water_in_stock_kg(1.0, surface_share=6.0), "found 6 on the surface"),
        (lambda: free_water_kg(1.0, surface_share=-0.6), "6 % is 0.06"),
        (
            lambda: stock_from_oven_dry_kg(1.0, absorption_share=-0.01, surface_share=0.0),
            "-0.01 absorbed",
        ),
    ],
)
def test_what_is_no_moisture_is_refused(call, refusal):
    with pytest.raises(MixError, match=refusal):
        call()
