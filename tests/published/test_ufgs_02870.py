"""Mass per area of GFRC shells, Unified Facilities Guide Specification 02870.

``ufgs-02870``; density and thicknesses read at ufgscriteriadocreport.tpub.com/02870/028700018.htm,
their products are ours.
"""

from __future__ import annotations

import pytest

from takeoff.mix.spraying import coat_mass_kg_m2
from takeoff.units import area_m2, density_kg_m3, length_m, mass_kg

PSF = mass_kg("1 lb") / area_m2("1 sq ft")


@pytest.mark.parametrize(
    ("density", "thickness", "unit_kg_m2", "printed"),
    [
        pytest.param("1921 kg/m3", "10 mm", 1.0, 19.21, id="GRC-01 10 mm"),
        pytest.param("1921 kg/m3", "16 mm", 1.0, 30.74, id="GRC-01 16 mm"),
        pytest.param("120 lb/ft3", "3/8 in", PSF, 3.75, id="GRC-01 3/8 in"),
        pytest.param("120 lb/ft3", "5/8 in", PSF, 6.25, id="GRC-01 5/8 in"),
    ],
)
def test_mass_per_area(density, thickness, unit_kg_m2, printed):
    mass_kg_m2 = coat_mass_kg_m2(
        density_kg_m3=density_kg_m3(density), thickness_m=length_m(thickness)
    )
    assert mass_kg_m2 / unit_kg_m2 == pytest.approx(printed, abs=0.005)
