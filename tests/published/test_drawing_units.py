"""Millimetres in a drawing unit, as published for the codes of ``$INSUNITS``."""

import pytest

from takeoff.files.dxf_units import declared_unit

# Documentation of the ezdxf library, "DXF Units" (ezdxf.mozman.at/docs/concepts/units.html), with
# the code list of its class InsertUnits, version 1.4.5; the US survey foot as 1200/3937 m in it.
PRINTED_MM = {
    1: 25.4,
    2: 304.8,
    4: 1.0,
    5: 10.0,
    6: 1000.0,
    8: 2.54e-05,
    9: 0.0254,
    10: 914.4,
    13: 0.001,
    14: 100.0,
    21: 304.8006096,
}


@pytest.mark.parametrize(
    ("code", "printed_mm"),
    [pytest.param(code, mm, id=f"UNI-02 code {code}") for code, mm in PRINTED_MM.items()],
)
def test_the_codes_of_drawing_units(code, printed_mm):
    unit = declared_unit({"$INSUNITS": str(code).encode()})
    assert unit.metres_per_unit * 1000 == pytest.approx(printed_mm, rel=1e-9)


def test_code_0_is_no_unit():
    assert declared_unit({"$INSUNITS": b"0"}) is None
