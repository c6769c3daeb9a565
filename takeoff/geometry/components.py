"""Numbering of the connected parts of a graph."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray


def component_labels(
    count: int, first: NDArray[np.integer], second: NDArray[np.integer]
) -> NDArray[np.int32]:
    """Number the connected parts of an undirected graph.

    Parameters
    ----------
    count : int
        Number of nodes.
    first, second : ndarray of int, shape (links,)
        The two nodes of every link.

    Returns
    -------
    ndarray of int, shape (count,)
        Part of each node, numbered from 0 in the order of their first nodes.

    Notes
    -----
    Small graphs are labelled by hooking and shortcutting on plain arrays, which spares the
    start-up of a sparse library; large ones by scipy's traversal.

    Examples
    --------
    >>> component_labels(5, np.array([4, 1]), np.array([2, 0])).tolist()
    [0, 0, 1, 2, 1]
    """
    if count > _SMALL_COUNT:
        return _by_traversal(count, first, second)
    return _by_hooking(count, first, second)


_SMALL_COUNT = 150_000  # from here on the traversal gains more than its import costs


def _by_hooking(
    count: int, first: NDArray[np.integer], second: NDArray[np.integer]
) -> NDArray[np.int32]:
    """Hang every node on the least it can reach, halving the remaining links each round."""
    root = np.arange(count, dtype=np.int32)
    a, b = first.astype(np.int32), second.astype(np.int32)
    while len(a):
        low, high = np.minimum(a, b), np.maximum(a, b)
        np.minimum.at(root, high, low)
        while True:
            above = root[root]
            if np.array_equal(above, root):
                break
            root = above
        a, b = root[a], root[b]
        apart = a != b
        a, b = a[apart], b[apart]
    is_root = root == np.arange(count, dtype=np.int32)
    number = np.cumsum(is_root, dtype=np.int32) - np.int32(1)
    return number[root]


def _by_traversal(
    count: int, first: NDArray[np.integer], second: NDArray[np.integer]
) -> NDArray[np.int32]:
    """Label with scipy, then number the parts in the order of their first nodes."""
    from scipy.sparse import coo_array
    from scipy.sparse.csgraph import connected_components

    ones = np.ones(len(first), dtype=np.int8)
    graph = coo_array((ones, (first, second)), shape=(count, count)).tocsr()
    parts, label = connected_components(graph, directed=False)
    place = np.full(parts, count, dtype=np.int64)
    np.minimum.at(place, label, np.arange(count))
    rank = np.empty(parts, dtype=np.int32)
    rank[np.argsort(place)] = np.arange(parts, dtype=np.int32)
    labels: NDArray[np.int32] = rank[label]
    return labels
