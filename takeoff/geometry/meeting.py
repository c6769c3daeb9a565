"""Pairs of boxes that meet, found by a sweep along one axis."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np
from numpy.typing import NDArray

from takeoff.geometry.blocks import blocks

_ROWS = 1 << 9  # boxes swept at once


def meeting_boxes(
    low_m: NDArray[np.float64], high_m: NDArray[np.float64], *, overlap_m: float, axes: int
) -> NDArray[np.int64]:
    """Find pairs of boxes that overlap in some axes, and do not stand apart in the others.

    Parameters
    ----------
    low_m, high_m : ndarray of float, shape (b, 3)
        Corners of the boxes. [m]
    overlap_m : float
        Overlap counts from this length on; boxes apart by no more than it still touch. [m]
    axes : int
        In how many axes the boxes must overlap.

    Returns
    -------
    ndarray of int, shape (p, 2)
        Pairs of box numbers, each once.

    Examples
    --------
    >>> low = np.array([[0.0, 0, 0], [1, 0, 0], [1.5, 0, 0]])
    >>> meeting_boxes(low, low + 1.0, overlap_m=0.01, axes=3).tolist()
    [[1, 2]]
    >>> meeting_boxes(low, low + 1.0, overlap_m=0.01, axes=2).tolist()
    [[0, 1], [1, 2]]
    """
    order = np.argsort(low_m[:, 0], kind="stable")
    low, high = low_m[order], high_m[order]
    found = [np.empty((0, 2), dtype=np.int64)]
    for one, other in _candidates(low[:, 0], high[:, 0] + overlap_m):
        overlap = np.minimum(high[one], high[other]) - np.maximum(low[one], low[other])
        meet = (overlap >= -overlap_m).all(axis=1)
        meet &= (overlap > overlap_m).sum(axis=1) >= axes
        found.append(np.stack([order[one[meet]], order[other[meet]]], axis=1))
    return np.concatenate(found)


def _candidates(
    low: NDArray[np.float64], high: NDArray[np.float64]
) -> Iterator[tuple[NDArray[np.int64], NDArray[np.int64]]]:
    """Pairs that overlap along the axis they are sorted by, some at a time."""
    reach = np.searchsorted(low, high, side="right")
    for piece in blocks(len(low), _ROWS):
        rows = np.arange(piece.start, piece.stop)
        count = np.maximum(reach[piece] - rows - 1, 0)
        within = np.arange(int(count.sum())) - np.repeat(np.cumsum(count) - count, count)
        one = np.repeat(rows, count)
        yield one, one + 1 + within
