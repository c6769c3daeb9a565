"""Keys put in order and numbered without gaps, faster than places are sorted by them."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

IntArray = NDArray[np.integer]

_WORD_BITS = 62
_SHORT_COUNT = 1 << 16


def renumbered(label: IntArray) -> tuple[NDArray[np.int64], int]:
    """Give labels the numbers from 0 on, in their order, without gaps.

    Parameters
    ----------
    label : ndarray of int, shape (n,)
        Labels, none below 0 and none much above their number.

    Returns
    -------
    tuple of ndarray of int, shape (n,), and int
        The numbers, and how many there are.

    Examples
    --------
    >>> number, count = renumbered(np.array([7, 2, 7, 4]))
    >>> number.tolist(), count
    ([2, 0, 2, 1], 3)
    """
    if not len(label):
        return np.empty(0, dtype=np.int64), 0
    used = np.zeros(int(label.max()) + 1, dtype=np.bool_)
    used[label] = True
    number = np.cumsum(used) - 1
    return number.take(label), int(number[-1]) + 1


def sorted_runs(key: IntArray) -> tuple[NDArray[np.int64], NDArray[np.int64]]:
    """Sort keys of any size, and tell where each of them begins.

    Parameters
    ----------
    key : ndarray of int, shape (n,)
        Keys, none below 0.

    Returns
    -------
    tuple of ndarray of int, shape (n,), and ndarray of int
        Places in ascending order of their keys, equal ones as they stand; and where in that
        order the first of each key is.

    Notes
    -----
    Key and place are sorted as one number where both fit into it: numbers are sorted several
    times faster than places are by them.

    Examples
    --------
    >>> order, first = sorted_runs(np.array([10**12, 5, 10**12]))
    >>> order.tolist(), first.tolist()
    ([1, 0, 2], [0, 1])
    """
    if not len(key):
        return np.empty(0, dtype=np.int64), np.empty(0, dtype=np.int64)
    bits = len(key).bit_length()
    if int(key.max()) >> (_WORD_BITS - bits):
        order = np.argsort(key, kind="stable")
        ordered = key.take(order)
    else:
        order = key.astype(np.int64) << bits
        order += np.arange(len(key))
        order.sort()
        ordered = order >> bits
        order &= (1 << bits) - 1
    begins = np.append(True, ordered[1:] != ordered[:-1])
    return order, np.flatnonzero(begins)


def numbered(key: IntArray) -> tuple[NDArray[np.int64], NDArray[np.int64]]:
    """Give keys of any size the numbers from 0 on, in their order, without gaps.

    Parameters
    ----------
    key : ndarray of int, shape (n,)
        Keys, none below 0.

    Returns
    -------
    tuple of ndarray of int, shape (n,), and ndarray of int
        The numbers, and the place of the first key of each.

    Examples
    --------
    >>> number, first = numbered(np.array([10**12, 5, 10**12]))
    >>> number.tolist(), first.tolist()
    ([1, 0, 1], [1, 0])
    """
    order, begins = sorted_runs(key)
    size = np.diff(begins, append=len(key))
    number = np.empty(len(key), dtype=np.int64)
    number[order] = np.repeat(np.arange(len(begins)), size)
    return number, order.take(begins)


def by_group(group: IntArray, count: int) -> NDArray[np.int64]:
    """Give the order of members by their groups, those of one as they stand.

    Parameters
    ----------
    group : ndarray of int, shape (n,)
        Group of each member.
    count : int
        Number of groups.

    Returns
    -------
    ndarray of int, shape (n,)
        The order.

    Examples
    --------
    >>> by_group(np.array([1, 0, 1]), 2).tolist()
    [1, 0, 2]
    """
    short = group.astype(np.uint16) if count <= _SHORT_COUNT else group  # sorted by counting
    return np.argsort(short, kind="stable")
