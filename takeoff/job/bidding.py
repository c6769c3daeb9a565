"""The whole job: measure its pieces, plan its batches, buy its materials, price its work."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from pathlib import Path

from takeoff.errors import TakeoffError
from takeoff.files.job_file import read_order
from takeoff.files.mix_file import read_mix
from takeoff.files.order import Order
from takeoff.files.order_parts import Portion
from takeoff.files.order_settings import order_settings
from takeoff.files.shipped import shipped_bid_cautions, shipped_cautions
from takeoff.job.assumptions import stakes_of
from takeoff.job.bid_notes import bid_notes
from takeoff.job.cast_pieces import CastPiece, Taken, board_pieces, cast_pieces
from takeoff.job.day_plan import DayPlan
from takeoff.job.job_bill import job_bill
from takeoff.job.lot_making import LayerLot, make_lot
from takeoff.job.ordered_pieces import measure_ordered
from takeoff.job.pour_planning import clock_told, plan_cast
from takeoff.job.quantities import form_work
from takeoff.job.result import Bid, BidPiece
from takeoff.job.weighed_pieces import weighed_piece
from takeoff.mix.cautions import cautions_by_mix, cautions_for
from takeoff.mix.mixes import Mix
from takeoff.report.figures import System


def bid(path: str | Path) -> Bid:
    """Take a job from its drawings to the materials it needs and what it costs.

    Parameters
    ----------
    path : str or Path
        The job file.

    Returns
    -------
    Bid
        Pieces, lots, materials, lines; material only, as long as no labour is priced.

    Raises
    ------
    ShopFileError
        If a file of the shop is wrong; all its faults are listed.
    DrawingError
        If a drawing cannot be used as it stands.
    SurfaceError
        If kind or direction of a piece is missing or does not fit, or a poured backer does not
        stand on a wall and nobody told how that is cast.
    LayerVolumeError
        If the layers are too thick for a piece.
    MixError, BatchError, PriceError
        If a mix, a mixer, a price or a rate does not do.

    Examples
    --------
    >>> bid("no-such-job.toml")
    Traceback (most recent call last):
    takeoff.errors.ShopFileError: no-such-job.toml: there is no such file
    """
    order = read_order(path)
    mixes = {portion: read_mix(one.mix) for portion, one in order.portions.items()}
    taken = [(piece, measure_ordered(piece, order)) for piece in order.pieces]
    return _priced(order, mixes, taken)


def _priced(order: Order, mixes: Mapping[Portion, Mix], taken: Taken) -> Bid:
    """Plan, buy and price what has been measured."""
    cast = cast_pieces(order, mixes, taken)
    pour = plan_cast(order, mixes, cast) if clock_told(order, mixes) else None
    every = (*cast, *board_pieces(order, mixes, _boards(order, cast, pour)))
    lots = () if pour is not None and pour.feasible else tuple(_lots(order, mixes, every))
    priced = job_bill(order, mixes, every, lots, pour)
    return Bid(
        order=order,
        mixes=mixes,
        pieces=_pieces(order, mixes, cast),
        besides=tuple(piece for piece in every if piece.measured is None),
        lots=lots,
        pour=pour,
        materials=priced.materials,
        work=form_work(cast),
        bill=priced.bill,
        total_range=priced.total_range,
        stakes=stakes_of(order, mixes, every, taken),
        skipped=tuple(tally for _, drawing in taken for tally in drawing.skipped),
        notes=bid_notes(
            order,
            mixes,
            taken=taken,
            cast=cast,
            lots=lots,
            pour=pour,
            materials=priced.materials,
            bill=priced.bill,
        ),
        cautions=_cautions(mixes),
        mix_cautions=_mix_cautions(mixes),
        settings=order_settings(order),
    )


def _pieces(
    order: Order, mixes: Mapping[Portion, Mix], cast: Sequence[CastPiece]
) -> tuple[BidPiece, ...]:
    """Weigh what is cast after drawings."""
    system = System(order.show_units)
    return tuple(
        BidPiece(piece, weighed_piece(piece, mixes, order.shop, system=system))
        for piece in cast
        if piece.measured is not None
    )


def _boards(order: Order, cast: Sequence[CastPiece], pour: DayPlan | None) -> Mapping[Portion, int]:
    """Count the test boards: as planned, or a set of every mix for each day that is told."""
    if order.boards is None:
        return {}
    if pour is not None and pour.plan is not None:
        return pour.boards
    a_mix = order.boards.count * (order.days or 1)
    used = {one.portion for piece in cast for one in piece.volumes}
    return dict.fromkeys(used, a_mix)


def _lots(order: Order, mixes: Mapping[Portion, Mix], every: Sequence[CastPiece]) -> list[LayerLot]:
    lots = []
    for portion, ordered in order.portions.items():
        volume_m3 = sum(piece.volume_m3(portion) * piece.count for piece in every)
        if portion is Portion.WALL_BACKER and volume_m3 == 0.0:
            continue
        mix = mixes[portion]
        try:
            lots.append(make_lot(portion.layer, ordered, mix, order.shop, volume_m3=volume_m3))
        except TakeoffError as error:
            raise error.at(mix.name) from None
    return lots


def _cautions(mixes: Mapping[Portion, Mix]) -> tuple[str, ...]:
    """Give the cautions of the weigh sheet and those of a bid, the closing one last."""
    weighing, bidding = shipped_cautions(), shipped_bid_cautions()
    every = (*weighing.cautions, *bidding.cautions)
    return cautions_for(mixes.values(), every, closing=bidding.closing)


def _mix_cautions(mixes: Mapping[Portion, Mix]) -> Mapping[str, tuple[str, ...]]:
    weighing = shipped_cautions()
    return cautions_by_mix(mixes.values(), weighing.cautions, closing=weighing.closing)
