"""Waves: castings in their order, cut where that takes fewest batches and each wave can be poured.

A wave is a run of castings whose lots stand alone. The best cuts are a shortest path over the
places between castings; only the waves on it are put on the clock, and one that cannot be poured
is struck out, with every wave that holds it.
"""

from __future__ import annotations

from collections.abc import Callable
from itertools import pairwise

Cuts = tuple[tuple[int, int], ...]
# What counts first, and what counts where that is equal.
Cost = tuple[float, float]


def cheapest_cuts(count: int, cost_of: Callable[[int, int], Cost | None]) -> Cuts | None:
    """Cut a run of things into consecutive parts of least cost.

    Parameters
    ----------
    count : int
        How many things.
    cost_of : callable
        Cost of the part from one place to another; None where that is no part, and no part that
        holds it is one.

    Returns
    -------
    tuple of tuple of int
        From where to where each part goes; None where there is no way to cut.

    References
    ----------
    Wagner and Whitin, Management Science 5, 1958 (from memory).

    Examples
    --------
    >>> cheapest_cuts(4, lambda first, last: (10.0 + 4.0 * (last - first) ** 2, 0.0))
    ((0, 2), (2, 4))
    """
    best: list[tuple[Cost, int] | None] = [((0.0, 0.0), 0)]
    for last in range(1, count + 1):
        found: tuple[Cost, int] | None = None
        for first in range(last - 1, -1, -1):
            cost = cost_of(first, last)
            if cost is None:
                break
            before = best[first]
            if before is not None:
                whole = (before[0][0] + cost[0], before[0][1] + cost[1])
                if found is None or whole < found[0]:
                    found = (whole, first)
        best.append(found)
    places = [count]
    while places[-1] > 0:
        step = best[places[-1]]
        if step is None:
            return None
        places.append(step[1])
    return tuple(pairwise(reversed(places)))


def cheapest_waves(
    count: int,
    cost_of: Callable[[int, int], Cost | None],
    can_pour: Callable[[int, int], bool],
) -> Cuts | None:
    """Cut castings into the cheapest waves that can all be poured.

    Parameters
    ----------
    count : int
        How many castings.
    cost_of : callable
        Batches and leftover of a wave; None where it is known not to do.
    can_pour : callable
        Tells whether a wave can be put on the clock; asked only of waves on the best path.

    Returns
    -------
    tuple of tuple of int
        From where to where each wave goes; None where there is no way to cut.

    Examples
    --------
    >>> cheapest_waves(3, lambda a, b: (1.0, 0.0), lambda a, b: b - a < 3)
    ((0, 2), (2, 3))
    """
    ends = [count + 1] * (count + 1)

    def cost_left(first: int, last: int) -> Cost | None:
        return cost_of(first, last) if last < ends[first] else None

    while (cuts := cheapest_cuts(count, cost_left)) is not None:
        failing = [cut for cut in cuts if not can_pour(*cut)]
        if not failing:
            return cuts
        for first, last in failing:
            for earlier in range(first + 1):
                ends[earlier] = min(ends[earlier], last)
    return None
