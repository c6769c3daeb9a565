"""How long a mix is mixed and rests, and where that stands in its order of addition."""

from __future__ import annotations

from collections.abc import Sequence

from takeoff.documents import BatchIngredientRow
from takeoff.pour_documents import PouredIngredientRow
from takeoff.report.figures import written_duration
from takeoff.weigh_documents import IngredientRow, MixingRow


def mixing_words(mixing: Sequence[MixingRow]) -> str:
    """Write the mixing and the rest.

    Parameters
    ----------
    mixing : sequence of MixingRow
        Its steps.

    Returns
    -------
    str
        The words; empty where nobody told them.

    Examples
    --------
    >>> mixing_words([{"what": "mix", "duration_s": 180.0}, {"what": "rest", "duration_s": 90.0}])
    'mix 3 min, rest 1 min 30 s'
    """
    return ", ".join(f"{row['what']} {written_duration(row['duration_s'])}" for row in mixing)


def mixing_turn(
    lines: Sequence[IngredientRow | PouredIngredientRow | BatchIngredientRow],
) -> int:
    """Count the ingredients that go in before the mixing and the rest.

    Parameters
    ----------
    lines : sequence of IngredientRow, of PouredIngredientRow or of BatchIngredientRow
        The ingredients, in order of addition.

    Returns
    -------
    int
        Number of the first that waits until the rest is mixed and has rested, from 0; all of them
        where none waits.

    Examples
    --------
    >>> water = {"name": "water", "mass_kg": 4.0, "when": "first", "after_rest": False}
    >>> mixing_turn([water, {**water, "name": "fibre", "after_rest": True}]), mixing_turn([water])
    (1, 1)
    """
    return next((turn for turn, line in enumerate(lines) if line["after_rest"]), len(lines))
