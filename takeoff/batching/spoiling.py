"""The chance that one batch goes off, and the reserve of pot life that keeps it small."""

from __future__ import annotations

import math
from statistics import NormalDist


def log_spread_share(spread_share: float) -> float:
    """Give the spread of the logarithm of a time whose own spread is given.

    Parameters
    ----------
    spread_share : float
        Standard deviation over mean. [-]

    Returns
    -------
    float
        Standard deviation of the logarithm. [-]

    Examples
    --------
    >>> round(log_spread_share(0.1), 4)
    0.0998
    """
    return math.sqrt(math.log1p(spread_share**2))


def gone_off_share(planned_s: float, left_s: float, *, spread_share: float) -> float:
    """Give the chance that placing takes longer than a batch lasts.

    Parameters
    ----------
    planned_s : float
        Time that placing takes on average. [s]
    left_s : float
        Pot life less carrying. [s]
    spread_share : float
        Standard deviation of the placing time over its mean; its logarithm is taken as
        normal. [-]

    Returns
    -------
    float
        The chance. [-]

    Examples
    --------
    >>> round(gone_off_share(0.8, 1.0, spread_share=0.10), 3)
    0.011
    """
    if left_s <= 0.0 or spread_share <= 0.0:
        return float(planned_s > left_s)
    spread = log_spread_share(spread_share)
    return 1.0 - NormalDist().cdf((math.log(left_s / planned_s) + spread**2 / 2.0) / spread)


def reserve_share(chance_share: float, *, spread_share: float) -> float:
    """Give the reserve of the pot life that keeps the chance of going off at a value.

    Parameters
    ----------
    chance_share : float
        The chance. [-]
    spread_share : float
        Standard deviation of the placing time over its mean. [-]

    Returns
    -------
    float
        Share of the pot life to keep in hand; carrying is left out. [-]

    Examples
    --------
    >>> [round(reserve_share(0.01, spread_share=spread), 2) for spread in (0.10, 0.15, 0.20)]
    [0.2, 0.29, 0.36]
    """
    spread = log_spread_share(spread_share)
    return 1.0 - math.exp(spread**2 / 2.0 - spread * NormalDist().inv_cdf(1.0 - chance_share))
