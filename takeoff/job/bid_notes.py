"""What a person must see of a bid as a whole."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from takeoff.batching.mixers import Mixer
from takeoff.batching.placing_rules import OddRules
from takeoff.files.order import Order
from takeoff.files.order_parts import Portion
from takeoff.files.shipped import shipped_limits, shipped_mix_names
from takeoff.job.cast_pieces import CastPiece, Taken, form_notes
from takeoff.job.day_plan import DayPlan
from takeoff.job.lifting import heavy_packs_note
from takeoff.job.lot_making import LayerLot
from takeoff.job.told_mixes import layer_notes
from takeoff.mix.checking import mix_notes
from takeoff.mix.limits import limit_notes
from takeoff.mix.mixes import Mix, Placing
from takeoff.notes import Note, NoteCode
from takeoff.pricing.bill import Bill
from takeoff.pricing.lines import LineKind
from takeoff.pricing.materials import Material
from takeoff.start_documents import NO_CURRENCY


def bid_notes(
    order: Order,
    mixes: Mapping[Portion, Mix],
    *,
    taken: Taken,
    cast: Sequence[CastPiece],
    lots: Sequence[LayerLot],
    pour: DayPlan | None,
    materials: Sequence[Material],
    bill: Bill,
) -> tuple[Note, ...]:
    """Gather the notes of a bid that are not of one piece.

    Parameters
    ----------
    order : Order
        The job.
    mixes : mapping of Portion to Mix
        Its mixes.
    taken : sequence of tuple of OrderedPiece and Measurement
        Its drawings, measured.
    cast : sequence of CastPiece
        What it casts.
    lots : sequence of LayerLot
        What is mixed, where there is no plan.
    pour : DayPlan or None
        The plan.
    materials : sequence of Material
        What is bought.
    bill : Bill
        What it costs.

    Returns
    -------
    tuple of Note
        The notes, each once.

    Examples
    --------
    >>> from takeoff.files.order import Shop
    >>> shop = Shop((), 1, None, None, None, {})
    >>> order = Order("hall", None, "EUR", "metric", None, None, (), shop)
    >>> notes = bid_notes(order, {}, taken=[], cast=[], lots=[], pour=None, materials=[],
    ...                   bill=Bill((), None))
    >>> [note.code.value for note in notes]
    ['material-only']
    """
    limits = shipped_limits().limits
    notes = [note for _, drawing in taken for note in drawing.notes]
    notes += _material_only(bill)
    notes += form_notes(cast)
    notes += [note for lot in lots for note in lot.notes]
    notes += _suits_notes(order.shop.mixers, mixes)
    notes += layer_notes(mixes)
    notes += _unused_notes(mixes, cast)
    notes += _turn_notes(cast, lots)
    notes += _untold_notes(order, mixes)
    notes += [note for lot in lots for note in _odd_notes(lot)]
    notes += [note for mix in mixes.values() for note in mix_notes(mix)]
    notes += [note for mix in mixes.values() for note in limit_notes(mix, limits)]
    notes += _pour_notes(pour)
    notes += _buying_notes(materials)
    return tuple(dict.fromkeys(notes))


def _material_only(bill: Bill) -> Iterator[Note]:
    if bill.total is not None:
        return
    others = [line.what for line in bill.lines if line.kind is LineKind.RATE]
    listed = f"; listed, and not added: {', '.join(others)}" if others else ""
    yield Note(
        NoteCode.MATERIAL_ONLY,
        f"MATERIAL ONLY: no labour is priced, so there is no total{listed}; give [labour] "
        "hour_price and a [[rate]] with hours in the shop file",
    )


def _unused_notes(mixes: Mapping[Portion, Mix], cast: Sequence[CastPiece]) -> Iterator[Note]:
    """Say where a backer of walls is told and no wall takes it."""
    beside = mixes.get(Portion.WALL_BACKER)
    if beside is not None and not any(piece.volume_m3(Portion.WALL_BACKER) for piece in cast):
        text = "no wall is packed or sprayed, so nothing of [wall_backer] is mixed"
        yield Note(NoteCode.DEFAULT_USED, text, where=beside.name)


def _untold_notes(order: Order, mixes: Mapping[Portion, Mix]) -> Iterator[Note]:
    """Say where a loss that every spraying has is 0, and where nobody told a currency."""
    if order.currency == NO_CURRENCY:
        yield Note(NoteCode.DEFAULT_USED, "no currency is told; tell currency in [job]")
    for portion, mix in mixes.items():
        if mix.placing is Placing.SPRAYED and order.portions[portion].overspray_share == 0.0:
            text = f"no overspray is counted; tell overspray in [{portion.value}]"
            yield Note(NoteCode.DEFAULT_USED, text, where=mix.name)


def _odd_notes(lot: LayerLot, rules: OddRules = OddRules()) -> Iterator[Note]:
    """Point at batches that a caster would ask about."""
    mixed_kg = lot.lot.batch_count * lot.weighed.mass_kg
    idle_kg = lot.residue_kg + lot.leftover_kg
    mixer = lot.lot.mixer
    if idle_kg > rules.idle_share * mixed_kg:
        yield Note(
            NoteCode.ODD_BATCHES,
            f"of {mixed_kg:.4g} kg mixed in {mixer.name}, {idle_kg:.4g} kg are left over or stick "
            "to it; look at its capacity, least_fill and residue, or take a smaller one",
            where=lot.mix.name,
        )
    if lot.lot.batch_count > rules.batch_count:
        yield Note(
            NoteCode.ODD_BATCHES,
            f"takes {lot.lot.batch_count} batches of {lot.weighed.volume_m3 * 1e3:.3g} L in "
            f"{mixer.name}; look at its capacity",
            where=lot.mix.name,
        )


def _turn_notes(cast: Sequence[CastPiece], lots: Sequence[LayerLot]) -> Iterator[Note]:
    """Say where forms are cast in more than once, which batches without a clock do not know."""
    for piece in cast if lots else ():
        if piece.form_count < piece.count and piece.ordered is not None:
            forms = "1 form" if piece.form_count == 1 else f"{piece.form_count} forms"
            text = (
                f"{piece.count} castings in {forms} are cast in turn; batches are "
                "counted as if all were cast at once: give each layer pot_life and rate to have "
                "them counted day by day"
            )
            yield Note(NoteCode.DEFAULT_USED, text, where=piece.name)


def _pour_notes(pour: DayPlan | None) -> Iterator[Note]:
    """Say what is doubtful about the clock, or why there is none."""
    if pour is None:
        return
    if pour.feasible:
        yield from pour.notes
        return
    why = "; ".join(f"{one.where}: {one.rule.value}" for one in pour.outcome.findings)
    yield Note(
        NoteCode.NO_PLAN,
        f"the batches cannot all be placed as told ({why}); they are counted by the mixer and "
        "the pot life alone; takeoff batch says what would do",
    )


def _suits_notes(mixers: Sequence[Mixer], mixes: Mapping[Portion, Mix]) -> Iterator[Note]:
    """Point at mixers kept for mixes that are neither in the job nor shipped: likely slips."""
    known = {mix.name for mix in mixes.values()} | set(shipped_mix_names())
    for mixer in mixers:
        for name in mixer.suits:
            if name not in known:
                yield Note(
                    NoteCode.MIX_UNKNOWN,
                    f"is kept for {name!r}, which is no mix of this job and none that is shipped; "
                    "it is not used for other mixes",
                    where=mixer.name,
                )


def _buying_notes(materials: Sequence[Material]) -> Iterator[Note]:
    """Name stock that is not used, and packs too heavy for one person."""
    purchases = [one.purchase for one in materials if one.purchase is not None]
    for purchase in purchases:
        for passed in purchase.stock_passed_over:
            yield Note(
                NoteCode.STOCK_PASSED_OVER,
                f"{passed.stock.mass_kg:g} kg in stock are not used: {passed.why}",
                where=purchase.ingredient,
            )
    heavy = heavy_packs_note(one.pack for purchase in purchases for one in purchase.bought)
    if heavy is not None:
        yield heavy
