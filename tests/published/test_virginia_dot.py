"""Absolute volume of a US sack of cement, Virginia DOT Concrete School, level III.

No stable public address.
"""

from __future__ import annotations

import pytest

from takeoff.mix.volumes import absolute_volume_m3
from takeoff.units import density_kg_m3, mass_kg, volume_m3


@pytest.mark.parametrize("printed_ft3", [pytest.param(0.478, id="MIX-12")])
def test_absolute_volume_of_a_sack(printed_ft3):
    sack_m3 = absolute_volume_m3(
        {"cement": mass_kg("94 lb")}, {"cement": 3.15 * density_kg_m3("62.4 lb/ft3")}
    )
    assert sack_m3 / volume_m3("1 cu ft") == pytest.approx(printed_ft3, abs=0.0005)
