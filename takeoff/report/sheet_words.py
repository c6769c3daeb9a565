"""Hands as a printed sheet of a pour says them."""

from __future__ import annotations

from collections.abc import Sequence


def hands_text(mixed_by: int, placed_by: Sequence[int]) -> str:
    """Say who mixes and who places.

    Parameters
    ----------
    mixed_by : int
        The pair of hands that mixes.
    placed_by : sequence of int
        Those that place.

    Returns
    -------
    str
        The words.

    Examples
    --------
    >>> hands_text(1, [2, 3])
    'hand 1 mixes, hands 2 + 3 place'
    """
    if len(placed_by) == 1:
        return f"hand {mixed_by} mixes, hand {placed_by[0]} places"
    return f"hand {mixed_by} mixes, hands {' + '.join(map(str, placed_by))} place"
