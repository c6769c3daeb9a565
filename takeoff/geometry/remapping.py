"""Distinct points found by the optional meshoptimizer library."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from takeoff.geometry.blocks import blocks

_FEWEST = 100_000  # below this the import costs more than it saves


def remapped_corners(corners_m: NDArray[np.floating]) -> NDArray[np.int32] | None:
    """Give the distinct points among corners numbers, in the order of their first corners.

    Parameters
    ----------
    corners_m : ndarray of float, shape (n, 3)
        Points in any unit, most of them several times. [m]

    Returns
    -------
    ndarray of int, shape (n,), or None
        For each corner the number of its point; None where the library is not installed, or
        there are too few corners for it to be worth while.

    Examples
    --------
    >>> remapped_corners(np.zeros((3, 3))) is None
    True
    """
    if len(corners_m) < _FEWEST:
        return None
    try:
        from meshoptimizer import generate_vertex_remap
    except ImportError:
        return None
    rows = _without_minus_zero(corners_m)
    number = np.empty(len(rows), dtype=np.uint32)
    every = np.arange(len(rows), dtype=np.uint32)
    generate_vertex_remap(number, every, len(rows), rows, len(rows), rows.strides[0])
    return number.view(np.int32)


def _without_minus_zero(corners_m: NDArray[np.floating]) -> NDArray[np.floating]:
    """Take minus zero for zero: the library compares bits."""
    bits = corners_m.view(f"u{corners_m.dtype.itemsize}")
    minus_zero = 1 << (8 * corners_m.dtype.itemsize - 1)
    if any((bits[piece] == minus_zero).any() for piece in blocks(len(bits))):
        with np.errstate(invalid="ignore"):  # damaged files hold numbers that are none
            return corners_m + corners_m.dtype.type(0)
    return corners_m


def first_rows(number: NDArray[np.int32]) -> NDArray[np.int64]:
    """Find the row on which each number comes up first, where they come up in rising order.

    Parameters
    ----------
    number : ndarray of int, shape (n,)
        Numbers from 0, each new one greater by one than all before it.

    Returns
    -------
    ndarray of int, shape (p,)
        First row of each.

    Examples
    --------
    >>> first_rows(np.array([0, 1, 0, 2, 1], dtype=np.int32)).tolist()
    [0, 1, 3]
    """
    found, highest = [np.empty(0, dtype=np.int64)], np.int32(-1)
    for piece in blocks(len(number)):
        reached = np.maximum.accumulate(np.append(highest, number[piece]))
        found.append(np.flatnonzero(reached[1:] > reached[:-1]) + piece.start)
        highest = reached[-1]
    return np.concatenate(found)
