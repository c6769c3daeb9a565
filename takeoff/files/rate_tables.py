"""The entries of a shop file about what is charged besides material: rates, labour, terms."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal
from typing import Annotated

from pydantic import Field

from takeoff.files.toml_money import Money
from takeoff.files.toml_quantities import Duration, Name, Share
from takeoff.files.toml_tables import Fault, Table
from takeoff.pricing.lines import Terms
from takeoff.pricing.rates import Measure, Rate

# A markup or a tax beyond it is a slip of the pen: 150 % for 15 % of tax, 1500 % of markup.
Markup = Annotated[Share, Field(le=10.0)]
Tax = Annotated[Share, Field(le=1.0)]


class _LabourTable(Table):
    hour_price: Annotated[Money, Field(gt=0)] | None = None


class _RateTable(Table):
    what: Name
    per: Measure
    price: Money | None = None
    hours: Annotated[Duration, Field(gt=0.0)] | None = None
    labour: bool | None = None

    def build(self, hour_price: Decimal | None) -> Rate | None:
        """Give the rate, or None where what it costs is not told."""
        price = self.price if self.hours is None else hour_price
        if price is None:
            return None
        return Rate(self.what, self.per, price, hours_s=self.hours, labour=bool(self.labour))

    def faults(self, hour_price: Decimal | None) -> Iterator[tuple[str, str]]:
        """Name the entries that contradict each other, and say why."""
        if self.price is None and self.hours is None:
            yield "price", 'is missing; give a price, or hours like "0.6 h" for labour'
        if self.price is not None and self.hours is not None:
            yield "hours", "stands beside a price; keep one, or write two rates of two names"
        if self.hours is not None and hour_price is None:
            yield "hours", 'has no price; give what an hour costs as [labour] hour_price = "38.00"'
        if self.hours is not None and self.labour is False:
            yield "labour", "cannot be false for hours, which are labour; leave it out"


class _TermsTable(Table):
    markup: Markup = 0.0
    tax: Tax = 0.0
    minimum_charge: Money | None = None

    def build(self) -> Terms:
        return Terms(_as_written(self.markup), _as_written(self.tax), self.minimum_charge)


def _as_written(share: float) -> Decimal:
    """Give a share as the decimal it was written as: the shortest that names its float."""
    return Decimal(repr(share))


class RateTables(Table):
    """Entries of a shop about what it charges besides material.

    Examples
    --------
    >>> text = '{"rate": [{"what": "boards", "per": "form_m2", "price": "12.50"}]}'
    >>> [(rate.what, rate.price) for rate in RateTables.model_validate_json(text).rates()]
    [('boards', Decimal('12.50'))]
    """

    rate: tuple[_RateTable, ...] = ()
    labour: _LabourTable = _LabourTable()
    terms_told: _TermsTable = Field(default=_TermsTable(), alias="terms")

    def rates(self) -> tuple[Rate, ...]:
        """Give the rates as the shop holds them; those at fault are left out."""
        built = (row.build(self.labour.hour_price) for row in self.rate)
        return tuple(rate for rate in built if rate is not None)

    def terms(self) -> Terms:
        """Give markup, tax and minimum charge as the shop holds them."""
        return self.terms_told.build()

    def rate_faults(self) -> list[Fault]:
        """Name rates whose price is missing or told twice, and rates that are there twice."""
        faults = [
            Fault(("rate", number, key), text)
            for number, row in enumerate(self.rate)
            for key, text in row.faults(self.labour.hour_price)
        ]
        first: dict[tuple[str, Measure], Measure] = {}
        for number, row in enumerate(self.rate):
            charged = (row.what.strip().casefold(), row.per.told_as)
            if charged in first:
                text = (
                    f"{row.what!r} per {row.per} is there twice, first per {first[charged]}; "
                    "keep one, or give each its own name"
                )
                faults.append(Fault(("rate", number, "what"), text))
            first.setdefault(charged, row.per)
        return faults
