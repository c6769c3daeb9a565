"""Long arrays worked through piece by piece, so that what lies between stays in the cache."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

_ROWS = 1 << 14  # a block of float64 triples is 400 kB
_KEPT_BYTES = 30 << 20  # just below what the C library of Linux keeps at most


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


def keep_freed_memory() -> None:
    """Have the memory kept at hand that the arrays of one block free for those of the next.

    Notes
    -----
    The C library of Linux gives freed memory back at once, and every block would have to be
    given its pages anew: a tenth of the time it takes to examine a large mesh. It keeps as
    much as it has seen freed in one piece, so one array is made and freed, its pages never
    touched. Elsewhere this does nothing. See ``mallopt(3)``, ``M_MMAP_THRESHOLD``.

    Examples
    --------
    >>> keep_freed_memory()
    """
    np.empty(_KEPT_BYTES, dtype=np.uint8)
