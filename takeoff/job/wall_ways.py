"""The ways to cast the walls of a job, with the mixes it tells and what its shop charges."""

from __future__ import annotations

from collections.abc import Mapping
from decimal import Decimal

from takeoff.files.order import Order
from takeoff.files.order_parts import Portion
from takeoff.job.way_mixes import PLACING_OF, WayMix, way_mixes
from takeoff.job.way_prices import WayPrices, WayTime, prices_of_kg
from takeoff.job.way_rows import WayRow, ways_of
from takeoff.measuring.measurement import MeasuredPiece
from takeoff.mix.mixes import Mix, Placing
from takeoff.piece.ways import Way
from takeoff.pricing.rates import Measure

_BACKERS = (Portion.BACKER, Portion.WALL_BACKER)


def ways_in_job(
    piece: MeasuredPiece, order: Order, mixes: Mapping[Portion, Mix]
) -> tuple[WayRow, ...]:
    """Set the ways to cast each wall of a piece side by side, as the job and its shop have it.

    Parameters
    ----------
    piece : MeasuredPiece
        The piece.
    order : Order
        The job.
    mixes : mapping of Portion to Mix
        Its mixes.

    Returns
    -------
    tuple of WayRow
        Wall by wall, way by way; none where the backer stands by itself.

    Examples
    --------
    >>> from takeoff.files.job_file import read_order
    >>> from takeoff.files.mix_file import read_mix
    >>> from takeoff.job.ordered_pieces import measure_ordered
    >>> order = read_order("samples/ferry-hall/job.toml")
    >>> mixes = {portion: read_mix(one.mix) for portion, one in order.portions.items()}
    >>> panel = measure_ordered(order.pieces[2], order).pieces[0]
    >>> ways_in_job(panel, order, mixes)[0].batches
    1
    """
    backer = mixes.get(Portion.BACKER)
    if backer is None or backer.placing is not Placing.POURED:
        return ()
    told = [
        WayMix(mixes[portion], order.portions[portion].lost_share)
        for portion in _BACKERS
        if portion in mixes
    ]
    return ways_of(
        piece,
        way_mixes(told),
        face_coat=mixes.get(Portion.FACE_COAT),
        mixers=order.shop.mixers,
        prices=_prices(order, mixes),
    )


def _prices(order: Order, mixes: Mapping[Portion, Mix]) -> WayPrices:
    """Take from the shop what it charges, and from the job how fast a backer is placed."""
    shop = order.shop
    rates = [rate for rate in shop.rates if rate.per.told_as is Measure.INNER_FORM_M2]
    of_form = [rate for rate in rates if rate.hours_s is None]
    worked = [rate for rate in rates if rate.hours_s is not None]
    one_m2 = {Measure.INNER_FORM_M2: 1.0}
    per_m2_s = sum((rate.hours_s or 0.0) * rate.counted(one_m2) for rate in worked)
    money = sum((rate.price * Decimal(repr(rate.counted(one_m2))) for rate in of_form), Decimal(0))
    placed_kg_s = {
        mixes[portion].placing: order.portions[portion].rate_kg_s
        for portion in reversed(_BACKERS)
        if portion in mixes
    }
    times = {}
    for way in Way:
        rate_kg_s = placed_kg_s.get(PLACING_OF[way])
        per_kg_s = None if rate_kg_s is None else 1.0 / rate_kg_s
        times[way] = WayTime(per_m2_s if worked else None, per_kg_s)
    return WayPrices(
        kg=prices_of_kg(pack for packs in shop.packs.values() for pack in packs),
        hour=shop.hour_price,
        inner_form_m2=money if of_form else None,
        times=times,
    )
