"""The pour day of a whole job: measured, put on the clock, checked, weighed, replayed."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path

from takeoff.batching.placing_rules import WaitRules
from takeoff.batching.planning import PROVING, SearchRules
from takeoff.batching.plans import Plan
from takeoff.batching.pouring import Outcome, plan_or_findings
from takeoff.batching.risk import replayed
from takeoff.files.job_file import read_order
from takeoff.files.mix_file import read_mix
from takeoff.files.order import Order
from takeoff.files.order_parts import Portion
from takeoff.files.order_settings import order_settings
from takeoff.files.shipped import shipped_cautions
from takeoff.job.batch_weighing import weighed_batches
from takeoff.job.cast_pieces import CastPiece, cast_pieces
from takeoff.job.covering import covered_late
from takeoff.job.day_plan import DayPlan
from takeoff.job.more_hands import one_more
from takeoff.job.ordered_pieces import measure_ordered
from takeoff.job.pour_order import PourOrder, pour_order
from takeoff.job.pour_steps import LayerSteps, layer_steps
from takeoff.job.riders import (
    Rider,
    board_counts,
    late_days,
    missing_boards,
    sample_riders,
)
from takeoff.mix.cautions import cautions_by_mix, cautions_for
from takeoff.mix.mixes import Mix
from takeoff.notes import Note, NoteCode

_MOST_TRIES = 4


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
        If a pot life, a placing rate or the mix of a wall is missing.
    MixError
        If the scale is too coarse for a batch.

    Examples
    --------
    >>> made = plan("samples/ferry-hall/pour-day.toml")
    >>> made.feasible, len(made.plan.days)
    (True, 3)
    """
    order = read_order(path)
    mixes = {portion: read_mix(one.mix) for portion, one in order.portions.items()}
    layer_steps(order.portions, mixes, order.shop)  # what is missing is told before it takes long
    taken = [(piece, measure_ordered(piece, order)) for piece in order.pieces]
    said = [note for _, drawing in taken for note in drawing.notes]
    return plan_cast(order, mixes, cast_pieces(order, mixes, taken), said=said, prove=prove)


def clock_told(order: Order, mixes: Mapping[Portion, Mix]) -> bool:
    """Tell whether a job gives every layer what a clock needs.

    Parameters
    ----------
    order : Order
        The job as written.
    mixes : mapping of Portion to Mix
        Its mixes.

    Returns
    -------
    bool
        True where each portion has a pot life and a placing rate.

    Examples
    --------
    >>> order = read_order("samples/ferry-hall/job.toml")
    >>> clock_told(order, {portion: read_mix(one.mix) for portion, one in order.portions.items()})
    False
    """
    return all(
        ordered.rate_kg_s is not None and (ordered.pot_life_s or mixes[portion].pot_life_s)
        for portion, ordered in order.portions.items()
    )


def plan_cast(
    order: Order,
    mixes: Mapping[Portion, Mix],
    cast: Sequence[CastPiece],
    *,
    said: Sequence[Note] = (),
    prove: bool = False,
) -> DayPlan:
    """Plan the pour of everything that a job casts.

    Parameters
    ----------
    order : Order
        The job as written.
    mixes : mapping of Portion to Mix
        Its mixes.
    cast : sequence of CastPiece
        Its pieces and samples.
    said : sequence of Note, default ()
        Doubts about its drawings.
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

    Notes
    -----
    Samples and test boards are cast along with pieces, from their batches, and take no table:
    samples with the first piece, boards of every mix with the first piece of each day that uses
    it.

    Examples
    --------
    >>> order = read_order("samples/ferry-hall/pour-day.toml")
    >>> mixes = {portion: read_mix(one.mix) for portion, one in order.portions.items()}
    >>> taken = [(piece, measure_ordered(piece, order)) for piece in order.pieces]
    >>> plan_cast(order, mixes, cast_pieces(order, mixes, taken)).feasible
    True
    """
    steps = layer_steps(order.portions, mixes, order.shop)
    search = PROVING if prove else SearchRules()
    planned = _with_boards(order, cast, steps, search)
    pour, outcome = planned.pour, planned.outcome
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
            *said,
            *pour.notes,
            *_notes(order, mixes, outcome),
            *_board_notes(order, planned, steps),
        ),
        cautions=cautions_for(mixes.values(), shipped.cautions, closing=shipped.closing),
        mix_cautions=cautions_by_mix(mixes.values(), shipped.cautions, closing=shipped.closing),
        settings=order_settings(order),
        boards=board_counts(planned.riders),
        drawn=tuple(piece.measured for piece in cast if piece.measured is not None),
        ways={piece.name: piece.ways for piece in cast},
    )


def _late_notes(order: Order, plan: Plan) -> Iterator[Note]:
    """Hold the face coat against its longest wait where walls come before the pour."""
    backer = order.portions.get(Portion.BACKER)
    if Portion.WALL_BACKER in order.portions and backer is not None:
        told_s = backer.clock.longest_wait_s
        yield from covered_late(plan, WaitRules().layer_most_s if told_s is None else told_s)


@dataclass(frozen=True, slots=True)
class _Planned:
    """A pour, what came of it, and what is cast along with its pieces."""

    pour: PourOrder
    outcome: Outcome
    riders: tuple[Rider, ...]


def _with_boards(
    order: Order, cast: Sequence[CastPiece], steps: Sequence[LayerSteps], search: SearchRules
) -> _Planned:
    """Plan with a set of test boards of every mix on every day that it is used."""
    pieces = [piece for piece in cast if piece.measured is not None]
    planned = _planned(order, pieces, steps, search, sample_riders(cast))
    for _ in range(_MOST_TRIES if order.boards is not None else 0):
        plan = planned.outcome.plan
        if plan is None or order.boards is None:
            break
        more = missing_boards(plan, steps, order.boards, planned.riders)
        if not more:
            break
        planned = _planned(order, pieces, steps, search, (*planned.riders, *more))
    return planned


def _planned(
    order: Order,
    pieces: Sequence[CastPiece],
    steps: Sequence[LayerSteps],
    search: SearchRules,
    riders: tuple[Rider, ...],
) -> _Planned:
    pour = pour_order(order, pieces, steps, riders)
    return _Planned(pour, plan_or_findings(pour.castings, pour.shop, search=search), riders)


def _board_notes(order: Order, planned: _Planned, steps: Sequence[LayerSteps]) -> Iterator[Note]:
    """Say on which days a mix is used and no test board of it is cast."""
    plan = planned.outcome.plan
    if order.boards is None or plan is None:
        return
    days = list(late_days(plan, steps, planned.riders))
    if days:
        listed = ", ".join(map(str, days))
        text = f"day {listed}: a mix is used of which no test board is cast; cast one besides"
        yield Note(NoteCode.BOARD_MISSING, text)


def _notes(order: Order, mixes: Mapping[Portion, Mix], outcome: Outcome) -> Iterator[Note]:
    """Say what overrides the clock, and what of it is an estimate."""
    if outcome.plan is not None:
        text = (
            "waits are taken from the clock; a finger test on the piece overrides it: a layer that "
            "is not ready is waited for, one that is ready sooner is covered sooner"
        )
        yield Note(NoteCode.FINGER_TEST, text)
        yield from _late_notes(order, outcome.plan)
    for portion, mix in mixes.items():
        ordered = order.portions[portion]
        if ordered.clock.mix_c is not None:
            text = (
                f"pot life and waits at {ordered.clock.mix_c:g} C are an estimate from those at "
                "20 C; see the product's data sheet"
            )
            yield Note(NoteCode.CLOCK_ESTIMATED, text, where=mix.name)
