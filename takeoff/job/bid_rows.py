"""A bid as its JSON document."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from takeoff.bid_documents import (
    AssumptionRow,
    BoughtRow,
    CastRow,
    DrawnRow,
    FormWorkRow,
    LineRow,
    MaterialRow,
    MoneyRangeRow,
    PassedOverRow,
    PortionRow,
    RangeRow,
    SoldRow,
)
from takeoff.documents import (
    BatchIngredientRow,
    BatchPart,
    BidDocument,
    BidPieceRow,
    LotRow,
    MixerRow,
)
from takeoff.files.order_parts import Portion
from takeoff.job.cast_pieces import CastPiece
from takeoff.job.lot_making import LayerLot
from takeoff.job.poured_lots import poured_lot_rows
from takeoff.job.result import Bid, BidPiece
from takeoff.job.weigh_rows import mixing_rows
from takeoff.measuring.measurement import MeasuredPiece
from takeoff.measuring.rows import head_of, skipped_rows
from takeoff.mix.mixes import Mix
from takeoff.mix.volumes import fresh_density_kg_m3
from takeoff.pour_documents import MixCautionsRow
from takeoff.pricing.lines import Line
from takeoff.pricing.materials import Material
from takeoff.pricing.packs import Pack
from takeoff.pricing.stakes import Stake


def bid_document(made: Bid) -> BidDocument:
    """Give a bid as its document.

    Parameters
    ----------
    made : Bid
        The bid.

    Returns
    -------
    BidDocument
        The document.

    Examples
    --------
    >>> from takeoff.job.bidding import bid
    >>> document = bid_document(bid("samples/ferry-hall/job.toml"))
    >>> [piece["count"] for piece in document["pieces"]]
    [1, 1, 6]
    """
    head = head_of("takeoff.bid/1", settings=made.settings, notes=made.notes)
    total = made.total
    return BidDocument(
        **head,
        job=made.order.name,
        date=made.order.date,
        currency=made.order.currency,
        pieces=[
            _piece_row(piece, piece.cast.measured, made.mixes)
            for piece in made.pieces
            if piece.cast.measured is not None
        ],
        skipped=skipped_rows(made.skipped),
        materials=[
            _material_row(material, made.order.shop.packs.get(material.ingredient, ()))
            for material in made.materials
        ],
        form_work=_form_work_row(made),
        batch=_batch_part(made),
        pour_day=None if made.pour is None else made.pour.to_dict(),
        lines=[_line_row(line) for line in made.bill.lines],
        material_total=f"{made.material_total:.2f}",
        total=None if total is None else f"{total:.2f}",
        total_range=_total_range(made),
        cast_besides=[_cast_row(piece, made.mixes) for piece in made.besides],
        assumptions=[_assumption_row(stake) for stake in made.stakes],
        cautions=list(made.cautions),
        mix_cautions=[
            MixCautionsRow(mix=name, cautions=list(cautions))
            for name, cautions in made.mix_cautions.items()
        ],
    )


def _piece_row(
    piece: BidPiece, measured: MeasuredPiece, mixes: Mapping[Portion, Mix]
) -> BidPieceRow:
    cast, weights = piece.cast, piece.weighed.weights
    place_m = weights.centre_of_gravity_m
    return BidPieceRow(
        **measured.row(also=piece.weighed.notes),
        count=cast.count,
        forms=cast.form_count,
        portions=_portion_rows(cast, mixes),
        wet_kg=weights.wet_kg,
        cured_kg=weights.cured_kg,
        cured_basis=weights.cured_basis,
        handling_kg=weights.handling_kg,
        handling_note=None if weights.note is None else weights.note.text,
        items_kg=weights.items_kg,
        core_kg=weights.core_kg,
        centre_of_gravity_m=None if place_m is None else [float(along) for along in place_m],
        ways={wall: way.value for wall, way in cast.ways.items()},
        wall_ways=[one.row() for one in cast.way_rows],
    )


def _portion_rows(cast: CastPiece, mixes: Mapping[Portion, Mix]) -> list[PortionRow]:
    return [
        PortionRow(
            portion=one.portion.value,
            surface_class=one.surface_class,
            volume_m3=one.volume_m3,
            mass_kg=one.volume_m3 * fresh_density_kg_m3(mixes[one.portion]),
        )
        for one in cast.volumes
    ]


def _cast_row(cast: CastPiece, mixes: Mapping[Portion, Mix]) -> CastRow:
    return CastRow(
        name=cast.name,
        count=cast.count,
        portions=_portion_rows(cast, mixes),
        wet_kg=cast.wet_kg(mixes),
    )


def _material_row(material: Material, packs: Sequence[Pack]) -> MaterialRow:
    purchase = material.purchase
    bought = () if purchase is None else purchase.bought
    single = bought[0] if len(bought) == 1 else None
    low_kg, high_kg = material.order_range_kg
    return MaterialRow(
        ingredient=material.ingredient,
        net_kg=material.net_kg,
        loss_kg=material.loss_kg,
        order_kg=material.order_kg,
        pack=None if single is None else single.pack.pack,
        packs=None if single is None else single.packs,
        cost=None if material.cost is None else f"{material.cost:.2f}",
        order_range_kg=RangeRow(low=low_kg, aimed=material.order_kg, high=high_kg),
        from_stock=[
            DrawnRow(lot=one.lot, mass_kg=one.mass_kg)
            for one in (() if purchase is None else purchase.from_stock)
        ],
        bought=[
            BoughtRow(
                pack=one.pack.pack,
                packs=one.packs,
                price=f"{one.pack.price:.2f}",
                cost=f"{one.cost:.2f}",
            )
            for one in bought
        ],
        sold_in=[
            SoldRow(pack=one.pack, pack_kg=one.pack_kg, price=f"{one.price:.2f}") for one in packs
        ],
        left_over_kg=0.0 if purchase is None else purchase.left_over_kg,
        stock_passed_over=[
            PassedOverRow(lot=one.stock.lot, mass_kg=one.stock.mass_kg, why=one.why)
            for one in (() if purchase is None else purchase.stock_passed_over)
        ],
    )


def _form_work_row(made: Bid) -> FormWorkRow:
    work = made.work
    return FormWorkRow(
        forms=work.form_count,
        form_m2=work.form_m2,
        bead_m=work.bead_m,
        inner_form_m2=work.inner_form_m2,
        release_m2=work.release_m2,
        sealer_m2=work.sealer_m2,
    )


def _batch_part(made: Bid) -> BatchPart:
    lots = [_lot_row(one) for one in made.lots]
    if made.pour is not None:
        lots += poured_lot_rows(made.pour)
    return BatchPart(
        batch_count=_batches(lots),
        mixers=[
            MixerRow(name=mixer.name, capacity_m3=mixer.capacity_m3, residue_kg=mixer.residue_kg)
            for mixer in made.order.shop.mixers
        ],
        lots=lots,
    )


def _batches(lots: Sequence[LotRow]) -> int:
    return sum(row["batch_count"] for row in lots)


def _lot_row(one: LayerLot) -> LotRow:
    return LotRow(
        mix=one.mix.name,
        layer=one.layer.value,
        mixer=one.lot.mixer.name,
        bound=one.lot.bound.value,
        batch_count=one.lot.batch_count,
        mass_kg=one.weighed.mass_kg,
        volume_m3=one.weighed.volume_m3,
        placed_kg=one.placed_kg,
        loss_kg=one.lost_kg,
        residue_kg=one.residue_kg,
        leftover_kg=one.leftover_kg,
        pot_life_s=one.pot_life_s,
        ingredients=[
            BatchIngredientRow(
                name=line.name, mass_kg=line.mass_kg, when=line.when, after_rest=line.is_last
            )
            for line in one.weighed.lines
        ],
        mixing=mixing_rows(one.weighed.mix.mixing),
    )


def _line_row(line: Line) -> LineRow:
    return LineRow(
        what=line.what,
        quantity=f"{line.quantity:f}",
        unit=line.unit,
        price=f"{line.price:.2f}",
        amount=f"{line.amount:.2f}",
        kind=line.kind.value,
        basis=line.basis,
    )


def _total_range(made: Bid) -> MoneyRangeRow | None:
    if made.total is None or made.total_range is None:
        return None
    low, high = made.total_range
    return MoneyRangeRow(low=f"{low:.2f}", aimed=f"{made.total:.2f}", high=f"{high:.2f}")


def _assumption_row(stake: Stake) -> AssumptionRow:
    return AssumptionRow(
        what=stake.what,
        value=stake.value,
        at_stake=stake.at_stake,
        low=f"{stake.low:.2f}",
        high=f"{stake.high:.2f}",
    )
