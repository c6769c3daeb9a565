"""What a mix is made of: one ingredient, its part in the mix, its density and its water."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from enum import StrEnum

from takeoff.errors import MixError


class Role(StrEnum):
    """The part that an ingredient plays in a mix."""

    CEMENT = "cement"
    SAND = "sand"
    POZZOLAN = "pozzolan"
    PREMIX = "premix"
    POLYMER = "polymer"
    PLASTICIZER = "plasticizer"
    FIBRE = "fibre"
    PIGMENT = "pigment"
    WATER = "water"


class FibreKind(StrEnum):
    """How a fibre behaves in the mixer."""

    BUNDLED_GLASS = "bundled-glass"
    DISPERSIBLE_GLASS = "dispersible-glass"
    PVA = "pva"

    @property
    def is_glass(self) -> bool:
        """Whether it is of alkali-resistant glass."""
        return self is not FibreKind.PVA

    @property
    def is_dispersible(self) -> bool:
        """Whether it must come apart in the water, where bundles must stay whole."""
        return self is not FibreKind.BUNDLED_GLASS


DRY_ROLES = frozenset({Role.CEMENT, Role.SAND, Role.POZZOLAN, Role.PREMIX, Role.POLYMER})
LIQUID_ROLES = frozenset({Role.POLYMER, Role.PLASTICIZER, Role.PIGMENT})


@dataclass(frozen=True, slots=True)
class Ingredient:
    """One ingredient as it comes out of its bag, bucket or tap.

    Parameters
    ----------
    name : str
        Name on the weigh sheet.
    role : Role
        Its part in the mix.
    density_kg_m3 : float
        Density of its particles, or of the liquid; never a bulk density. [kg/m³]
    water_share : float, default 0.0
        Water in a liquid polymer, plasticizer or pigment, or free water on sand, by mass as
        weighed; below 0 for sand that takes water up. [-]
    cement_share : float or None, default None
        Cement in a dry premix, by mass; None where its bag does not say. [-]
    absorbed_share : float or None, default None
        Water inside the grains of sand, by mass as weighed; it is not mix water. None where
        nobody has told the moisture of the sand. [-]
    fibre : FibreKind or None, default None
        How a fibre behaves in the mixer; None is taken as bundles, which go in last.

    Raises
    ------
    MixError
        If a figure is out of range, or stands at a role that has none.

    Examples
    --------
    >>> Ingredient("acrylic dispersion", Role.POLYMER, 1060.0, water_share=0.52).solids_share
    0.48
    """

    name: str
    role: Role
    density_kg_m3: float
    water_share: float = 0.0
    cement_share: float | None = None
    absorbed_share: float | None = None
    fibre: FibreKind | None = None

    def __post_init__(self) -> None:
        faults = tuple(self._faults())
        if faults:
            raise MixError("; ".join(faults), where=self.name)

    def _faults(self) -> Iterator[str]:
        """List what cannot be."""
        if not self.name:
            yield "an ingredient needs a name"
        if not 0.0 < self.density_kg_m3 < float("inf"):
            yield f"a density must be above 0, found {self.density_kg_m3:g} kg/m3"
        yield from self._water_faults()
        if self.cement_share is not None and self.role is not Role.PREMIX:
            yield f"only a premix says its share of cement, not {self.role}"
        if self.cement_share is not None and not 0.0 < self.cement_share <= 1.0:
            yield f"its cement must be above 0 and at most 100 %, found {self.cement_share:.4%}"
        if self.fibre is not None and self.role is not Role.FIBRE:
            yield f"only a fibre says how it disperses, not {self.role}"

    def _water_faults(self) -> Iterator[str]:
        """List what of its water cannot be."""
        absorbed_share = self.absorbed_share or 0.0
        if self.role is Role.SAND:
            if not (-0.5 < self.water_share < 0.5 and 0.0 <= absorbed_share < 0.5):
                yield (
                    f"moisture of sand must be below 50 %, found {self.water_share:.4%} free and "
                    f"{absorbed_share:.4%} absorbed"
                )
            return
        if self.absorbed_share is not None:
            yield f"only sand absorbs water, not {self.role}"
        if not 0.0 <= self.water_share < 1.0:
            yield f"its own water must be from 0 to below 100 %, found {self.water_share:.4%}"
        if self.water_share and self.role not in LIQUID_ROLES:
            yield f"only {', '.join(sorted(LIQUID_ROLES))} may be a liquid, not {self.role}"

    @property
    def solids_share(self) -> float:
        """Share of its mass that is not mix water."""
        return 1.0 - self.water_share

    @property
    def dry_share(self) -> float:
        """Share of its mass that counts as dry; of wet sand, the sand without its water."""
        if self.role is Role.SAND:
            return 1.0 - self.water_share - (self.absorbed_share or 0.0)
        return float(self.role in DRY_ROLES and not self.water_share)

    @property
    def is_dry(self) -> bool:
        """Whether it counts as dry: cement, sand, pozzolan, premix and powder polymer."""
        return self.dry_share > 0.0

    @property
    def own_cement_share(self) -> float | None:
        """Share of its mass that is cement; None where the bag of a premix does not say."""
        if self.role is Role.PREMIX:
            return self.cement_share
        return 1.0 if self.role is Role.CEMENT else 0.0
