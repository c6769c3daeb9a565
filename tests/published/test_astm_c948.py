"""Bulk densities, absorption and porosity by the formulas of ASTM C948.

The formulas are from memory, the numbers ours: A oven dry, B saturated and surface dry, C immersed.
"""

from __future__ import annotations

import pytest

from takeoff.mix.hardened import Coupon


@pytest.mark.parametrize(
    ("printed_wet", "printed_dry", "printed_absorption_percent", "printed_porosity_percent"),
    [pytest.param(2176.5, 1960.8, 11.0, 21.57, id="GRC-05 formulas from memory")],
)
def test_three_weighings(
    printed_wet, printed_dry, printed_absorption_percent, printed_porosity_percent
):
    coupon = Coupon(dry_kg=1.0, saturated_kg=1.11, immersed_kg=0.6)
    assert coupon.wet_kg_m3 == pytest.approx(printed_wet, abs=0.05)
    assert coupon.dry_kg_m3 == pytest.approx(printed_dry, abs=0.05)
    assert 100.0 * coupon.absorption_share == pytest.approx(printed_absorption_percent, abs=0.05)
    assert 100.0 * coupon.porosity_share == pytest.approx(printed_porosity_percent, abs=0.005)
