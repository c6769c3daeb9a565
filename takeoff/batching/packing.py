"""Whole faces put together into the fewest batches, and a bound that none can beat."""

from __future__ import annotations

import math
from collections.abc import Sequence

_SLACK = 1e-9
_SEARCH_STEPS = 20_000
_SEARCH_ITEMS = 40

Bins = tuple[tuple[int, ...], ...]


def least_bins(weights_kg: Sequence[float], capacity_kg: float) -> int:
    """Give a count of batches that whole faces cannot do with less than.

    Parameters
    ----------
    weights_kg : sequence of float
        Mass of each face, none above the capacity. [kg]
    capacity_kg : float
        The most that one batch places. [kg]

    Returns
    -------
    int
        The bound.

    References
    ----------
    Martello and Toth, Knapsack Problems, 1990, chapter 8: their second bound (from memory).

    Examples
    --------
    >>> least_bins([30.0, 30.0, 30.0], 50.0)
    3
    """
    halves = sorted({0.0, *(weight for weight in weights_kg if weight <= capacity_kg / 2.0)})
    return max((_bound_above(weights_kg, capacity_kg, small) for small in halves), default=0)


def _bound_above(weights_kg: Sequence[float], capacity_kg: float, small_kg: float) -> int:
    """Count large faces one to a batch; what is left of them takes faces from a size on."""
    alone = [weight for weight in weights_kg if weight > capacity_kg - small_kg + _SLACK]
    large = [
        weight
        for weight in weights_kg
        if capacity_kg / 2.0 + _SLACK < weight <= capacity_kg - small_kg + _SLACK
    ]
    medium_kg = sum(
        weight for weight in weights_kg if small_kg <= weight <= capacity_kg / 2.0 + _SLACK
    )
    spare_kg = len(large) * capacity_kg - sum(large)
    more = max(0.0, (medium_kg - spare_kg) / capacity_kg)
    return len(alone) + len(large) + math.ceil(more - _SLACK)


def packed(weights_kg: Sequence[float], capacity_kg: float) -> Bins:
    """Put whole faces into few batches of even size.

    Parameters
    ----------
    weights_kg : sequence of float
        Mass of each face, none above the capacity. [kg]
    capacity_kg : float
        The most that one batch places. [kg]

    Returns
    -------
    tuple of tuple of int
        Numbers of the faces in each batch, in order.

    Notes
    -----
    Best fit of the largest first, then a short exact search where that is above the bound of
    `least_bins`; then the largest batch is made as small as exchanges can make it.

    Examples
    --------
    >>> packed([30.0, 30.0, 20.0, 20.0], 50.0)
    ((0, 2), (1, 3))
    """
    order = sorted(range(len(weights_kg)), key=lambda item: (-weights_kg[item], item))
    bins = _best_fit(weights_kg, order, capacity_kg)
    bound = least_bins(weights_kg, capacity_kg)
    while len(bins) > bound and len(weights_kg) <= _SEARCH_ITEMS:
        fewer = _Search(weights_kg, capacity_kg, len(bins) - 1).found(order)
        if fewer is None:
            break
        bins = fewer
    return evened(weights_kg, bins, capacity_kg)


def _best_fit(weights_kg: Sequence[float], order: Sequence[int], capacity_kg: float) -> Bins:
    bins: list[list[int]] = []
    loads: list[float] = []
    for item in order:
        weight = weights_kg[item]
        fitting = [
            (capacity_kg - load - weight, number)
            for number, load in enumerate(loads)
            if load + weight <= capacity_kg + _SLACK
        ]
        if fitting:
            number = min(fitting)[1]
            bins[number].append(item)
            loads[number] += weight
        else:
            bins.append([item])
            loads.append(weight)
    return tuple(map(tuple, bins))


