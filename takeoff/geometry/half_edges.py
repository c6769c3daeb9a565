"""Half-edges brought together by the edge they lie on."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from takeoff.geometry.blocks import blocks

Numbers = NDArray[np.int32]
_WORD_BITS = 64


@dataclass(frozen=True, slots=True, eq=False)
class EdgeRuns:
    """Half-edges, numbered three a facet, sorted out by how many share an edge.

    Parameters
    ----------
    pair, mate : ndarray of int, shape (e,)
        The two half-edges of every edge that has two.
    alone : ndarray of int, shape (b,)
        Half-edges of edges that have one.
    fanned : ndarray of int, shape (f,)
        Half-edges of edges that have three or more, edge by edge.
    sizes : ndarray of int, shape (number of such edges,)
        How many half-edges each of these has.
    """

    pair: Numbers
    mate: Numbers
    alone: Numbers
    fanned: Numbers
    sizes: NDArray[np.int64]


def edge_runs(triangles: Numbers, points: int) -> EdgeRuns:
    """Sort half-edges by their two points, whichever way they run.

    Parameters
    ----------
    triangles : ndarray of int, shape (k, 3)
        Point numbers of the facets.
    points : int
        How many points there are.

    Returns
    -------
    EdgeRuns
        Edges in the order of their lower point.

    Notes
    -----
    Both point numbers and the number of the half-edge are packed into one 64-bit word each,
    and the words sorted. Where they do not fit, the half-edges are taken in portions by
    their lower point, which then needs fewer bits.

    Examples
    --------
    >>> runs = edge_runs(np.array([[0, 1, 2], [0, 2, 3]], dtype=np.int32), 4)
    >>> runs.pair.tolist(), runs.mate.tolist(), runs.alone.tolist()
    ([2], [3], [0, 5, 1, 4])
    """
    found = [_runs(words, bits) for words, bits in _sorted_words(triangles, points)]
    if len(found) == 1:
        return found[0]
    return EdgeRuns(
        *(
            np.concatenate([getattr(runs, name) for runs in found])
            for name in ("pair", "mate", "alone", "fanned", "sizes")
        )
    )


def ends_of(triangles: Numbers, half: NDArray[np.integer]) -> tuple[Numbers, Numbers]:
    """Give the points that half-edges run from and to.

    Parameters
    ----------
    triangles : ndarray of int, shape (k, 3)
        Point numbers of the facets.
    half : ndarray of int, shape (h,)
        Half-edges, numbered three a facet.

    Returns
    -------
    tuple of ndarray of int, shape (h,)
        First and last points.

    Examples
    --------
    >>> ends_of(np.array([[7, 8, 9]], dtype=np.int32), np.array([0, 2]))
    (array([7, 9], dtype=int32), array([8, 7], dtype=int32))
    """
    corners = triangles.reshape(-1)
    start = np.empty(len(half), dtype=np.int32)
    end = np.empty(len(half), dtype=np.int32)
    for piece in blocks(len(half)):
        one = half[piece]
        start[piece] = corners.take(one)
        end[piece] = corners.take(np.where(one % 3 == 2, one - 2, one + 1))
    return start, end


def _sorted_words(triangles: Numbers, points: int) -> Iterator[tuple[NDArray[np.uint64], int]]:
    """Sorted words of each portion of the half-edges, and how many bits number them."""
    point_bits = max(points - 1, 1).bit_length()
    half_bits = max(triangles.size - 1, 1).bit_length()
    spare = _WORD_BITS - point_bits - half_bits
    step = 1 << min(spare, point_bits)
    for lowest in range(0, max(points, 1), step):
        words = _words(triangles, point_bits, half_bits, range(lowest, lowest + step))
        words.sort()
        yield words, half_bits


def _words(triangles: Numbers, point_bits: int, half_bits: int, lower: range) -> NDArray[np.uint64]:
    """Lower point, higher point and number of the half-edges with lower points in a range."""
    whole = len(lower) >= 1 << point_bits
    found = []
    words = np.empty(triangles.size if whole else 0, dtype=np.uint64)
    for piece in blocks(len(triangles)):
        start = triangles[piece]
        end = np.stack([start[:, 1], start[:, 2], start[:, 0]], axis=1).reshape(-1)
        start = start.reshape(-1)
        number = np.arange(3 * piece.start, 3 * piece.stop, dtype=np.uint64)
        low, high = np.minimum(start, end), np.maximum(start, end)
        if not whole:
            inside = (low >= lower.start) & (low < lower.stop)
            low, high, number = low[inside] - np.int32(lower.start), high[inside], number[inside]
        word = low.astype(np.uint64)
        word <<= np.uint64(point_bits)
        word |= high.astype(np.uint64)
        word <<= np.uint64(half_bits)
        word |= number
        if whole:
            words[3 * piece.start : 3 * piece.stop] = word
        else:
            found.append(word)
    return words if whole else np.concatenate([words, *found])


def _runs(words: NDArray[np.uint64], half_bits: int) -> EdgeRuns:
    """Find runs of words that name the same edge."""
    nothing = np.empty(0, dtype=np.int32)
    paired = _paired(words, half_bits)
    if paired is not None:
        return EdgeRuns(*paired, nothing, nothing, np.empty(0, dtype=np.int64))
    number = (words & np.uint64((1 << half_bits) - 1)).astype(np.int32)
    words >>= np.uint64(half_bits)
    new = np.ones(len(words), dtype=np.bool_)
    np.not_equal(words[1:], words[:-1], out=new[1:])
    first = np.flatnonzero(new)
    count = np.diff(np.append(first, len(words)))
    pairs = first[count == 2]
    return EdgeRuns(
        number[pairs],
        number[pairs + 1],
        number[first[count == 1]],
        number[np.repeat(count > 2, count)],
        count[count > 2],
    )


def _paired(words: NDArray[np.uint64], half_bits: int) -> tuple[Numbers, Numbers] | None:
    """Take the words two by two; nothing where an edge has not exactly two half-edges."""
    if len(words) % 2:
        return None
    shift, mask = np.uint64(half_bits), np.uint64((1 << half_bits) - 1)
    pair, mate = (np.empty(len(words) // 2, dtype=np.int32) for _ in range(2))
    last = None
    for piece in blocks(len(pair)):
        word = words[2 * piece.start : 2 * piece.stop]
        edge = word >> shift
        follows = edge[2::2] == edge[1:-1:2]
        if edge[0] == last or follows.any() or not np.array_equal(edge[0::2], edge[1::2]):
            return None
        word = word & mask
        pair[piece], mate[piece], last = word[0::2], word[1::2], edge[-1]
    return pair, mate
