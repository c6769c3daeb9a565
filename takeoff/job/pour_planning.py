"""The pour day of a whole job: measured, put on the clock, checked, weighed, replayed."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from pathlib import Path

from takeoff.batching.planning import PROVING, SearchRules
from takeoff.batching.pouring import Outcome, plan_or_findings
from takeoff.batching.risk import replayed
from takeoff.files.job_file import read_order
from takeoff.files.mix_file import read_mix
from takeoff.files.order import Order, OrderedPiece
from takeoff.files.order_settings import order_settings
from takeoff.files.shipped import shipped_cautions
from takeoff.job.batch_weighing import weighed_batches
from takeoff.job.day_plan import DayPlan
from takeoff.job.more_hands import one_more
from takeoff.job.ordered_pieces import measure_ordered, named_pieces
from takeoff.job.pour_order import PieceToPour, pour_order
from takeoff.job.pour_steps import layer_steps
from takeoff.measuring.measurement import Measurement
from takeoff.mix.cautions import cautions_for
from takeoff.mix.mixes import Mix
from takeoff.notes import Note, NoteCode
from takeoff.piece.layers import Layer


def plan(path: str | Path, *, prove: bool = False) -> DayPlan:
    """Plan the pour of a job: which batches, how big, in which order, by when in the form.

    Parameters
    ----------
    path : str or Path
        The job file.
    prove : bool, default False
        Whether to search long enough to prove, if it can be, that no day is shorter.

    Returns
    -------
    DayPlan
        The plan, held against every rule; or the rules that leave none, with what would do.

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
    BatchError
        If a pot life or a placing rate is missing.
    MixError
        If the scale is too coarse for a batch.

    Examples
    --------
    >>> made = plan("samples/ferry-hall/pour-day.toml")
    >>> made.feasible, len(made.plan.days)
    (True, 3)
    """
    order = read_order(path)
    mixes = {layer: read_mix(one.mix) for layer, one in order.layers.items()}
    layer_steps(order.layers, mixes, order.shop)  # what is missing is told before it takes long
    taken = [(piece, measure_ordered(piece, order)) for piece in order.pieces]
    return plan_measured(order, mixes, taken, prove=prove)


def clock_told(order: Order, mixes: Mapping[Layer, Mix]) -> bool:
    """Tell whether a job gives every layer what a clock needs.

    Parameters
    ----------
    order : Order
        The job as written.
    mixes : mapping of Layer to Mix
        Its mixes.

    Returns
    -------
    bool
        True where each layer has a pot life and a placing rate.

    Examples
    --------
    >>> order = read_order("samples/ferry-hall/job.toml")
    >>> clock_told(order, {layer: read_mix(one.mix) for layer, one in order.layers.items()})
    False
    """
    return all(
        ordered.rate_kg_s is not None and (ordered.pot_life_s or mixes[layer].pot_life_s)
        for layer, ordered in order.layers.items()
    )


def plan_measured(
    order: Order,
    mixes: Mapping[Layer, Mix],
    taken: Sequence[tuple[OrderedPiece, Measurement]],
    *,
    prove: bool = False,
) -> DayPlan:
    """Plan the pour of a job whose drawings have been measured.

    Parameters
    ----------
    order : Order
        The job as written.
    mixes : mapping of Layer to Mix
        Its mixes.
    taken : sequence of tuple of OrderedPiece and Measurement
        Its pieces, measured.
    prove : bool, default False
        Whether to search long enough to prove, if it can be, that no day is shorter.

    Returns
    -------
    DayPlan
        The plan, held against every rule; or the rules that leave none, with what would do.

    Raises
    ------
    BatchError
        If a pot life or a placing rate is missing.
    MixError
        If the scale is too coarse for a batch.

    Examples
    --------
    >>> order = read_order("samples/ferry-hall/pour-day.toml")
    >>> mixes = {layer: read_mix(one.mix) for layer, one in order.layers.items()}
    >>> taken = [(piece, measure_ordered(piece, order)) for piece in order.pieces]
    >>> plan_measured(order, mixes, taken).feasible
    True
    """
    steps = layer_steps(order.layers, mixes, order.shop)
    pieces = [
        PieceToPour(piece, one) for piece, drawing in taken for one in named_pieces(piece, drawing)
    ]
    pour = pour_order(order, pieces, steps)
    search = PROVING if prove else SearchRules()
    outcome = plan_or_findings(pour.castings, pour.shop, search=search)
    by_name = {mix.name: mix for mix in mixes.values()}
    shipped = shipped_cautions()
    found = outcome.plan
    return DayPlan(
        order=order,
        pour=pour,
        outcome=outcome,
        weighed={} if found is None else weighed_batches(found, by_name, order.shop),
        risk=None if found is None else replayed(found),
        more_hands=None if found is None else one_more(pour.castings, pour.shop),
        notes=(
            *(note for _, drawing in taken for note in drawing.notes),
            *pour.notes,
            *_notes(order, mixes, outcome),
        ),
        cautions=cautions_for(mixes.values(), shipped.cautions, closing=shipped.closing),
        settings=order_settings(order),
    )


def _notes(order: Order, mixes: Mapping[Layer, Mix], outcome: Outcome) -> Iterator[Note]:
    """Say what overrides the clock, and what of it is an estimate."""
    if outcome.plan is not None:
        text = (
            "waits are taken from the clock; a finger test on the piece overrides it: a layer that "
            "is not ready is waited for, one that is ready sooner is covered sooner"
        )
        yield Note(NoteCode.FINGER_TEST, text)
    for layer, mix in mixes.items():
        ordered = order.layers[layer]
        if ordered.clock.mix_c is not None:
            text = (
                f"pot life and waits at {ordered.clock.mix_c:g} C are an estimate from those at "
                "20 C; see the product's data sheet"
            )
            yield Note(NoteCode.CLOCK_ESTIMATED, text, where=mix.name)
