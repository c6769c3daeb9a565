"""What a job casts or builds in besides its drawings: additions, cores, items, samples, boards."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from enum import StrEnum

from takeoff.piece.layers import Layer


class Portion(StrEnum):
    """What is mixed and placed by itself, in the order it is placed.

    Attributes
    ----------
    FACE_COAT
        The face coat.
    WALL_BACKER
        The backer of walls that are packed or sprayed while the rest is poured.
    BACKER
        The backer.
    """

    FACE_COAT = "face_coat"
    WALL_BACKER = "wall_backer"
    BACKER = "backer"

    @property
    def layer(self) -> Layer:
        """The layer it belongs to."""
        return Layer.FACE_COAT if self is Portion.FACE_COAT else Layer.BACKER

    @property
    def word(self) -> str:
        """What it is called.

        Examples
        --------
        >>> Portion.WALL_BACKER.word
        'wall backer'
        """
        return self.value.replace("_", " ")


@dataclass(frozen=True, slots=True)
class Addition:
    """Ribs, pads and thickenings cast on every copy of a piece.

    Parameters
    ----------
    name : str
        What it is.
    layer : Layer
        With which layer it is cast.
    volume_m3 : float
        Volume of one. [m³]
    count : int, default 1
        How many there are on one piece.
    """

    name: str
    layer: Layer
    volume_m3: float
    count: int = 1


@dataclass(frozen=True, slots=True)
class Core:
    """A light core left in the backer of every copy of a piece.

    Parameters
    ----------
    name : str
        What it is.
    volume_m3 : float
        Volume of one, taken out of the backer. [m³]
    density_kg_m3 : float
        Its density. [kg/m³]
    count : int, default 1
        How many there are in one piece.
    sides_m : tuple of float or None, default None
        Its sides; None where only its volume is told. [m]
    """

    name: str
    volume_m3: float
    density_kg_m3: float
    count: int = 1
    sides_m: tuple[float, float, float] | None = None


@dataclass(frozen=True, slots=True)
class Item:
    """An insert, bracket or frame built into every copy of a piece.

    Parameters
    ----------
    name : str
        What it is.
    mass_kg : float
        Mass of one. [kg]
    price : Decimal or None
        Price of one, in the currency of the job.
    count : int, default 1
        How many there are in one piece.
    """

    name: str
    mass_kg: float
    price: Decimal | None
    count: int = 1


@dataclass(frozen=True, slots=True)
class Sample:
    """A flat sample with the layers of the job.

    Parameters
    ----------
    name : str
        What it is for.
    area_m2 : float
        Area of one. [m²]
    count : int, default 1
        How many are cast.
    """

    name: str
    area_m2: float
    count: int = 1


@dataclass(frozen=True, slots=True)
class QcBoards:
    """Flat test boards cast of every mix on every day.

    Parameters
    ----------
    area_m2 : float
        Area of one. [m²]
    thickness_m : float
        Its thickness. [m]
    count : int, default 1
        How many per day and mix.
    """

    area_m2: float
    thickness_m: float
    count: int = 1
