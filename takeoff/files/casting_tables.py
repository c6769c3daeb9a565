"""The entries of a job file about what is cast or built in besides the drawings."""

from __future__ import annotations

import math
import re
from collections.abc import Callable, Sequence
from typing import Annotated, Literal

from pydantic import AfterValidator, BeforeValidator, Field

from takeoff.files.order_parts import Addition, Core, Item, QcBoards, Sample
from takeoff.files.toml_money import Money
from takeoff.files.toml_quantities import Density, Length, Mass, Name, Share, Volume
from takeoff.files.toml_tables import Fault, Table
from takeoff.piece.layers import Layer
from takeoff.units import density_kg_m3, length_m, mass_kg, volume_m3

_TIMES = re.compile(r"\s+[x×]\s+|(?<=\d)[x×](?=\d)", re.IGNORECASE)
_UNIT = re.compile(r"[\d\s]([a-zA-Z]+|['\"])\s*$")

# What lies beyond these is a slip of the pen, a metre for a millimetre or a ton for a kilogram: no
# sample or rib is longer than a large piece, no insert heavier than one, and a core that is as
# heavy as the mix around it lightens nothing.
_LONGEST = "10 m"
_THICKEST_BOARD = "200 mm"
_LARGEST_BODY = "1000 L"
_HEAVIEST_ITEM = "1000 kg"
_DENSEST_CORE = "2000 kg/m3"
_MOST_REMOVED = "20 mm"


def _at_most(most: str, read: Callable[[str], float]) -> AfterValidator:
    """Make a validator that names its limit with the unit."""

    def validated(value: float) -> float:
        if value > read(most):
            raise ValueError(f"must be at most {most}")
        return value

    return AfterValidator(validated)


def sides_m(text: object, count: int) -> tuple[float, ...]:
    """Read a size such as ``300 x 50 x 30 mm``; a unit at the end holds for all sides.

    Parameters
    ----------
    text : object
        What is written.
    count : int
        How many sides it must have.

    Returns
    -------
    tuple of float
        The sides. [m]

    Raises
    ------
    ValueError
        If it is not that many lengths above 0, or one is beyond any piece.

    Examples
    --------
    >>> sides_m("300 x 50 x 30 mm", 3)
    (0.3, 0.05, 0.03)
    >>> sides_m("2 ft x 8 in", 2)
    (0.6096, 0.2032)
    """
    like = " x ".join(("300", "600", "30")[:count]) + " mm"
    parts = _TIMES.split(text) if isinstance(text, str) else []
    if not isinstance(text, str) or len(parts) != count:
        raise ValueError(f'{text!r} is not {count} lengths; write them like "{like}"')
    unit = _UNIT.search(text)
    if unit is None:
        raise ValueError(f'{text!r} has no unit; write it like "{like}"')
    sides = [length_m(part if _UNIT.search(part) else f"{part} {unit[1]}") for part in parts]
    if min(sides) <= 0.0:
        raise ValueError(f"{text!r} has a side of nothing; every side must be above 0")
    if max(sides) > length_m(_LONGEST):
        raise ValueError(f"{text!r} has a side of more than {_LONGEST}")
    return tuple(sides)


def _box(value: object) -> tuple[float, float, float]:
    length_side_m, width_side_m, height_side_m = sides_m(value, 3)
    if length_side_m * width_side_m * height_side_m > volume_m3(_LARGEST_BODY):
        raise ValueError(f"{value!r} holds more than {_LARGEST_BODY}")
    return length_side_m, width_side_m, height_side_m


def _plate(value: object) -> float:
    return math.prod(sides_m(value, 2))


def _plan(value: object) -> tuple[float, float]:
    length_side_m, width_side_m = sides_m(value, 2)
    return length_side_m, width_side_m


BoxSides = Annotated[tuple[float, float, float], BeforeValidator(_box, json_schema_input_type=str)]
PlateArea = Annotated[float, BeforeValidator(_plate, json_schema_input_type=str)]
PlanSize = Annotated[tuple[float, float], BeforeValidator(_plan, json_schema_input_type=str)]
Count = Annotated[int, Field(ge=1, le=10_000)]
Some = Annotated[Volume, Field(gt=0.0), _at_most(_LARGEST_BODY, volume_m3)]


class _BodyTable(Table):
    name: Name
    volume: Some | None = None
    size: BoxSides | None = None
    count: Count = 1

    @property
    def each_m3(self) -> float:
        return self.volume if self.volume is not None else math.prod(self.size or (0.0,))


