"""The whole packs, of several sizes and prices, that cover an order at least cost."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

import numpy as np
from numpy.typing import NDArray

from takeoff.errors import PriceError
from takeoff.pricing.packs import Pack, packs_needed

Counts = tuple[int, ...]
Floats = NDArray[np.float64]


def least_cost_packs(order_kg: float, packs: Sequence[Pack]) -> Counts:
    r"""Count the packs of each size that cover an order at least cost.

    Of equal cost, those that leave least over are taken; of these, the fewest packs; of these,
    as many as can be of the sizes written first.

    .. math:: \min \sum_i p_i n_i \quad\text{with}\quad \sum_i m_i n_i \ge m, \; n_i \ge 0
        \text{ whole}

    Parameters
    ----------
    order_kg : float
        Mass needed. [kg]
    packs : sequence of Pack
        The sizes it is sold in, each at a price in whole cents; at least one.

    Returns
    -------
    tuple of int
        How many of each, in the order given.

    Raises
    ------
    PriceError
        If the solver gives no packs that cover the order, as it may for sizes or prices many
        powers of ten apart.

    Notes
    -----
    HiGHS works in floats, and takes a row as kept that is short by about a millionth. It is
    therefore asked for a little less than the order, and its answers are weighed again in whole
    numbers. Where packs have a common measure, as bags of 20 and 25 kg have, nothing they add up
    to lies in between. Otherwise an answer may fall short of the order; then one more pack of
    some size is needed, and each size is tried in turn, so that nothing is lost by it.

    Examples
    --------
    >>> from decimal import Decimal
    >>> bag = Pack("cement", 25.0, "25 kg", Decimal("9.50"))
    >>> sack = Pack("cement", 40.0, "40 kg", Decimal("14.80"))
    >>> least_cost_packs(100.0, (bag, sack)), least_cost_packs(78.0, (bag, sack))
    ((4, 0), (0, 2))
    """
    if len(packs) == 1:
        return (packs_needed(order_kg, packs[0].pack_kg),)
    counts = _Choice.of(order_kg, packs).best((0,) * len(packs))
    if counts is None:
        listed = ", ".join(f"{pack.pack} at {pack.price}" for pack in packs)
        raise PriceError(
            f"the packs of {packs[0].ingredient} of least cost could not be told among {listed}; "
            "leave out sizes that would not be bought"
        )
    return counts


@dataclass(frozen=True, slots=True)
class _Choice:
    """The choice among the packs of one ingredient, all in whole numbers.

    Masses count in the largest mass that all packs are multiples of, prices in the largest coin
    that pays them all.
    """

    sizes: Counts
    prices: Counts
    order: int

    @classmethod
    def of(cls, order_kg: float, packs: Sequence[Pack]) -> _Choice:
        """Count packs and order; what `packs_needed` takes as rounding is left off the order."""
        masses = [Fraction(str(pack.pack_kg)) for pack in packs]
        parts = math.lcm(*(mass.denominator for mass in masses))
        measure_kg = Fraction(math.gcd(*(int(mass * parts) for mass in masses)), parts)
        rounding_kg = Fraction(min(masses), 10**9)
        cents = [int(pack.price * 100) for pack in packs]
        coin = math.gcd(*cents) or 1
        return cls(
            tuple(int(mass / measure_kg) for mass in masses),
            tuple(price // coin for price in cents),
            max(0, math.ceil((Fraction(order_kg) - rounding_kg) / measure_kg)),
        )

    @property
    def most(self) -> Counts:
        """How many of each would do alone."""
        return tuple(-(-self.order // size) for size in self.sizes)

    def best(self, least: Counts, *, depth: int = 3) -> Counts | None:
        """Give the best counts not below the least, or None where the solver cannot tell."""
        counts = self._by_goals(least)
        if counts is None or self._covers(counts):
            return counts
        raised = [
            (*least[:place], count + 1, *least[place + 1 :])
            for place, count in enumerate(counts)
            if count < self.most[place]
        ]
        tried = [self.best(one, depth=depth - 1) if depth else None for one in raised]
        told = [one for one in tried if one is not None]
        # One branch left unsolved might have held the best.
        return min(told, key=self._rank) if told and len(told) == len(tried) else None

    def _covers(self, counts: Counts) -> bool:
        """Tell whether they hold the order."""
        return _sum_of(self.sizes, counts) >= self.order

    def _rank(self, counts: Counts) -> tuple[int, int, int, Counts]:
        """Give cost, mass, number of packs and the order as written, less being better."""
        in_turn = tuple(-count for count in counts)
        return _sum_of(self.prices, counts), _sum_of(self.sizes, counts), sum(counts), in_turn

    def _by_goals(self, least: Counts) -> Counts | None:
        """Reach one goal after the other, holding each, until an answer falls short."""
        short = max(0.5, 2e-6 * max(self.sizes))
        ratios = np.array(self.sizes, float) / min(self.sizes)
        held = [(-ratios, (short - self.order) / min(self.sizes))]
        counts = None
        for goal, room in self._goals(ratios):
            counts = _solved(goal, held, least, self.most)
            if counts is None or not self._covers(counts):
                break
            held.append((goal, float(goal @ counts) + room))
        return counts

    def _goals(self, ratios: Floats) -> list[tuple[Floats, float]]:
        """Give cost, mass, number of packs, sizes in turn: those that no earlier ones settle.

        Each has beside it the room within which two values of it count as one.
        """
        each = np.eye(len(ratios))
        goals = [(np.array(self.prices, float), 0.5), (ratios, 1e-6), (each.sum(0), 0.5)]
        goals += [(-one, 0.5) for one in each]
        kept: list[tuple[Floats, float]] = []
        for goal, room in goals:
            rows = np.array([*(row for row, _ in kept), goal])
            lengths = np.linalg.norm(rows, axis=1, keepdims=True)
            if np.linalg.matrix_rank(rows / np.maximum(lengths, 1.0), tol=1e-9) == len(rows):
                kept.append((goal, room))
        return kept


def _sum_of(values: Counts, counts: Counts) -> int:
    """Add up values of so many packs of each size."""
    return sum(value * count for value, count in zip(values, counts, strict=True))


def _solved(
    goal: Floats,
    held: Sequence[tuple[Floats, float]],
    least: Counts,
    most: Counts,
) -> Counts | None:
    """Give the whole numbers of the least goal that keep every row held at most at its limit."""
    from scipy.optimize import Bounds, LinearConstraint, milp

    rows, limits = zip(*held, strict=True)
    answer = milp(
        goal,
        integrality=np.ones(len(most)),
        bounds=Bounds(least, most),
        constraints=LinearConstraint(np.array(rows), ub=np.array(limits)),
        options={"mip_rel_gap": 0.0},
    )
    if answer.status != 0:
        return None
    return tuple(int(count) for count in np.rint(answer.x))
