"""The rows of a bid, key by key; they belong to ``documents``."""

from __future__ import annotations

from collections.abc import Sequence

from typing_extensions import TypedDict  # the one that schemas can be made of on Python 3.11


class PortionRow(TypedDict):
    """What one piece takes of a mix on one class of surface."""

    portion: str
    surface_class: str
    volume_m3: float
    mass_kg: float


class CastRow(TypedDict):
    """What is cast besides the pieces: samples and test boards."""

    name: str
    count: int
    portions: Sequence[PortionRow]
    wet_kg: float


class RangeRow(TypedDict):
    """A figure at the least, the aimed and the most thickness."""

    low: float
    aimed: float
    high: float


class DrawnRow(TypedDict):
    """What is taken from stock."""

    lot: str | None
    mass_kg: float


class BoughtRow(TypedDict):
    """Packs of one size that are bought."""

    pack: str
    packs: int
    price: str
    cost: str


class SoldRow(TypedDict):
    """A pack that an ingredient is sold in, bought or not."""

    pack: str
    pack_kg: float
    price: str


class PassedOverRow(TypedDict):
    """Stock that is not used, and why."""

    lot: str | None
    mass_kg: float
    why: str


class MaterialRow(TypedDict):
    """One ingredient over the whole job: needed, lost, ordered, packed, paid."""

    ingredient: str
    net_kg: float
    loss_kg: float
    order_kg: float
    pack: str | None
    packs: int | None
    cost: str | None
    order_range_kg: RangeRow
    from_stock: Sequence[DrawnRow]
    bought: Sequence[BoughtRow]
    sold_in: Sequence[SoldRow]
    left_over_kg: float
    stock_passed_over: Sequence[PassedOverRow]


class FormWorkRow(TypedDict):
    """What the forms take: forms and bead once, release and sealer for every casting."""

    forms: int
    form_m2: float
    bead_m: float
    inner_form_m2: float
    release_m2: float
    sealer_m2: float


class LineRow(TypedDict):
    """One priced line: the amount is quantity times price, to the cent."""

    what: str
    quantity: str
    unit: str
    price: str
    amount: str
    kind: str
    basis: str


class MoneyRangeRow(TypedDict):
    """A sum at the least, the aimed and the most thickness."""

    low: str
    aimed: str
    high: str


class AssumptionRow(TypedDict):
    """What is taken for granted, and how far the total moves where it does not hold."""

    what: str
    value: str
    at_stake: str
    low: str
    high: str
