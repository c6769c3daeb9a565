"""Which members of a set hang together."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from takeoff.geometry.components import component_labels

IntArray = NDArray[np.integer]


def joined(count: int, first: NDArray[np.integer], second: NDArray[np.integer]) -> IntArray:
    """Give the number of the group that pairs of members make of each.

    Parameters
    ----------
    count : int
        How many members there are.
    first, second : ndarray of int, shape (p,)
        The pairs.

    Returns
    -------
    ndarray of int, shape (count,)
        Group of each member; members in no pair are groups of their own.

    Examples
    --------
    >>> joined(5, np.array([0, 3]), np.array([2, 4])).tolist()
    [0, 2, 0, 1, 1]
    """
    if not len(first):
        return np.arange(count, dtype=np.int64)
    paired = np.zeros(count, dtype=np.bool_)
    paired[first] = True
    paired[second] = True
    members = np.flatnonzero(paired)
    place = np.zeros(count, dtype=np.int32)
    place[members] = np.arange(len(members), dtype=np.int32)
    label = component_labels(len(members), place[first], place[second])
    group = np.empty(count, dtype=np.int64)
    group[members] = label
    alone = np.flatnonzero(~paired)
    group[alone] = int(label.max()) + 1 + np.arange(len(alone))
    return group


def lists_of(group: IntArray, count: int) -> list[IntArray]:
    """List the members of each group, ascending.

    Parameters
    ----------
    group : ndarray of int, shape (n,)
        Group of each member.
    count : int
        Number of groups.

    Returns
    -------
    list of ndarray of int
        Members of group 0, 1, ...

    Examples
    --------
    >>> [members.tolist() for members in lists_of(np.array([1, 0, 1]), 2)]
    [[1], [0, 2]]
    """
    order = np.argsort(group, kind="stable")
    ends = np.cumsum(np.bincount(group, minlength=count))
    return np.split(order, ends[:-1])
