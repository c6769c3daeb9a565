"""The order in which surfaces and openings are numbered."""

from __future__ import annotations

from collections.abc import Callable, Sequence

import numpy as np
from numpy.typing import NDArray

from takeoff.piece.rules import SurfaceRules

FloatArray = NDArray[np.float64]
IntArray = NDArray[np.integer]


def by_size(
    area_m2: FloatArray,
    places: Sequence[Callable[[IntArray], FloatArray]],
    *,
    rules: SurfaceRules = SurfaceRules(),
) -> IntArray:
    """Order by falling area, equal ones by where they are.

    Parameters
    ----------
    area_m2 : ndarray of float, shape (n,)
        Areas. [m²]
    places : sequence of callable
        Each tells something of where chosen entries are, shape (chosen, c), the first column
        counting most; asked one after the other, for entries that are still equal.
    rules : SurfaceRules, optional
        What counts as equal and as the same place, so that rounding changes no number.

    Returns
    -------
    ndarray of int, shape (n,)
        Places in order.

    Examples
    --------
    >>> where = np.array([[0.3], [0.0], [0.1]])
    >>> by_size(np.array([1.0, 2.0, 1.0]), [lambda chosen: where[chosen]]).tolist()
    [1, 2, 0]
    """
    if not len(area_m2):
        return np.empty(0, dtype=np.int64)
    falling = np.argsort(-area_m2, kind="stable")
    step = area_m2[falling[:-1]] - area_m2[falling[1:]] > rules.equal_share * area_m2[falling[:-1]]
    rank: IntArray = np.empty(len(area_m2), dtype=np.int64)
    rank[falling] = np.concatenate([[0], np.cumsum(step)])
    for place in places:
        tied = np.flatnonzero(np.bincount(rank)[rank] > 1)
        if not len(tied):
            break
        rank = _refined(rank, tied, place(tied), rules)
    return np.argsort(rank, kind="stable")


def _refined(rank: IntArray, tied: IntArray, found: FloatArray, rules: SurfaceRules) -> IntArray:
    """Tell ranks apart that are tied, as far as the places found do."""
    keys = np.zeros((found.shape[1] + 1, len(rank)), dtype=np.int64)
    keys[0] = rank
    for key, values in zip(keys[1:], found.T, strict=True):
        key[tied] = _steps(values, rules.same_place_share)
    return np.unique(keys, axis=1, return_inverse=True)[1].reshape(-1)


def _steps(values: FloatArray, apart_share: float) -> IntArray:
    """Give values numbers, ascending, with one number for values that follow each other closely."""
    order = np.argsort(values, kind="stable")
    number = np.empty(len(values), dtype=np.int64)
    number[order] = np.concatenate([[0], np.cumsum(np.diff(values[order]) > apart_share)])
    return number
