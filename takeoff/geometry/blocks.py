"""Long arrays worked through piece by piece, so that what lies between stays in the cache."""

from __future__ import annotations

from collections.abc import Iterator

_ROWS = 1 << 14  # a block of float64 triples is 400 kB


def blocks(count: int, rows: int = _ROWS) -> Iterator[slice]:
    """Cut a range into pieces.

    Parameters
    ----------
    count : int
        Length of the range.
    rows : int, optional
        Length of a piece; the last one may be shorter.

    Yields
    ------
    slice
        One piece after the other; none where the range is empty.

    Examples
    --------
    >>> [(piece.start, piece.stop) for piece in blocks(5, 2)]
    [(0, 2), (2, 4), (4, 5)]
    """
    for start in range(0, count, rows):
        yield slice(start, min(start + rows, count))
