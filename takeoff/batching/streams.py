"""Backers as a stream: piece after piece, cut into equal batches wherever a cut falls."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

_SLACK = 1e-9


@dataclass(frozen=True, slots=True)
class Cut:
    """What one batch holds of one item.

    Parameters
    ----------
    item : int
        Number of the item.
    start_kg, end_kg : float
        From where to where in its mass. [kg]
    """

    item: int
    start_kg: float
    end_kg: float


def cut_equally(masses_kg: Sequence[float], count: int) -> tuple[tuple[Cut, ...], ...]:
    """Cut a stream of items into so many batches of one mass.

    Parameters
    ----------
    masses_kg : sequence of float
        Mass of each item, in the order they are placed. [kg]
    count : int
        How many batches.

    Returns
    -------
    tuple of tuple of Cut
        What each batch holds.

    Examples
    --------
    >>> [[(cut.item, cut.end_kg - cut.start_kg) for cut in batch]
    ...  for batch in cut_equally([40.0, 40.0, 40.0], 2)]
    [[(0, 40.0), (1, 20.0)], [(1, 20.0), (2, 40.0)]]
    """
    total_kg = sum(masses_kg)
    slack_kg = _SLACK * total_kg
    batches: list[list[Cut]] = [[]]
    before_kg = 0.0
    for item, mass_kg in enumerate(masses_kg):
        at_kg = 0.0
        while mass_kg - at_kg > slack_kg:
            edge_kg = total_kg * len(batches) / count - before_kg
            if len(batches) == count or edge_kg >= mass_kg - slack_kg:
                batches[-1].append(Cut(item, at_kg, mass_kg))
                break
            if edge_kg - at_kg > slack_kg:
                batches[-1].append(Cut(item, at_kg, edge_kg))
                at_kg = edge_kg
            batches.append([])
        before_kg += mass_kg
    return tuple(tuple(batch) for batch in batches)
