"""What a shop asks for and what it has, once its files have been read."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from decimal import Decimal
from pathlib import Path

from takeoff.batching.mixers import Mixer
from takeoff.files.order_clock import LayerClock, ShopClock
from takeoff.files.order_parts import Addition, Core, Item, Portion, QcBoards, Sample
from takeoff.mix.scales import Scale
from takeoff.piece.thickness import ClassThickness
from takeoff.piece.ways import Way
from takeoff.pricing.lines import Terms
from takeoff.pricing.packs import Pack
from takeoff.pricing.rates import Rate
from takeoff.pricing.stock import Stock


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
    spare_share : float, default 0
        What is mixed beyond what the pieces take, of what they take. [-]
    ways : mapping of str to Way
        How walls on which it does not stand are cast, by class of surface.
    place : str, default ""
        Where the job file asks for it, for messages.
    """

    thickness: ClassThickness
    mix: str
    overspray_share: float
    pot_life_s: float | None
    rate_kg_s: float | None
    clock: LayerClock = LayerClock()
    spare_share: float = 0.0
    ways: Mapping[str, Way] = field(default_factory=dict)
    place: str = ""

    @property
    def lost_share(self) -> float:
        """Share of what is mixed that does not stay in the pieces: sprayed past, or spare.

        Examples
        --------
        >>> coat = OrderedLayer(ClassThickness(), "face-coat-sprayed", 0.1, None, None)
        >>> round(coat.lost_share, 12)
        0.1
        """
        return 1.0 - (1.0 - self.overspray_share) / (1.0 + self.spare_share)


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
    walls : mapping of str to Way
        How single walls are cast, by id.
    additions, cores, items : tuple of Addition, of Core, of Item
        What is cast on, left in, built in.
    removed_m : float, default 0
        What finishing takes off the show face; cast on top of the thickness told. [m]
    turned : bool, default False
        Whether it is turned over in its form.
    form_kg : float or None, default None
        Mass of the form, for turning. [kg]
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
    walls: Mapping[str, Way] = field(default_factory=dict)
    additions: tuple[Addition, ...] = ()
    cores: tuple[Core, ...] = ()
    items: tuple[Item, ...] = ()
    removed_m: float = 0.0
    turned: bool = False
    form_kg: float | None = None


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
    packs : mapping of str to tuple of Pack
        Every pack that each ingredient is sold in.
    scales : tuple of Scale, default ()
        Its scales.
    clock : ShopClock, optional
        Guns, tables and hours.
    stock : tuple of Stock, default ()
        What it has already paid for.
    one_lot : mapping of str to bool
        Ingredients of which it tells whether all of a job must come from one lot.
    rates : tuple of Rate, default ()
        What it charges besides material.
    terms : Terms, optional
        Markup, tax and minimum charge.
    hour_price : Decimal or None, default None
        Price of an hour of labour.
    largest_m : tuple of float or None, default None
        Length and width of the largest piece it casts. [m]
    largest_kg : float or None, default None
        Heaviest piece that it moves. [kg]
    """

    mixers: tuple[Mixer, ...]
    hands: int
    division_kg: float | None
    unit: str | None
    kind: str | None
    packs: Mapping[str, tuple[Pack, ...]]
    scales: tuple[Scale, ...] = ()
    clock: ShopClock = ShopClock()
    stock: tuple[Stock, ...] = ()
    one_lot: Mapping[str, bool] = field(default_factory=dict)
    rates: tuple[Rate, ...] = ()
    terms: Terms = field(default_factory=Terms)
    hour_price: Decimal | None = None
    largest_m: tuple[float, float] | None = None
    largest_kg: float | None = None


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
    wall_backer : OrderedLayer or None, default None
        The backer of walls that are packed or sprayed while the rest is poured.
    samples : tuple of Sample, default ()
        Flat samples cast besides.
    boards : QcBoards or None, default None
        Test boards of every mix and day.
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
    wall_backer: OrderedLayer | None = None
    samples: tuple[Sample, ...] = ()
    boards: QcBoards | None = None

    @property
    def portions(self) -> dict[Portion, OrderedLayer]:
        """What is mixed and placed by itself, in the order it is placed.

        Examples
        --------
        >>> shop = Shop((), 1, None, None, None, {})
        >>> Order("hall", None, "EUR", "metric", None, None, (), shop).portions
        {}
        """
        told = {
            Portion.FACE_COAT: self.face_coat,
            Portion.WALL_BACKER: self.wall_backer,
            Portion.BACKER: self.backer,
        }
        return {portion: one for portion, one in told.items() if one is not None}
