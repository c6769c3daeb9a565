"""What a job buys and charges: materials, every line, the total and its range."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from takeoff.batching.lots import Lot
from takeoff.files.order import Order, Shop
from takeoff.files.order_parts import Portion
from takeoff.job.cast_pieces import CastPiece
from takeoff.job.day_plan import DayPlan
from takeoff.job.lot_making import LayerLot, split_lot
from takeoff.job.poured_lots import poured_needs
from takeoff.job.quantities import quantities_of
from takeoff.mix.ingredients import Role
from takeoff.mix.mixes import Mix
from takeoff.mix.proportions import proportions_of
from takeoff.piece.layers import Layer
from takeoff.pricing.bill import Bill, bill_of
from takeoff.pricing.lines import Line, LineKind, line_of
from takeoff.pricing.materials import Market, Material, Need, materials_of, purchases_of
from takeoff.pricing.rates import Measure

_Ranges = Mapping[tuple[Layer, str], tuple[float, float]]


@dataclass(frozen=True, slots=True)
class JobBill:
    """Materials and lines of a job.

    Parameters
    ----------
    materials : tuple of Material
        What is needed of every ingredient, and how it is had.
    bill : Bill
        Every line, and the total.
    total_range : tuple of Decimal or None
        The total at the least and the most thickness; None where there is no total.
    """

    materials: tuple[Material, ...]
    bill: Bill
    total_range: tuple[Decimal, Decimal] | None


def job_bill(
    order: Order,
    mixes: Mapping[Portion, Mix],
    every: Sequence[CastPiece],
    lots: Sequence[LayerLot],
    pour: DayPlan | None,
) -> JobBill:
    """Buy what all batches take, and charge all that the shop has rates for.

    Parameters
    ----------
    order : Order
        The job.
    mixes : mapping of Portion to Mix
        Its mixes.
    every : sequence of CastPiece
        All that is cast.
    lots : sequence of LayerLot
        What is mixed, where there is no plan.
    pour : DayPlan or None
        The plan.

    Returns
    -------
    JobBill
        Materials and lines.

    Raises
    ------
    PriceError
        If an ingredient has no price, or the job does not count what a rate is charged by.

    Examples
    --------
    >>> from takeoff.batching.mixers import Mixer
    >>> shop = Shop((Mixer("pail", 0.018, 0.2),), 1, None, None, None, {})
    >>> order = Order("hall", None, "EUR", "metric", None, None, (), shop)
    >>> job_bill(order, {}, [], [], None).bill.lines
    ()
    """
    shop = order.shop
    market = _market(order, mixes)
    ranges = _ranges(every, mixes)
    ends = [_lots_at_end(order, mixes, lots, ranges, end=end) for end in range(2)]
    materials = materials_of(_needs(lots, ends, pour, ranges), market)
    items = _item_lines(every)
    packs = [line for material in materials for line in material.lines]
    aimed = [lot.lot for lot in lots]
    quantities = _quantities(every, mixes, aimed, pour)
    bill = bill_of([*packs, *items], shop.rates, quantities, shop.terms)
    at_ends = [
        _quantities([piece.at_end(high=bool(end)) for piece in every], mixes, ends[end], pour)
        for end in range(2)
    ]
    total_range = _total_range(shop, bill, materials, market=market, items=items, at_ends=at_ends)
    return JobBill(materials, bill, total_range)


def _lots_at_end(
    order: Order,
    mixes: Mapping[Portion, Mix],
    lots: Sequence[LayerLot],
    ranges: _Ranges,
    *,
    end: int,
) -> list[Lot]:
    """Split what is mixed anew for the least or the most thickness."""
    ordered = {id(mixes[portion]): one for portion, one in order.portions.items()}
    return [
        split_lot(
            ordered[id(lot.mix)],
            lot.mix,
            order.shop,
            placed_kg=lot.placed_kg * ranges[lot.layer, lot.mix.name][end],
        )
        for lot in lots
    ]


def _needs(
    lots: Sequence[LayerLot],
    ends: Sequence[Sequence[Lot]],
    pour: DayPlan | None,
    ranges: _Ranges,
) -> list[Need]:
    """Give what all batches take, with the range that the thickness leaves open."""
    needs = [
        need
        for lot, low, high in zip(lots, *ends, strict=True)
        for need in lot.needs(
            low.weighed_kg / lot.lot.weighed_kg, high.weighed_kg / lot.lot.weighed_kg
        )
    ]
    return needs + ([] if pour is None else poured_needs(pour, ranges))


def _ranges(every: Sequence[CastPiece], mixes: Mapping[Portion, Mix]) -> _Ranges:
    """Give low and high volume over aimed volume, by layer and mix."""
    found = {}
    for portion, mix in mixes.items():
        parts = [
            (one, piece.count) for piece in every for one in piece.volumes if one.portion is portion
        ]
        aimed_m3 = sum(one.volume_m3 * count for one, count in parts)
        low_m3 = sum(one.low_m3 * count for one, count in parts)
        high_m3 = sum(one.high_m3 * count for one, count in parts)
        ratios = (low_m3 / aimed_m3, high_m3 / aimed_m3) if aimed_m3 > 0.0 else (1.0, 1.0)
        found[portion.layer, mix.name] = ratios
    return found


def _market(order: Order, mixes: Mapping[Portion, Mix]) -> Market:
    """Say how ingredients can be had; what colours the face comes from one lot."""
    one_lot = set()
    for portion, mix in mixes.items():
        for part in proportions_of(mix).parts:
            role = part.ingredient.role
            coloured = role is Role.PIGMENT or (
                portion is Portion.FACE_COAT and role in {Role.CEMENT, Role.PREMIX}
            )
            if order.shop.one_lot.get(part.ingredient.name, coloured):
                one_lot.add(part.ingredient.name)
    return Market(order.shop.packs, order.shop.stock, _day(order.date), frozenset(one_lot))


def _day(written: str | None) -> date | None:
    """Read the date of a job, where it is one by the calendar."""
    try:
        return date.fromisoformat(written or "")
    except ValueError:
        return None


def _quantities(
    every: Sequence[CastPiece],
    mixes: Mapping[Portion, Mix],
    lots: Sequence[Lot],
    pour: DayPlan | None,
) -> dict[Measure, float]:
    """Count what rates are charged by; a plan keeps its batches and its clock at both ends."""
    plan = None if pour is None else pour.plan
    if plan is None:
        batch_count = sum(lot.batch_count for lot in lots)
        return quantities_of(every, mixes, batch_count=batch_count)
    crew_s = sum(day.makespan_s for day in plan.days) * plan.shop.hands
    return quantities_of(
        every, mixes, batch_count=plan.batch_count, days=len(plan.days), crew_s=crew_s
    )


def _item_lines(cast: Sequence[CastPiece]) -> list[Line]:
    """Charge what is built in, where a price is told."""
    lines: dict[tuple[str, Decimal], int] = {}
    for piece in cast:
        for item in () if piece.ordered is None else piece.ordered.items:
            if item.price is not None:
                key = (item.name, item.price)
                lines[key] = lines.get(key, 0) + item.count * piece.count
    return [
        line_of(name, Decimal(count), "each", price, LineKind.ITEM)
        for (name, price), count in lines.items()
    ]


def _total_range(
    shop: Shop,
    bill: Bill,
    materials: Sequence[Material],
    *,
    market: Market,
    items: Sequence[Line],
    at_ends: Sequence[Mapping[Measure, float]],
) -> tuple[Decimal, Decimal] | None:
    """Price the job again at both ends of its thicknesses."""
    if bill.total is None:
        return None
    totals = []
    for end, quantities in enumerate(at_ends):
        order_kg = {
            one.ingredient: one.order_range_kg[end] for one in materials if one.purchase is not None
        }
        lines = [
            line
            for purchase in purchases_of(order_kg, market)
            for line in Material(purchase.ingredient, 0.0, 0.0, 0.0, (0.0, 0.0), purchase).lines
        ]
        total = bill_of([*lines, *items], shop.rates, quantities, shop.terms).total
        totals.append(bill.total if total is None else total)
    return totals[0], totals[1]
