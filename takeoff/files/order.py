"""What a shop asks for and what it has, once its files have been read."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

from takeoff.batching.mixers import Mixer
from takeoff.files.order_clock import LayerClock, ShopClock
from takeoff.mix.scales import Scale
from takeoff.piece.layers import Layer
from takeoff.piece.thickness import ClassThickness
from takeoff.pricing.packs import Pack


@dataclass(frozen=True, slots=True)
class OrderedLayer:
    """A layer as the job wants it.

    Parameters
    ----------
    thickness : ClassThickness
        Thickness on each class of surface.
    mix : str
        A shipped mix, or the path of the shop's own, resolved beside the job file.
    overspray_share : float
        Share of the sprayed mass that misses the form. [-]
    pot_life_s : float or None
        Pot life at the shop; None to take the mix's own, if it states one. [s]
    rate_kg_s : float or None
        What one pair of hands places; None where the shop has not measured it. [kg/s]
    clock : LayerClock, optional
        How it is placed, and how long before and after others.
    """

    thickness: ClassThickness
    mix: str
    overspray_share: float
    pot_life_s: float | None
    rate_kg_s: float | None
    clock: LayerClock = LayerClock()


@dataclass(frozen=True, slots=True)
class OrderedPiece:
    """A piece as the job wants it.

    Parameters
    ----------
    name : str or None
        Name on the bid; None to take the drawing's.
    drawing : Path
        Its drawing.
    unit, kind, show : str or None
        Unit, kind of model and show direction, as told.
    edge_depth_m : float or None
        Depth of the walls round an outline. [m]
    edges_m : mapping of str to float
        Depth at single edges. [m]
    surfaces, openings : mapping of str to str
        What single surfaces are taken as, and which openings are bare or coated, by id.
    sha256 : str or None
        Beginning of the hash of the drawing that ids were read off.
    return_limit_m : float or None
        Deepest wall still called a return. [m]
    layers : tuple of str
        Drawing layers to take; empty for all.
    count : int
        How many are cast.
    place : str
        Where the job file asks for it, for messages.
    forms : int or None, default None
        How many forms there are of it; None for as many as are cast.
    """

    name: str | None
    drawing: Path
    unit: str | None
    kind: str | None
    show: str | None
    edge_depth_m: float | None
    edges_m: Mapping[str, float]
    surfaces: Mapping[str, str]
    openings: Mapping[str, str]
    sha256: str | None
    return_limit_m: float | None
    layers: tuple[str, ...]
    count: int
    place: str
    forms: int | None = None


@dataclass(frozen=True, slots=True)
class Shop:
    """What the shop has and pays.

    Parameters
    ----------
    mixers : tuple of Mixer
        Its mixers, in the order written.
    hands : int
        How many place at once.
    division_kg : float or None
        Finest division of its scales. [kg]
    unit, kind : str or None
        Unit and kind of model that its drawings usually have.
    prices : mapping of str to Pack
        How each ingredient is bought.
    scales : tuple of Scale, default ()
        Its scales.
    clock : ShopClock, optional
        Guns, tables and hours.
    """

    mixers: tuple[Mixer, ...]
    hands: int
    division_kg: float | None
    unit: str | None
    kind: str | None
    prices: Mapping[str, Pack]
    scales: tuple[Scale, ...] = ()
    clock: ShopClock = ShopClock()


@dataclass(frozen=True, slots=True)
class Order:
    """One whole job as written.

    Parameters
    ----------
    name : str
        Name of the job.
    date : str or None
        Date printed on the bid, as written.
    currency : str
        Currency of all prices.
    show_units : str
        ``"metric"`` or ``"us"``, for text.
    face_coat, backer : OrderedLayer or None
        The layers; at least one.
    pieces : tuple of OrderedPiece
        What is cast.
    shop : Shop
        What the shop has and pays.
    days : int or None, default None
        On how many days it must be poured; None for as many as it takes.
    """

    name: str
    date: str | None
    currency: str
    show_units: str
    face_coat: OrderedLayer | None
    backer: OrderedLayer | None
    pieces: tuple[OrderedPiece, ...]
    shop: Shop
    days: int | None = None

    @property
    def layers(self) -> dict[Layer, OrderedLayer]:
        """The layers that are asked for, in the order they are placed.

        Examples
        --------
        >>> shop = Shop((), 1, None, None, None, {})
        >>> Order("hall", None, "EUR", "metric", None, None, (), shop).layers
        {}
        """
        both = {Layer.FACE_COAT: self.face_coat, Layer.BACKER: self.backer}
        return {layer: one for layer, one in both.items() if one is not None}
