"""Every value of a job in force, for the document."""

from __future__ import annotations

import math
from dataclasses import asdict
from decimal import Decimal

from takeoff.documents import SettingValue
from takeoff.files.order import Order, OrderedLayer, Shop


def order_settings(order: Order) -> dict[str, SettingValue]:
    """List every value of a job and its shop that the bid rests on.

    Parameters
    ----------
    order : Order
        The job as written.

    Returns
    -------
    dict
        Layers, pieces, mixers, hands, scale and rates, by name. Prices are in the lines.

    Examples
    --------
    >>> from takeoff.batching.mixers import Mixer
    >>> shop = Shop((Mixer("pail", 0.018, 0.2),), 1, None, None, None, {})
    >>> order_settings(Order("hall", None, "EUR", "metric", None, None, (), shop))["currency"]
    'EUR'
    """
    return dict(
        currency=order.currency,
        show_units=order.show_units,
        days=order.days,
        face_coat=_layer(order.face_coat),
        backer=_layer(order.backer),
        wall_backer=_layer(order.wall_backer),
        samples=[asdict(sample) for sample in order.samples],
        boards=None if order.boards is None else asdict(order.boards),
        drawings=[
            dict(
                drawing=piece.drawing.name,
                unit=piece.unit,
                kind=piece.kind,
                show=piece.show,
                edge_depth_m=piece.edge_depth_m,
                edges_m=dict(piece.edges_m),
                surfaces=dict(piece.surfaces),
                openings=dict(piece.openings),
                return_limit_m=piece.return_limit_m,
                layers=list(piece.layers),
                count=piece.count,
                forms=piece.forms,
                walls=dict(piece.walls),
                additions=[asdict(one) for one in piece.additions],
                cores=[asdict(one) for one in piece.cores],
                items=[asdict(one) | dict(price=_money(one.price)) for one in piece.items],
                removed_m=piece.removed_m,
                turned=piece.turned,
                form_kg=piece.form_kg,
            )
            for piece in order.pieces
        ],
        shop=_shop(order.shop),
    )


def _layer(layer: OrderedLayer | None) -> dict[str, SettingValue] | None:
    if layer is None:
        return None
    told = layer.thickness
    return asdict(layer) | dict(thickness_m=told.show_face.aimed_m, thickness=told.row())


def _shop(shop: Shop) -> dict[str, SettingValue]:
    return dict(
        mixers=[asdict(mixer) for mixer in shop.mixers],
        hands=shop.hands,
        division_kg=shop.division_kg,
        scales=[
            dict(
                division_kg=scale.division_kg,
                capacity_kg=scale.capacity_kg if math.isfinite(scale.capacity_kg) else None,
            )
            for scale in shop.scales
        ],
        clock=asdict(shop.clock),
        unit=shop.unit,
        kind=shop.kind,
        rates=[asdict(rate) | dict(price=_money(rate.price)) for rate in shop.rates],
        hour_price=_money(shop.hour_price),
        markup_share=float(shop.terms.markup_share),
        tax_share=float(shop.terms.tax_share),
        minimum_charge=_money(shop.terms.minimum_charge),
        largest_m=shop.largest_m,
        largest_kg=shop.largest_kg,
        one_lot=dict(shop.one_lot),
    )


def _money(amount: Decimal | None) -> str | None:
    return None if amount is None else f"{amount:.2f}"
