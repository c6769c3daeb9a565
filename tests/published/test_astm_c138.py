"""Density, yield and relative yield as ASTM C138 and AASHTO T 121 compute them.

MIX-09 from a study guide for ACI Field Testing Grade I, section 10.4; MIX-10 from a review question
of the WAQTC field operating procedure for AASHTO T 121, whose answer is ours. Both read in
secondary texts without a stable public address.
"""

from __future__ import annotations

import pytest

from takeoff.mix.volumes import measured_density_kg_m3, measured_yield_m3
from takeoff.units import density_kg_m3, mass_kg, volume_m3

LB = mass_kg("1 lb")
PCF = density_kg_m3("1 lb/ft3")
YD3 = volume_m3("1 cu yd")


@pytest.mark.parametrize(
    ("printed_net_lb", "printed_pcf"), [pytest.param(35.5, 142.0, id="MIX-09 section 10.4")]
)
def test_density_from_a_measure(printed_net_lb, printed_pcf):
    measure_m3 = volume_m3("0.25 cu ft")
    density = measured_density_kg_m3(
        full_kg=mass_kg("54.1 lb"), empty_kg=mass_kg("18.6 lb"), measure_m3=measure_m3
    )
    assert density / PCF == pytest.approx(printed_pcf, abs=0.05)
    assert density * measure_m3 / LB == pytest.approx(printed_net_lb, abs=0.005)


@pytest.mark.parametrize(
    ("printed_yd3", "printed_relative"), [pytest.param(8.81, 0.98, id="MIX-10 T 121 review")]
)
def test_yield_and_relative_yield(printed_yd3, printed_relative):
    yield_m3 = measured_yield_m3(
        mass_kg=mass_kg("34855 lb"), density_kg_m3=density_kg_m3("146.6 lb/ft3")
    )
    assert yield_m3 / YD3 == pytest.approx(printed_yd3, abs=0.005)
    # The second question: a batch that weighs 9.8 cubic yards, designed for 10.
    second_m3 = measured_yield_m3(
        mass_kg=9.8 * YD3 * density_kg_m3("146.6 lb/ft3"),
        density_kg_m3=density_kg_m3("146.6 lb/ft3"),
    )
    assert second_m3 / (10.0 * YD3) == pytest.approx(printed_relative, abs=1e-9)
