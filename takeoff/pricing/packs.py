"""Whole packs that cover a need, and what they cost."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from decimal import ROUND_HALF_UP, Decimal


@dataclass(frozen=True, slots=True)
class Pack:
    """How an ingredient is bought.

    Parameters
    ----------
    ingredient : str
        Name of the ingredient in the mixes.
    pack_kg : float
        Mass of one pack. [kg]
    pack : str
        The pack in the shop's own words, such as ``25 kg``.
    price : Decimal
        Price of one pack, in the currency of the job.
    """

    ingredient: str
    pack_kg: float
    pack: str
    price: Decimal


@dataclass(frozen=True, slots=True, eq=False)
class PriceList(Mapping[str, tuple[Pack, ...]]):
    """The packs of every ingredient, and where in a file they are written.

    Parameters
    ----------
    packs : mapping of str to tuple of Pack
        The packs each ingredient is sold in.
    where : str
        File and line of the last of them.

    Examples
    --------
    >>> sold = PriceList({"cement": (Pack("cement", 25.0, "25 kg", Decimal("9.50")),)}, "shop.toml")
    >>> list(sold), sold["cement"][0].pack
    (['cement'], '25 kg')
    """

    packs: Mapping[str, tuple[Pack, ...]]
    where: str

    def __getitem__(self, ingredient: str) -> tuple[Pack, ...]:
        return self.packs[ingredient]

    def __iter__(self) -> Iterator[str]:
        return iter(self.packs)

    def __len__(self) -> int:
        return len(self.packs)


def packs_needed(order_kg: float, pack_kg: float) -> int:
    """Count the whole packs that cover an order.

    Parameters
    ----------
    order_kg : float
        Mass needed. [kg]
    pack_kg : float
        Mass of one pack. [kg]

    Returns
    -------
    int
        The least number whose mass is not below the need.

    Raises
    ------
    ValueError
        If the pack holds nothing.

    Examples
    --------
    >>> packs_needed(100.0, 25.0), packs_needed(100.1, 25.0), packs_needed(0.0, 25.0)
    (4, 5, 0)
    """
    if pack_kg <= 0.0:
        raise ValueError("a pack must hold more than nothing")
    return max(0, math.ceil(order_kg / pack_kg - 1e-9))


def covers(mass_kg: float, order_kg: float, *, pack_kg: float) -> bool:
    """Tell whether a mass covers an order, the rounding of sums of floats apart.

    Parameters
    ----------
    mass_kg : float
        Mass at hand. [kg]
    order_kg : float
        Mass needed. [kg]
    pack_kg : float
        Mass of the smallest pack; an order is covered that is short of a billionth of it, as
        `packs_needed` has it. [kg]

    Returns
    -------
    bool
        True if it is not below the need.

    Examples
    --------
    >>> covers(0.1 + 0.7, 0.8, pack_kg=0.1), covers(0.79, 0.8, pack_kg=0.1)
    (True, False)
    """
    return (order_kg - mass_kg) / pack_kg <= 1e-9


def rounded(amount: Decimal) -> Decimal:
    """Round money to two places, halves up, as it is printed.

    Parameters
    ----------
    amount : Decimal
        An amount.

    Returns
    -------
    Decimal
        The amount as printed.

    Examples
    --------
    >>> rounded(Decimal("2.005"))
    Decimal('2.01')
    """
    return amount.quantize(Decimal("0.01"), rounding=ROUND_HALF_UP)
