"""US Army Engineer School subcourse EN5466, concrete mix design.

Read at armyengineer.tpub.com/EN5466A/EN5466A0051.htm. The source rounds 12.05 gal to 12 and so
prints 26.6 gal to add; the unrounded figure is 26.55.
"""

from __future__ import annotations

import pytest

from takeoff.mix.moisture import free_water_kg
from takeoff.units import mass_kg

LB = mass_kg("1 lb")


def free_lb(ssd_lb: float, surface_share: float) -> float:
    """Give the free water of an aggregate in pounds."""
    return free_water_kg(ssd_lb * LB, surface_share=surface_share) / LB


@pytest.mark.parametrize(
    ("ssd_lb", "surface_share", "printed_lb"),
    [
        pytest.param(1768.0, 0.02, 35.36, id="MIX-03 coarse aggregate"),
        pytest.param(1083.0, 0.06, 64.98, id="MIX-03 fine aggregate"),
    ],
)
def test_free_surface_moisture(ssd_lb, surface_share, printed_lb):
    assert free_lb(ssd_lb, surface_share) == pytest.approx(printed_lb, abs=0.005)


@pytest.mark.parametrize(
    ("printed_lb", "printed_add_gal"), [pytest.param(100.34, 26.6, id="MIX-03")]
)
def test_water_to_add(printed_lb, printed_add_gal):
    total_lb = free_lb(1768.0, 0.02) + free_lb(1083.0, 0.06)
    assert total_lb == pytest.approx(printed_lb, abs=0.005)
    assert 38.6 - total_lb / 8.33 == pytest.approx(printed_add_gal, abs=0.05)
