"""Notes on layers that meet: where and why their volume is not the sum over their edges."""

from __future__ import annotations

from collections.abc import Iterator

from takeoff.geometry.layering import Layering
from takeoff.geometry.offset_rules import OffsetRules
from takeoff.notes import Note, NoteCode


def meeting_notes(laid: Layering, *, rules: OffsetRules = OffsetRules()) -> Iterator[Note]:
    """Say that layers meet, where the sum over edges and the true volume differ.

    Parameters
    ----------
    laid : Layering
        The layers.
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
        yield Note(
            NoteCode.THICK_FOR_SHAPE,
            f"layers meet: by faces and edges they would take {litres} there is room for "
            f"{true_m3 * 1e3:.2f} L {known}; ribs, rims, raised rounds or the piece itself are "
            "narrower than two layers and are filled",
        )
    else:
        yield Note(
            NoteCode.THICK_FOR_SHAPE,
            f"layers spread: by faces and edges they would take {litres} they take "
            f"{true_m3 * 1e3:.2f} L {known}; grooves or hollow rounds are tighter than the "
            "layers are thick, and fill up behind",
        )
