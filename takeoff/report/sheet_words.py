"""Hands of a pour, in the same words in every output."""

from __future__ import annotations

from collections.abc import Sequence


def hands_words(hands: Sequence[int]) -> str:
    """Name pairs of hands by their numbers.

    Parameters
    ----------
    hands : sequence of int
        Their numbers.

    Returns
    -------
    str
        The words.

    Examples
    --------
    >>> hands_words([2]), hands_words([2, 3])
    ('hand 2', 'hands 2 + 3')
    """
    return f"{'hand' if len(hands) == 1 else 'hands'} {' + '.join(map(str, hands))}"


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
    places = "places" if len(placed_by) == 1 else "place"
    return f"{hands_words([mixed_by])} mixes, {hands_words(placed_by)} {places}"
