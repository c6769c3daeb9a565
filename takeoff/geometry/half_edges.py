"""Sides of facets brought together by the edge they lie on."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from takeoff.geometry.blocks import blocks

Numbers = NDArray[np.int32]
Words = NDArray[np.uint64]
_WORD_BITS = 64
_STRIDE = 1009  # between the words looked at, to tell whether they rise
_FALLS_SHARE = 0.1


@dataclass(frozen=True, slots=True, eq=False)
class Sides:
    """Sides of facets, each as the winding of its facet runs it.

    Parameters
    ----------
    facet : ndarray of int, shape (s,)
        Facets; one that has several of the sides comes several times.
    start, end : ndarray of int, shape (s,)
        Point numbers.
    """

    facet: Numbers
    start: Numbers
    end: Numbers

    @classmethod
    def of_length(cls, count: int) -> Sides:
        """Make room for a number of sides."""
        facet, start, end = (np.empty(count, dtype=np.int32) for _ in range(3))
        return cls(facet, start, end)

    def take(self, rows: NDArray[np.integer]) -> Sides:
        """Give some of the sides.

        Parameters
        ----------
        rows : ndarray of int
            Which ones.

        Returns
        -------
        Sides
            In the order of the rows.

        Examples
        --------
        >>> number = np.array([4, 5], dtype=np.int32)
        >>> Sides(number, number, number).take(np.array([1])).facet.tolist()
        [5]
        """
        return Sides(self.facet.take(rows), self.start.take(rows), self.end.take(rows))


@dataclass(frozen=True, slots=True, eq=False)
class EdgeRuns:
    """Sides sorted out by how many share an edge.

    Parameters
    ----------
    pair : Sides
        The first of the two sides of every edge that has two.
    mate : ndarray of int, shape (e,)
        The facets of the second ones.
    same_way : ndarray of bool, shape (e,)
        True where both facets run the edge the same way.
    alone : Sides
        Sides of edges that have one.
    fanned : Sides
        Sides of edges that have three or more, edge by edge.
    sizes : ndarray of int, shape (number of such edges,)
        How many sides each of these has.
    """

    pair: Sides
    mate: Numbers
    same_way: NDArray[np.bool_]
    alone: Sides
    fanned: Sides
    sizes: NDArray[np.int64]


@dataclass(frozen=True, slots=True)
class _Packing:
    """How a side is packed into a word: lower point, span, facet, and whether it runs down.

    The span is how far the higher point number lies above the lower one; points are counted
    from ``lowest`` on.
    """

    span_bits: int
    facet_bits: int
    lowest: int = 0

    @property
    def side_bits(self) -> np.uint64:
        """How many bits tell the sides of one edge apart."""
        return np.uint64(self.facet_bits + 1)

    def packed(self, one: Numbers, other: Numbers, facet: Words) -> Words:
        """Pack sides that run from one point to the other."""
        low = np.minimum(one, other)
        span = np.maximum(one, other)
        span -= low
        word = low.astype(np.uint64)
        word -= np.uint64(self.lowest)
        word <<= np.uint64(self.span_bits)
        word |= span.view(np.uint32)
        word <<= self.side_bits
        word |= facet << np.uint64(1)
        word |= one > other
        return word

    def facets_and_ways(self, words: Words) -> tuple[Numbers, Numbers]:
        """Unpack the facets, and 1 where they run their side down, else 0."""
        facets = words.astype(np.uint32)
        facets &= np.uint32((2 << self.facet_bits) - 1)
        ways = facets & np.uint32(1)
        facets >>= np.uint32(1)
        return facets.view(np.int32), ways.view(np.int32)

    def ends(self, edges: Words, ways: Numbers) -> tuple[Numbers, Numbers]:
        """Unpack the points that sides run from and to; edges are words less the facets."""
        start = (edges >> np.uint64(self.span_bits)).astype(np.int32)
        start += np.int32(self.lowest)
        span = edges.astype(np.int32)
        span &= np.int32((1 << self.span_bits) - 1)
        down = span * ways
        start += down
        span += start
        span -= down
        span -= down
        return start, span

    def sides(self, words: Words) -> Sides:
        """Unpack sides."""
        sides = Sides.of_length(len(words))
        for piece in blocks(len(words)):
            sides.facet[piece], ways = self.facets_and_ways(words[piece])
            sides.start[piece], sides.end[piece] = self.ends(words[piece] >> self.side_bits, ways)
        return sides


def edge_runs(triangles: Numbers, points: int) -> EdgeRuns:
    """Sort the sides of facets by their two points, whichever way they run.

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
    Both point numbers and the facet are packed into one 64-bit word each, and the words
    sorted: by merging where they rise on the whole, as they do where neighbouring facets
    follow each other in the file. Where they do not fit, the second point is told by how far
    it lies from the first, and where that does not do either, the sides are taken in
    portions by their lower point, which then needs fewer bits.

    Examples
    --------
    >>> runs = edge_runs(np.array([[0, 1, 2], [0, 2, 3]], dtype=np.int32), 4)
    >>> runs.pair.start.tolist(), runs.pair.end.tolist(), runs.mate.tolist()
    ([2], [0], [1])
    >>> list(zip(runs.alone.start.tolist(), runs.alone.end.tolist()))
    [(0, 1), (3, 0), (1, 2), (2, 3)]
    """
    found = [_runs(words, packing) for words, packing in _sorted_words(triangles, points)]
    if len(found) == 1:
        return found[0]
    return EdgeRuns(
        _joined([runs.pair for runs in found]),
        np.concatenate([runs.mate for runs in found]),
        np.concatenate([runs.same_way for runs in found]),
        _joined([runs.alone for runs in found]),
        _joined([runs.fanned for runs in found]),
        np.concatenate([runs.sizes for runs in found]),
    )


def _joined(parts: Sequence[Sides]) -> Sides:
    """Several sets of sides as one."""
    return Sides(
        *(
            np.concatenate([getattr(part, name) for part in parts])
            for name in ("facet", "start", "end")
        )
    )


def _sorted_words(triangles: Numbers, points: int) -> Iterator[tuple[Words, _Packing]]:
    """Sorted words of each portion of the sides, and how they are packed."""
    point_bits = max(points - 1, 1).bit_length()
    facet_bits = max(len(triangles) - 1, 1).bit_length()
    span_bits = point_bits
    if 2 * point_bits + facet_bits + 1 > _WORD_BITS:
        span_bits = max(_longest_span(triangles), 1).bit_length()
    spare = max(_WORD_BITS - span_bits - facet_bits - 1, 0)
    step = 1 << min(spare, point_bits)
    for lowest in range(0, max(points, 1), step):
        packing = _Packing(span_bits, facet_bits, lowest)
        words = _words(triangles, packing, None if step >= points else lowest + step)
        words.sort(kind="stable" if _rise(words) else "quicksort")
        yield words, packing


def _longest_span(triangles: Numbers) -> int:
    """How far apart the point numbers of one facet lie at most."""
    return max(
        (
            int((triangles[piece].max(axis=1) - triangles[piece].min(axis=1)).max())
            for piece in blocks(len(triangles))
        ),
        default=0,
    )


def _rise(words: Words) -> bool:
    """Tell whether words rise on the whole, so that merging their runs sorts them fastest."""
    some = words[::_STRIDE]
    falls = np.count_nonzero(some[1:] < some[:-1])
    return bool(falls <= _FALLS_SHARE * len(some))


def _words(triangles: Numbers, packing: _Packing, below: int | None) -> Words:
    """Words of all sides, or of those whose lower point lies in a range.

    In strips every other facet is alike: apart from the ones between, their words rise.
    """
    count = len(triangles)
    words = np.empty((3, count if below is None else 0), dtype=np.uint64)
    half = (count + 1) // 2
    found = []
    for piece in blocks(count):
        columns = np.ascontiguousarray(triangles[piece].T)
        facet = np.arange(piece.start, piece.stop, dtype=np.uint64)
        for side in range(3):
            one, other = columns[side], columns[(side + 1) % 3]
            if below is None:
                word = packing.packed(one, other, facet)
                words[side, piece.start // 2 : (piece.stop + 1) // 2] = word[0::2]
                words[side, half + piece.start // 2 : half + piece.stop // 2] = word[1::2]
                continue
            low = np.minimum(one, other)
            inside = (low >= packing.lowest) & (low < below)
            found.append(packing.packed(one[inside], other[inside], facet[inside]))
    return np.concatenate([words.reshape(-1), *found]) if found else words.reshape(-1)


def _runs(words: Words, packing: _Packing) -> EdgeRuns:
    """Find runs of words that name the same edge."""
    paired = _paired(words, packing)
    if paired is not None:
        return paired
    edge = words >> packing.side_bits
    new = np.ones(len(words), dtype=np.bool_)
    np.not_equal(edge[1:], edge[:-1], out=new[1:])
    first = np.flatnonzero(new)
    count = np.diff(np.append(first, len(words)))
    pairs = first[count == 2]
    pair, mate = words[pairs], words[pairs + 1]
    facets, ways = packing.facets_and_ways(mate)
    return EdgeRuns(
        packing.sides(pair),
        facets,
        packing.facets_and_ways(pair)[1] == ways,
        packing.sides(words[first[count == 1]]),
        packing.sides(words[np.repeat(count > 2, count)]),
        count[count > 2],
    )


def _paired(words: Words, packing: _Packing) -> EdgeRuns | None:
    """Take the words two by two; nothing where an edge has not exactly two sides."""
    if len(words) % 2:
        return None
    pair = Sides.of_length(len(words) // 2)
    mate = np.empty(len(words) // 2, dtype=np.int32)
    same_way = np.empty(len(words) // 2, dtype=np.bool_)
    last = None
    for piece in blocks(len(mate)):
        one, other = words[0::2][piece], words[1::2][piece]
        edge = one >> packing.side_bits
        distinct = edge[0] != last and not (edge[1:] == edge[:-1]).any()
        if not distinct or not np.array_equal(edge, other >> packing.side_bits):
            return None
        pair.facet[piece], ways = packing.facets_and_ways(one)
        pair.start[piece], pair.end[piece] = packing.ends(edge, ways)
        mate[piece], mate_ways = packing.facets_and_ways(other)
        np.equal(ways, mate_ways, out=same_way[piece])
        last = edge[-1]
    none = Sides.of_length(0)
    return EdgeRuns(pair, mate, same_way, none, none, np.empty(0, dtype=np.int64))
