"""The rows of a weigh sheet, key by key; they belong to ``documents``."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Literal

from typing_extensions import TypedDict  # the one that schemas can be made of on Python 3.11


class SharesRow(TypedDict):
    """The same dose on each basis."""

    of_dry: float
    of_cement: float | None
    of_total: float


class RangeRow(TypedDict):
    """Least, aimed at, and most."""

    low: float
    aimed: float
    high: float


class PortionRow(TypedDict):
    """Equal goes in which an ingredient is weighed; whole bags are not."""

    count: int
    mass_kg: float
    bag: bool


class IngredientRow(TypedDict):
    """One line of a weigh sheet, in order of addition.

    ``held_back`` marks water that is kept back; ``after_rest`` what goes in only after the rest is
    mixed and has rested; ``at_gun`` what never goes into the mixer.
    """

    name: str
    role: str
    mass_kg: float
    density_kg_m3: float
    shares: SharesRow
    when: str
    held_back: bool
    after_rest: bool
    at_gun: bool
    running_kg: float
    scale: str | None
    division_kg: float | None
    portions: Sequence[PortionRow]


class BagRow(TypedDict):
    """What one bag of a premix takes and gives, with all that is dosed beside it."""

    mass_kg: float
    water_to_add_kg: float
    yield_m3: float


class MixingRow(TypedDict):
    """One step of mixing, before what goes in after the rest."""

    what: Literal["mix", "rest", "mix again"]
    duration_s: float


class CoatRow(TypedDict):
    """Wet mass of a coat per area; its range where the use has a tolerance."""

    thickness_m: float
    mass_kg_m2: float
    mass_range_kg_m2: RangeRow | None


class MixHeatRow(TypedDict):
    """The temperature of the mix, and what follows from it; times are estimates.

    ``setting_ratio`` is the time that setting takes over that at 20 °C.
    """

    mix_c: float
    told: bool
    ice_kg: float
    unmelted_kg: float
    ice_share_of_water: float
    setting_ratio: float
    pot_life_s: float | None
    wait_s: float | None


class DryingRow(TypedDict):
    """Water that dries off the fresh surface."""

    rate_kg_m2_h: float
    limit_kg_m2_h: float


class SprayRow(TypedDict):
    """A spray station by bag and bucket."""

    slurry_kg_s: float
    glass_kg_s: float | None
    fibre_share: float | None
    wanted_fibre_share: float
    wanted_glass_kg_s: float
