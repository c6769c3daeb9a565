"""What a bid takes for granted, and how much money hangs on each of it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from decimal import Decimal

from takeoff.files.order import Order, OrderedPiece
from takeoff.files.order_parts import Portion
from takeoff.job.cast_pieces import CastPiece, Taken, cast_pieces
from takeoff.job.ordered_pieces import measure_ordered
from takeoff.job.quantities import quantities_of
from takeoff.job.way_prices import prices_of_kg
from takeoff.measuring.correcting import SHORTEST
from takeoff.mix.ingredients import Role
from takeoff.mix.mixes import Mix, Placing
from takeoff.mix.proportions import proportions_of
from takeoff.mix.volumes import fresh_density_kg_m3
from takeoff.piece.surfaces import SurfaceClass
from takeoff.piece.ways import Way
from takeoff.pricing.lines import Terms
from takeoff.pricing.packs import rounded
from takeoff.pricing.rates import Measure, Rate, is_priced
from takeoff.pricing.stakes import Stake, ordered


@dataclass(frozen=True, slots=True)
class _Prices:
    """What a little more of anything costs, markup and tax in it."""

    mixes: Mapping[Portion, float]
    rates: tuple[Rate, ...]
    on_top: float

    def money(
        self, more_kg: Mapping[Portion, float], more: Mapping[Measure, float] | None = None
    ) -> Decimal:
        """Price more kilograms of the mixes, as mixed, and more of what rates are charged by."""
        amount = sum(self.mixes[portion] * kg for portion, kg in more_kg.items())
        for rate in self.rates:
            each = float(rate.price) * (1.0 if rate.hours_s is None else rate.hours_s / 3600.0)
            amount += each * rate.counted(more or {})
        return rounded(Decimal(repr(amount * self.on_top)))

    def cast(self, order: Order, more_kg: Mapping[Portion, float]) -> Decimal:
        """Price more kilograms in the pieces, with what is lost of them and charged by mass."""
        return self.money(_mixed_kg(order, more_kg), {Measure.KG: sum(more_kg.values())})


def stakes_of(
    order: Order, mixes: Mapping[Portion, Mix], cast: Sequence[CastPiece], taken: Taken
) -> tuple[Stake, ...]:
    """List what a bid takes for granted, most money first.

    Parameters
    ----------
    order : Order
        The job.
    mixes : mapping of Portion to Mix
        Its mixes.
    cast : sequence of CastPiece
        What it casts.
    taken : sequence of tuple of OrderedPiece and Measurement
        Its drawings, measured.

    Returns
    -------
    tuple of Stake
        Overspray, spare, residue, thickness, what the volume may be off by, bare edges and
        openings, forms that nobody told.

    Notes
    -----
    Changes are priced by the kilogram, from the pack that gives it cheapest, and by the rates,
    with markup and tax; packs are not rounded up, so that a small change is not lost in a bag.
    Shares are held against none and against twice as much.

    Examples
    --------
    >>> from takeoff.files.job_file import read_order
    >>> from takeoff.files.mix_file import read_mix
    >>> order = read_order("samples/ferry-hall/job.toml")
    >>> mixes = {portion: read_mix(one.mix) for portion, one in order.portions.items()}
    >>> taken = [(piece, measure_ordered(piece, order)) for piece in order.pieces]
    >>> stakes = stakes_of(order, mixes, cast_pieces(order, mixes, taken), taken)
    >>> "edge E3 of wall panel" in [stake.what for stake in stakes]
    True
    """
    prices = _prices(order, mixes)
    found = [
        *_share_stakes(order, mixes, cast, prices),
        *_thickness_stakes(order, mixes, cast, prices),
        *_volume_stakes(order, mixes, cast, prices),
        *_form_stakes(mixes, cast, prices),
    ]
    for piece, drawing in taken:
        sha256 = drawing.pieces[0].sha256 if drawing.pieces else ""
        was = [one for one in cast if one.ordered is piece]
        for what, value, other in _other_readings(piece, cast, sha256):
            found += _measured_stake(
                what, value, other, was, order=order, mixes=mixes, prices=prices
            )
    return ordered(stake for stake in found if stake.most)


def _prices(order: Order, mixes: Mapping[Portion, Mix]) -> _Prices:
    each = prices_of_kg(pack for packs in order.shop.packs.values() for pack in packs)
    rates, terms = order.shop.rates, order.shop.terms
    labour = is_priced(rates)
    return _Prices(
        {portion: _price_of_kg(mix, each) for portion, mix in mixes.items()},
        rates if labour else (),
        _on_top(terms) if labour else 1.0,
    )


def _price_of_kg(mix: Mix, each: Mapping[str, Decimal]) -> float:
    return sum(
        part.mass_share * float(each.get(part.ingredient.name, Decimal(0)))
        for part in proportions_of(mix).parts
        if part.ingredient.role is not Role.WATER
    )


def _on_top(terms: Terms) -> float:
    return float((1 + terms.markup_share) * (1 + terms.tax_share))


def _placed_kg(cast: Sequence[CastPiece], mixes: Mapping[Portion, Mix]) -> dict[Portion, float]:
    return {
        portion: sum(piece.volume_m3(portion) * piece.count for piece in cast)
        * fresh_density_kg_m3(mix)
        for portion, mix in mixes.items()
    }


def _mixed_kg(order: Order, placed_kg: Mapping[Portion, float]) -> dict[Portion, float]:
    return {
        portion: kg / (1.0 - order.portions[portion].lost_share)
        for portion, kg in placed_kg.items()
    }


def _share_stakes(
    order: Order, mixes: Mapping[Portion, Mix], cast: Sequence[CastPiece], prices: _Prices
) -> Iterator[Stake]:
    """Hold overspray and spare against none."""
    for portion, placed_kg in _placed_kg(cast, mixes).items():
        layer = order.portions[portion]
        past, spare = layer.overspray_share, layer.spare_share
        if past > 0.0:
            money = prices.money({portion: placed_kg * (1.0 + spare) * past / (1.0 - past)})
            yield Stake(f"overspray of the {portion.word}", f"{past * 100:g} %", -money, money)
        if spare > 0.0:
            money = prices.money({portion: placed_kg * spare / (1.0 - past)})
            yield Stake(f"spare {portion.word}", f"{spare * 100:g} %", -money, money)


def _thickness_stakes(
    order: Order, mixes: Mapping[Portion, Mix], cast: Sequence[CastPiece], prices: _Prices
) -> Iterator[Stake]:
    """Hold each layer against the ends of its range."""
    for portion, mix in mixes.items():
        face = order.portions[portion].thickness.show_face
        if not face.ranged:
            continue
        ends = []
        for end in ("low_m3", "high_m3"):
            more_m3 = sum(
                (getattr(one, end) - one.volume_m3) * piece.count
                for piece in cast
                for one in piece.volumes
                if one.portion is portion
            )
            more_kg = {portion: more_m3 * fresh_density_kg_m3(mix)}
            ends.append(prices.cast(order, more_kg))
        low_m, high_m = face.ends_m
        value = f"{face.aimed_m * 1e3:g} mm, from {low_m * 1e3:g} to {high_m * 1e3:g} mm"
        yield Stake(f"thickness of the {portion.word}", value, ends[0], ends[1])


def _volume_stakes(
    order: Order, mixes: Mapping[Portion, Mix], cast: Sequence[CastPiece], prices: _Prices
) -> Iterator[Stake]:
    """Hold volumes that are not exact against what they may be off by."""
    for piece in cast:
        share = 0.0 if piece.measured is None else piece.measured.layers.uncertainty_share
        if share > 0.0:
            placed_kg = _placed_kg([piece], mixes)
            off_kg = {portion: kg * share for portion, kg in placed_kg.items()}
            money = prices.cast(order, off_kg)
            what = f"volume of the layers of {piece.name}"
            yield Stake(what, f"within {share * 100:.2g} %", -money, money)


def _form_stakes(
    mixes: Mapping[Portion, Mix], cast: Sequence[CastPiece], prices: _Prices
) -> Iterator[Stake]:
    """Hold a form for every casting, where nobody told, against a single one."""
    for piece in cast:
        if piece.ordered is None or piece.forms is not None or piece.count == 1:
            continue
        single = replace(piece, forms=1)
        money = prices.money({}, _more([piece], [single], mixes))
        what, value = f"forms of {piece.name}", f"{piece.count}, one for each casting"
        yield Stake(what, value, min(money, Decimal(0)), max(money, Decimal(0)))


def _more(
    before: Sequence[CastPiece], after: Sequence[CastPiece], mixes: Mapping[Portion, Mix]
) -> dict[Measure, float]:
    """Give by how much quantities change."""
    was, now = (quantities_of(cast, mixes, batch_count=0) for cast in (before, after))
    return {measure: now[measure] - was[measure] for measure in now}


def _other_readings(
    piece: OrderedPiece, cast: Sequence[CastPiece], sha256: str
) -> Iterator[tuple[str, str, OrderedPiece]]:
    """Give the piece as it would be with one edge or opening coated that is taken as bare."""
    if piece.edge_depth_m:
        for edge, depth_m in piece.edges_m.items():
            if depth_m == 0.0:
                told = {**piece.edges_m, edge: piece.edge_depth_m}
                yield f"edge {edge}", "bare", replace(piece, edges_m=told)
        return
    mine = [one.measured for one in cast if one.ordered is piece and one.measured is not None]
    if len(mine) != 1:
        return
    for opening in mine[0].surfaces.openings:
        if opening.bare and opening.id not in piece.openings:
            told_openings = {**piece.openings, opening.id: "coated"}
            other = replace(piece, openings=told_openings, sha256=sha256[:SHORTEST])
            yield f"opening {opening.id}", "bare, being narrow", other


def _measured_stake(
    what: str,
    value: str,
    other: OrderedPiece,
    was: Sequence[CastPiece],
    *,
    order: Order,
    mixes: Mapping[Portion, Mix],
    prices: _Prices,
) -> Iterator[Stake]:
    """Measure a piece the other way too, and price the difference."""
    other, asked = _with_ways(other, order, mixes)
    now = cast_pieces(asked, mixes, [(other, measure_ordered(other, asked))])
    before_kg, after_kg = _placed_kg(was, mixes), _placed_kg(now, mixes)
    more_kg = {portion: after_kg[portion] - before_kg[portion] for portion in mixes}
    money = prices.money(_mixed_kg(order, more_kg), _more(was, now, mixes))
    where = f" of {was[0].name}" if was else ""
    yield Stake(what + where, value, min(money, Decimal(0)), max(money, Decimal(0)))


def _with_ways(
    piece: OrderedPiece, order: Order, mixes: Mapping[Portion, Mix]
) -> tuple[OrderedPiece, Order]:
    """Give walls their way by class: coated otherwise, a piece numbers its walls otherwise."""
    asked = replace(order, samples=())
    if order.backer is None or mixes[Portion.BACKER].placing is not Placing.POURED:
        return piece, asked
    walls = (SurfaceClass.RETURN, SurfaceClass.UPRIGHT)
    ways = {kind.value: order.backer.ways.get(kind.value, Way.DAMMED) for kind in walls}
    return replace(piece, walls={}), replace(asked, backer=replace(order.backer, ways=ways))
