"""The rows of a job that was started from drawings, key by key; they belong to ``documents``."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Literal

from typing_extensions import TypedDict  # the one that schemas can be made of on Python 3.11

EDIT_MARK = "?"
"""What stands in a started file where only the shop knows; files that hold it are refused."""
NO_CURRENCY = "¤"
"""The sign of a currency that nobody told."""


class UnitSizeRow(TypedDict):
    """How large a drawing would be in a unit."""

    unit: str
    size_m: Sequence[float]


class StartedUnitRow(TypedDict):
    """The unit of a drawing; no name, but the sizes in each, where it is asked for.

    ``passed_over`` is the unit that was told for drawings that declare none, where this one
    declares another.
    """

    name: str | None
    source: Literal["told", "declared", "asked"]
    passed_over: str | None
    sizes: Sequence[UnitSizeRow]


class StartedEdgeRow(TypedDict):
    """One side of an outline; ``opening`` counts the openings from 1."""

    id: str
    side: str
    length_m: float
    curved: bool
    opening: int | None


class StartedOpeningRow(TypedDict):
    """A cut-out: of an outline with its edges, of a mesh with the least width and its depth."""

    id: str
    size_m: Sequence[float]
    depth_m: float | None
    bare: bool
    edges: Sequence[str]


class StartedWallRow(TypedDict):
    """A return or upright of a mesh."""

    id: str
    what: str
    depth_m: float
    area_m2: float
    opening: str | None


class StartedReadingRow(TypedDict):
    """One way to read a mesh, with the areas it comes to; none while the unit is not known."""

    id: str
    kind: str
    show: str
    show_face_m2: float | None
    return_m2: float | None
    upright_m2: float | None


class StartedPieceRow(TypedDict):
    """One piece of a drawing: what was found, and what is left to ask."""

    name: str
    drawn_as: Literal["mesh", "outline"]
    size_m: Sequence[float]
    kind: str | None
    show: str | None
    source: Literal["told", "found", "asked"] | None
    asked: Sequence[str]
    why: str
    edges: Sequence[StartedEdgeRow]
    openings: Sequence[StartedOpeningRow]
    walls: Sequence[StartedWallRow]
    readings: Sequence[StartedReadingRow]


class StartErrorRow(TypedDict):
    """Why a drawing could not be used."""

    kind: str
    text: str


class StartedDrawingRow(TypedDict):
    """One drawing of a started job: a ``[[piece]]`` of it, or the reason why it is left out."""

    file: str
    drawing: str
    name: str
    sha256: str | None
    unit: StartedUnitRow | None
    drawn: Sequence[StartedPieceRow]
    doubts: Sequence[str]
    error: StartErrorRow | None


class StartEditRow(TypedDict):
    """One edit that is left to make: a place of one or several lines, and how many marks in it."""

    file: str
    line: int
    last_line: int
    marks: int
    what: str
