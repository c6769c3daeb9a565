"""Which system of units a text is written in: the one its question was asked in."""

from __future__ import annotations

from takeoff.report.figures import System

_INCH_UNITS = frozenset({"in", "inch", "inches", '"', "ft", "foot", "feet", "'", "yd", "mil"})

_US_WORDS = frozenset({"gal", "gallon", "gallons", "qt", "pt", "oz", "lb", "lbs", "ft", "yd", "cu"})


def system_of_unit(name: str | None) -> System:
    """Choose the system that goes with the unit of a drawing.

    Parameters
    ----------
    name : str or None
        The unit, as told or declared.

    Returns
    -------
    System
        US customary for inches and feet, metric for all else.

    Examples
    --------
    >>> system_of_unit("inch").value, system_of_unit("mm").value
    ('us', 'metric')
    """
    return System.US if (name or "").strip().lower() in _INCH_UNITS else System.METRIC


def system_of_amount(text: str | None) -> System:
    """Choose the system that goes with a written amount.

    Parameters
    ----------
    text : str or None
        The amount, such as ``"5 gal"``.

    Returns
    -------
    System
        US customary for gallons, pounds and their like, metric for all else.

    Examples
    --------
    >>> system_of_amount("5 gal").value, system_of_amount("20L").value
    ('us', 'metric')
    """
    letters = "".join(sign if sign.isalpha() else " " for sign in (text or "").lower()).split()
    return System.US if _US_WORDS.intersection(letters) else System.METRIC
