"""Stock on hand: what of it may be used on a day, and what is drawn for an order."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from typing import NamedTuple

from takeoff.pricing.packs import covers


@dataclass(frozen=True, slots=True)
class Stock:
    """One container of an ingredient, or several of one lot, that the shop has already paid for.

    Parameters
    ----------
    ingredient : str
        Name of the ingredient in the mixes.
    mass_kg : float
        What is in it. [kg]
    opened : date or None, default None
        Day it was opened; None if it is not, or nobody told.
    use_by : date or None, default None
        Last day it may be used; None where it does not age, or nobody told.
    lot : str or None, default None
        Lot as printed on it.
    """

    ingredient: str
    mass_kg: float
    opened: date | None = None
    use_by: date | None = None
    lot: str | None = None


@dataclass(frozen=True, slots=True)
class Drawn:
    """What is taken out of one stock.

    Parameters
    ----------
    lot : str or None
        Its lot.
    mass_kg : float
        What is taken. [kg]
    """

    lot: str | None
    mass_kg: float


class PassedOver(NamedTuple):
    """A stock that is not used, and the reason.

    Parameters
    ----------
    stock : Stock
        The stock.
    why : str
        Why it is not used, and what would change that.
    """

    stock: Stock
    why: str


def draw(
    stock: Sequence[Stock], order_kg: float, *, day: date | None, one_lot: bool
) -> tuple[tuple[Drawn, ...], tuple[PassedOver, ...]]:
    """Draw an order from the stock of one ingredient, as far as that may be used.

    What must be used first is drawn first: the earliest use-by, then what was opened earliest,
    then as written. What has no such day comes behind what has one.

    Parameters
    ----------
    stock : sequence of Stock
        Stock of the ingredient.
    order_kg : float
        Mass needed. [kg]
    day : date or None
        Day of casting; without one, nothing with a use-by is used.
    one_lot : bool
        Whether all of the order must come from one lot; then it is drawn whole or not at all.

    Returns
    -------
    tuple of Drawn
        What is taken, in the order it is to be used.
    tuple of PassedOver
        What may not be used, and why; not what is simply left.

    Examples
    --------
    >>> pails = [Stock("pigment", 2.0, lot="A7"), Stock("pigment", 5.0, lot="B2")]
    >>> draw(pails, 6.0, day=None, one_lot=False)[0]
    (Drawn(lot='A7', mass_kg=2.0), Drawn(lot='B2', mass_kg=4.0))
    >>> drawn, passed_over = draw(pails, 4.0, day=None, one_lot=True)
    >>> drawn
    (Drawn(lot='B2', mass_kg=4.0),)
    >>> passed_over[0].why
    'lot A7 holds 2 kg of the 4 kg that must all come from one lot'
    """
    reasons = [(one, _past_use(one, day)) for one in sorted(stock, key=_turn)]
    usable = [one for one, why in reasons if why is None]
    passed_over = [PassedOver(one, why) for one, why in reasons if why is not None]
    if one_lot:
        usable, too_little = _of_one_lot(usable, order_kg)
        passed_over += too_little
    return _taken(usable, order_kg), tuple(passed_over)


def _turn(stock: Stock) -> tuple[date, date]:
    """Give the rank by which stock is used up."""
    return (stock.use_by or date.max, stock.opened or date.max)


def _past_use(stock: Stock, day: date | None) -> str | None:
    """Say why a stock may not be used on the day, if it may not."""
    if stock.use_by is None:
        return None
    if day is None:
        return f"no day is told to hold its use-by {stock.use_by} against; date the job"
    if day > stock.use_by:
        return f"past its use-by {stock.use_by} on {day}"
    return None


def _of_one_lot(usable: Sequence[Stock], order_kg: float) -> tuple[list[Stock], list[PassedOver]]:
    """Choose the first lot that covers the order by itself; name those that cannot."""
    lots: dict[str, list[Stock]] = {}
    passed_over = []
    for one in usable:
        if one.lot is None:
            why = "its lot is not told, and all must come from one; tell its lot to have it used"
            passed_over.append(PassedOver(one, why))
        else:
            lots.setdefault(one.lot, []).append(one)
    chosen: list[Stock] = []
    for lot, members in lots.items():
        held_kg = math.fsum(one.mass_kg for one in members)
        if not covers(held_kg, order_kg, pack_kg=held_kg or 1.0):
            why = (
                f"lot {lot} holds {held_kg:.6g} kg of the {order_kg:.6g} kg that must all come "
                "from one lot"
            )
            passed_over += [PassedOver(one, why) for one in members]
        elif not chosen:
            chosen = members
    return chosen, passed_over


def _taken(usable: Sequence[Stock], order_kg: float) -> tuple[Drawn, ...]:
    """Empty one stock after the other until the order is covered."""
    drawn = []
    still_kg = order_kg
    for one in usable:
        mass_kg = min(one.mass_kg, still_kg)
        if mass_kg > 0.0:
            drawn.append(Drawn(one.lot, mass_kg))
            still_kg -= mass_kg
    return tuple(drawn)
