"""Ingredients over a whole job: needed, lost, ordered, packed and paid."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from decimal import Decimal

from takeoff.errors import PriceError
from takeoff.pricing.packs import Pack, packs_needed, rounded


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
    """

    ingredient: str
    net_kg: float
    weighed_kg: float
    bought: bool = True


@dataclass(frozen=True, slots=True)
class Material:
    """One ingredient over the job.

    Parameters
    ----------
    ingredient : str
        Name of the ingredient.
    net_kg, loss_kg, order_kg : float
        What stays in the pieces, what is lost on the way, and both together. [kg]
    pack : Pack or None
        How it is bought; None for water from the tap.
    packs : int or None
        Whole packs that cover the order.
    """

    ingredient: str
    net_kg: float
    loss_kg: float
    order_kg: float
    pack: Pack | None
    packs: int | None

    @property
    def cost(self) -> Decimal | None:
        """Price of the packs, rounded as printed; None where nothing is bought.

        Examples
        --------
        >>> cement = Pack("cement", 25.0, "25 kg", Decimal("9.50"))
        >>> Material("cement", 95.0, 5.0, 100.0, cement, 4).cost
        Decimal('38.00')
        """
        if self.pack is None or self.packs is None:
            return None
        return rounded(self.pack.price * self.packs)


def materials_of(needs: Iterable[Need], prices: Mapping[str, Pack]) -> tuple[Material, ...]:
    """Add up the needs of all lots, and buy them in whole packs.

    Parameters
    ----------
    needs : iterable of Need
        Needs of every lot; the same ingredient may come up in several.
    prices : mapping of str to Pack
        How each ingredient is bought.

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
    >>> [(row.ingredient, row.packs) for row in materials_of(needs, {"cement": cement})]
    [('cement', 2), ('water', None)]
    """
    net: dict[str, float] = {}
    weighed: dict[str, float] = {}
    bought: dict[str, bool] = {}
    for need in needs:
        net[need.ingredient] = net.get(need.ingredient, 0.0) + need.net_kg
        weighed[need.ingredient] = weighed.get(need.ingredient, 0.0) + need.weighed_kg
        bought[need.ingredient] = bought.get(need.ingredient, False) or need.bought
    _refuse_unpriced([name for name in net if bought[name] and name not in prices])
    rows = []
    for name, net_kg in net.items():
        pack = prices.get(name)
        packs = packs_needed(weighed[name], pack.pack_kg) if pack else None
        rows.append(Material(name, net_kg, weighed[name] - net_kg, weighed[name], pack, packs))
    return tuple(rows)


def material_total(materials: Iterable[Material]) -> Decimal:
    """Add up the printed costs.

    Parameters
    ----------
    materials : iterable of Material
        The materials.

    Returns
    -------
    Decimal
        Their total, to the cent the sum of the lines.

    Examples
    --------
    >>> material_total([])
    Decimal('0.00')
    """
    costs = [material.cost for material in materials]
    return sum((cost for cost in costs if cost is not None), Decimal("0.00"))


def _refuse_unpriced(names: list[str]) -> None:
    if names:
        listed = ", ".join(names)
        raise PriceError(
            f"no pack and price for {listed}; give each in the shop file as [[price]] with "
            'ingredient, pack (like "25 kg") and price'
        )
