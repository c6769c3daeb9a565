"""The spray station of a sprayed backer: what bag and bucket held, and what they should."""

from __future__ import annotations

from dataclasses import dataclass

from takeoff.errors import MixError
from takeoff.job.weigh_words import read_rate_kg_s
from takeoff.mix.mixes import Mix
from takeoff.mix.proportions import proportions_of
from takeoff.mix.spraying import SprayStation, glass_for_kg_s


@dataclass(frozen=True, slots=True)
class Spray:
    """A spray station against the mix.

    Parameters
    ----------
    slurry_kg_s : float
        Slurry, from the bucket. [kg/s]
    glass_kg_s : float or None
        Fibre, from the bag; None where it was not weighed. [kg/s]
    wanted_share : float
        Fibre of the mix, of total. [-]
    """

    slurry_kg_s: float
    glass_kg_s: float | None
    wanted_share: float

    @property
    def fibre_share(self) -> float | None:
        """Fibre in what is sprayed, of total; None where the bag was not weighed."""
        if self.glass_kg_s is None:
            return None
        return SprayStation(self.glass_kg_s, self.slurry_kg_s).fibre_share

    @property
    def wanted_glass_kg_s(self) -> float:
        """Rate of fibre that goes with the slurry, in [kg/s]."""
        return glass_for_kg_s(slurry_kg_s=self.slurry_kg_s, fibre_share=self.wanted_share)


def read_spray(mix: Mix, *, slurry: str | None, glass: str | None) -> Spray | None:
    """Read what bucket and bag of a spray station held.

    Parameters
    ----------
    mix : Mix
        A mix whose fibre is chopped at the gun.
    slurry : str or None
        From the bucket, such as ``"4.75 kg in 30 s"``.
    glass : str or None
        From the bag, such as ``"125 g in 15 s"``.

    Returns
    -------
    Spray or None
        The station; None where neither is told.

    Raises
    ------
    MixError
        If the mix has no fibre at the gun, or the bag is told without the bucket.
    QuantityError
        If a rate cannot be read.

    Examples
    --------
    >>> from takeoff.files.mix_file import read_mix
    >>> spray = read_spray(read_mix("backer-sprayed"), slurry="9.5 kg/min", glass=None)
    >>> round(60.0 * spray.wanted_glass_kg_s, 3)
    0.5
    """
    if slurry is None and glass is None:
        return None
    at_gun = {dose.ingredient.name for dose in mix.doses if dose.at_gun}
    if not at_gun:
        raise MixError("no fibre of it is chopped at the gun, so there is no spray station to set")
    if slurry is None:
        raise MixError("the bag alone says nothing; weigh the slurry of the bucket too")
    parts = proportions_of(mix).parts
    return Spray(
        read_rate_kg_s(slurry),
        None if glass is None else read_rate_kg_s(glass),
        sum(part.mass_share for part in parts if part.ingredient.name in at_gun),
    )
