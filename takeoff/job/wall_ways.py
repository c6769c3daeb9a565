"""How the walls of a job are cast: as it tells, and all ways side by side."""

from __future__ import annotations

from collections.abc import Mapping
from decimal import Decimal

from takeoff.errors import BatchError
from takeoff.files.order import Order, OrderedPiece
from takeoff.files.order_parts import Portion
from takeoff.job.way_mixes import PLACING_OF, WayMix, way_mixes
from takeoff.job.way_prices import WayPrices, WayTime, prices_of_kg
from takeoff.job.way_rows import WayRow, ways_of
from takeoff.measuring.measurement import MeasuredPiece
from takeoff.mix.mixes import Mix, Placing
from takeoff.piece.way_fits import beside_m
from takeoff.piece.ways import Way, stands
from takeoff.pricing.rates import Measure

_BACKERS = (Portion.BACKER, Portion.WALL_BACKER)


def wall_ways(
    piece: MeasuredPiece, ordered: OrderedPiece, order: Order, mixes: Mapping[Portion, Mix]
) -> dict[str, Way | None]:
    """Tell how the walls are cast on which the backer does not stand by itself.

    Parameters
    ----------
    piece : MeasuredPiece
        A measured piece.
    ordered : OrderedPiece
        What the job says of it.
    order : Order
        The job.
    mixes : mapping of Portion to Mix
        Its mixes.

    Returns
    -------
    dict
        Way by id of the wall; None where nobody told one.

    Raises
    ------
    BatchError
        If the job tells a way of a wall that the piece does not have, or of one on which its
        backer stands anyhow.

    Examples
    --------
    >>> from takeoff.files.job_file import read_order
    >>> from takeoff.files.mix_file import read_mix
    >>> from takeoff.job.ordered_pieces import measure_ordered
    >>> order = read_order("samples/ferry-hall/job.toml")
    >>> mixes = {portion: read_mix(one.mix) for portion, one in order.portions.items()}
    >>> panel = order.pieces[2]
    >>> ways = wall_ways(measure_ordered(panel, order).pieces[0], panel, order, mixes)
    >>> [(wall, way.value) for wall, way in ways.items()][:2]
    [('R1', 'dammed'), ('R2', 'dammed')]
    """
    laid = [wall.surface for wall in piece.layers.walls]
    unknown = [wall for wall in ordered.walls if wall not in laid]
    if unknown:
        raise BatchError(
            f"[piece.wall] names {', '.join(unknown)}; the walls that carry layers are "
            f"{', '.join(laid) or 'none'}",
            where=piece.name,
        )
    backer = mixes.get(Portion.BACKER)
    if backer is None or order.backer is None:
        return {}
    if ordered.walls and backer.placing is not Placing.POURED:
        raise BatchError(
            f"[piece.wall] tells how walls are cast that a poured backer does not stand on; "
            f"{backer.name} is {backer.placing.value} and stands by itself; leave it out",
            where=piece.name,
        )
    by_id = {surface.id: surface for surface in piece.surfaces.surfaces}
    laid_m = beside_m(piece.layers.rows)
    ways: dict[str, Way | None] = {}
    for wall in laid:
        surface = by_id[wall]
        way = ordered.walls.get(wall)
        if order.backer.thickness.fill or stands(surface.depth_m, laid_m, backer.placing.value):
            if way is not None:
                ways[wall] = way
            continue
        ways[wall] = way or order.backer.ways.get(surface.surface_class.value)
    return ways


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