class _Search:
    """Exact search for a packing into so many bins, given up after a set number of steps."""

    def __init__(self, weights_kg: Sequence[float], capacity_kg: float, count: int) -> None:
        self.weights_kg = weights_kg
        self.capacity_kg = capacity_kg
        self.bins: list[list[int]] = [[] for _ in range(count)]
        self.loads = [0.0] * count
        self.steps = 0

    def found(self, order: Sequence[int]) -> Bins | None:
        """Give the packing, or None where there is none or the search was given up."""
        if self._place(order, 0):
            return tuple(map(tuple, self.bins))
        return None

    def _place(self, order: Sequence[int], at: int) -> bool:
        if at == len(order):
            return True
        self.steps += 1
        if self.steps > _SEARCH_STEPS:
            return False
        weight = self.weights_kg[order[at]]
        tried: set[float] = set()
        for number in sorted(range(len(self.loads)), key=lambda one: -self.loads[one]):
            load = self.loads[number]
            # Bins of one load are alike: to try the second again would find nothing new.
            if load in tried or load + weight > self.capacity_kg + _SLACK:
                continue
            tried.add(load)
            self.bins[number].append(order[at])
            self.loads[number] = load + weight
            if self._place(order, at + 1):
                return True
            self.bins[number].pop()
            self.loads[number] = load
        return False


def evened(weights_kg: Sequence[float], bins: Bins, capacity_kg: float) -> Bins:
    """Make the largest of some batches smaller, at the same count.

    Parameters
    ----------
    weights_kg : sequence of float
        Mass of each face. [kg]
    bins : tuple of tuple of int
        Numbers of the faces in each batch.
    capacity_kg : float
        The most that one batch places. [kg]

    Returns
    -------
    tuple of tuple of int
        The batches, each in order, the one with the first face first.

    Notes
    -----
    The longest-first rule is tried first; then single faces are moved out of the largest batch
    or exchanged with smaller ones, as long as that helps. Where faces in a row do as well, they
    stay together.

    Examples
    --------
    >>> evened([4.0, 3.0, 2.0, 1.0], ((0, 1, 2), (3,)), 10.0)
    ((0, 3), (1, 2))
    """
    longest = _longest_first(weights_kg, len(bins))
    loads = [sum(weights_kg[item] for item in one) for one in longest]
    better = not loads or max(loads) <= capacity_kg + _SLACK
    groups = [list(one) for one in (longest if better else bins)]
    while _improve(weights_kg, groups):
        pass
    groups = _in_a_row(weights_kg, groups) or groups
    return tuple(sorted(tuple(sorted(one)) for one in groups if one))


def _longest_first(weights_kg: Sequence[float], count: int) -> list[list[int]]:
    groups: list[list[int]] = [[] for _ in range(count)]
    loads = [0.0] * count
    for item in sorted(range(len(weights_kg)), key=lambda one: (-weights_kg[one], one)):
        number = min(range(count), key=lambda one: (loads[one], one))
        groups[number].append(item)
        loads[number] += weights_kg[item]
    return groups


def _in_a_row(weights_kg: Sequence[float], groups: list[list[int]]) -> list[list[int]] | None:
    """Fill batches with faces in a row, none larger than the largest there is; None if more."""
    most_kg = max((sum(weights_kg[item] for item in group) for group in groups), default=0.0)
    rows: list[list[int]] = []
    load_kg = most_kg
    for item, weight in enumerate(weights_kg):
        if not rows or load_kg + weight > most_kg + _SLACK:
            rows.append([])
            load_kg = 0.0
        rows[-1].append(item)
        load_kg += weight
    return rows if len(rows) <= len(groups) else None


def _improve(weights_kg: Sequence[float], groups: list[list[int]]) -> bool:
    """Do the one move or exchange that leaves the largest batch, and its partner, smallest."""
    loads = [sum(weights_kg[item] for item in group) for group in groups]
    top = max(range(len(groups)), key=lambda one: loads[one], default=0)
    best: tuple[float, int, int, int] | None = None
    for number, group in enumerate(groups):
        if number == top:
            continue
        for out in groups[top]:
            for back in (-1, *group):
                moved_kg = weights_kg[out] - (weights_kg[back] if back >= 0 else 0.0)
                larger_kg = max(loads[top] - moved_kg, loads[number] + moved_kg)
                if larger_kg < loads[top] - _SLACK and (best is None or larger_kg < best[0]):
                    best = (larger_kg, number, out, back)
    if best is None:
        return False
    _, number, out, back = best
    groups[top].remove(out)
    groups[number].append(out)
    if back >= 0:
        groups[number].remove(back)
        groups[top].append(back)
    return True
