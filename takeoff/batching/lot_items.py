"""Which coats one lot places: those of one step in a wave, or of two passes of one mix."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from takeoff.batching.demand import Casting
from takeoff.batching.steps import Step


@dataclass(frozen=True, slots=True)
class Item:
    """One coat to be placed by a lot.

    Parameters
    ----------
    casting : int
        Number of the casting in the job.
    coat : int
        Number of the coat on it.
    gross_kg : float
        What leaves the bucket for it. [kg]
    """

    casting: int
    coat: int
    gross_kg: float


@dataclass(frozen=True, slots=True)
class LotItems:
    """What one lot places.

    Parameters
    ----------
    step : Step
        How it is placed.
    items : tuple of Item
        The coats, in order.
    """

    step: Step
    items: tuple[Item, ...]


def lot_items(castings: Sequence[Casting], waves: Sequence[Sequence[int]]) -> tuple[LotItems, ...]:
    """Collect the coats of each lot, wave by wave.

    Parameters
    ----------
    castings : sequence of Casting
        The castings of the job.
    waves : sequence of sequence of int
        Numbers of the castings of each wave. Of two waves in a row, a pass of the first and the
        first pass of the second share a lot where both are placed alike.

    Returns
    -------
    tuple of LotItems
        The lots.

    Examples
    --------
    >>> from takeoff.batching.demand import ClassMass, Coat
    >>> from takeoff.batching.steps import FreshMix
    >>> face = Step("face_coat", FreshMix("f", 2000.0, 1800.0), rate_kg_s=0.1, brush_s=60.0)
    >>> second = replace(face, pass_number=2, min_wait_s=300.0, brush_s=0.0)
    >>> masses = (ClassMass("show_face", 5.0),)
    >>> panels = [Casting("panel", 1, (Coat(face, masses), Coat(second, masses)))] * 2
    >>> [[(item.casting, item.coat) for item in lot.items]
    ...  for lot in lot_items(panels, [[0], [1]])]
    [[(0, 0)], [(0, 1), (1, 0)], [(1, 1)]]
    """
    steps: list[Step] = []
    items: list[list[Item]] = []
    before: dict[Step, int] = {}
    for wave in waves:
        here: dict[Step, int] = {}
        for number in wave:
            for coat, placed in enumerate(castings[number].coats):
                item = Item(number, coat, placed.gross_kg)
                at = here.get(placed.step)
                if at is None:
                    at = _shared(placed.step, coat, before)
                if at is None:
                    at = len(steps)
                    steps.append(placed.step)
                    items.append([])
                here[placed.step] = at
                items[at].append(item)
        before = here
    return tuple(LotItems(step, tuple(mine)) for step, mine in zip(steps, items, strict=True))


def _shared(step: Step, coat: int, before: dict[Step, int]) -> int | None:
    """Give the lot of a later pass in the wave before, placed like this first one."""
    if coat > 0:
        return None
    for other, lot in before.items():
        alike = replace(
            other,
            pass_number=step.pass_number,
            min_wait_s=step.min_wait_s,
            max_wait_s=step.max_wait_s,
            brush_s=step.brush_s,
            wait_ratio=step.wait_ratio,
            wait_key=step.wait_key,
        )
        if other.pass_number > step.pass_number and alike == step:
            return lot
    return None
