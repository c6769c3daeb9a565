"""The pieces of a job, measured as it asks and named as it names them."""

from __future__ import annotations

from dataclasses import replace

from takeoff.errors import TakeoffError
from takeoff.files.order import Order, OrderedLayer, OrderedPiece
from takeoff.measuring.measurement import MeasuredPiece, Measurement
from takeoff.measuring.request import MeasureRequest
from takeoff.measuring.taking import measure_drawing
from takeoff.piece.rules import SurfaceRules
from takeoff.piece.thickness import ClassThickness, thickened


def measure_ordered(piece: OrderedPiece, order: Order) -> Measurement:
    """Measure the drawing of a piece as the job asks.

    Parameters
    ----------
    piece : OrderedPiece
        The piece.
    order : Order
        The job, with its layers and the shop's habits.

    Returns
    -------
    Measurement
        The drawing, measured.

    Raises
    ------
    TakeoffError
        If the drawing cannot be used, at the place of the piece in the job file.

    Examples
    --------
    >>> from takeoff.files.job_file import read_order
    >>> order = read_order("samples/ferry-hall/job.toml")
    >>> round(measure_ordered(order.pieces[2], order).area_m2["show_face"], 6)
    2.7
    """
    rules = SurfaceRules()
    if piece.return_limit_m is not None:
        rules = replace(rules, return_limit_m=piece.return_limit_m)
    request = MeasureRequest(
        unit=piece.unit,
        kind=piece.kind,
        show=piece.show,
        edge_depth_m=piece.edge_depth_m,
        edges_m=piece.edges_m,
        surfaces=piece.surfaces,
        openings=piece.openings,
        sha256=piece.sha256,
        sha256_needed=True,
        ids=tuple(piece.walls),
        face_coat=thickened(_thickness(order.face_coat), piece.removed_m),
        backer=_thickness(order.backer),
        layers=piece.layers,
        usual_unit=order.shop.unit,
        usual_kind=order.shop.kind,
        priced=True,
        rules=rules,
    )
    try:
        return measure_drawing(piece.drawing, request)
    except TakeoffError as error:
        raise error.within(piece.place) from None


def _thickness(layer: OrderedLayer | None) -> ClassThickness:
    return ClassThickness() if layer is None else layer.thickness


def named_pieces(piece: OrderedPiece, taken: Measurement) -> tuple[MeasuredPiece, ...]:
    """Name the pieces of a drawing as the job does.

    Parameters
    ----------
    piece : OrderedPiece
        The piece as ordered.
    taken : Measurement
        Its drawing, measured.

    Returns
    -------
    tuple of MeasuredPiece
        The pieces; where a drawing holds several, each keeps its own name behind the job's.

    Examples
    --------
    >>> from takeoff.files.job_file import read_order
    >>> order = read_order("samples/ferry-hall/job.toml")
    >>> panel = order.pieces[2]
    >>> [one.name for one in named_pieces(panel, measure_ordered(panel, order))]
    ['wall panel']
    """
    several = len(taken.pieces) > 1
    named = []
    for one in taken.pieces:
        name = one.name if piece.name is None else piece.name
        if several and piece.name is not None:
            name = f"{piece.name}: {one.name}"
        named.append(replace(one, name=name))
    return tuple(named)
