"""The mixer and the hands that a shop has."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Mixer:
    """A mixer.

    Parameters
    ----------
    name : str
        What the shop calls it.
    capacity_m3 : float
        Wet mix it works at once, not the volume of its drum. [m³]
    residue_kg : float
        Mix left behind in mixer and bucket, each batch. [kg]
    suits : tuple of str, default ()
        Mixes it may be used for; empty for any.
    least_fill_m3 : float, default 0
        Least wet mix that its blades still work. [m³]
    mix_s : float or None, default None
        To charge and mix one batch; None where the shop has not said. [s]
    clean_s : float or None, default None
        To scrape it between batches of one mix; None where the shop has not said. [s]
    """

    name: str
    capacity_m3: float
    residue_kg: float
    suits: tuple[str, ...] = ()
    least_fill_m3: float = 0.0
    mix_s: float | None = None
    clean_s: float | None = None


@dataclass(frozen=True, slots=True)
class PotLife:
    """How long a mix can be placed, and how fast it goes into the form.

    Parameters
    ----------
    pot_life_s : float
        From the end of mixing until the last of it must be in the form. [s]
    reserve_share : float
        Share of it kept in hand. [-]
    haul_s : float
        From the end of mixing to the first placing. [s]
    rate_kg_s : float
        What one pair of hands places. [kg/s]
    hands : int
        How many place at once.
    """

    pot_life_s: float
    reserve_share: float
    haul_s: float
    rate_kg_s: float
    hands: int

    @property
    def placed_kg(self) -> float:
        """Mass that can be placed before it goes off, in [kg].

        Examples
        --------
        >>> PotLife(1800.0, 0.2, 60.0, 0.05, hands=2).placed_kg
        138.0
        """
        usable_s = self.pot_life_s * (1.0 - self.reserve_share) - self.haul_s
        return max(0.0, usable_s * self.rate_kg_s * self.hands)
