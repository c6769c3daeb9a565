"""A job as a pour: its castings, the workshop, and every default in force."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, fields, replace
from typing import Literal, TypeVar

from takeoff.batching.demand import Casting, ClassMass, Coat
from takeoff.batching.mixers import Mixer
from takeoff.batching.placing_rules import DayRules, PlacingRules
from takeoff.batching.workshops import Workshop
from takeoff.files.order import Order, OrderedPiece, Shop
from takeoff.job.pour_steps import Default, LayerSteps
from takeoff.measuring.measurement import MeasuredPiece
from takeoff.mix.proportions import proportions_of
from takeoff.mix.volumes import fresh_density_kg_m3
from takeoff.notes import Note, NoteCode

R = TypeVar("R", DayRules, PlacingRules)

# What each figure of the rules is called, and the key of the shop file that tells it.
_SHOP_KEYS = (
    ("day_s", "working day", "working_day"),
    ("demould_s", "time to stripping", "demould"),
    ("reset_s", "time to reset a form", "reset"),
    ("haul_s", "carrying to the form", "haul"),
    ("wash_s", "wash between mixes", "wash"),
    ("refill_s", "refill of a hopper", "refill"),
    ("pot_reserve_share", "reserve of pot life", "pot_reserve"),
    ("window_reserve_share", "reserve of wet edge and longest wait", "window_reserve"),
)


@dataclass(frozen=True, slots=True)
class PieceToPour:
    """A measured piece, as it was ordered.

    Parameters
    ----------
    ordered : OrderedPiece
        How many, in how many forms.
    measured : MeasuredPiece
        Its layers.
    """

    ordered: OrderedPiece
    measured: MeasuredPiece


@dataclass(frozen=True, slots=True)
class PourOrder:
    """A job as a pour.

    Parameters
    ----------
    castings : tuple of Casting
        What is cast, in the order of the job file.
    shop : Workshop
        What there is for the pour.
    defaults : tuple of Default
        Figures that nobody told.
    notes : tuple of Note
        What a person must see of them.
    """

    castings: tuple[Casting, ...]
    shop: Workshop
    defaults: tuple[Default, ...]
    notes: tuple[Note, ...]


def pour_order(
    order: Order, pieces: Sequence[PieceToPour], layers: Sequence[LayerSteps]
) -> PourOrder:
    """Turn a job into castings and a workshop.

    Parameters
    ----------
    order : Order
        The job.
    pieces : sequence of PieceToPour
        Its pieces, measured.
    layers : sequence of LayerSteps
        Its layers on the clock.

    Returns
    -------
    PourOrder
        What batching needs.

    Examples
    --------
    >>> from takeoff.batching.mixers import Mixer
    >>> shop = Shop((Mixer("pail", 0.018, 0.2),), 1, 0.01, None, None, {})
    >>> order = Order("hall", None, "EUR", "metric", None, None, (), shop)
    >>> pour_order(order, [], []).shop.day.day_s
    28800.0
    """
    castings = tuple(casting for piece in pieces for casting in _castings(piece, layers))
    shop, defaults = _workshop(order, pieces, layers)
    told = [default for layer in layers for default in layer.defaults]
    notes = (*_form_notes(pieces), *_table_notes(order.shop))
    return PourOrder(castings, shop, (*told, *defaults), notes)


def _castings(piece: PieceToPour, layers: Sequence[LayerSteps]) -> Iterator[Casting]:
    coats = tuple(coat for layer in layers for coat in _coats(piece.measured, layer))
    if coats:
        for copy in range(1, piece.ordered.count + 1):
            yield Casting(piece.measured.name, copy, coats)


def _coats(measured: MeasuredPiece, layer: LayerSteps) -> Iterator[Coat]:
    """Give the passes of a layer on a piece, each an equal share of it."""
    density_kg_m3 = fresh_density_kg_m3(layer.mix)
    share = 1.0 / len(layer.steps)
    masses = tuple(
        ClassMass(row.surface_class.value, row.volume_m3 * density_kg_m3 * share)
        for row in measured.layers.rows
        if row.layer is layer.layer and row.volume_m3 > 0.0
    )
    if masses:
        yield from (Coat(step, masses) for step in layer.steps)


def _workshop(
    order: Order, pieces: Sequence[PieceToPour], layers: Sequence[LayerSteps]
) -> tuple[Workshop, list[Default]]:
    shop = order.shop
    day, day_defaults = _told_in(DayRules(), shop)
    rules, rule_defaults = _told_in(PlacingRules(), shop)
    defaults = [*day_defaults, *rule_defaults]
    for mixer in shop.mixers:
        place = f"[[mixer]] {mixer.name!r} of the shop file"
        if mixer.mix_s is None:
            what = f"mixing in {mixer.name}"
            defaults.append(Default(what, f"mix_time in {place}", rules.mix_s, "s"))
        if mixer.clean_s is None:
            what = f"scraping {mixer.name}"
            defaults.append(Default(what, f"clean_time in {place}", rules.clean_s, "s"))
    forms: dict[str, int] = {}
    for piece in pieces:
        if piece.ordered.forms is not None:
            name = piece.measured.name
            forms[name] = forms.get(name, 0) + piece.ordered.forms
    return (
        Workshop(
            tuple(_room_for_rounding(mixer, shop, layers) for mixer in shop.mixers),
            hands=shop.hands,
            guns=len(shop.clock.hoppers_m3) or None,
            tables=shop.clock.tables,
            forms=forms,
            day_count=order.days,
            division_kg=shop.division_kg,
            day=day,
            rules=rules,
        ),
        defaults,
    )


def _told_in(rules: R, shop: Shop) -> tuple[R, list[Default]]:
    """Put what the shop tells into rules; list what it does not tell."""
    told = {
        field.name: value
        for field in fields(rules)
        if (value := getattr(shop.clock, field.name, None)) is not None
    }
    defaults = [
        Default(what, f"{key} in the shop file", getattr(rules, name), _unit(name))
        for name, what, key in _SHOP_KEYS
        if hasattr(rules, name) and name not in told
        if name != "refill_s" or shop.clock.hoppers_m3
    ]
    return replace(rules, **told), defaults


def _unit(name: str) -> Literal["s", "share"]:
    return "share" if name.endswith("_share") else "s"


def _room_for_rounding(mixer: Mixer, shop: Shop, layers: Sequence[LayerSteps]) -> Mixer:
    """Leave room in a mixer for what scales may round up, one division for each ingredient."""
    loose = [layer.mix for layer in layers if layer.mix.bag is None]
    division_kg = max((scale.division_kg for scale in shop.scales), default=0.0)
    margin_m3 = max(
        (
            (len(proportions_of(mix).parts) + 1) * division_kg / fresh_density_kg_m3(mix)
            for mix in loose
        ),
        default=0.0,
    )
    return replace(mixer, capacity_m3=mixer.capacity_m3 - margin_m3)


def _form_notes(pieces: Sequence[PieceToPour]) -> Iterator[Note]:
    for piece in pieces:
        count = piece.ordered.count
        if piece.ordered.forms is None and count > 1:
            yield Note(
                NoteCode.DEFAULT_USED,
                f"as many forms as castings are taken, {count}; tell forms in its [[piece]]",
                where=piece.measured.name,
            )


def _table_notes(shop: Shop) -> Iterator[Note]:
    if shop.clock.tables is None:
        text = "room for any number of castings is taken; tell tables in the shop file"
        yield Note(NoteCode.DEFAULT_USED, text)
