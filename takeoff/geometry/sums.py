"""Values added up by number: how facets and edges become faces and points."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray


def summed(
    number: NDArray[np.integer], values: NDArray[np.float64], count: int
) -> NDArray[np.float64]:
    """Add up values that carry the same number.

    Parameters
    ----------
    number : ndarray of int, shape (k,)
        Number of each value, from 0 to below ``count``.
    values : ndarray of float, shape (k,)
        The values.
    count : int
        How many sums to give.

    Returns
    -------
    ndarray of float, shape (count,)
        The sums, 0 where no value carries the number.

    Examples
    --------
    >>> summed(np.array([0, 2, 0]), np.array([1.0, 2.0, 3.0]), 3).tolist()
    [4.0, 0.0, 2.0]
    """
    return np.bincount(number, values, minlength=count).astype(np.float64, copy=False)
