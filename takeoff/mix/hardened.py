"""Bulk densities, absorption and porosity of a hardened coupon from three weighings."""

from __future__ import annotations

from dataclasses import dataclass

from takeoff.errors import MixError


@dataclass(frozen=True, slots=True)
class Coupon:
    """A coupon weighed oven dry, saturated and surface dry, and under water.

    Parameters
    ----------
    dry_kg : float
        Oven dry, in air. [kg]
    saturated_kg : float
        Saturated and surface dry, in air. [kg]
    immersed_kg : float
        Saturated, hanging in water. [kg]
    water_kg_m3 : float, default 1000.0
        Density of the water. [kg/m³]

    Raises
    ------
    MixError
        If the three masses cannot be those of one coupon.

    References
    ----------
    ``astm-c948`` (formulas from memory).

    Examples
    --------
    >>> coupon = Coupon(dry_kg=1.0, saturated_kg=1.11, immersed_kg=0.6)
    >>> round(coupon.wet_kg_m3, 1), round(coupon.dry_kg_m3, 1), round(coupon.absorption_share, 2)
    (2176.5, 1960.8, 0.11)
    """

    dry_kg: float
    saturated_kg: float
    immersed_kg: float
    water_kg_m3: float = 1000.0

    def __post_init__(self) -> None:
        if not 0.0 <= self.immersed_kg < self.dry_kg <= self.saturated_kg < float("inf"):
            raise MixError(
                f"{self.dry_kg:g} kg dry, {self.saturated_kg:g} kg saturated and "
                f"{self.immersed_kg:g} kg in water are not of one coupon"
            )
        if not self.water_kg_m3 > 0.0:
            raise MixError(f"water of {self.water_kg_m3:g} kg/m3 is none")

    @property
    def volume_m3(self) -> float:
        """Volume of the coupon, pores and all, in [m³]."""
        return (self.saturated_kg - self.immersed_kg) / self.water_kg_m3

    @property
    def wet_kg_m3(self) -> float:
        """Bulk density, saturated, in [kg/m³]."""
        return self.saturated_kg / self.volume_m3

    @property
    def dry_kg_m3(self) -> float:
        """Bulk density, oven dry, in [kg/m³]."""
        return self.dry_kg / self.volume_m3

    @property
    def absorption_share(self) -> float:
        """Water taken up, over the dry mass."""
        return (self.saturated_kg - self.dry_kg) / self.dry_kg

    @property
    def porosity_share(self) -> float:
        """Pores that water fills, over the volume."""
        return (self.saturated_kg - self.dry_kg) / (self.saturated_kg - self.immersed_kg)
