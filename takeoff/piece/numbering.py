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
    centres_m: Callable[[IntArray], FloatArray],
    *,
    rules: SurfaceRules = SurfaceRules(),
) -> IntArray:
    """Order by falling area, equal ones by position along z, then x, then y.

    Parameters
    ----------
    area_m2 : ndarray of float, shape (n,)
        Areas. [m²]
    centres_m : callable
        Gives the centres of chosen entries, shape (chosen, 3); asked only for equal ones. [m]
    rules : SurfaceRules, optional
        What counts as equal, so that rounding changes no number.

    Returns
    -------
    ndarray of int, shape (n,)
        Places in order.

    Examples
    --------
    >>> places_m = np.array([[3.0, 0.0, 0.0], [0.0, 0.0, 0.0], [1.0, 0.0, 0.0]])
    >>> by_size(np.array([1.0, 2.0, 1.0]), lambda chosen: places_m[chosen]).tolist()
    [1, 2, 0]
    """
    if not len(area_m2):
        return np.empty(0, dtype=np.int64)
    falling = np.argsort(-area_m2, kind="stable")
    step = area_m2[falling[:-1]] - area_m2[falling[1:]] > rules.equal_share * area_m2[falling[:-1]]
    rank = np.empty(len(area_m2), dtype=np.int64)
    rank[falling] = np.concatenate([[0], np.cumsum(step)])
    tied = np.flatnonzero(np.bincount(rank)[rank] > 1)
    place = np.zeros((len(area_m2), 3))
    place[tied] = np.rint(centres_m(tied) / rules.clearance_m)
    return np.lexsort((place[:, 1], place[:, 0], place[:, 2], rank))
