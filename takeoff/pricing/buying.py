"""What is drawn from stock and bought in packs for a whole job."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from difflib import get_close_matches

from takeoff.errors import PriceError, QuantityError
from takeoff.pricing.pack_choice import least_cost_packs
from takeoff.pricing.packs import Pack, PriceList, covers, rounded
from takeoff.pricing.stock import Drawn, PassedOver, Stock, draw


@dataclass(frozen=True, slots=True)
class Bought:
    """Packs of one size.

    Parameters
    ----------
    pack : Pack
        The pack.
    packs : int
        How many, at least 1.
    cost : Decimal
        Their price, to the cent.
    """

    pack: Pack
    packs: int
    cost: Decimal


@dataclass(frozen=True, slots=True)
class Purchase:
    """How the order of one ingredient is met.

    Parameters
    ----------
    ingredient : str
        Name of the ingredient.
    order_kg : float
        Mass needed. [kg]
    from_stock : tuple of Drawn
        What is taken from stock, in the order it is to be used.
    bought : tuple of Bought
        What is bought, in the order the packs are written; sizes of which none is bought left out.
    left_over_kg : float
        What is left of the packs bought; stock that is not drawn is not in it. [kg]
    stock_passed_over : tuple of PassedOver
        Stock that may not be used, and why.
    cost : Decimal
        Sum of the costs of what is bought; stock costs nothing more.
    """

    ingredient: str
    order_kg: float
    from_stock: tuple[Drawn, ...]
    bought: tuple[Bought, ...]
    left_over_kg: float
    stock_passed_over: tuple[PassedOver, ...]
    cost: Decimal


def buy(
    order_kg: Mapping[str, float],
    packs: Mapping[str, tuple[Pack, ...]],
    *,
    stock: Sequence[Stock] = (),
    day: date | None = None,
    one_lot: frozenset[str] = frozenset(),
) -> tuple[Purchase, ...]:
    """Meet the order of every ingredient: from stock first, the rest in packs at least cost.

    Parameters
    ----------
    order_kg : mapping of str to float
        Mass of each ingredient that is bought, over the whole job; not water from the tap. [kg]
    packs : mapping of str to tuple of Pack
        The packs each ingredient is sold in; a refusal names the place of a `PriceList`.
    stock : sequence of Stock, default ()
        What the shop has, of any ingredient.
    day : date or None, default None
        Day of casting. Stock is used up to its use-by, that day included; without a day, stock
        that has a use-by is not used.
    one_lot : frozenset of str, default frozenset()
        Ingredients of which all must come from one lot, so that the colour is the same. The
        first lot in stock that covers the order is used; if none does, all is bought new, in one
        delivery.

    Returns
    -------
    tuple of Purchase
        One for each ingredient, in the order of the mapping.

    Raises
    ------
    QuantityError
        If a mass is below 0, or no finite number.
    PriceError
        If ingredients that must be bought have no pack and price, all of which are named; if a
        pack holds nothing or its price is not in whole cents.

    Examples
    --------
    >>> bags = (Pack("cement", 25.0, "25 kg", Decimal("9.50")),)
    >>> opened = Stock("cement", 18.0, lot="0412")
    >>> [row] = buy({"cement": 90.0}, {"cement": bags}, stock=[opened])
    >>> row.from_stock, row.bought[0].packs, row.left_over_kg, row.cost
    ((Drawn(lot='0412', mass_kg=18.0),), 3, 3.0, Decimal('28.50'))
    >>> [row] = buy({"cement": 90.0}, {"cement": bags}, one_lot=frozenset({"cement"}))
    >>> row.bought[0].packs
    4
    """
    for name, mass_kg in [*order_kg.items(), *((one.ingredient, one.mass_kg) for one in stock)]:
        if not (math.isfinite(mass_kg) and mass_kg >= 0.0):
            raise QuantityError(f"{mass_kg} kg of {name} is no mass; it must be 0 kg or more")
    for sold in packs.values():
        _refuse_odd_packs(sold)
    drawn = {
        name: draw(
            [one for one in stock if one.ingredient == name],
            needed_kg,
            day=day,
            one_lot=name in one_lot,
        )
        for name, needed_kg in order_kg.items()
    }
    still_kg = {name: _still_kg(needed_kg, drawn[name][0]) for name, needed_kg in order_kg.items()}
    lacking = [name for name in order_kg if still_kg[name] > 0.0 and not packs.get(name)]
    _refuse_unpriced(lacking, packs)
    rows = []
    for name, needed_kg in order_kg.items():
        bought = _bought(still_kg[name], packs.get(name, ()))
        bought_kg = math.fsum(row.packs * row.pack.pack_kg for row in bought)
        rows.append(
            Purchase(
                ingredient=name,
                order_kg=needed_kg,
                from_stock=drawn[name][0],
                bought=bought,
                left_over_kg=max(0.0, bought_kg - still_kg[name]),
                stock_passed_over=drawn[name][1],
                cost=sum((row.cost for row in bought), Decimal("0.00")),
            )
        )
    return tuple(rows)


def _still_kg(needed_kg: float, drawn: Sequence[Drawn]) -> float:
    """Give what stock does not cover; nothing where only the rounding of sums is left."""
    drawn_kg = math.fsum(one.mass_kg for one in drawn)
    if not needed_kg or covers(drawn_kg, needed_kg, pack_kg=needed_kg):
        return 0.0
    return needed_kg - drawn_kg


def _bought(still_kg: float, packs: tuple[Pack, ...]) -> tuple[Bought, ...]:
    """Choose the packs of one ingredient, and cost them line by line."""
    if not still_kg:
        return ()
    counts = least_cost_packs(still_kg, packs)
    return tuple(
        Bought(pack, count, rounded(pack.price * count))
        for pack, count in zip(packs, counts, strict=True)
        if count
    )


def _refuse_odd_packs(packs: Sequence[Pack]) -> None:
    """Refuse packs of no mass, and prices that no bill can hold."""
    for pack in packs:
        if not (math.isfinite(pack.pack_kg) and pack.pack_kg > 0.0):
            raise PriceError(f"a pack of {pack.ingredient} must hold more than nothing")
        if not pack.price.is_finite() or pack.price < 0 or pack.price != rounded(pack.price):
            raise PriceError(
                f"{pack.price} for {pack.pack} of {pack.ingredient} is no price in whole cents"
            )


def _refuse_unpriced(names: Sequence[str], packs: Mapping[str, tuple[Pack, ...]]) -> None:
    """Name the ingredients that nobody told how to buy, and prices that may be meant for them."""
    if not names:
        return
    spelt = {name.casefold(): name for name in packs}
    near = {name: get_close_matches(name.casefold(), spelt, n=1) for name in names}
    meant = "".join(
        f"; there is a price for {spelt[found[0]]!r}, which may be meant for {name!r}"
        for name, found in near.items()
        if found
    )
    raise PriceError(
        f"no pack and price for {', '.join(names)}; give each in the shop file as [[price]] "
        f'with ingredient, pack (like "25 kg") and price{meant}',
        where=packs.where if isinstance(packs, PriceList) else "",
    )
