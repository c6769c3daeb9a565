"""Written quantities, read exactly into SI: ``3/16 in``, ``2' 1 1/2"``, ``0,5 cm``, ``40 lb``.

The unit stands in the value and a bare number is refused. Sums are exact fractions until the last
step, which rounds once to a float. What can be read two ways is refused with both readings.
"""

from __future__ import annotations

from takeoff.quantity_text import read_quantity, read_unit
from takeoff.unit_tables import (
    AREA,
    DENSITY,
    DURATION,
    LENGTH,
    MASS,
    SHARE,
    SPEED,
    TEMPERATURE,
    VOLUME,
)


def length_m(text: str) -> float:
    r"""Read a written length.

    Parameters
    ----------
    text : str
        A number and a unit of length, or feet and inches, or metres and smaller.

    Returns
    -------
    float
        The length, at least 0. [m]

    Raises
    ------
    QuantityError
        If it is no length, lacks its unit, is negative, or can be read two ways.

    Examples
    --------
    >>> length_m("20 mm")
    0.02
    >>> length_m("2' 1 1/2\"")
    0.6477
    >>> length_m("20")  # doctest: +ELLIPSIS
    Traceback (most recent call last):
    takeoff.errors.QuantityError: cannot read '20' as a length: '20' has no unit; write ...
    """
    return read_quantity(text, LENGTH)


def area_m2(text: str) -> float:
    """Read a written area.

    Parameters
    ----------
    text : str
        A number and a unit of area.

    Returns
    -------
    float
        The area, at least 0. [m²]

    Raises
    ------
    QuantityError
        If it is no area, lacks its unit, is negative, or can be read two ways.

    Examples
    --------
    >>> area_m2("100 sq ft")
    9.290304
    """
    return read_quantity(text, AREA)


def volume_m3(text: str) -> float:
    """Read a written volume; gallons, quarts, pints and fluid ounces are those of the US.

    Parameters
    ----------
    text : str
        A number and a unit of volume.

    Returns
    -------
    float
        The volume, at least 0. [m³]

    Raises
    ------
    QuantityError
        If it is no volume, lacks its unit, is negative, or can be read two ways.

    Examples
    --------
    >>> volume_m3("18,9 L")
    0.0189
    >>> volume_m3("5 gal")
    0.01892705892
    >>> volume_m3("5 imp gal")
    0.02273045
    """
    return read_quantity(text, VOLUME)


def mass_kg(text: str) -> float:
    """Read a written mass.

    Parameters
    ----------
    text : str
        A number and a unit of mass, or pounds and ounces, or kilograms and grams.

    Returns
    -------
    float
        The mass, at least 0. [kg]

    Raises
    ------
    QuantityError
        If it is no mass, lacks its unit, is negative, or can be read two ways.

    Examples
    --------
    >>> mass_kg("40 lb")
    18.1436948
    """
    return read_quantity(text, MASS)


def density_kg_m3(text: str) -> float:
    """Read a written density, in any unit of mass over any unit of volume.

    Parameters
    ----------
    text : str
        A number and a unit of density.

    Returns
    -------
    float
        The density, at least 0. [kg/m³]

    Raises
    ------
    QuantityError
        If it is no density, lacks its unit, is negative, or can be read two ways.

    Examples
    --------
    >>> density_kg_m3("2,1 g/cm3")
    2100.0
    >>> round(density_kg_m3("131 lb/ft3"), 3)
    2098.419
    """
    return read_quantity(text, DENSITY)


def temperature_c(text: str) -> float:
    """Read a written temperature.

    Parameters
    ----------
    text : str
        A number and C, F or K.

    Returns
    -------
    float
        The temperature. [°C]

    Raises
    ------
    QuantityError
        If it is no temperature, lacks its scale, or lies below absolute zero.

    Examples
    --------
    >>> temperature_c("68 F")
    20.0
    """
    return read_quantity(text, TEMPERATURE)


def duration_s(text: str) -> float:
    """Read a written duration; a day is 24 hours.

    Parameters
    ----------
    text : str
        A number and a unit of time, or hours and minutes.

    Returns
    -------
    float
        The duration, at least 0. [s]

    Raises
    ------
    QuantityError
        If it is no duration, lacks its unit, is negative, or can be read two ways.

    Examples
    --------
    >>> duration_s("1 h 30 min")
    5400.0
    """
    return read_quantity(text, DURATION)


def speed_m_s(text: str) -> float:
    """Read a written speed, in any unit of length over any unit of time.

    Parameters
    ----------
    text : str
        A number and a unit of speed.

    Returns
    -------
    float
        The speed, at least 0. [m/s]

    Raises
    ------
    QuantityError
        If it is no speed, lacks its unit, is negative, or can be read two ways.

    Examples
    --------
    >>> speed_m_s("18 km/h"), speed_m_s("10 mph")
    (5.0, 4.4704)
    """
    return read_quantity(text, SPEED)


def share(text: str) -> float:
    """Read a written share; more than 100 % is allowed, as in a dose by mass of cement.

    Parameters
    ----------
    text : str
        A number and a percent sign.

    Returns
    -------
    float
        The share, at least 0. [-]

    Raises
    ------
    QuantityError
        If it is no share, lacks its sign, is negative, or can be read two ways.

    Examples
    --------
    >>> share("3.5 %")
    0.035
    """
    return read_quantity(text, SHARE)


def metres_per_unit(name: str) -> float:
    """Give the length of one unit, by any of its spellings.

    Parameters
    ----------
    name : str
        ``"mm"``, ``"inches"``, ``"ft"`` ...

    Returns
    -------
    float
        Its length. [m]

    Raises
    ------
    QuantityError
        If it is not a unit of length.

    Examples
    --------
    >>> metres_per_unit("inches")
    0.0254
    """
    return read_unit(name, LENGTH)
