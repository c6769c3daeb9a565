"""Parts of flats, each of one class, that together make up the whole surface."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from takeoff.geometry.sums import summed
from takeoff.piece.zones import Reason

FloatArray = NDArray[np.float64]
IntArray = NDArray[np.integer]


@dataclass(frozen=True, slots=True, eq=False)
class Parts:
    """Parts of flats.

    Parameters
    ----------
    flat : ndarray of int, shape (p,)
        The flat.
    column : ndarray of int, shape (p,)
        Its class, as the column of the shares.
    patch : ndarray of int, shape (p,)
        Patch of wall the part belongs to; -1 for parts that are not cut out by columns.
    reason : ndarray of int, shape (p,)
        A `Reason`.
    share : ndarray of float, shape (p,)
        Share of the flat; those of one flat sum to 1. [-]
    depth_m, mean_depth_m : ndarray of float, shape (p,)
        Largest and mean depth; 0 where there is none. [m]
    """

    flat: IntArray
    column: IntArray
    patch: IntArray
    reason: IntArray
    share: FloatArray
    depth_m: FloatArray
    mean_depth_m: FloatArray

    @classmethod
    def plain(
        cls,
        flat: IntArray,
        column: IntArray | int,
        reason: IntArray | Reason,
        share: FloatArray,
        depth_m: FloatArray | None = None,
    ) -> Parts:
        """Give parts that no column cuts out."""
        count = len(flat)
        depth = np.zeros(count) if depth_m is None else depth_m
        return cls(
            flat=flat,
            column=np.broadcast_to(np.asarray(column, dtype=np.int64), count),
            patch=np.full(count, -1, dtype=np.int64),
            reason=np.broadcast_to(np.asarray(reason, dtype=np.int64), count),
            share=share,
            depth_m=depth,
            mean_depth_m=depth,
        )

    @classmethod
    def together(cls, parts: Sequence[Parts]) -> Parts:
        """Give the parts of several lists as one."""
        return cls(
            *(
                np.concatenate([getattr(part, name) for part in parts])
                for name in cls.__dataclass_fields__
            )
        )

    def scaled(self, kept_share: FloatArray, least_share: float) -> Parts:
        """Give the parts with their shares scaled by a kept_share per flat, empty ones left out."""
        scaled = replace(self, share=self.share * kept_share[self.flat])
        kept = scaled.share > least_share
        return Parts(**{name: getattr(scaled, name)[kept] for name in self.__dataclass_fields__})

    def whole(self, count: int) -> Parts:
        """Give the parts with the shares of every flat summing to 1."""
        total = summed(self.flat, self.share, count)
        return replace(self, share=self.share / total[self.flat])

    def sharing(self) -> IntArray:
        """Give the parts of the flats that have several."""
        number = np.bincount(self.flat)
        return np.flatnonzero(number.take(self.flat) > 1) if number.max() > 1 else number[:0]

    def shares(self, count: int) -> FloatArray:
        """Give the share of every flat in every class, shape (count, 4)."""
        cell = self.flat * 4 + self.column
        return summed(cell, self.share, 4 * count).reshape(count, 4)
