"""Every value of a job in force, for the document."""

from __future__ import annotations

import math
from dataclasses import asdict

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
        Layers, pieces, mixers, hands and scale, by name. Prices are in the lines.

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
    )
