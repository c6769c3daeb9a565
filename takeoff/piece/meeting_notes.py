"""Notes on layers that meet: where and why their volume is not the sum over their edges."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from takeoff.geometry.layering import Layering
from takeoff.geometry.offset_rules import OffsetRules
from takeoff.notes import Note, NoteCode
from takeoff.piece.explaining import in_mm


@dataclass(frozen=True, slots=True)
class ShallowWalls:
    """Walls that end before the layers of the show face do.

    Parameters
    ----------
    low_m, high_m : float
        Depth of the shallowest and of the deepest of them. [m]
    layers_m : float
        Thickness of the layers on the show face. [m]
    """

    low_m: float
    high_m: float
    layers_m: float

    @property
    def words(self) -> str:
        """How deep they are, and what becomes of the layers there.

        Examples
        --------
        >>> print(ShallowWalls(0.010, 0.012, 0.020).words)
        walls 10 mm to 12 mm deep are shallower than the layers of 20 mm, which thin out at the rim
        """
        deep = " to ".join(dict.fromkeys([in_mm(self.low_m), in_mm(self.high_m)]))
        return (
            f"walls {deep} deep are shallower than the layers of {in_mm(self.layers_m)}, which "
            "thin out at the rim"
        )


def meeting_notes(
    laid: Layering, *, shallow: ShallowWalls | None = None, rules: OffsetRules = OffsetRules()
) -> Iterator[Note]:
    """Say that layers meet, where the sum over edges and the true volume differ.

    Parameters
    ----------
    laid : Layering
        The layers.
    shallow : ShallowWalls, optional
        Walls shallower than the layers, where there are any.
    rules : OffsetRules, optional
        From which difference on.

    Yields
    ------
    Note
        One, or none.

    Examples
    --------
    >>> import numpy as np
    >>> from takeoff.geometry.layering import Grown
    >>> layer = Grown(np.array([0.010]), np.zeros(3))
    >>> met = Layering(layer, layer, np.zeros(1), 0.003, 0.025, True, 0.0, 0.0)
    >>> print(next(meeting_notes(met)).text)  # doctest: +ELLIPSIS
    layers meet: by faces and edges they would take 25.00 L, but there is room for 20.00 L ...
    """
    true_m3, sum_m3 = laid.volume_m3, laid.edge_sum_m3
    if not laid.counted or abs(sum_m3 - true_m3) <= rules.meet_share * true_m3:
        return
    litres = f"{sum_m3 * 1e3:.2f} L, but"
    known = f"(within {laid.uncertainty_share * 100.0:.1f} %)"
    if sum_m3 > true_m3:
        text = (
            f"layers meet: by faces and edges they would take {litres} there is room for "
            f"{true_m3 * 1e3:.2f} L {known}; "
        )
        why = (
            "ribs, rims, raised rounds or the piece itself are narrower than two layers and are "
            "filled"
        )
        why = why if shallow is None else f"{why}; {shallow.words}"
    else:
        text = (
            f"layers spread: by faces and edges they would take {litres} they take "
            f"{true_m3 * 1e3:.2f} L {known}; "
        )
        why = (
            "grooves or hollow rounds are tighter than the layers are thick, and fill up behind"
            if shallow is None
            else shallow.words
        )
    yield Note(NoteCode.THICK_FOR_SHAPE, f"{text}{why}")
