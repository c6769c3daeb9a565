"""Who does what: each batch of a day given to hands by number."""

from __future__ import annotations

from dataclasses import dataclass

from takeoff.batching.plans import PouredDay


@dataclass(frozen=True, slots=True)
class Crew:
    """Who mixes and who places one batch, by number from 1.

    Parameters
    ----------
    mixes : int
        Who mixes it.
    places : tuple of int
        Who places and brushes it.
    """

    mixes: int
    places: tuple[int, ...]


def crews_of(day: PouredDay, hands: int) -> tuple[Crew, ...]:
    """Give every batch of a day to hands: low numbers mix, high numbers place.

    Parameters
    ----------
    day : PouredDay
        The day.
    hands : int
        How many work.

    Returns
    -------
    tuple of Crew
        Who does what, batch by batch.

    Examples
    --------
    >>> from takeoff.batching.plans import Method
    >>> crews_of(PouredDay(1, (), 0.0, 0.0, Method.GREEDY), hands=2)
    ()
    """
    works = []
    for number, poured in enumerate(day.batches):
        works.append((poured.mix_start_s, 0, number, poured.mix_end_s, 1))
        workers = poured.batch.step.workers
        works.append((poured.place_start_s, 1, number, poured.brush_end_s, workers))
    free_s = [0.0] * hands
    mixing: dict[int, int] = {}
    placing: dict[int, tuple[int, ...]] = {}
    for start_s, kind, number, end_s, count in sorted(works):
        idle = [hand for hand in range(hands) if free_s[hand] <= start_s]
        chosen = tuple(idle[-count:]) if kind else tuple(idle[:1])
        for hand in chosen:
            free_s[hand] = end_s
        if kind:
            placing[number] = tuple(hand + 1 for hand in chosen)
        else:
            mixing[number] = chosen[0] + 1
    return tuple(Crew(mixing[number], placing[number]) for number in range(len(day.batches)))
