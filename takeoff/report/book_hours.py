"""What the hours of a line were reckoned from: so much of a measure, so long for each of it."""

from __future__ import annotations

import re
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction

from takeoff.bid_documents import LineRow
from takeoff.pricing.lines import printed_quantity

_BASIS = re.compile(r"(?P<measured>[0-9.]+) (?P<unit>.+) x (?P<work>[0-9.]+) (?P<each>h|min|s)")
_HOURS = {"h": Fraction(1), "min": Fraction(1, 60), "s": Fraction(1, 3600)}


@dataclass(frozen=True, slots=True)
class HoursBasis:
    """Hours of work by what was measured.

    Parameters
    ----------
    measured : Decimal
        How much of the measure there is, as printed.
    unit : str
        One of it, in words.
    each_h : float
        Hours of work for one of it. [h]
    """

    measured: Decimal
    unit: str
    each_h: float


def hours_basis(line: LineRow) -> HoursBasis | None:
    """Read what the hours of a line were reckoned from.

    Parameters
    ----------
    line : LineRow
        The line.

    Returns
    -------
    HoursBasis or None
        The basis; None where the line is not of such hours, or where its hours cannot be had
        again from the basis as it is printed.

    Examples
    --------
    >>> line = {"quantity": "28.105", "unit": "h", "basis": "23.421 m² of form x 1.2 h"}
    >>> hours_basis(line)
    HoursBasis(measured=Decimal('23.421'), unit='m² of form', each_h=1.2)
    >>> hours_basis({"quantity": "28.106", "unit": "h", "basis": "23.421 m² of form x 1.2 h"})
    >>> hours_basis({"quantity": "2", "unit": "m² of form", "basis": ""})
    """
    told = _BASIS.fullmatch(line["basis"])
    if told is None:
        return None
    measured = Decimal(told["measured"])
    each = Fraction(told["work"]) * _HOURS[told["each"]]
    if printed_quantity(Fraction(measured) * each) != Decimal(line["quantity"]):
        return None
    return HoursBasis(measured, told["unit"], float(each))
