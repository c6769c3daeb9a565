"""One lot: the fewest equal batches that a mixer and the pot life allow."""

from __future__ import annotations

import math
from dataclasses import dataclass
from enum import StrEnum

from takeoff.batching.mixers import Mixer, PotLife
from takeoff.errors import BatchError


class Bound(StrEnum):
    """What kept the batches from being larger, and so fewer."""

    DEMAND = "demand"
    MIXER = "mixer"
    POT_LIFE = "pot_life"


@dataclass(frozen=True, slots=True)
class Lot:
    """Equal batches of one mix.

    Parameters
    ----------
    mixer : Mixer
        Where they are mixed.
    bound : Bound
        What bound their size; ``demand`` where one batch does.
    batch_count : int
        How many.
    batch_kg : float
        Mass weighed for each, residue included. [kg]
    leftover_kg : float
        What is over at the end of the lot, from rounding up. [kg]
    """

    mixer: Mixer
    bound: Bound
    batch_count: int
    batch_kg: float
    leftover_kg: float

    @property
    def weighed_kg(self) -> float:
        """Mass weighed for all batches, in [kg].

        Examples
        --------
        >>> lot = split_equally(100.0, density_kg_m3=2000.0, mixer=Mixer("M", 0.03, 0.5),
        ...                     division_kg=0.1)
        >>> lot.batch_count, lot.batch_kg, round(lot.weighed_kg, 6)
        (2, 50.5, 101.0)
        """
        return self.batch_count * self.batch_kg


def split_equally(
    gross_kg: float,
    *,
    density_kg_m3: float,
    mixer: Mixer,
    pot_life: PotLife | None = None,
    division_kg: float | None = None,
) -> Lot:
    """Split what must be placed into the fewest batches of equal mass.

    Parameters
    ----------
    gross_kg : float
        Mass that leaves the bucket over the lot: what goes into the form and what is
        sprayed past it. [kg]
    density_kg_m3 : float
        Density of the fresh mix. [kg/m³]
    mixer : Mixer
        Room and residue.
    pot_life : PotLife, optional
        Bounds the batch by what can be placed in time; None where the shop gave no rate.
    division_kg : float, optional
        Batches are rounded up to this. [kg]

    Returns
    -------
    Lot
        Count and mass of the batches, and what bound them.

    Raises
    ------
    BatchError
        If the residue fills the mixer, or the mix goes off before any can be placed.

    Notes
    -----
    With q the least of the mixer's room less residue and of the mass placed within the pot
    life, the count is the demand over q, rounded up: no plan of equal batches has fewer.

    Examples
    --------
    >>> mixer = Mixer("60 L", 0.060, 0.3)
    >>> lot = split_equally(300.0, density_kg_m3=2000.0, mixer=mixer)
    >>> lot.batch_count, lot.bound.value, round(lot.batch_kg, 3)
    (3, 'mixer', 100.3)
    """
    room_kg = mixer.capacity_m3 * density_kg_m3 - mixer.residue_kg
    limits = {Bound.MIXER: _whole_divisions(room_kg + mixer.residue_kg, division_kg)}
    limits[Bound.MIXER] -= mixer.residue_kg
    if limits[Bound.MIXER] <= 0.0:
        raise BatchError(
            f"mixer {mixer.name} holds {mixer.capacity_m3 * 1e3:g} L, no more than the "
            f"{mixer.residue_kg:g} kg left in it each time; give a larger mixer"
        )
    if pot_life is not None:
        limits[Bound.POT_LIFE] = _placed_kg(pot_life)
    bound = min(limits, key=lambda name: limits[name])
    count = max(1, math.ceil(gross_kg / limits[bound] - 1e-9))
    batch_kg = _up(gross_kg / count + mixer.residue_kg, division_kg)
    leftover_kg = max(0.0, count * (batch_kg - mixer.residue_kg) - gross_kg)
    return Lot(mixer, bound if count > 1 else Bound.DEMAND, count, batch_kg, leftover_kg)


def _placed_kg(pot_life: PotLife) -> float:
    if pot_life.placed_kg <= 0.0:
        raise BatchError(
            f"a pot life of {pot_life.pot_life_s / 60:g} min less {pot_life.reserve_share:.0%} "
            f"in reserve leaves no time after {pot_life.haul_s / 60:g} min of carrying; "
            "mix nearer to the form, or see the product's data sheet for its pot life"
        )
    return pot_life.placed_kg


def _up(mass_kg: float, division_kg: float | None) -> float:
    """Round up to the division of the scale."""
    if division_kg is None:
        return mass_kg
    return math.ceil(mass_kg / division_kg - 1e-9) * division_kg


def _whole_divisions(mass_kg: float, division_kg: float | None) -> float:
    """Round down to the division of the scale, so that rounding up never overfills."""
    if division_kg is None:
        return mass_kg
    return math.floor(mass_kg / division_kg + 1e-9) * division_kg
