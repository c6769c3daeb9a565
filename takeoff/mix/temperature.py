"""The temperature of a fresh mix from those of its ingredients, and the ice that cools it."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from takeoff.errors import MixError


@dataclass(frozen=True, slots=True)
class Heats:
    """What it takes to warm the ingredients, and to melt ice.

    Parameters
    ----------
    solids_j_kg_k : float
        Specific heat of cement, sand and whatever is not water. [J/kg K]
    water_j_kg_k : float
        Specific heat of water. [J/kg K]
    ice_j_kg_k : float
        Specific heat of ice. [J/kg K]
    melting_kj_kg : float
        Heat that melts ice at 0 °C. [kJ/kg]

    Examples
    --------
    >>> Heats(920.0, 4184.0, 2097.0, 333.43).melting_kj_kg
    333.43
    """

    solids_j_kg_k: float
    water_j_kg_k: float
    ice_j_kg_k: float
    melting_kj_kg: float


@dataclass(frozen=True, slots=True)
class Warmth:
    """One ingredient as it comes to the mixer.

    Parameters
    ----------
    solids_kg : float
        What of it is not water. [kg]
    water_kg : float
        Its water. [kg]
    temperature_c : float
        Its temperature. [°C]

    Examples
    --------
    >>> Warmth(solids_kg=10.0, water_kg=0.4, temperature_c=30.0).water_kg
    0.4
    """

    solids_kg: float
    water_kg: float
    temperature_c: float

    def kilojoules_per_kelvin(self, heats: Heats) -> float:
        """Give the heat that warms it by one kelvin.

        Parameters
        ----------
        heats : Heats
            Specific heats.

        Returns
        -------
        float
            Its heat capacity. [kJ/K]
        """
        return (self.solids_kg * heats.solids_j_kg_k + self.water_kg * heats.water_j_kg_k) / 1000.0


@dataclass(frozen=True, slots=True)
class Balance:
    """What a mix comes to.

    Parameters
    ----------
    temperature_c : float
        Temperature of the mix, never below 0 while ice is left. [°C]
    unmelted_kg : float
        Ice that the mix has no heat to melt, or water that it freezes. [kg]
    """

    temperature_c: float
    unmelted_kg: float = 0.0


def heat_balance(
    parts: Iterable[Warmth], *, heats: Heats, ice_kg: float = 0.0, ice_c: float = 0.0
) -> Balance:
    r"""Balance the heat of everything that goes into the mixer.

    .. math:: T = \frac{\sum m c\,T_i - m_e (L - c_e T_e)}{\sum m c + m_e c_w}

    Parameters
    ----------
    parts : iterable of Warmth
        Ingredients; the water to add without its ice.
    heats : Heats
        Specific heats, and the heat of melting.
    ice_kg : float, default 0.0
        Ice. [kg]
    ice_c : float, default 0.0
        Temperature of the ice. [°C]

    Returns
    -------
    Balance
        Temperature, and ice left where there is too much of it.

    Raises
    ------
    MixError
        If there is nothing to balance, or ice is above 0 °C.

    Notes
    -----
    The formula alone goes below 0 °C where not all ice can melt. There, the mix is a slush at
    0 °C, and what the formula lacks in heat is ice left. Heat of mixing and of the first setting
    is not counted.

    References
    ----------
    ``pca-eb001``, chapter 13 (from memory); ``jabbar-2017`` on where the formula fails.

    Examples
    --------
    >>> heats = Heats(920.0, 4184.0, 2097.0, 333.43)
    >>> mortar = [Warmth(200.0, 0.0, 30.0), Warmth(0.0, 24.0, 30.0)]
    >>> round(heat_balance(mortar, heats=heats, ice_kg=8.0).temperature_c, 1)
    18.5
    """
    listed = tuple(parts)
    capacity_kj_k, heat_kj = _heat_over_zero(listed, heats)
    capacity_kj_k += ice_kg * heats.water_j_kg_k / 1000.0
    if capacity_kj_k <= 0.0:
        raise MixError("there is nothing to balance the heat of")
    heat_kj -= ice_kg * _cold_kj_per_kg(heats, ice_c)
    if heat_kj >= 0.0:
        return Balance(heat_kj / capacity_kj_k)
    return Balance(0.0, unmelted_kg=-heat_kj / heats.melting_kj_kg)


def ice_for_kg(
    parts: Iterable[Warmth],
    *,
    heats: Heats,
    wanted_c: float,
    water_c: float,
    ice_c: float = 0.0,
) -> float:
    """Give the ice that, in place of as much water, brings a mix to a temperature.

    Parameters
    ----------
    parts : iterable of Warmth
        Ingredients, all of the water to add among them.
    heats : Heats
        Specific heats, and the heat of melting.
    wanted_c : float
        Temperature wanted, at least 0. [°C]
    water_c : float
        Temperature of the water that the ice replaces. [°C]
    ice_c : float, default 0.0
        Temperature of the ice. [°C]

    Returns
    -------
    float
        Ice; 0 where the mix is no warmer than wanted without it. [kg]

    Raises
    ------
    MixError
        If the temperature wanted is below 0 °C, or ice is above it.

    Examples
    --------
    >>> heats = Heats(920.0, 4184.0, 2097.0, 333.43)
    >>> mortar = [Warmth(200.0, 0.0, 30.0), Warmth(0.0, 32.0, 30.0)]
    >>> round(ice_for_kg(mortar, heats=heats, wanted_c=18.46, water_c=30.0), 1)
    8.0
    """
    if not wanted_c >= 0.0:
        raise MixError(f"a mix cannot be wanted at {wanted_c:g} C; it would freeze")
    capacity_kj_k, heat_kj = _heat_over_zero(tuple(parts), heats)
    too_much_kj = heat_kj - wanted_c * capacity_kj_k
    replaced_kj_kg = heats.water_j_kg_k * water_c / 1000.0
    return max(0.0, too_much_kj / (replaced_kj_kg + _cold_kj_per_kg(heats, ice_c)))


def _heat_over_zero(parts: tuple[Warmth, ...], heats: Heats) -> tuple[float, float]:
    """Sum heat capacities [kJ/K], and the heat held above 0 °C [kJ]."""
    capacities = [part.kilojoules_per_kelvin(heats) for part in parts]
    heat = sum(
        capacity * part.temperature_c for capacity, part in zip(capacities, parts, strict=True)
    )
    return sum(capacities), heat


def _cold_kj_per_kg(heats: Heats, ice_c: float) -> float:
    """Heat that ice takes up until it is water at 0 °C."""
    if ice_c > 0.0:
        raise MixError(f"ice cannot be at {ice_c:g} C; give its temperature at or below 0 C")
    return heats.melting_kj_kg - heats.ice_j_kg_k * ice_c / 1000.0
