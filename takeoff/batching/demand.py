"""What must be placed: every copy of every piece, step by step, class by class."""

from __future__ import annotations

from dataclasses import dataclass

from takeoff.batching.steps import Step


@dataclass(frozen=True, slots=True)
class ClassMass:
    """Mass that one class of surface takes.

    Parameters
    ----------
    surface_class : str
        Show face, return, upright.
    mass_kg : float
        What stays in the piece. [kg]
    along : str, default ""
        What is cast along with the piece, by its own name; empty for the piece itself.
    number : int, default 1
        Which of those it is, from 1.
    """

    surface_class: str
    mass_kg: float
    along: str = ""
    number: int = 1


@dataclass(frozen=True, slots=True)
class Coat:
    """One step on one copy of a piece.

    Parameters
    ----------
    step : Step
        How it is placed.
    masses : tuple of ClassMass
        What stays in the piece, in the order it is placed.
    """

    step: Step
    masses: tuple[ClassMass, ...]

    @property
    def net_kg(self) -> float:
        """What stays in the piece, in [kg]."""
        return sum(mass.mass_kg for mass in self.masses)

    @property
    def gross_kg(self) -> float:
        """What leaves the bucket, overspray included, in [kg]."""
        return self.net_kg / (1.0 - self.step.overspray_share)


@dataclass(frozen=True, slots=True)
class Casting:
    """One copy of a piece.

    Parameters
    ----------
    piece : str
        The piece.
    copy : int
        Which copy, from 1.
    coats : tuple of Coat
        What is placed on it, in order.
    """

    piece: str
    copy: int
    coats: tuple[Coat, ...]

    @property
    def name(self) -> str:
        """How it is called on the sheet."""
        return f"{self.piece} {self.copy}"
