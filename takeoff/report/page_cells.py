"""Tables as a page shows them: every figure with the place in the document it was read from."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from typing import cast

from takeoff.report.figures import (
    System,
    written_area,
    written_duration,
    written_length,
    written_mass,
    written_share,
    written_volume,
)

NOTHING = "-"

_WRITERS: Mapping[str, Callable[[float, System], str]] = {
    "m": written_length,
    "m2": written_area,
    "m3": written_volume,
    "kg": written_mass,
    "s": lambda value_s, _: written_duration(value_s),
    "share": lambda value_share, _: written_share(value_share),
}


@dataclass(frozen=True, slots=True)
class Cell:
    """One cell of a table.

    Parameters
    ----------
    text : str
        What it says.
    at : str, default ""
        Place in the document of what it says, as a JSON pointer; empty for words of ours.
    after : str, default ""
        What stands behind it.
    surface_class : str, default ""
        The class whose swatch stands before it.
    span_count : int, default 1
        How many columns it takes.
    """

    text: str
    at: str = ""
    after: str = ""
    surface_class: str = ""
    span_count: int = 1


@dataclass(frozen=True, slots=True)
class Column:
    """One column of a table.

    Parameters
    ----------
    name : str
        Its head.
    number : bool, default False
        Whether figures stand in it: flush right, never broken.
    """

    name: str
    number: bool = False


@dataclass(frozen=True, slots=True)
class Table:
    """A table with its caption.

    Parameters
    ----------
    caption : str
        What it lists.
    columns : tuple of Column
        Its columns; the first one names the row.
    rows : tuple of tuple of Cell
        Its rows.
    foot : tuple of tuple of Cell, default ()
        Rows that sum up.
    remarks : tuple of str, default ()
        What stands below it.
    folded : bool, default False
        Whether it is folded away until it is asked for.
    """

    caption: str
    columns: tuple[Column, ...]
    rows: tuple[tuple[Cell, ...], ...]
    foot: tuple[tuple[Cell, ...], ...] = ()
    remarks: tuple[str, ...] = ()
    folded: bool = False


@dataclass(frozen=True, slots=True, eq=False)
class Placed:
    """A row of a document, and where it stands in it.

    Parameters
    ----------
    row : mapping of str to object
        The row.
    at : str
        Its place, as a JSON pointer.
    system : System
        Units that its figures are written in.
    """

    row: Mapping[str, object]
    at: str
    system: System
    _units: tuple[str, ...] = field(default=())

    def cell(self, key: str, *, after: str = "", surface_class: str = "") -> Cell:
        """Write one value of the row.

        Parameters
        ----------
        key : str
            Its key; it, or else one above it, says the unit.
        after : str, default ""
            What stands behind it.
        surface_class : str, default ""
            The class whose swatch stands before it.

        Returns
        -------
        Cell
            The value as text.

        Examples
        --------
        >>> Placed({"area_m2": 0.5}, "/pieces/0", System.METRIC).cell("area_m2").text
        '0.5 m²'
        """
        text = self._written(key, self.row[key])
        return Cell(text, f"{self.at}/{key}", after, surface_class)

    def part(self, key: str) -> Placed:
        """Give the row that stands under a key.

        Parameters
        ----------
        key : str
            The key.

        Returns
        -------
        Placed
            The row, and its place.

        Examples
        --------
        >>> piece = Placed({"area_m2": {"return": 0.5}}, "/pieces/0", System.US)
        >>> piece.part("area_m2").cell("return").text
        '5.382 sq ft'
        """
        row = cast("Mapping[str, object]", self.row[key])
        return Placed(row, f"{self.at}/{key}", self.system, (*self._units, key))

    def parts(self, key: str) -> Iterator[Placed]:
        """Give the rows that stand under a key.

        Parameters
        ----------
        key : str
            The key.

        Yields
        ------
        Placed
            Each row, and its place.

        Examples
        --------
        >>> bid = Placed({"lines": [{"what": "sealer"}]}, "", System.METRIC)
        >>> [line.cell("what").at for line in bid.parts("lines")]
        ['/lines/0/what']
        """
        for number, row in enumerate(cast("Sequence[Mapping[str, object]]", self.row[key])):
            yield Placed(row, f"{self.at}/{key}/{number}", self.system, (*self._units, key))

    def _written(self, key: str, value: object) -> str:
        """Write a value by its kind, and by the unit that the nearest key names."""
        if value is None or value == "":
            return NOTHING
        if isinstance(value, bool):
            return "yes" if value else "no"
        if isinstance(value, str):
            return value
        if isinstance(value, int | float):
            for name in (key, *reversed(self._units)):
                writer = _WRITERS.get(name.rpartition("_")[2])
                if writer is not None:
                    return writer(value, self.system)
        return f"{value}"


def words(*texts: str) -> tuple[Cell, ...]:
    """Make cells of words of ours.

    Parameters
    ----------
    *texts : str
        The words.

    Returns
    -------
    tuple of Cell
        A cell each.

    Examples
    --------
    >>> [cell.text for cell in words("a", "b")]
    ['a', 'b']
    """
    return tuple(Cell(text) for text in texts)


def across(text: str, count: int) -> Cell:
    """Make a cell of words of ours that takes several columns.

    Parameters
    ----------
    text : str
        The words.
    count : int
        How many columns.

    Returns
    -------
    Cell
        The cell.

    Examples
    --------
    >>> across("total", 4).span_count
    4
    """
    return Cell(text, span_count=count)


def columns(names: str, *, right: str = "", money: str = "") -> tuple[Column, ...]:
    """Make the columns of a table of their names.

    Parameters
    ----------
    names : str
        The names, parted by commas; ``money`` stands for the currency.
    right : str, default ""
        Those in which figures stand, likewise.
    money : str, default ""
        The currency.

    Returns
    -------
    tuple of Column
        The columns.

    Examples
    --------
    >>> [(one.name, one.number) for one in columns("line, money", right="money", money="EUR")]
    [('line', False), ('EUR', True)]
    """
    numbers = set(right.split(", "))
    return tuple(
        Column(money if name == "money" else name, name in numbers) for name in names.split(", ")
    )
