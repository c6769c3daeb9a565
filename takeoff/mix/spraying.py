"""A spray station set by bag and bucket, and a coat checked by its weight."""

from __future__ import annotations

from dataclasses import dataclass

from takeoff.errors import MixError


@dataclass(frozen=True, slots=True)
class SprayRules:
    """How far a spray station may be off.

    Parameters
    ----------
    fibre_share : float, default 0.1
        A fibre content that misses that of the mix by more than this part of it is noted: of
        5 % that is half a percent, a third of the range that standards leave. [-]
    """

    fibre_share: float = 0.1


@dataclass(frozen=True, slots=True)
class SprayStation:
    """What comes out of the gun.

    Parameters
    ----------
    glass_kg_s : float
        Chopped fibre, from the bag. [kg/s]
    slurry_kg_s : float
        Slurry, from the bucket. [kg/s]

    Raises
    ------
    MixError
        If no slurry comes, or a rate is below 0.

    References
    ----------
    ``grca-methods`` (from memory): a bag held for 15 s, four times, a bucket for 30 s, twice.

    Examples
    --------
    >>> station = SprayStation(glass_kg_s=0.125 / 15.0, slurry_kg_s=4.75 / 30.0)
    >>> round(station.fibre_share, 6)
    0.05
    """

    glass_kg_s: float
    slurry_kg_s: float

    def __post_init__(self) -> None:
        if not (0.0 <= self.glass_kg_s < float("inf") and 0.0 < self.slurry_kg_s < float("inf")):
            raise MixError(
                f"{self.glass_kg_s:g} kg/s of glass and {self.slurry_kg_s:g} kg/s of slurry are no "
                "spray"
            )

    @property
    def fibre_share(self) -> float:
        """Fibre in what is sprayed, of total."""
        return self.glass_kg_s / (self.glass_kg_s + self.slurry_kg_s)


def glass_for_kg_s(*, slurry_kg_s: float, fibre_share: float) -> float:
    """Give the rate of chopped fibre that goes with a rate of slurry.

    Parameters
    ----------
    slurry_kg_s : float
        Slurry, from the bucket. [kg/s]
    fibre_share : float
        Fibre wanted, of total. [-]

    Returns
    -------
    float
        Rate that the bag shall show. [kg/s]

    Raises
    ------
    MixError
        If the rate is not above 0, or the share not from 0 to below 100 %.

    Examples
    --------
    >>> round(60.0 * glass_for_kg_s(slurry_kg_s=9.5 / 60.0, fibre_share=0.05), 6)
    0.5
    """
    if not (0.0 < slurry_kg_s < float("inf") and 0.0 <= fibre_share < 1.0):
        raise MixError(
            f"{slurry_kg_s:g} kg/s of slurry with {100.0 * fibre_share:g} % of fibre is no spray"
        )
    return slurry_kg_s * fibre_share / (1.0 - fibre_share)


def coat_mass_kg_m2(*, density_kg_m3: float, thickness_m: float) -> float:
    """Wet mass per area of a coat, so that its thickness can be checked with a scale.

    Parameters
    ----------
    density_kg_m3 : float
        Fresh density. [kg/m³]
    thickness_m : float
        Thickness of the coat. [m]

    Returns
    -------
    float
        Mass per area. [kg/m²]

    Raises
    ------
    MixError
        If a figure is not above 0.

    Examples
    --------
    >>> coat_mass_kg_m2(density_kg_m3=2000.0, thickness_m=0.004)
    8.0
    """
    if density_kg_m3 <= 0.0 or thickness_m <= 0.0:
        raise MixError(f"{thickness_m:g} m at {density_kg_m3:g} kg/m3 is no coat")
    return density_kg_m3 * thickness_m
