"""Corners of facets taken in, less those that a facet has in common with the one before it."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

Corners = NDArray[np.float32] | NDArray[np.float64]
_BITS = {  # a point as the fewest words that are compared at once
    4: np.dtype([("x_y", "u8"), ("z", "u4")]),
    8: np.dtype([("x", "u8"), ("y", "u8"), ("z", "u8")]),
}


class Strips:
    """Corners of facets, of which each point is kept once in an unbroken row of facets.

    Programs mostly write neighbouring facets one after the other, in strips and fans, so that
    two thirds of the corners of a file can be left out before any are compared with all
    others.

    Parameters
    ----------
    count : int
        How many corners will be taken in.

    Examples
    --------
    >>> fan = np.array([[0, 0, 0], [1, 0, 0], [1, 1, 0], [0, 0, 0], [1, 1, 0], [0, 1, 0]])
    >>> strips = Strips(6)
    >>> strips.take_in(fan.astype(float))
    >>> strips.corners().tolist(), strips.place.tolist()
    ([[0.0, 0.0, 0.0], [1.0, 0.0, 0.0], [1.0, 1.0, 0.0], [0.0, 1.0, 0.0]], [0, 1, 2, 0, 2, 3])
    """

    def __init__(self, count: int) -> None:
        self.place = np.empty(count, dtype=np.int32)
        self._taken = 0
        self._kept: list[Corners] = [] if count else [np.empty((0, 3))]
        self._kept_count = 0
        self._worth_while = True
        self._leads = _Leads(0)

    def take_in(self, corners: Corners) -> None:
        """Take in some more corners.

        Parameters
        ----------
        corners : ndarray of float32 or float64, shape (n, 3)
            Whole facets, three by three, or points that are no corners of facets.
        """
        place = self.place[self._taken : self._taken + len(corners)]
        begin = self._kept_count
        if self._worth_while and not len(corners) % 3:
            back = _steps_back(corners)
            rows = np.flatnonzero(back == 0)
            kept = corners.take(rows, axis=0)
            own = np.empty(len(back), dtype=np.int32)
            own[rows] = np.arange(begin, begin + len(rows), dtype=np.int32)
            if len(self._leads) < len(back):
                self._leads = _Leads(len(back))
            place[:] = own.take(self._leads.followed(back))
            self._worth_while = 3 * len(kept) <= 2 * len(corners)
        else:
            kept = corners.copy()
            place[:] = np.arange(begin, begin + len(kept), dtype=np.int32)
        self._kept.append(kept)
        self._kept_count += len(kept)
        self._taken += len(corners)

    def corners(self) -> Corners:
        """Give the corners that were kept, and forget them.

        Returns
        -------
        ndarray of float32 or float64, shape (m, 3)
            Of equal ones the first is always among them; ``place`` names for each corner taken
            in an equal one of these.
        """
        kept, self._kept = self._kept, []
        return kept[0] if len(kept) == 1 else _together(kept)


def _together(parts: list[Corners]) -> Corners:
    """Several runs of corners as one."""
    whole = np.empty((sum(map(len, parts)), 3), dtype=parts[0].dtype)
    np.concatenate(parts, out=whole)
    return whole


def _steps_back(corners: Corners) -> NDArray[np.uint8]:
    """How many corners back each was last seen in the facet before; 0 where it was not."""
    bits = _BITS[corners.dtype.itemsize]
    rows = np.ascontiguousarray(corners).view(bits).reshape(-1, 3)
    places = [[rows[word][:, place].copy() for word in bits.names or ()] for place in range(3)]
    back = np.zeros(rows.shape, dtype=np.uint8)
    for place, words in enumerate(places):
        steps = np.zeros(max(len(rows) - 1, 0), dtype=np.uint8)
        for before, words_before in enumerate(places):
            first, *others = (
                word[1:] == word_before[:-1]
                for word, word_before in zip(words, words_before, strict=True)
            )
            for other in others:
                first &= other
            seen = first.view(np.uint8)
            seen *= np.uint8(3 + place - before)
            np.maximum(steps, seen, out=steps)
        back[1:, place] = steps
    return back.reshape(-1)


class _Leads:
    """Follows steps back; the room it takes for that is used again."""

    def __init__(self, count: int) -> None:
        self._own = np.arange(count)
        self._lead, self._further = np.empty_like(self._own), np.empty_like(self._own)

    def __len__(self) -> int:
        return len(self._own)

    def followed(self, back: NDArray[np.uint8]) -> NDArray[np.int64]:
        """Follow the steps back to a corner from which none leads on."""
        count = len(back)
        lead, further = self._lead[:count], self._further[:count]
        np.subtract(self._own[:count], back, out=lead)
        while back.take(lead).any():
            lead.take(lead, out=further, mode="clip")
            lead, further = further, lead
        return lead
