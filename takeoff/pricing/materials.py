"""Ingredients over a whole job: needed, lost, ordered, and how the order is met."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from takeoff.pricing.buying import Purchase, buy
from takeoff.pricing.lines import Line, LineKind, line_of
from takeoff.pricing.packs import Pack
from takeoff.pricing.stock import Stock


@dataclass(frozen=True, slots=True)
class Need:
    """What one lot takes of one ingredient.

    Parameters
    ----------
    ingredient : str
        Name of the ingredient.
    net_kg : float
        What stays in the pieces. [kg]
    weighed_kg : float
        What is weighed for it, losses included. [kg]
    bought : bool, default True
        False for water from the tap.
    low_ratio, high_ratio : float, default 1
        What it would be at the least and the most thickness, over what it is. [-]
    """

    ingredient: str
    net_kg: float
    weighed_kg: float
    bought: bool = True
    low_ratio: float = 1.0
    high_ratio: float = 1.0


@dataclass(frozen=True, slots=True)
class Market:
    """How ingredients can be had.

    Parameters
    ----------
    packs : mapping of str to tuple of Pack
        The packs each ingredient is sold in.
    stock : tuple of Stock, default ()
        What is on hand.
    day : date or None, default None
        Day of casting.
    one_lot : frozenset of str, default frozenset()
        Ingredients of which all must come from one lot.
    """

    packs: Mapping[str, tuple[Pack, ...]]
    stock: tuple[Stock, ...] = ()
    day: date | None = None
    one_lot: frozenset[str] = frozenset()


@dataclass(frozen=True, slots=True)
class Material:
    """One ingredient over the job.

    Parameters
    ----------
    ingredient : str
        Name of the ingredient.
    net_kg, loss_kg, order_kg : float
        What stays in the pieces, what is lost on the way, and both together. [kg]
    order_range_kg : tuple of float
        The order at the least and the most thickness. [kg]
    purchase : Purchase or None
        How the order is met; None for water from the tap.
    """

    ingredient: str
    net_kg: float
    loss_kg: float
    order_kg: float
    order_range_kg: tuple[float, float]
    purchase: Purchase | None

    @property
    def cost(self) -> Decimal | None:
        """Price of what is bought, to the cent; None for what is not bought.

        Examples
        --------
        >>> Material("water", 5.0, 0.1, 5.1, (5.1, 5.1), None).cost is None
        True
        """
        return None if self.purchase is None else self.purchase.cost

    @property
    def lines(self) -> tuple[Line, ...]:
        """A line for each size of pack that is bought.

        Examples
        --------
        >>> Material("water", 5.0, 0.1, 5.1, (5.1, 5.1), None).lines
        ()
        """
        if self.purchase is None:
            return ()
        return tuple(
            line_of(
                self.ingredient,
                Decimal(bought.packs),
                f"pack of {bought.pack.pack}",
                bought.pack.price,
                LineKind.MATERIAL,
            )
            for bought in self.purchase.bought
        )


def materials_of(needs: Iterable[Need], market: Market) -> tuple[Material, ...]:
    """Add up the needs of all lots, and meet them from stock and in whole packs.

    Parameters
    ----------
    needs : iterable of Need
        Needs of every lot; the same ingredient may come up in several.
    market : Market
        How ingredients can be had.

    Returns
    -------
    tuple of Material
        One entry per ingredient, in the order they first come up.

    Raises
    ------
    PriceError
        If ingredients that are bought have no pack and price; all are named.

    Examples
    --------
    >>> cement = Pack("cement", 25.0, "25 kg", Decimal("9.50"))
    >>> needs = [Need("cement", 40.0, 41.0), Need("water", 13.0, 13.3, bought=False)]
    >>> rows = materials_of(needs, Market({"cement": (cement,)}))
    >>> [(row.ingredient, row.cost) for row in rows]
    [('cement', Decimal('19.00')), ('water', None)]
    """
    by_name: dict[str, list[Need]] = {}
    for need in needs:
        by_name.setdefault(need.ingredient, []).append(need)
    order_kg = {
        name: sum(need.weighed_kg for need in of_it)
        for name, of_it in by_name.items()
        if any(need.bought for need in of_it)
    }
    purchases = {one.ingredient: one for one in purchases_of(order_kg, market)}
    return tuple(_material(name, of_it, purchases.get(name)) for name, of_it in by_name.items())


def purchases_of(order_kg: Mapping[str, float], market: Market) -> tuple[Purchase, ...]:
    """Meet orders from stock and in whole packs.

    Parameters
    ----------
    order_kg : mapping of str to float
        Mass of each ingredient. [kg]
    market : Market
        How they can be had.

    Returns
    -------
    tuple of Purchase
        How each order is met.

    Raises
    ------
    PriceError
        If ingredients have no pack and price; all are named.

    Examples
    --------
    >>> purchases_of({}, Market({}))
    ()
    """
    return buy(order_kg, market.packs, stock=market.stock, day=market.day, one_lot=market.one_lot)


def _material(name: str, needs: Sequence[Need], purchase: Purchase | None) -> Material:
    weighed_kg = sum(need.weighed_kg for need in needs)
    net_kg = sum(need.net_kg for need in needs)
    low_kg = sum(need.weighed_kg * need.low_ratio for need in needs)
    high_kg = sum(need.weighed_kg * need.high_ratio for need in needs)
    return Material(name, net_kg, weighed_kg - net_kg, weighed_kg, (low_kg, high_kg), purchase)
