"""The whole job: measure its pieces, make its lots, buy its materials."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from pathlib import Path

from takeoff.batching.mixers import Mixer
from takeoff.errors import TakeoffError
from takeoff.files.job_file import read_order
from takeoff.files.mix_file import read_mix
from takeoff.files.order import Order, OrderedLayer, OrderedPiece
from takeoff.files.order_settings import order_settings
from takeoff.files.shipped import shipped_cautions, shipped_limits, shipped_mix_names
from takeoff.job.day_plan import DayPlan
from takeoff.job.lot_making import LayerLot, make_lot
from takeoff.job.ordered_pieces import measure_ordered, named_pieces
from takeoff.job.pour_planning import clock_told, plan_measured
from takeoff.job.poured_lots import poured_needs
from takeoff.job.result import Bid, BidPiece
from takeoff.measuring.measurement import Measurement
from takeoff.mix.cautions import cautions_for
from takeoff.mix.checking import mix_notes
from takeoff.mix.limits import limit_notes
from takeoff.mix.mixes import Mix, Placing
from takeoff.mix.volumes import fresh_density_kg_m3
from takeoff.notes import Note, NoteCode
from takeoff.piece.layers import Layer
from takeoff.piece.surfaces import SurfaceClass
from takeoff.pricing.materials import materials_of


def bid(path: str | Path) -> Bid:
    """Take a job from its drawings to the materials it needs and what they cost.

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
        If kind or direction of a piece is missing or does not fit.
    LayerVolumeError
        If the layers are too thick for a piece.
    MixError, BatchError, PriceError
        If a mix, a mixer or a price does not do.

    Examples
    --------
    >>> bid("no-such-job.toml")
    Traceback (most recent call last):
    takeoff.errors.ShopFileError: no-such-job.toml: there is no such file
    """
    order = read_order(path)
    mixes = {layer: read_mix(one.mix) for layer, one in order.layers.items()}
    measured = [(piece, measure_ordered(piece, order)) for piece in order.pieces]
    pieces = [row for piece, taken in measured for row in _bid_pieces(piece, taken, mixes)]
    pour = plan_measured(order, mixes, measured) if clock_told(order, mixes) else None
    planned = pour is not None and pour.feasible
    lots = [] if planned else _lots(order.layers, mixes, pieces, order)
    needs = [need for lot in lots for need in lot.needs()]
    needs += [] if pour is None else poured_needs(pour)
    shipped = shipped_cautions()
    return Bid(
        order=order,
        pieces=tuple(pieces),
        lots=tuple(lots),
        pour=pour,
        materials=materials_of(needs, order.shop.prices),
        skipped=tuple(tally for _, taken in measured for tally in taken.skipped),
        notes=(
            *(note for _, taken in measured for note in taken.notes),
            *_job_notes(pieces, lots, mixes, order.shop.mixers),
            *_pour_notes(pour, [note for _, taken in measured for note in taken.notes]),
        ),
        cautions=cautions_for(mixes.values(), shipped.cautions, closing=shipped.closing),
        settings=order_settings(order),
    )


def _bid_pieces(
    piece: OrderedPiece, taken: Measurement, mixes: Mapping[Layer, Mix]
) -> list[BidPiece]:
    """Name, count and weigh the pieces of one drawing."""
    rows = []
    for one in named_pieces(piece, taken):
        wet_kg = sum(
            one.layers.volume_m3(layer) * fresh_density_kg_m3(mix) for layer, mix in mixes.items()
        )
        rows.append(BidPiece(one, piece.count, wet_kg))
    return rows


def _lots(
    wanted: Mapping[Layer, OrderedLayer],
    mixes: Mapping[Layer, Mix],
    pieces: list[BidPiece],
    order: Order,
) -> list[LayerLot]:
    lots = []
    for layer, ordered in wanted.items():
        volume_m3 = sum(piece.measured.layers.volume_m3(layer) * piece.count for piece in pieces)
        try:
            lots.append(make_lot(layer, ordered, mixes[layer], order.shop, volume_m3=volume_m3))
        except TakeoffError as error:
            raise error.at(mixes[layer].name) from None
    return lots


def _job_notes(
    pieces: list[BidPiece],
    lots: list[LayerLot],
    mixes: Mapping[Layer, Mix],
    mixers: Sequence[Mixer],
) -> list[Note]:
    notes = [
        Note(
            NoteCode.MATERIAL_ONLY,
            "MATERIAL ONLY: no labour, forms or overheads are priced, so there is no total",
        ),
        Note(
            NoteCode.DEFAULT_USED,
            "form area and sealant bead are counted once for every casting; where one form "
            "serves several castings, divide",
        ),
    ]
    notes += [note for lot in lots for note in lot.notes]
    notes += _suits_notes(mixers, mixes)
    notes += [note for mix in mixes.values() for note in mix_notes(mix)]
    limits = shipped_limits().limits
    notes += [note for mix in mixes.values() for note in limit_notes(mix, limits)]
    backer = mixes.get(Layer.BACKER)
    if backer is not None and backer.placing is Placing.POURED:
        notes += [note for piece in pieces for note in _wall_notes(piece)]
    return notes


def _pour_notes(pour: DayPlan | None, said: Sequence[Note]) -> list[Note]:
    """Say what is doubtful about the clock, or why there is none; not what was said before."""
    if pour is None:
        return []
    if pour.feasible:
        return [note for note in pour.notes if note not in said]
    why = "; ".join(f"{one.where}: {one.rule.value}" for one in pour.outcome.findings)
    return [
        Note(
            NoteCode.NO_PLAN,
            f"the batches cannot all be placed as told ({why}); they are counted by the mixer and "
            "the pot life alone; takeoff batch says what would do",
        )
    ]


def _suits_notes(mixers: Sequence[Mixer], mixes: Mapping[Layer, Mix]) -> list[Note]:
    """Point at mixers kept for mixes that are neither in the job nor shipped: likely slips."""
    known = {mix.name for mix in mixes.values()} | set(shipped_mix_names())
    return [
        Note(
            NoteCode.MIX_UNKNOWN,
            f"is kept for {name!r}, which is no mix of this job and none that is shipped; it is "
            "not used for other mixes",
            where=mixer.name,
        )
        for mixer in mixers
        for name in mixer.suits
        if name not in known
    ]


def _wall_notes(piece: BidPiece) -> list[Note]:
    """Say which walls a poured backer does not stand on by itself."""
    walls = [
        surface
        for surface in piece.measured.surfaces.surfaces
        if surface.surface_class is SurfaceClass.UPRIGHT
    ]
    if not walls:
        return []
    listed = ", ".join(f"{wall.id} ({wall.depth_m * 1e3:.0f} mm)" for wall in walls)
    return [
        Note(
            NoteCode.POURED_WALL,
            f"a poured backer does not stand on {listed}: each needs an inner form, or another "
            "way of placing; the volume is that of an even layer",
            where=piece.measured.name,
        )
    ]
