"""The order of a pour: castings that need a form anew come later, colours stay together."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence

from takeoff.batching.demand import Casting
from takeoff.batching.timing import placing_s
from takeoff.batching.workshops import Workshop


def in_pouring_order(castings: Sequence[Casting], shop: Workshop) -> tuple[Casting, ...]:
    """Put castings in order: what needs a form anew comes later, colours stay together.

    Parameters
    ----------
    castings : sequence of Casting
        What is cast, in the order the shop wants it.
    shop : Workshop
        Forms of each piece, hands and day.

    Returns
    -------
    tuple of Casting
        The same in the order of the plan.

    Notes
    -----
    Pieces with forms enough are poured with the first turn of the others as long as the day, by
    the time that placing takes, has room for them; then with the second, and so on.

    Examples
    --------
    >>> panels = [Casting("panel", copy, ()) for copy in (1, 2)]
    >>> shop = Workshop((), forms={"panel": 1})
    >>> [one.name for one in in_pouring_order([*panels, Casting("bench", 1, ())], shop)]
    ['panel 1', 'bench 1', 'panel 2']
    """
    counts = Counter(casting.piece for casting in castings)
    short = {piece for piece, forms in shop.forms.items() if forms < counts[piece]}
    turns = _turns_of_short(castings, shop, short)
    load_s = [0.0] * (max(turns.values(), default=0) + 1)
    for number, turn in turns.items():
        load_s[turn] += _work_s(castings[number], shop)
    colours: dict[tuple[str, ...], int] = {}
    ranks = [colours.setdefault(_colours(casting), len(colours)) for casting in castings]
    here = 0
    for number in sorted(set(range(len(castings))) - set(turns), key=lambda one: ranks[one]):
        work_s = _work_s(castings[number], shop)
        while here < len(load_s) - 1 and load_s[here] + work_s > shop.day.day_s:
            here += 1
        load_s[here] += work_s
        turns[number] = here
    order = sorted(range(len(castings)), key=lambda one: (turns[one], ranks[one], one))
    return tuple(castings[number] for number in order)


def day_groups(castings: Sequence[Casting], shop: Workshop) -> tuple[int, ...]:
    """Count through castings in order, from one to the next that finds no form or table free.

    Parameters
    ----------
    castings : sequence of Casting
        The castings, in the order of the plan.
    shop : Workshop
        Forms and tables.

    Returns
    -------
    tuple of int
        The group of each casting; those of one group may be poured on one day.

    Examples
    --------
    >>> panels = [Casting("panel", copy, ()) for copy in (1, 2, 3)]
    >>> day_groups(panels, Workshop((), forms={"panel": 2}))
    (0, 0, 1)
    """
    groups: list[int] = []
    here: Counter[str] = Counter()
    group = 0
    for casting in castings:
        no_form = here[casting.piece] >= shop.forms.get(casting.piece, len(castings))
        no_table = shop.tables is not None and here.total() >= shop.tables
        if no_form or no_table:
            group += 1
            here.clear()
        here[casting.piece] += 1
        groups.append(group)
    return tuple(groups)


def _turns_of_short(castings: Sequence[Casting], shop: Workshop, short: set[str]) -> dict[int, int]:
    """Say at which turn of its forms each casting comes whose forms are too few."""
    turns: dict[int, int] = {}
    seen: Counter[str] = Counter()
    for number, casting in enumerate(castings):
        if casting.piece in short:
            turns[number] = seen[casting.piece] // shop.forms[casting.piece]
            seen[casting.piece] += 1
    return turns


def _work_s(casting: Casting, shop: Workshop) -> float:
    """Give the time that placing a casting takes all hands."""
    work_s = sum(
        placing_s(coat.step, coat.gross_kg, shop.rules) * coat.step.workers
        for coat in casting.coats
    )
    return work_s / shop.hands


def _colours(casting: Casting) -> tuple[str, ...]:
    return tuple(coat.step.mix.colour for coat in casting.coats)
