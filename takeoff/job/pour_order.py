"""A job as a pour: its castings, the workshop, and every default in force."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, fields, replace
from typing import Literal, TypeVar

from takeoff.batching.demand import Casting, ClassMass, Coat
from takeoff.batching.placing_rules import DayRules, PlacingRules
from takeoff.batching.workshops import Workshop
from takeoff.files.order import Order, Shop
from takeoff.files.order_parts import Portion
from takeoff.job.cast_pieces import CastPiece, form_notes
from takeoff.job.pour_steps import Default, LayerSteps
from takeoff.job.riders import Rider, riders_of
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
    order: Order,
    pieces: Sequence[CastPiece],
    layers: Sequence[LayerSteps],
    riders: Sequence[Rider] = (),
) -> PourOrder:
    """Turn a job into castings and a workshop.

    Parameters
    ----------
    order : Order
        The job.
    pieces : sequence of CastPiece
        What it casts.
    layers : sequence of LayerSteps
        Its portions on the clock.
    riders : sequence of Rider, default ()
        What is cast along with them.

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
    along = riders_of(riders)
    castings = tuple(casting for piece in pieces for casting in _castings(piece, layers, along))
    shop, defaults = _workshop(order, pieces, layers)
    told = [default for layer in layers for default in layer.defaults]
    notes = (*form_notes(pieces), *_table_notes(order.shop))
    return PourOrder(castings, shop, (*told, *defaults), notes)


def _castings(
    piece: CastPiece,
    layers: Sequence[LayerSteps],
    along: Mapping[tuple[str, int], Sequence[Rider]],
) -> Iterator[Casting]:
    plain = tuple(coat for layer in layers for coat in _coats(piece, layer, ()))
    for copy in range(1, piece.count + 1 if plain else 1):
        riders = along.get((piece.name, copy), ())
        coats = plain
        if riders:
            coats = tuple(coat for layer in layers for coat in _coats(piece, layer, riders))
        yield Casting(piece.name, copy, coats)


def _coats(piece: CastPiece, layer: LayerSteps, riders: Sequence[Rider]) -> Iterator[Coat]:
    """Give the passes of a portion on a piece, each an equal share of it."""
    density_kg_m3 = fresh_density_kg_m3(layer.mix)
    walls = piece.volume_m3(Portion.WALL_BACKER) > 0.0
    steps = layer.over_walls if walls else layer.steps
    share = 1.0 / len(steps)
    masses = tuple(
        ClassMass(one.surface_class, one.volume_m3 * density_kg_m3 * share)
        for one in piece.volumes
        if one.portion is layer.portion and one.volume_m3 > 0.0
    )
    along = tuple(
        ClassMass(one.kind, one.volume_m3 * density_kg_m3 * share, one.name, one.number)
        for one in riders
        if one.portion is layer.portion
    )
    if masses:
        yield from (Coat(step, (*masses, *along)) for step in steps)


def _workshop(
    order: Order, pieces: Sequence[CastPiece], layers: Sequence[LayerSteps]
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
        if piece.forms is not None:
            forms[piece.name] = forms.get(piece.name, 0) + piece.forms
    rounding_m3 = _rounding_m3(shop, layers)
    return (
        Workshop(
            tuple(
                replace(mixer, capacity_m3=mixer.capacity_m3 - rounding_m3) for mixer in shop.mixers
            ),
            hands=shop.hands,
            guns=len(shop.clock.hoppers_m3) or None,
            tables=shop.clock.tables,
            forms=forms,
            day_count=order.days,
            division_kg=shop.division_kg,
            rounding_m3=rounding_m3,
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


def _rounding_m3(shop: Shop, layers: Sequence[LayerSteps]) -> float:
    """Give what scales may round up in a mixer, one division for each ingredient."""
    loose = [layer.mix for layer in layers if layer.mix.bag is None]
    division_kg = max((scale.division_kg for scale in shop.scales), default=0.0)
    return max(
        (
            (len(proportions_of(mix).parts) + 1) * division_kg / fresh_density_kg_m3(mix)
            for mix in loose
        ),
        default=0.0,
    )


def _table_notes(shop: Shop) -> Iterator[Note]:
    if shop.clock.tables is None:
        text = "room for any number of castings is taken; tell tables in the shop file"
        yield Note(NoteCode.DEFAULT_USED, text)
