"""Entries with a unit become SI floats; bare numbers are refused with the accepted forms."""

from __future__ import annotations

import pytest
from pydantic import TypeAdapter, ValidationError

from takeoff.files.toml_quantities import (
    Density,
    Duration,
    Length,
    Mass,
    Share,
    Temperature,
    Volume,
)


@pytest.mark.parametrize(
    ("kind", "text", "value"),
    [
        (Length, "3/16 in", 0.0047625),
        (Volume, "18 L", 0.018),
        (Mass, "50 lb", 22.6796185),
        (Density, "2650 kg/m3", 2650.0),
        (Temperature, "68 F", 20.0),
        (Duration, "25 min", 1500.0),
        (Share, "3 %", 0.03),
    ],
)
def test_a_written_quantity_is_read(kind, text, value):
    assert TypeAdapter(kind).validate_python(text) == pytest.approx(value, rel=1e-15)


@pytest.mark.parametrize(
    ("kind", "value", "refusal"),
    [
        (Length, 4, r'4 has no unit; .* like "4 mm" or "3/16 in"'),
        (Volume, 18.0, r'18.0 has no unit; .* like "18 L" or "5 gal"'),
        (Mass, 25, 'like "25 kg" or "50 lb"'),
        (Density, 2650, 'like "2650 kg/m3" or "165 lb/ft3"'),
        (Temperature, 20, 'like "20 C" or "68 F"'),
        (Duration, 25, 'like "25 min" or "1 h"'),
        (Share, 0.03, r'0.03 has no unit; .* like "3 %"'),
        (Length, True, "must be text with a unit, like .* found true"),
        (Length, [4], "found a list"),
        (Length, None, "must be text with a unit"),
        (Length, "4", "'4' has no unit"),
        (Length, "4 kg", "cannot read '4 kg' as a length"),
        (Mass, "-4 kg", "it is negative"),
    ],
)
def test_what_has_no_unit_is_refused(kind, value, refusal):
    with pytest.raises(ValidationError, match=refusal):
        TypeAdapter(kind).validate_python(value)