class AdditionTable(_BodyTable):
    """An ``[[piece.add]]``.

    Examples
    --------
    >>> AdditionTable(name="rib", size="300 x 50 x 30 mm").build().volume_m3
    0.00045
    """

    layer: Literal["face_coat", "backer"] = "backer"

    def build(self) -> Addition:
        """Give it as the job holds it."""
        return Addition(self.name, Layer(self.layer), self.each_m3, self.count)


class CoreTable(_BodyTable):
    """A ``[[piece.core]]``.

    Examples
    --------
    >>> CoreTable(name="foam", volume="2 L", density="30 kg/m3").build().density_kg_m3
    30.0
    """

    density: Annotated[Density, Field(gt=0.0), _at_most(_DENSEST_CORE, density_kg_m3)]

    def build(self) -> Core:
        """Give it as the job holds it."""
        return Core(self.name, self.each_m3, self.density, self.count, self.size)


class ItemTable(Table):
    """A ``[[piece.item]]``.

    Examples
    --------
    >>> ItemTable(name="bracket", mass="0.4 kg", count=4).build().count
    4
    """

    name: Name
    mass: Annotated[Mass, _at_most(_HEAVIEST_ITEM, mass_kg)]
    price: Money | None = None
    count: Count = 1

    def build(self) -> Item:
        """Give it as the job holds it."""
        return Item(self.name, self.mass, self.price, self.count)


class FinishTable(Table):
    """A ``[piece.finish]``.

    Examples
    --------
    >>> FinishTable(removed="0.5 mm").removed
    0.0005
    """

    removed: Annotated[Length, _at_most(_MOST_REMOVED, length_m)]


class SpareTable(Table):
    """The ``[spare]`` of a job.

    Examples
    --------
    >>> SpareTable(share="5 %").share
    0.05
    """

    share: Annotated[Share, Field(le=1.0)]


class SampleTable(Table):
    """A ``[[sample]]``.

    Examples
    --------
    >>> SampleTable(name="for the client", size="300 x 300 mm").build().area_m2
    0.09
    """

    name: Name
    size: PlateArea
    count: Count = 1

    def build(self) -> Sample:
        """Give it as the job holds it."""
        return Sample(self.name, self.size, self.count)


class BoardTable(Table):
    """The ``[qc]`` of a job.

    Examples
    --------
    >>> BoardTable(size="600 x 600 mm", thickness="12 mm").build().count
    1
    """

    size: PlateArea
    thickness: Annotated[Length, Field(gt=0.0), _at_most(_THICKEST_BOARD, length_m)]
    boards: Annotated[int, Field(ge=1, le=100)] = 1

    def build(self) -> QcBoards:
        """Give it as the job holds it."""
        return QcBoards(self.size, self.thickness, self.boards)


def namesake_faults(
    place: tuple[str | int, ...], names: Sequence[str | None], *, instead: str = ""
) -> list[Fault]:
    """Name what is told twice under one name.

    Parameters
    ----------
    place : tuple
        Keys down to the list.
    names : sequence of str or None
        The names in it; None where nobody gave one.
    instead : str, optional
        What would do besides another name.

    Returns
    -------
    list of Fault
        One for each name that was there before, however it is spelt in capitals.

    Examples
    --------
    >>> [fault.text for fault in namesake_faults(("sample",), ["lobby", "Lobby"])]
    ["'Lobby' is there twice; give each its own name"]
    """
    faults = []
    seen: set[str] = set()
    for number, name in enumerate(names):
        if name is None:
            continue
        if name.casefold() in seen:
            text = f"{name!r} is there twice; {instead}give each its own name"
            faults.append(Fault((*place, number, "name"), text))
        seen.add(name.casefold())
    return faults


def body_faults(place: tuple[str | int, ...], bodies: tuple[_BodyTable, ...]) -> list[Fault]:
    """Name bodies without a size, and with two.

    Parameters
    ----------
    place : tuple
        Keys down to the list.
    bodies : tuple of AdditionTable or CoreTable
        What is in it.

    Returns
    -------
    list of Fault
        What is wrong.

    Examples
    --------
    >>> body_faults(("piece", 0, "add"), (AdditionTable(name="rib"),))[0].text
    'needs a volume like "2 L" or a size like "300 x 50 x 30 mm"'
    """
    faults = []
    for number, body in enumerate(bodies):
        path = (*place, number)
        if body.volume is None and body.size is None:
            text = 'needs a volume like "2 L" or a size like "300 x 50 x 30 mm"'
            faults.append(Fault(path, text))
        if body.volume is not None and body.size is not None:
            faults.append(Fault((*path, "size"), "is told besides a volume; keep one of the two"))
    return faults
