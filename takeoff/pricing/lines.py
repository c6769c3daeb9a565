"""The lines of a bid: a quantity and a price as printed, what they come to, and the terms on top.

One law holds for every line: the amount is the printed quantity times the printed price, rounded
to the cent, halves up. A total is the sum of printed amounts, so whoever adds up the page by hand
gets the same cent.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass
from decimal import Decimal
from enum import StrEnum
from fractions import Fraction

from takeoff.pricing.packs import rounded


class LineKind(StrEnum):
    """What a line charges."""

    MATERIAL = "material"
    ITEM = "item"
    LABOUR = "labour"
    RATE = "rate"
    MARKUP = "markup"
    MINIMUM = "minimum"
    TAX = "tax"


_CHARGED = frozenset({LineKind.MATERIAL, LineKind.ITEM, LineKind.LABOUR, LineKind.RATE})


@dataclass(frozen=True, slots=True)
class Line:
    """One printed line of a bid.

    Parameters
    ----------
    what : str
        What is charged.
    quantity : Decimal
        How much of it, as printed.
    unit : str
        In what, in the shop's own unit.
    price : Decimal
        Price of one unit, in the currency of the job.
    amount : Decimal
        Quantity times price, to the cent.
    kind : LineKind
        What sort of charge it is.
    basis : str, default ""
        What the quantity was reckoned from, where it was not counted itself.
    """

    what: str
    quantity: Decimal
    unit: str
    price: Decimal
    amount: Decimal
    kind: LineKind
    basis: str = ""


@dataclass(frozen=True, slots=True)
class Terms:
    """What comes on top of the lines.

    Parameters
    ----------
    markup_share : Decimal, default 0
        Added on material, items, labour and rates. [-]
    tax_share : Decimal, default 0
        Added on all of it, last. [-]
    minimum_charge : Decimal or None, default None
        Least sum before tax, in the currency of the job.
    """

    markup_share: Decimal = Decimal(0)
    tax_share: Decimal = Decimal(0)
    minimum_charge: Decimal | None = None


def line_of(
    what: str, quantity: Decimal, unit: str, price: Decimal, kind: LineKind, *, basis: str = ""
) -> Line:
    """Make a line, and reckon what it comes to.

    Parameters
    ----------
    what : str
        What is charged.
    quantity : Decimal
        How much of it, as printed.
    unit : str
        In what.
    price : Decimal
        Price of one unit.
    kind : LineKind
        What sort of charge it is.
    basis : str, default ""
        What the quantity was reckoned from.

    Returns
    -------
    Line
        The line.

    Examples
    --------
    >>> line_of("boards", Decimal("2.345"), "m²", Decimal("12.50"), LineKind.RATE).amount
    Decimal('29.31')
    """
    return Line(what, quantity, unit, price, rounded(quantity * price), kind, basis)


def printed_quantity(number: Fraction) -> Decimal:
    """Round a quantity to the three decimals that are printed and multiplied, halves up.

    Parameters
    ----------
    number : Fraction
        The quantity in the unit that is printed, at least 0.

    Returns
    -------
    Decimal
        The quantity, without zeros at its end.

    Notes
    -----
    It is rounded to a millionth of the unit first. A sum of floats may end a hair below the half
    that it stands for, and nothing measured from a drawing means anything beyond a millionth;
    without this, 2.0005 reached as 2.000499999 would lose a thousandth. What pays for it: numbers
    less than half a millionth below a half go up too.

    Examples
    --------
    >>> printed_quantity(Fraction("2.000499999")), printed_quantity(Fraction("2.00049"))
    (Decimal('2.001'), Decimal('2'))
    """
    millionths = math.floor(number * 1_000_000 + Fraction(1, 2))
    quantity = Decimal((millionths + 500) // 1000).scaleb(-3)
    whole = quantity.to_integral_value()
    return whole if quantity == whole else quantity.normalize()


def price_up(lines: Iterable[Line], terms: Terms) -> tuple[Line, ...]:
    """Put markup, minimum charge and tax behind the lines, in this order.

    Parameters
    ----------
    lines : iterable of Line
        Material, items, labour and rates. Lines of other terms among them are made anew.
    terms : Terms
        What comes on top.

    Returns
    -------
    tuple of Line
        All lines. Terms that add nothing have none.

    Notes
    -----
    Markup and tax are lines like the others: a share of the sum above as the quantity, that sum
    as the price. The minimum charge is a line of what is missing to it.

    Examples
    --------
    >>> boards = line_of("boards", Decimal(10), "m²", Decimal("12.50"), LineKind.RATE)
    >>> terms = Terms(Decimal("0.15"), Decimal("0.2"), Decimal("250.00"))
    >>> for line in price_up([boards], terms):
    ...     print(line.what, line.quantity, line.unit, line.price, line.amount)
    boards 10 m² 12.50 125.00
    markup of 15 % 0.15 of the sum above 125.00 18.75
    up to the minimum charge of 250.00 1 job 106.25 106.25
    tax of 20 % 0.2 of the sum above 250.00 50.00
    """
    charged = [line for line in lines if line.kind in _CHARGED]
    charged += _share_of(charged, "markup", terms.markup_share, LineKind.MARKUP)
    charged += _missing_to(charged, terms.minimum_charge)
    charged += _share_of(charged, "tax", terms.tax_share, LineKind.TAX)
    return tuple(charged)


def total_of(lines: Iterable[Line]) -> Decimal:
    """Add up the printed amounts.

    Parameters
    ----------
    lines : iterable of Line
        The lines.

    Returns
    -------
    Decimal
        Their sum, to the cent.

    Examples
    --------
    >>> total_of([line_of("brackets", Decimal(3), "item", Decimal("3.20"), LineKind.ITEM)])
    Decimal('9.60')
    """
    return sum((line.amount for line in lines), Decimal("0.00"))


def _share_of(lines: list[Line], word: str, share: Decimal, kind: LineKind) -> list[Line]:
    """Charge a share of the lines so far, if there is any."""
    if not share:
        return []
    percent = f"{(share * 100).normalize():f}"
    what = f"{word} of {percent} %"
    return [line_of(what, share, "of the sum above", total_of(lines), kind)]


def _missing_to(lines: list[Line], minimum_charge: Decimal | None) -> list[Line]:
    """Charge what the lines so far lack to the minimum, if they lack anything."""
    missing = rounded(minimum_charge or Decimal(0)) - total_of(lines)
    if missing <= 0:
        return []
    what = f"up to the minimum charge of {minimum_charge:.2f}"
    return [line_of(what, Decimal(1), "job", missing, LineKind.MINIMUM)]
