"""The shipped figures behind weights, heads and hold-down forces."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

from pydantic import Field

from takeoff.files.ingredient_tables import SourcedTable
from takeoff.files.shipped import shipped_toml
from takeoff.files.toml_tables import Table, check_tables


@dataclass(frozen=True, slots=True)
class LoadConstant:
    """The most that one person may lift under ideal conditions.

    Parameters
    ----------
    most_kg : float
        The mass. [kg]
    most_lb : float
        The same as it is printed in pounds. [lb]
    cited : str
        Where it comes from, as printed behind it.

    Examples
    --------
    >>> LoadConstant(23.0, 51.0, "NIOSH 94-110").said
    '23 kg (51 lb)'
    """

    most_kg: float
    most_lb: float
    cited: str

    @property
    def said(self) -> str:
        """The mass in both units, as the source prints it."""
        return f"{self.most_kg:g} kg ({self.most_lb:g} lb)"


@dataclass(frozen=True, slots=True)
class HandlingFigures:
    """Figures that weights and forces stand on.

    Parameters
    ----------
    gravity_m_s2 : float
        Standard acceleration due to gravity. [m/s²]
    load_constant : LoadConstant
        The most for one person under ideal conditions.
    """

    gravity_m_s2: float
    load_constant: LoadConstant


class _GravityTable(SourcedTable):
    m_s2: float = Field(gt=0.0)


class _LoadTable(SourcedTable):
    kg: float = Field(gt=0.0)
    lb: float = Field(gt=0.0)
    cited: str = Field(min_length=1)


class _HandlingTables(Table):
    gravity: _GravityTable
    load_constant: _LoadTable

    def build(self) -> HandlingFigures:
        load = self.load_constant
        return HandlingFigures(self.gravity.m_s2, LoadConstant(load.kg, load.lb, load.cited))


@cache
def shipped_handling() -> HandlingFigures:
    """Give the figures behind weights, heads and hold-down forces.

    Returns
    -------
    HandlingFigures
        The figures.

    Examples
    --------
    >>> shipped_handling().gravity_m_s2, shipped_handling().load_constant.said
    (9.80665, '23 kg (51 lb)')
    """
    return check_tables(shipped_toml("handling.toml"), _HandlingTables).build()
