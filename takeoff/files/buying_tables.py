"""The entries of the shop file about what is bought and what is in stock."""

from __future__ import annotations

import re
from collections.abc import Mapping
from datetime import date
from typing import Annotated

from pydantic import BeforeValidator, Field

from takeoff.errors import QuantityError
from takeoff.files.toml_faults import nearest, shown
from takeoff.files.toml_money import Money
from takeoff.files.toml_quantities import Mass, Name
from takeoff.files.toml_tables import Fault, Table
from takeoff.pricing.packs import Pack
from takeoff.pricing.stock import Stock
from takeoff.units import mass_kg

_DAY = re.compile(r"\d{4}-\d{2}-\d{2}", re.ASCII)


def _pack(value: object) -> str:
    """Hold a pack against holding nothing, and keep it as it is written."""
    if not isinstance(value, str):
        raise QuantityError(
            f'{shown(value)} has no unit; write it in quotes with one, like "25 kg"'
        )
    if mass_kg(value) <= 0.0:
        raise ValueError(f"{value!r} holds nothing")
    return value


def _day(value: object) -> date:
    """Read a day by the calendar as year, month and day; nothing else is guessed at."""
    if isinstance(value, str) and _DAY.fullmatch(value):
        try:
            return date.fromisoformat(value)
        except ValueError:
            raise ValueError(f"{value!r} is not in the calendar") from None
    raise ValueError(f"must be a date like 2026-11-25, found {shown(value)}")


Day = Annotated[date, BeforeValidator(_day, json_schema_input_type=str)]


class PriceTable(Table):
    """A pack that an ingredient is sold in.

    Examples
    --------
    >>> PriceTable(ingredient="white-cement", pack="25 kg", price="14.20").build().pack_kg
    25.0
    """

    ingredient: Name
    pack: Annotated[str, BeforeValidator(_pack)]
    price: Money
    one_lot: bool | None = None

    def build(self) -> Pack:
        """Give it as prices are reckoned with."""
        return Pack(self.ingredient, mass_kg(self.pack), self.pack, self.price)


class StockTable(Table):
    """A container on the shelf.

    Examples
    --------
    >>> StockTable(ingredient="oxide", mass="2 kg", use_by="2027-03-01").build().use_by
    datetime.date(2027, 3, 1)
    """

    ingredient: Name
    mass: Annotated[Mass, Field(gt=0.0)]
    opened: Day | None = None
    use_by: Day | None = None
    lot: Name | None = None

    def build(self) -> Stock:
        """Give it as stock is drawn from."""
        return Stock(self.ingredient, self.mass, self.opened, self.use_by, self.lot)


class BuyingTables(Table):
    """Entries of a shop about what it buys and has.

    Examples
    --------
    >>> bag = {"ingredient": "white-cement", "pack": "25 kg", "price": "14.20"}
    >>> tables = BuyingTables(price=(bag, bag | {"pack": "1 t", "price": "410"}))
    >>> [pack.pack_kg for pack in tables.packs()["white-cement"]]
    [25.0, 1000.0]
    """

    price: tuple[PriceTable, ...] = ()
    stock: tuple[StockTable, ...] = ()

    def packs(self) -> Mapping[str, tuple[Pack, ...]]:
        """Give the packs of every ingredient, as they are written."""
        packs: dict[str, tuple[Pack, ...]] = {}
        for row in self.price:
            packs[row.ingredient] = (*packs.get(row.ingredient, ()), row.build())
        return packs

    def on_hand(self) -> tuple[Stock, ...]:
        """Give what is in stock, as it is written."""
        return tuple(row.build() for row in self.stock)

    def one_lot(self) -> Mapping[str, bool]:
        """Give the ingredients of which it is told whether all must come from one lot."""
        return {row.ingredient: row.one_lot for row in self.price if row.one_lot is not None}

    def buying_faults(self) -> list[Fault]:
        """Name what is priced or told twice, and stock that contradicts the rest."""
        return [*self._price_faults(), *self._stock_faults()]

    def _price_faults(self) -> list[Fault]:
        """Name packs that are priced twice, and lots told both ways."""
        faults = []
        priced: dict[tuple[str, float], str] = {}
        told: dict[str, bool] = {}
        for number, row in enumerate(self.price):
            pack = (row.ingredient, mass_kg(row.pack))
            if pack in priced:
                text = (
                    f"{row.ingredient!r} is priced twice by {priced[pack]}; keep one price for "
                    "each pack"
                )
                faults.append(Fault(("price", number, "ingredient"), text))
            priced.setdefault(pack, row.pack)
            if row.one_lot is not None and told.setdefault(row.ingredient, row.one_lot) is not (
                row.one_lot
            ):
                text = f"is told both ways for {row.ingredient!r}; keep one of them"
                faults.append(Fault(("price", number, "one_lot"), text))
        return faults

    def _stock_faults(self) -> list[Fault]:
        """Name stock of what is not priced, and days that cannot follow each other."""
        faults = []
        priced = list(dict.fromkeys(row.ingredient for row in self.price))
        for number, row in enumerate(self.stock):
            if row.ingredient not in priced:
                offer = nearest(row.ingredient, priced) or "give it one"
                text = f"{row.ingredient!r} has no [[price]]; {offer}"
                faults.append(Fault(("stock", number, "ingredient"), text))
            if row.opened and row.use_by and row.opened > row.use_by:
                faults.append(Fault(("stock", number, "opened"), "is after its use_by"))
        return faults
