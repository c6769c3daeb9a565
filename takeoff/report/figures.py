"""SI values written for people, in metric or in US customary units.

One rule holds throughout: four significant figures, a whole part that is never cut short, no zeros
at the end, and nothing finer than a millionth of the unit. What is written here can be read back.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from decimal import Decimal
from enum import StrEnum
from fractions import Fraction
from functools import cache

from takeoff.errors import QuantityError
from takeoff.units import (
    area_m2,
    density_kg_m3,
    duration_s,
    length_m,
    mass_kg,
    share,
    volume_m3,
)


class System(StrEnum):
    """The units that results are written in."""

    METRIC = "metric"
    US = "us"


SYSTEM_NAMES = {System.METRIC: "metric", System.US: "US customary"}
"""What the systems are called in a text."""


# A unit as it is written, and how many of it are too many, so that the next one is taken.
_Scales = tuple[tuple[str, float], ...]

_LENGTHS: _Scales = (("mm", 10_000.0), ("m", math.inf))
_AREAS: dict[System, _Scales] = {
    System.METRIC: (("m²", math.inf),),
    System.US: (("sq ft", math.inf),),
}
_VOLUMES: dict[System, _Scales] = {
    System.METRIC: (("L", 1000.0), ("m³", math.inf)),
    System.US: (("gal", 200.0), ("cu yd", math.inf)),
}
_MASSES: _Scales = (("g", 1000.0), ("kg", math.inf))
_DENSITIES: dict[System, _Scales] = {
    System.METRIC: (("kg/m³", math.inf),),
    System.US: (("lb/cu ft", math.inf),),
}
_SIXTEENTHS = 16
_INCHES_IN_A_FOOT = 12
_OUNCES_IN_A_POUND = 16
_LONG_RUN_FT = 100
_HEAVY_LB = 100


def written_length(si_m: float, system: System) -> str:
    """Write a length: millimetres, from 10 m on metres; or feet and inches.

    From one foot on, inches are rounded to a sixteenth; below, they stand as a decimal unless they
    are a sixteenth, since a sixteenth is a large part of a coat. From 100 ft on, as for the bead
    along all edges, decimal feet are written.

    Parameters
    ----------
    si_m : float
        Length. [m]
    system : System
        Which units to write.

    Returns
    -------
    str
        The length with its unit.

    Raises
    ------
    QuantityError
        If it is not a finite number.

    Examples
    --------
    >>> written_length(0.004, System.METRIC), written_length(12.3456, System.METRIC)
    ('4 mm', '12.35 m')
    >>> [written_length(si_m, System.US) for si_m in (0.004, 0.0047625, 0.6477, 45.0)]
    ['0.1575 in', '3/16 in', '2 ft 1 1/2 in', '147.6 ft']
    """
    if system == System.METRIC:
        return _written(si_m, length_m, _LENGTHS)
    feet = _figure(si_m / _size(length_m, "ft"))
    if abs(feet) >= _LONG_RUN_FT:
        return f"{feet:f} ft"
    inches = _figure(si_m / _size(length_m, "in"))
    nearest = _to_sixteenth(si_m / _size(length_m, "in"))
    if abs(nearest) < _INCHES_IN_A_FOOT and _figure(float(nearest)) != inches:
        return f"{inches:f} in"
    return ("-" if nearest < 0 else "") + _feet_and_inches(abs(nearest))


def written_area(si_m2: float, system: System) -> str:
    """Write an area in square metres or square feet.

    Parameters
    ----------
    si_m2 : float
        Area. [m²]
    system : System
        Which units to write.

    Returns
    -------
    str
        The area with its unit.

    Raises
    ------
    QuantityError
        If it is not a finite number.

    Examples
    --------
    >>> written_area(2.5, System.METRIC), written_area(2.5, System.US)
    ('2.5 m²', '26.91 sq ft')
    """
    return _written(si_m2, area_m2, _AREAS[system])


def written_volume(si_m3: float, system: System) -> str:
    """Write a volume: litres, from 1 m³ on cubic metres; or gallons, from 200 on cubic yards.

    Parameters
    ----------
    si_m3 : float
        Volume. [m³]
    system : System
        Which units to write.

    Returns
    -------
    str
        The volume with its unit; gallons are those of the US.

    Raises
    ------
    QuantityError
        If it is not a finite number.

    Examples
    --------
    >>> written_volume(0.0189, System.METRIC), written_volume(1.25, System.METRIC)
    ('18.9 L', '1.25 m³')
    >>> written_volume(0.0189, System.US), written_volume(1.25, System.US)
    ('4.993 gal', '1.635 cu yd')
    """
    return _written(si_m3, volume_m3, _VOLUMES[system])


def written_mass(si_kg: float, system: System) -> str:
    """Write a mass: grams, from 1 kg on kilograms; or pounds and ounces, from 100 lb on pounds.

    Parameters
    ----------
    si_kg : float
        Mass. [kg]
    system : System
        Which units to write.

    Returns
    -------
    str
        The mass with its unit.

    Raises
    ------
    QuantityError
        If it is not a finite number.

    Examples
    --------
    >>> written_mass(0.93, System.METRIC), written_mass(18.1436948, System.METRIC)
    ('930 g', '18.14 kg')
    >>> [written_mass(si_kg, System.US) for si_kg in (0.1, 1.0, 18.1436948, 71.0)]
    ['3.527 oz', '2 lb 3.27 oz', '40 lb', '156.5 lb']
    """
    if system == System.METRIC:
        return _written(si_kg, mass_kg, _MASSES)
    pounds = _figure(si_kg / _size(mass_kg, "lb"))
    if abs(pounds) >= _HEAVY_LB:
        return f"{pounds:f} lb"
    ounces = _figure(si_kg / _size(mass_kg, "oz"))
    sign = "-" if ounces < 0 else ""
    whole, rest = divmod(abs(ounces), _OUNCES_IN_A_POUND)
    parts = [f"{whole:f} lb"] if whole else []
    if rest or not parts:
        parts.append(f"{rest.normalize():f} oz")
    return sign + " ".join(parts)


def written_density(si_kg_m3: float, system: System) -> str:
    """Write a density in kilograms a cubic metre or pounds a cubic foot.

    Parameters
    ----------
    si_kg_m3 : float
        Density. [kg/m³]
    system : System
        Which units to write.

    Returns
    -------
    str
        The density with its unit.

    Raises
    ------
    QuantityError
        If it is not a finite number.

    Examples
    --------
    >>> written_density(2100.0, System.METRIC), written_density(2100.0, System.US)
    ('2100 kg/m³', '131.1 lb/cu ft')
    """
    return _written(si_kg_m3, density_kg_m3, _DENSITIES[system])


def written_temperature(si_c: float, system: System) -> str:
    """Write a temperature in degrees Celsius or Fahrenheit, to a tenth.

    Parameters
    ----------
    si_c : float
        Temperature. [°C]
    system : System
        Which units to write.

    Returns
    -------
    str
        The temperature with its scale.

    Raises
    ------
    QuantityError
        If it is not a finite number.

    Examples
    --------
    >>> written_temperature(20.0, System.METRIC), written_temperature(20.0, System.US)
    ('20 C', '68 F')
    """
    degrees, scale = (si_c, "C") if system == System.METRIC else (si_c * 9 / 5 + 32, "F")
    return f"{_trimmed(_finite(degrees), 1):f} {scale}"


def written_duration(si_s: float) -> str:
    """Write a duration in days, hours, minutes and seconds; from a minute on, whole seconds.

    Parameters
    ----------
    si_s : float
        Duration. [s]

    Returns
    -------
    str
        The parts that are not zero.

    Raises
    ------
    QuantityError
        If it is not a finite number.

    Examples
    --------
    >>> [written_duration(si_s) for si_s in (12.5, 1500.0, 5400.0, 2_419_200.0)]
    ['12.5 s', '25 min', '1 h 30 min', '28 d']
    """
    seconds = _figure(si_s)
    if abs(seconds) < _size(duration_s, "min"):
        return f"{seconds:f} s"
    left = round(abs(si_s))
    parts = []
    for unit in ("d", "h", "min", "s"):
        number, left = divmod(left, round(_size(duration_s, unit)))
        parts += [f"{number} {unit}"] if number else []
    return ("-" if si_s < 0 else "") + " ".join(parts)


def written_share(si_share: float) -> str:
    """Write a share in percent.

    Parameters
    ----------
    si_share : float
        Share. [-]

    Returns
    -------
    str
        The share with its percent sign.

    Raises
    ------
    QuantityError
        If it is not a finite number.

    Examples
    --------
    >>> written_share(0.1), written_share(0.035)
    ('10 %', '3.5 %')
    """
    return _written(si_share, share, (("%", math.inf),))


def _written(si_value: float, reader: Callable[[str], float], scales: _Scales) -> str:
    """Write a value in the first unit that does not make too large a number of it."""
    for unit, too_many in scales:
        figure = _figure(si_value / _size(reader, unit))
        if abs(figure) < too_many:
            break
    return f"{figure:f} {unit}"


@cache
def _size(reader: Callable[[str], float], unit: str) -> float:
    """Give the size of a unit in SI, as the reader of written quantities has it."""
    return reader(f"1 {unit}")


def _figure(number: float) -> Decimal:
    """Round to four significant figures, but never a whole part, and never below a millionth."""
    exact = _finite(number)
    decimals = min(6, max(0, 3 - exact.adjusted())) if exact else 0
    return _trimmed(exact, decimals)


def _finite(number: float) -> Decimal:
    """Take a float as the shortest decimal that stands for it."""
    if not math.isfinite(number):
        raise QuantityError(f"{number} is not a finite number, so it cannot be written")
    return Decimal(repr(float(number)))


def _trimmed(number: Decimal, decimals: int) -> Decimal:
    """Round to so many decimals, then drop zeros at the end and the sign of a zero."""
    rounded = Decimal(f"{number:.{decimals}f}")
    return rounded.normalize() if rounded else Decimal(0)


def _to_sixteenth(inches: float) -> Fraction:
    """Round inches to the nearest sixteenth."""
    return Fraction(round(inches * _SIXTEENTHS), _SIXTEENTHS)


def _feet_and_inches(inches: Fraction) -> str:
    """Write inches as feet, whole inches and a fraction, without what is zero."""
    feet, rest = divmod(inches, _INCHES_IN_A_FOOT)
    whole, broken = divmod(rest, 1)
    number = " ".join(([str(whole)] if whole else []) + ([str(broken)] if broken else []))
    parts = ([f"{feet} ft"] if feet else []) + ([f"{number} in"] if number else [])
    return " ".join(parts) or "0 in"
