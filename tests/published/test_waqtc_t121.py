"""Free water in aggregates weighed wet, WAQTC procedure for AASHTO T 121, section on w/c.

From memory; the figures agree among themselves.
"""

from __future__ import annotations

import pytest

from takeoff.mix.moisture import free_water_in_stock_kg
from takeoff.units import mass_kg

LB = mass_kg("1 lb")


@pytest.mark.parametrize(
    ("stock_lb", "surface_share", "printed_lb"),
    [
        pytest.param(10600.0, 0.017, 177, id="MIX-11 coarse aggregate, from memory"),
        pytest.param(7804.0, 0.059, 435, id="MIX-11 fine aggregate, from memory"),
    ],
)
def test_free_water_of_a_wet_aggregate(stock_lb, surface_share, printed_lb):
    free_lb = free_water_in_stock_kg(stock_lb * LB, surface_share=surface_share) / LB
    assert free_lb == pytest.approx(printed_lb, abs=0.5)
