"""Forms and tables: which casting stands where, and when its place is free again."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from takeoff.batching.demand import Casting
from takeoff.batching.placing_rules import DayRules
from takeoff.batching.workshops import Workshop

_NIGHT_AND_DAY_S = 86_400.0


def free_again_s(cast_s: float, day: DayRules, *, reset_s: float) -> float:
    """Give when a form can be cast in again: stripped and reset in working hours.

    Parameters
    ----------
    cast_s : float
        When its last layer was placed, from the start of the first day on. [s]
    day : DayRules
        Working day and demould time.
    reset_s : float
        To make it ready after stripping. [s]

    Returns
    -------
    float
        From the start of the first day on. [s]

    Examples
    --------
    >>> free_again_s(3600.0, DayRules(), reset_s=1800.0) / 3600.0
    24.5
    """
    stripped_s = cast_s + day.demould_s
    night_s = math.floor(stripped_s / _NIGHT_AND_DAY_S) * _NIGHT_AND_DAY_S
    if stripped_s + reset_s <= night_s + day.day_s:
        return stripped_s + reset_s
    return night_s + _NIGHT_AND_DAY_S + reset_s


def day_start_s(number: int) -> float:
    """Give when a day starts, from the start of the first on.

    Parameters
    ----------
    number : int
        Which day, from 0.

    Returns
    -------
    float
        Its start. [s]

    Examples
    --------
    >>> day_start_s(2)
    172800.0
    """
    return number * _NIGHT_AND_DAY_S


@dataclass(frozen=True, slots=True)
class Taken:
    """The places that some castings take, and when these are free.

    Parameters
    ----------
    slots : tuple of tuple
        Pool and number of each place taken, casting by casting.
    free_s : tuple of float
        When all places of a casting are free, casting by casting. [s]
    """

    slots: tuple[tuple[tuple[str, int], ...], ...]
    free_s: tuple[float, ...]


class Places:
    """Forms of each piece, and tables, with when each is free again.

    Parameters
    ----------
    castings : sequence of Casting
        The castings of the job.
    shop : Workshop
        Forms, tables and day.
    """

    _TABLES = ""

    def __init__(self, castings: Sequence[Casting], shop: Workshop) -> None:
        self._shop = shop
        self._pools: dict[str, list[float]] = {
            piece: [0.0] * count for piece, count in shop.forms.items()
        }
        if shop.tables is not None:
            self._pools[self._TABLES] = [0.0] * shop.tables
        self._castings = castings

    def taken_by(self, numbers: Sequence[int]) -> Taken | None:
        """Give the places that are free first; None where there are fewer than castings."""
        slots: list[tuple[tuple[str, int], ...]] = []
        free: list[float] = []
        gone: set[tuple[str, int]] = set()
        for number in numbers:
            mine = []
            for pool in (self._castings[number].piece, self._TABLES):
                if pool not in self._pools:
                    continue
                left = [
                    (free_s, slot)
                    for slot, free_s in enumerate(self._pools[pool])
                    if (pool, slot) not in gone
                ]
                if not left:
                    return None
                slot = min(left)[1]
                gone.add((pool, slot))
                mine.append((pool, slot))
            slots.append(tuple(mine))
            free.append(max((self._pools[pool][slot] for pool, slot in mine), default=0.0))
        return Taken(tuple(slots), tuple(free))

    def leave(self, taken: Taken, ends_s: Sequence[float]) -> None:
        """Note when the castings were finished, from the start of the first day on."""
        for mine, end_s in zip(taken.slots, ends_s, strict=True):
            for pool, slot in mine:
                reset_s = 0.0 if pool == self._TABLES else self._shop.day.reset_s
                free_s = free_again_s(end_s, self._shop.day, reset_s=reset_s)
                self._pools[pool][slot] = free_s
