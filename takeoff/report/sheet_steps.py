"""What is done at the mixer for one batch, step by step: what goes in, the mixing and the rest."""

from __future__ import annotations

from dataclasses import dataclass

from takeoff.documents import LotRow
from takeoff.mix.addition import AT_GUN
from takeoff.pour_documents import PouredBatchRow
from takeoff.report.mixing_words import mixing_turn, mixing_words


@dataclass(frozen=True, slots=True)
class SheetLine:
    """One ingredient in its turn.

    Parameters
    ----------
    name : str
        The ingredient.
    mass_kg : float
        What is weighed. [kg]
    when : str
        When it goes in.
    running_kg : float or None
        All in the mixer so far; None for what never goes into it. [kg]
    """

    name: str
    mass_kg: float
    when: str
    running_kg: float | None


@dataclass(frozen=True, slots=True)
class SheetMixing:
    """The mixing and the rest in their turn.

    Parameters
    ----------
    words : str
        How long each of them takes.
    """

    words: str


def ordered_steps(batch: LotRow | PouredBatchRow) -> tuple[SheetLine | SheetMixing, ...]:
    """Add up what is in the mixer, ingredient by ingredient, the mixing in its place.

    Parameters
    ----------
    batch : LotRow or PouredBatchRow
        What is weighed, in the order of addition.

    Returns
    -------
    tuple of SheetLine and of SheetMixing
        The lines with their running total; no mixing where nobody told how long.

    Examples
    --------
    >>> row = {"name": "water", "mass_kg": 1.5, "when": "first, into the mixer",
    ...        "after_rest": False}
    >>> steps = ordered_steps({"ingredients": [row, row], "mixing": [
    ...     {"what": "mix", "duration_s": 180.0}]})
    >>> [line.running_kg for line in steps[:2]], steps[2]
    ([1.5, 3.0], SheetMixing(words='mix 3 min'))
    """
    lines: list[SheetLine | SheetMixing] = []
    sum_kg = 0.0
    for row in batch["ingredients"]:
        at_gun = row["when"] == AT_GUN.words
        sum_kg += 0.0 if at_gun else row["mass_kg"]
        lines.append(
            SheetLine(row["name"], row["mass_kg"], row["when"], None if at_gun else sum_kg)
        )
    if batch["mixing"]:
        turn = mixing_turn(batch["ingredients"])
        lines.insert(turn, SheetMixing(mixing_words(batch["mixing"])))
    return tuple(lines)
