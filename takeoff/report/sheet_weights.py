"""Masses as they are weighed on a printed sheet: as the scale shows them, and in other units."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal

from takeoff.documents import SettingValue
from takeoff.mix.scales import Scale, scale_for
from takeoff.report.figures import System, written_mass
from takeoff.report.scale_text import written_reading
from takeoff.units import mass_kg

_LONGEST = 4  # decimals of a division that was told in that unit
# A division is a plain number in the unit of its scale. One of 0.01 lb is 0.16 oz, plain enough,
# but no scale goes in steps of 16; so pounds come first where it goes in steps of 1, 2 or 5.
_STEPS = frozenset({(1,), (2,), (5,)})
_UNITS: Sequence[tuple[str, str, System, bool]] = (
    ("g", "", System.METRIC, False),
    ("lb", "lb", System.US, True),
    ("oz", "oz", System.US, False),
    ("lb", "lb", System.US, False),
)


@dataclass(frozen=True, slots=True)
class Weights:
    """How masses are written for the person at the scale.

    Parameters
    ----------
    system : System
        The units of the shop.
    scales : tuple of Scale
        Its scales; without any, masses are not rounded to a division.
    """

    system: System
    scales: tuple[Scale, ...]

    def reading(self, si_kg: float) -> str:
        """Write a mass as the scale shows it that holds it.

        Parameters
        ----------
        si_kg : float
            The mass. [kg]

        Returns
        -------
        str
            The reading with its unit.

        Examples
        --------
        >>> Weights(System.METRIC, (Scale(0.01),)).reading(121.83)
        '121.83 kg'
        """
        return self._read(si_kg, scale_for(si_kg, self.scales))

    def running(self, si_kg: float) -> str:
        """Write a running total, to the finest division.

        Parameters
        ----------
        si_kg : float
            The total so far. [kg]

        Returns
        -------
        str
            The total with its unit.

        Examples
        --------
        >>> Weights(System.METRIC, (Scale(0.01, 60.0), Scale(0.001, 3.0))).running(12.5)
        '12.500 kg'
        """
        finest = min(self.scales, key=lambda scale: scale.division_kg, default=None)
        return self._read(si_kg, finest)

    def rounded(self, si_kg: float) -> str:
        """Write a mass that is not weighed, only placed, in the unit that its scale shows.

        Parameters
        ----------
        si_kg : float
            The mass. [kg]

        Returns
        -------
        str
            The mass with its unit.

        Examples
        --------
        >>> Weights(System.METRIC, (Scale(0.01),)).rounded(11.171495)
        '11.17 kg'
        """
        unit, system = self._unit(scale_for(si_kg, self.scales))
        if unit == "lb":
            return f"{si_kg / mass_kg('1 lb'):.4g} lb"
        return written_mass(si_kg, system)

    def other(self, si_kg: float) -> str:
        """Write a mass in the units that its scale does not show.

        Parameters
        ----------
        si_kg : float
            The mass. [kg]

        Returns
        -------
        str
            The mass with its unit.

        Examples
        --------
        >>> Weights(System.METRIC, (Scale(0.01),)).other(15.2)
        '33 lb 8.2 oz'
        """
        _, shown = self._unit(scale_for(si_kg, self.scales))
        return written_mass(si_kg, System.US if shown is System.METRIC else System.METRIC)

    def _read(self, si_kg: float, scale: Scale | None) -> str:
        unit, system = self._unit(scale)
        if scale is None or unit is None:
            return written_mass(si_kg, system)
        return written_reading(si_kg, division_kg=scale.division_kg, unit=unit)

    def _unit(self, scale: Scale | None) -> tuple[str | None, System]:
        """Tell the unit that a scale shows: the one in which its division is a plain number."""
        if scale is None:
            return None, self.system
        for unit, reading, system, in_steps in _UNITS:
            division = scale.division_kg / mass_kg(f"1 {unit}")
            told = round(division, _LONGEST)
            plain = math.isclose(division, told, rel_tol=1e-7, abs_tol=0.0)
            if plain and (not in_steps or _digits(told) in _STEPS):
                return reading, system
        return None, self.system


def _digits(number: float) -> tuple[int, ...]:
    return Decimal(repr(number)).normalize().as_tuple().digits


def weights_of(settings: Mapping[str, SettingValue]) -> Weights:
    """Read the units and the scales of a shop from the settings of a document.

    Parameters
    ----------
    settings : mapping of str
        Every value in force.

    Returns
    -------
    Weights
        How its masses are written.

    Examples
    --------
    >>> weights_of({"show_units": "us", "shop": {"scales": []}}).reading(1.0)
    '2 lb 3.27 oz'
    """
    system = System(str(settings.get("show_units", System.METRIC.value)))
    return Weights(system, tuple(_scales(settings)))


def _scales(settings: Mapping[str, SettingValue]) -> Iterator[Scale]:
    shop = settings.get("shop")
    rows = shop.get("scales") if isinstance(shop, Mapping) else None
    for row in rows if isinstance(rows, Sequence) else ():
        division, capacity = row["division_kg"], row["capacity_kg"]
        yield Scale(float(division), math.inf if capacity is None else float(capacity))
