"""The ways to cast walls side by side, as text an estimator reads."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence

from takeoff.report.figures import (
    System,
    written_area,
    written_duration,
    written_length,
    written_mass,
    written_volume,
)
from takeoff.report.tables import plain_table
from takeoff.way_documents import WallWayRow

_NONE = "-"
_SCOPE = (
    "each wall by itself: litres and weight hold both layers and the filling; batches, hours and "
    "money are those of the backer, since the face coat is the same in every way"
)
_HEAD = (
    "head of what is poured: the depth of the wall, as a number only, not a formwork design; form "
    "and bracing by a competent person"
)


def ways_text(
    rows: Sequence[WallWayRow],
    *,
    system: System = System.METRIC,
    currency: str = "",
    width: int = 0,
) -> str:
    r"""Write the ways of the walls of a piece as a table.

    Parameters
    ----------
    rows : sequence of WallWayRow
        The ways, wall by wall.
    system : System, optional
        Units of the text.
    currency : str, default ""
        Currency of the money.
    width : int, default 0
        Width of the terminal; 0 for any.

    Returns
    -------
    str
        The table and what to know of it, without a line feed at the end; nothing for no rows.
        Walls that are alike share a block, ways that take the same a line, and columns in which
        nothing stands are left out.

    Examples
    --------
    >>> row = {"surface": "R1", "depth_m": 0.06, "stands": False, "way": "packed",
    ...        "feasible": True, "why": "", "mix": "backer-packed", "mix_told": False,
    ...        "volume_m3": 0.00271, "backer_m3": 0.00211, "inner_form_m2": 0.0, "mass_kg": 5.66,
    ...        "head_m": None, "batches": 1, "mixer": "pail", "hours_s": None,
    ...        "material_money": "4.10", "labour_money": None, "inner_form_money": "0.00",
    ...        "money": None}
    >>> print("\n".join(ways_text([row], currency="EUR").splitlines()[:2]))
    wall  depth  way      takes  batches  material EUR   weight
    R1    60 mm  packed  2.71 L        1          4.10  5.66 kg
    """
    if not rows:
        return ""
    head, right, cells = way_table(rows, system=system, currency=currency)
    return "\n".join([plain_table(head, cells, right=right, width=width), *way_remarks(rows)])


def way_table(
    rows: Sequence[WallWayRow], *, system: System, currency: str
) -> tuple[list[str], list[int], list[list[str]]]:
    """Set up the ways of the walls of a piece: walls that are alike once, no empty column.

    Parameters
    ----------
    rows : sequence of WallWayRow
        The ways, wall by wall.
    system : System
        Units of the text.
    currency : str
        Currency of the money.

    Returns
    -------
    tuple of list of str, list of int and list of list of str
        Names of the columns, those in which figures stand, and the cells.

    Examples
    --------
    >>> way_table([], system=System.METRIC, currency="EUR")
    ([], [], [])
    """
    lines = _merged([_cells(row, system) for row in rows])
    shown = [place for place, column in enumerate(zip(*lines, strict=True)) if _says(column)]
    names = [*(name for name, _ in (*_ALWAYS, *_WHERE_FEASIBLE)), "mind"]
    head = [f"{names[k]} {currency}".strip() if names[k] in _MONEY else names[k] for k in shown]
    right = [place for place, k in enumerate(shown) if names[k] not in _WORDS]
    return head, right, [[line[place] for place in shown] for line in lines]


def _cells(row: WallWayRow, system: System) -> tuple[str, ...]:
    """Write all cells of a row, nothing of what a way that is not feasible would take."""
    always = [cell(row, system) for _, cell in _ALWAYS]
    feasible = row["feasible"]
    rest = [cell(row, system) if feasible else _NONE for _, cell in _WHERE_FEASIBLE]
    return (*always, *rest, row["why"] if feasible else f"not feasible: {row['why']}")


def _merged(lines: Sequence[tuple[str, ...]]) -> list[list[str]]:
    """Write ways of a wall that take the same as one, then walls that are alike as one."""
    walls: dict[str, dict[tuple[str, ...], list[str]]] = {}
    for wall, depth, way, *rest in lines:
        walls.setdefault(wall, {}).setdefault((depth, *rest), []).append(way)
    alike: dict[tuple[tuple[str, ...], ...], list[str]] = {}
    for wall, ways in walls.items():
        block = tuple((depth, ", ".join(names), *rest) for (depth, *rest), names in ways.items())
        alike.setdefault(block, []).append(wall)
    return [[", ".join(names), *line] for block, names in alike.items() for line in block]


def _says(column: Sequence[str]) -> bool:
    """Tell whether anything stands in a column."""
    return bool(set(column) - {_NONE, ""})


def way_remarks(rows: Sequence[WallWayRow]) -> Iterator[str]:
    """Say what the figures hold, what they are not, and with which mixes they were reckoned.

    Parameters
    ----------
    rows : sequence of WallWayRow
        The ways, at least one.

    Yields
    ------
    str
        The sentences.

    Examples
    --------
    >>> row = {"feasible": True, "head_m": None, "mix": "b", "mix_told": True, "way": "packed"}
    >>> list(way_remarks([row]))[1:]
    ['packed with b']
    """
    yield _SCOPE
    if any(row["feasible"] and row["head_m"] is not None for row in rows):
        yield _HEAD
    mixes: dict[str, list[str]] = {}
    for row in rows:
        mix = row["mix"] if row["mix_told"] else f"{row['mix']} as an example"
        ways = mixes.setdefault(mix, [])
        if row["way"] not in ways:
            ways.append(row["way"])
    yield "; ".join(f"{' or '.join(ways)} with {mix}" for mix, ways in mixes.items())


_Columns = Sequence[tuple[str, Callable[[WallWayRow, System], str]]]
_ALWAYS: _Columns = (
    ("wall", lambda row, _: row["surface"]),
    ("depth", lambda row, system: written_length(row["depth_m"], system)),
    ("way", lambda row, _: row["way"]),
)
_WHERE_FEASIBLE: _Columns = (
    ("takes", lambda row, system: written_volume(row["volume_m3"], system)),
    (
        "inner form",
        lambda row, system: (
            written_area(row["inner_form_m2"], system) if row["inner_form_m2"] > 0.0 else _NONE
        ),
    ),
    ("batches", lambda row, _: _NONE if row["batches"] is None else str(row["batches"])),
    ("hours", lambda row, _: _NONE if row["hours_s"] is None else written_duration(row["hours_s"])),
    ("material", lambda row, _: row["material_money"] or _NONE),
    ("in all", lambda row, _: row["money"] or _NONE),
    ("weight", lambda row, system: written_mass(row["mass_kg"], system)),
)
_MONEY = frozenset({"material", "in all"})
_WORDS = frozenset({"wall", "way", "mind"})
