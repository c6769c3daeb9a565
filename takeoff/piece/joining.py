"""Which members of a set hang together."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from takeoff.geometry.components import component_labels
from takeoff.piece.keys import by_group

IntArray = NDArray[np.integer]

_SPARSE_RATIO = 4  # members to a pair from where on it pays to number the paired ones alone


def joined(
    count: int,
    first: NDArray[np.integer],
    second: NDArray[np.integer],
    *,
    linked: NDArray[np.bool_] | None = None,
) -> IntArray:
    """Give the number of the group that pairs of members make of each.

    Parameters
    ----------
    count : int
        How many members there are.
    first, second : ndarray of int, shape (p,)
        The pairs.
    linked : ndarray of bool, shape (p,), optional
        Pairs that count; all of them where it is left out.

    Returns
    -------
    ndarray of int, shape (count,)
        Group of each member, numbered by their first members; those in no pair are groups of
        their own, numbered last.

    Examples
    --------
    >>> joined(5, np.array([0, 3]), np.array([2, 4])).tolist()
    [0, 2, 0, 1, 1]
    """
    if not len(first) or not (linked is None or linked.any()):
        return np.arange(count, dtype=np.int64)
    if linked is None and _SPARSE_RATIO * len(first) < count:
        return _few_joined(count, first, second)
    label = component_labels(count, first, second, linked=linked)
    several = np.bincount(label) > 1
    if several.all():
        return label.astype(np.int64)
    number = np.cumsum(several) - 1
    number[~several] = number[-1] + 1 + np.arange(len(several) - number[-1] - 1)
    return number.take(label)


def _few_joined(
    count: int, first: NDArray[np.integer], second: NDArray[np.integer]
) -> NDArray[np.int64]:
    """Give the same where most members are in no pair."""
    paired = np.zeros(count, dtype=np.bool_)
    paired[first] = True
    paired[second] = True
    members = np.flatnonzero(paired)
    place = np.empty(count, dtype=np.int64)
    place[members] = np.arange(len(members))
    within = joined(len(members), place.take(first), place.take(second))
    group = np.cumsum(~paired, dtype=np.int64)
    group += int(within.max())
    group[members] = within
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
    order = by_group(group, count)
    ends = np.cumsum(np.bincount(group, minlength=count))
    return np.split(order, ends[:-1])
