"""Types for the entries of a TOML table that carry a unit, read into SI floats."""

from __future__ import annotations

from collections.abc import Callable
from typing import Annotated

from pydantic import AfterValidator, BeforeValidator, Field

from takeoff.errors import QuantityError
from takeoff.files.toml_faults import shown
from takeoff.units import (
    density_kg_m3,
    duration_s,
    length_m,
    mass_kg,
    share,
    temperature_c,
    volume_m3,
)


def _written(read: Callable[[str], float], like: str) -> BeforeValidator:
    """Make a validator that takes text with its unit and refuses bare numbers."""

    def validated(value: object) -> float:
        if isinstance(value, str):
            return read(value)
        if isinstance(value, int | float) and not isinstance(value, bool):
            raise QuantityError(f"{value} has no unit; write it in quotes with one, like {like}")
        raise QuantityError(f"must be text with a unit, like {like}, found {shown(value)}")

    return BeforeValidator(validated)


Length = Annotated[float, _written(length_m, '"4 mm" or "3/16 in"')]
Volume = Annotated[float, _written(volume_m3, '"18 L" or "5 gal"')]
Mass = Annotated[float, _written(mass_kg, '"25 kg" or "50 lb"')]
Density = Annotated[float, _written(density_kg_m3, '"2650 kg/m3" or "165 lb/ft3"')]
Temperature = Annotated[float, _written(temperature_c, '"20 C" or "68 F"')]
Duration = Annotated[float, _written(duration_s, '"25 min" or "1 h"')]
Share = Annotated[float, _written(share, '"3 %"')]


def _printable(value: str) -> str:
    """Refuse line feeds, escapes and other signs that no sheet can print."""
    odd = [sign for sign in value if ord(sign) < 32 or ord(sign) == 127]
    if odd:
        raise ValueError(f"holds {odd[0]!r}, which cannot be printed; leave it out")
    return value


Name = Annotated[str, Field(min_length=1), AfterValidator(_printable)]
