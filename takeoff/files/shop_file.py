"""The shop file: mixers, scales, hands and prices, as a shop writes them in TOML."""

from __future__ import annotations

import math
from dataclasses import replace
from pathlib import Path
from typing import Annotated, Literal

from pydantic import BeforeValidator, Field

from takeoff.batching.mixers import Mixer
from takeoff.batching.placing_rules import UntoldRules
from takeoff.errors import QuantityError
from takeoff.files.buying_tables import BuyingTables
from takeoff.files.casting_tables import PlanSize
from takeoff.files.clock_tables import ShopClockTable
from takeoff.files.order import Shop
from takeoff.files.rate_tables import RateTables
from takeoff.files.toml_quantities import Duration, Mass, Name, Volume
from takeoff.files.toml_tables import Fault, Table, check_tables, load_toml
from takeoff.mix.scales import Scale
from takeoff.pricing.packs import PriceList
from takeoff.units import mass_kg


def _division(value: object) -> str:
    """Hold the division of a scale against zero, and keep it as it is written."""
    if not isinstance(value, str):
        raise QuantityError(f'{value} has no unit; write it in quotes with one, like "10 g"')
    if mass_kg(value) <= 0.0:
        raise ValueError("must be above 0")
    return value


_UNTOLD = UntoldRules()


class _MixerTable(Table):
    name: Name
    capacity: Volume
    residue: Mass = _UNTOLD.residue_kg
    suits: tuple[str, ...] = ()
    least_fill: Volume = _UNTOLD.least_fill_m3
    mix_time: Annotated[Duration, Field(gt=0.0)] | None = None
    clean_time: Duration | None = None

    def build(self) -> Mixer:
        return Mixer(
            self.name,
            self.capacity,
            self.residue,
            self.suits,
            least_fill_m3=self.least_fill,
            mix_s=self.mix_time,
            clean_s=self.clean_time,
        )


class _ScaleTable(Table):
    division: Annotated[str, BeforeValidator(_division)]
    capacity: Mass | None = None

    def build(self) -> Scale:
        capacity_kg = math.inf if self.capacity is None else self.capacity
        return Scale(mass_kg(self.division), capacity_kg, self.division)


class _CrewTable(Table):
    hands: int = Field(default=_UNTOLD.hands_count, ge=1, le=100)


class _ShopTables(ShopClockTable, BuyingTables, RateTables):
    unit: str | None = None
    kind: Literal["piece", "form", "open"] | None = None
    mixer: tuple[_MixerTable, ...] = Field(min_length=1)
    scale: tuple[_ScaleTable, ...] = ()
    crew: _CrewTable = _CrewTable()
    max_piece: PlanSize | None = None
    max_kg: Annotated[Mass, Field(gt=0.0)] | None = None

    def build(self) -> Shop:
        scales = tuple(scale.build() for scale in self.scale)
        return Shop(
            mixers=tuple(mixer.build() for mixer in self.mixer),
            hands=self.crew.hands,
            division_kg=min((scale.division_kg for scale in scales), default=None),
            unit=self.unit,
            kind=self.kind,
            packs=self.packs(),
            scales=scales,
            clock=self.clock(),
            stock=self.on_hand(),
            one_lot=self.one_lot(),
            rates=self.rates(),
            terms=self.terms(),
            hour_price=self.labour.hour_price,
            largest_m=self.max_piece,
            largest_kg=self.max_kg,
        )


def read_shop(path: str | Path) -> Shop:
    """Read what a shop has and pays.

    Parameters
    ----------
    path : str or Path
        The shop file.

    Returns
    -------
    Shop
        Mixers, hands, scale and prices.

    Raises
    ------
    ShopFileError
        If the file cannot be read, or has wrong, missing or unknown entries; all are listed.

    Examples
    --------
    >>> read_shop("no-such-shop.toml")
    Traceback (most recent call last):
    takeoff.errors.ShopFileError: no-such-shop.toml: there is no such file
    """
    file = load_toml(path)
    tables = check_tables(file, _ShopTables)
    faults = [*tables.buying_faults(), *tables.rate_faults(), *_size_faults(tables)]
    if faults:
        raise file.refusal(faults)
    last = file.lines.get(("price", len(tables.price) - 1))
    where = file.name if last is None else f"{file.name}:{last}"
    return replace(tables.build(), packs=PriceList(tables.packs(), where))


def _size_faults(tables: _ShopTables) -> list[Fault]:
    """Name mixers and scales of no size, and mixers of one name."""
    faults = []
    names = [mixer.name for mixer in tables.mixer]
    for number, mixer in enumerate(tables.mixer):
        if mixer.capacity <= 0.0:
            faults.append(Fault(("mixer", number, "capacity"), "must be above 0"))
        if mixer.least_fill >= mixer.capacity > 0.0:
            faults.append(Fault(("mixer", number, "least_fill"), "must be below the capacity"))
        if mixer.name in names[:number]:
            faults.append(Fault(("mixer", number, "name"), f"{mixer.name!r} is there twice"))
    for number, scale in enumerate(tables.scale):
        if scale.capacity is not None and scale.capacity < mass_kg(scale.division):
            text = "must be at least the division of the scale"
            faults.append(Fault(("scale", number, "capacity"), text))
    return faults
