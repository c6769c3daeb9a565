"""The order in which surfaces and openings are numbered."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
from numpy.typing import NDArray

from takeoff.piece.rules import SurfaceRules

FloatArray = NDArray[np.float64]
IntArray = NDArray[np.integer]


def by_size(
    area_m2: FloatArray,
    places: Callable[[IntArray], IntArray],
    *,
    rules: SurfaceRules = SurfaceRules(),
) -> IntArray:
    """Order by falling area, equal ones by where they are.

    Parameters
    ----------
    area_m2 : ndarray of float, shape (n,)
        Areas. [m²]
    places : callable
        Tells where chosen entries are, as whole numbers, shape (chosen, c), the first column
        counting most; asked for equal ones only.
    rules : SurfaceRules, optional
        What counts as equal, so that rounding changes no number.

    Returns
    -------
    ndarray of int, shape (n,)
        Places in order.

    Examples
    --------
    >>> where = np.array([[3], [0], [1]])
    >>> by_size(np.array([1.0, 2.0, 1.0]), lambda chosen: where[chosen]).tolist()
    [1, 2, 0]
    """
    if not len(area_m2):
        return np.empty(0, dtype=np.int64)
    falling = np.argsort(-area_m2, kind="stable")
    step = area_m2[falling[:-1]] - area_m2[falling[1:]] > rules.equal_share * area_m2[falling[:-1]]
    rank = np.empty(len(area_m2), dtype=np.int64)
    rank[falling] = np.concatenate([[0], np.cumsum(step)])
    tied = np.flatnonzero(np.bincount(rank)[rank] > 1)
    if not len(tied):
        return falling
    found = places(tied)
    place = np.zeros((len(area_m2), found.shape[1]), dtype=np.int64)
    place[tied] = found
    return np.lexsort((*place.T[::-1], rank))
