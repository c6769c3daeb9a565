"""Numbering of the connected parts of a graph."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from takeoff.geometry.blocks import blocks

Numbers = NDArray[np.int32]


def component_labels(
    count: int,
    first: NDArray[np.integer],
    second: NDArray[np.integer],
    *,
    linked: NDArray[np.bool_] | None = None,
) -> Numbers:
    """Label the connected parts of an undirected graph.

    Parameters
    ----------
    count : int
        Number of nodes.
    first, second : ndarray of int, shape (links,)
        The two nodes of every link.
    linked : ndarray of bool, shape (links,), optional
        Links that count; all of them where it is left out.

    Returns
    -------
    ndarray of int, shape (count,)
        Part of each node, numbered from 0 in the order of their first nodes.

    Notes
    -----
    Runs of nodes each linked to the next are joined first: neighbouring facets mostly
    follow each other in a file. The runs are then hung on the least they are linked to and
    the chains so made cut short, until no link is left between two parts. On plain arrays
    this is faster than a traversal, and needs no sparse library.

    Examples
    --------
    >>> component_labels(5, np.array([4, 1]), np.array([2, 0])).tolist()
    [0, 0, 1, 2, 1]
    """
    if not count:
        return np.empty(0, dtype=np.int32)
    links = _Links(first, second, linked)
    run = _runs(count, links)
    root = _hung(run, links)
    number = np.cumsum(root == np.arange(len(root), dtype=np.int32), dtype=np.int32)
    number -= np.int32(1)
    for told, wanted in ((number, root), (root, run)):
        for piece in blocks(len(wanted)):
            wanted[piece] = told.take(wanted[piece])
    return run


@dataclass(frozen=True, slots=True, eq=False)
class _Links:
    """Links of a graph, of which some may not count."""

    first: NDArray[np.integer]
    second: NDArray[np.integer]
    linked: NDArray[np.bool_] | None

    def pieces(self) -> Iterator[tuple[NDArray[np.integer], NDArray[np.integer], slice]]:
        """Give the links some at a time, those that do not count too."""
        for piece in blocks(len(self.first)):
            yield self.first[piece], self.second[piece], piece

    def chosen(self, chosen: NDArray[np.bool_], piece: slice) -> NDArray[np.int64]:
        """Give the rows of the links in a piece that are chosen and count."""
        if self.linked is not None:
            chosen &= self.linked[piece]
        return np.flatnonzero(chosen)


def _runs(count: int, links: _Links) -> Numbers:
    """Run of each node: nodes linked to the one before them belong to its run."""
    begins = np.ones(count, dtype=np.bool_)
    for one, other, piece in links.pieces():
        step = other - one
        begins[other.take(links.chosen(step == 1, piece))] = False
        begins[one.take(links.chosen(step == -1, piece))] = False
    run = np.cumsum(begins, dtype=np.int32)
    run -= np.int32(1)
    return run


def _between(run: Numbers, links: _Links) -> tuple[Numbers, Numbers]:
    """Links between different runs."""
    ones, others = (np.empty(len(links.first), dtype=np.int32) for _ in range(2))
    count = 0
    for first, second, piece in links.pieces():
        one, other = run.take(first), run.take(second)
        apart = links.chosen(one != other, piece)
        ones[count : count + len(apart)] = one.take(apart)
        others[count : count + len(apart)] = other.take(apart)
        count += len(apart)
    return ones[:count], others[:count]


def _hung(run: Numbers, links: _Links) -> Numbers:
    """Least run that each can reach."""
    root = np.arange(int(run[-1]) + 1, dtype=np.int32)
    one, other = _between(run, links)
    while len(one):
        for piece in blocks(len(one)):
            low, high = np.minimum(one[piece], other[piece]), np.maximum(one[piece], other[piece])
            np.minimum.at(root, high, low)
        _cut_short(root)
        for piece in blocks(len(one)):
            one[piece], other[piece] = root.take(one[piece]), root.take(other[piece])
        apart = one != other
        one, other = one[apart], other[apart]
    return root


def _cut_short(root: Numbers) -> None:
    """Hang every node on the end of its chain; chains lead down, so lower pieces go first."""
    for piece in blocks(len(root)):
        at = root[piece]
        above = root.take(at)
        while not np.array_equal(above, at):
            at[:] = above
            above = root.take(at)
