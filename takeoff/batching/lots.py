"""One lot: the fewest equal batches that a mixer and the pot life allow."""

from __future__ import annotations

import math
from dataclasses import dataclass
from enum import StrEnum

from takeoff.batching.mixers import Mixer, PotLife
from takeoff.errors import BatchError


class Bound(StrEnum):
    """What kept the batches from being larger, and so fewer, or made them larger than needed."""

    DEMAND = "demand"
    MIXER = "mixer"
    POT_LIFE = "pot_life"
    BAGS = "bags"
    LEAST_FILL = "least_fill"


@dataclass(frozen=True, slots=True)
class BatchLimit:
    """The most that one batch can place.

    Parameters
    ----------
    placed_kg : float
        What leaves the bucket, residue not counted. [kg]
    bound : Bound
        What binds it.
    """

    placed_kg: float
    bound: Bound


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
    limit = batch_limit(
        mixer,
        density_kg_m3=density_kg_m3,
        placed_kg=None if pot_life is None else _placed_kg(pot_life),
        division_kg=division_kg,
    )
    count = batch_count(gross_kg, limit)
    least_kg = mixer.least_fill_m3 * density_kg_m3
    needed_kg = gross_kg / count + mixer.residue_kg
    batch_kg = weighed_kg(max(needed_kg, least_kg), division_kg=division_kg)
    leftover_kg = max(0.0, count * (batch_kg - mixer.residue_kg) - gross_kg)
    bound = limit.bound if count > 1 else Bound.DEMAND
    return Lot(
        mixer, Bound.LEAST_FILL if needed_kg < least_kg else bound, count, batch_kg, leftover_kg
    )


def batch_limit(
    mixer: Mixer,
    *,
    density_kg_m3: float,
    placed_kg: float | None = None,
    division_kg: float | None = None,
    bag_kg: float | None = None,
) -> BatchLimit:
    """Give the most that one batch can place, and what binds it.

    Parameters
    ----------
    mixer : Mixer
        Room and residue.
    density_kg_m3 : float
        Density of the fresh mix. [kg/m³]
    placed_kg : float, optional
        What can be placed within the pot life; None where that is not known. [kg]
    division_kg : float, optional
        Division of the scale. [kg]
    bag_kg : float, optional
        Fresh mix that one bag makes, where only whole bags are mixed. [kg]

    Returns
    -------
    BatchLimit
        The most, residue not counted.

    Raises
    ------
    BatchError
        If the residue, or one bag, is more than the mixer holds.

    Examples
    --------
    >>> batch_limit(Mixer("60 L", 0.060, 0.5), density_kg_m3=2000.0)
    BatchLimit(placed_kg=119.5, bound=<Bound.MIXER: 'mixer'>)
    """
    room_kg = _whole_divisions(mixer.capacity_m3 * density_kg_m3, bag_kg or division_kg)
    if room_kg <= mixer.residue_kg:
        what = f"the {mixer.residue_kg:g} kg left in it each time"
        if bag_kg is not None:
            what = f"is needed for one bag, {bag_kg:g} kg, and what is left in it each time"
        raise BatchError(
            f"mixer {mixer.name} holds {mixer.capacity_m3 * 1e3:g} L, no more than {what}; "
            "give a larger mixer"
        )
    limits = {Bound.MIXER if bag_kg is None else Bound.BAGS: room_kg - mixer.residue_kg}
    if placed_kg is not None:
        limits[Bound.POT_LIFE] = placed_kg
    bound = min(limits, key=lambda name: limits[name])
    return BatchLimit(limits[bound], bound)


def batch_count(gross_kg: float, limit: BatchLimit) -> int:
    """Give the fewest batches that place a mass; no plan of any batches has fewer.

    Parameters
    ----------
    gross_kg : float
        What must leave the bucket. [kg]
    limit : BatchLimit
        The most that one batch can place.

    Returns
    -------
    int
        The count, at least 1.

    Examples
    --------
    >>> batch_count(63.0, BatchLimit(25.0, Bound.MIXER))
    3
    """
    return max(1, math.ceil(gross_kg / limit.placed_kg - 1e-9))


def weighed_kg(
    needed_kg: float, *, division_kg: float | None = None, bag_kg: float | None = None
) -> float:
    """Round a batch up to whole bags, or to the division of the scale.

    Parameters
    ----------
    needed_kg : float
        What it must be at least. [kg]
    division_kg : float, optional
        Division of the scale. [kg]
    bag_kg : float, optional
        Fresh mix that one bag makes, where only whole bags are mixed. [kg]

    Returns
    -------
    float
        What is made. [kg]

    Examples
    --------
    >>> weighed_kg(35.333, division_kg=0.01), weighed_kg(25.0, bag_kg=28.0)
    (35.34, 28.0)
    """
    step_kg = bag_kg or division_kg
    if step_kg is None:
        return needed_kg
    return round(math.ceil(needed_kg / step_kg - 1e-9) * step_kg, 9)


def _placed_kg(pot_life: PotLife) -> float:
    if pot_life.placed_kg <= 0.0:
        raise BatchError(
            f"a pot life of {pot_life.pot_life_s / 60:g} min less {pot_life.reserve_share:.0%} "
            f"in reserve leaves no time after {pot_life.haul_s / 60:g} min of carrying; "
            "mix nearer to the form, or see the product's data sheet for its pot life"
        )
    return pot_life.placed_kg


def _whole_divisions(mass_kg: float, division_kg: float | None) -> float:
    """Round down to the division of the scale, so that rounding up never overfills."""
    if division_kg is None:
        return mass_kg
    return math.floor(mass_kg / division_kg + 1e-9) * division_kg
