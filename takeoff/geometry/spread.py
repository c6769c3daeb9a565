"""Points spread evenly and without chance: additive sequences of the golden kind."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray


def spread_shares(first: int, count: int, dimensions: int) -> NDArray[np.float64]:
    """Give points of an even sequence in the unit cube.

    Parameters
    ----------
    first : int
        Number of the first point.
    count : int
        How many.
    dimensions : int
        1, 2 or 3 coordinates each.

    Returns
    -------
    ndarray of float, shape (count, dimensions)
        Shares from 0 to below 1. [-]

    Notes
    -----
    The steps are the powers of the root of x^(d + 1) = x + 1, the golden section for d = 1;
    no two points of such a sequence come close, in any number of them.

    Examples
    --------
    >>> spread_shares(0, 3, 1).round(3).ravel().tolist()
    [0.5, 0.118, 0.736]
    """
    root = 2.0
    for _ in range(64):
        root = (1.0 + root) ** (1.0 / (dimensions + 1))
    steps = root ** -np.arange(1.0, dimensions + 1)
    number = np.arange(first, first + count, dtype=np.float64)
    return (0.5 + number[:, None] * steps) % 1.0
