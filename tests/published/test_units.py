"""Exact sizes of customary units, against published ones.

The figures stand as the source prints them. The foot, the yard and everything made of them are the
international ones; the gallon and the fluid ounce are those of the US.
"""

from __future__ import annotations

import pytest

from takeoff.units import area_m2, density_kg_m3, length_m, mass_kg, volume_m3

SOURCE = "UNI-01, NIST Handbook 44 App. C (read in copies), pint 0.25.3 (measured)"
STANDARD_GRAVITY_M_S2 = 9.80665  # NIST SP 811 (2008), Appendix B (from memory)


def printed(name: str, value: float, figure: float) -> object:
    return pytest.param(value, figure, id=f"{SOURCE}: {name}")


@pytest.mark.parametrize(
    ("value", "figure"),
    [
        printed("in_mm", length_m("1 in") * 1000, 25.4),
        printed("lb_kg", mass_kg("1 lb"), 0.45359237),
        printed("gal_L", volume_m3("1 gal") * 1000, 3.785411784),
        printed("ft3_L", volume_m3("1 ft3") * 1000, 28.316846592),
        printed("yd3_m3", volume_m3("1 yd3"), 0.764554857984),
        printed("pcf", density_kg_m3("1 pcf"), 16.01846337396014),
        printed("psf", mass_kg("1 lb") / area_m2("1 ft2"), 4.882427636383051),
        printed("floz_mL", volume_m3("1 fl oz") * 1e6, 29.5735295625),
        printed(
            "psi_Pa",
            mass_kg("1 lb") * STANDARD_GRAVITY_M_S2 / area_m2("1 in2"),
            6894.757293168361,
        ),
    ],
)
def test_a_customary_unit_has_its_published_size(value: float, figure: float) -> None:
    assert value == pytest.approx(figure, rel=1e-14)
