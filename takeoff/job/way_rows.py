"""The ways to cast each return and upright side by side: what each takes and costs."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from decimal import Decimal

from takeoff.batching.lots import BatchLimit, batch_count, batch_limit
from takeoff.batching.mixers import Mixer
from takeoff.errors import MixError
from takeoff.job.way_mixes import PLACING_OF, WayMix
from takeoff.job.way_prices import WayPrices
from takeoff.measuring.measurement import MeasuredPiece
from takeoff.mix.mixes import Mix, Placing
from takeoff.mix.volumes import fresh_density_kg_m3
from takeoff.notes import Note, NoteCode
from takeoff.piece.explaining import in_mm
from takeoff.piece.layers import Layer
from takeoff.piece.surfaces import SurfaceClass
from takeoff.piece.way_fits import Fit, WallAtHand, beside_m, fit_of
from takeoff.piece.ways import INNER_FORMS, Way
from takeoff.pricing.packs import rounded
from takeoff.way_documents import WallWayRow

_INNER_FORM = frozenset({Way.DAMMED, Way.CORED})
_WALLS = frozenset({SurfaceClass.RETURN, SurfaceClass.UPRIGHT})


@dataclass(frozen=True, slots=True)
class WayMoney:
    """What the backer of a wall costs, each part rounded as printed; None where not told.

    Parameters
    ----------
    material, labour, inner_form : Decimal or None
        What is mixed, the hours, and the inner form.
    """

    material: Decimal | None = None
    labour: Decimal | None = None
    inner_form: Decimal | None = None

    @property
    def total(self) -> Decimal | None:
        """All parts together; None while one is not told, since it would mislead.

        Examples
        --------
        >>> WayMoney(Decimal("12.00"), Decimal("5.50"), Decimal("0.00")).total
        Decimal('17.50')
        >>> WayMoney(Decimal("12.00")).total is None
        True
        """
        if self.material is None or self.labour is None or self.inner_form is None:
            return None
        return self.material + self.labour + self.inner_form


@dataclass(frozen=True, slots=True)
class WayRow:
    """One way to cast one wall, that wall by itself.

    Parameters
    ----------
    surface : str
        Id of the wall.
    depth_m : float
        How far it runs behind the show face. [m]
    stands : bool
        Whether even a poured backer stands on it.
    way : Way
        The way.
    fit : Fit
        Whether it can be followed, and why not or what to mind.
    mix : WayMix
        The backer it takes.
    face_m3, backer_m3 : float
        Face coat, and backer with what fills. [m³]
    inner_form_m2 : float
        Inner form that it needs. [m²]
    mass_kg : float
        Fresh mass of both layers and the filling. [kg]
    batches : int or None
        Batches of backer for this wall alone; None where no mixer suits. Also None, as are
        mixer, time and money, where the way is not feasible.
    mixer : str or None
        The mixer that takes most of it at once.
    hours_s : float or None
        Time of one pair of hands; None where it is not told. [s]
    money : WayMoney
        What the backer costs; the face coat is the same in every way.
    """

    surface: str
    depth_m: float
    stands: bool
    way: Way
    fit: Fit
    mix: WayMix
    face_m3: float
    backer_m3: float
    inner_form_m2: float
    mass_kg: float
    batches: int | None = None
    mixer: str | None = None
    hours_s: float | None = None
    money: WayMoney = WayMoney()

    @property
    def feasible(self) -> bool:
        """Whether the way can be followed."""
        return self.fit.feasible

    @property
    def volume_m3(self) -> float:
        """Both layers and what fills, in [m³]."""
        return self.face_m3 + self.backer_m3

    @property
    def head_m(self) -> float | None:
        """Head of what is poured, in [m]: the depth of the wall; no formwork design."""
        return self.depth_m if PLACING_OF[self.way] is Placing.POURED else None

    def row(self) -> WallWayRow:
        """Give it as a row of the documents.

        Returns
        -------
        WallWayRow
            The row.
        """
        return WallWayRow(
            surface=self.surface,
            depth_m=self.depth_m,
            stands=self.stands,
            way=self.way.value,
            feasible=self.feasible,
            why=self.fit.why,
            mix=self.mix.mix.name,
            mix_told=self.mix.told,
            volume_m3=self.volume_m3,
            backer_m3=self.backer_m3,
            inner_form_m2=self.inner_form_m2,
            mass_kg=self.mass_kg,
            head_m=self.head_m,
            batches=self.batches,
            mixer=self.mixer,
            hours_s=self.hours_s,
            material_money=_written(self.money.material),
            labour_money=_written(self.money.labour),
            inner_form_money=_written(self.money.inner_form),
            money=_written(self.money.total),
        )


def ways_of(
    piece: MeasuredPiece,
    mixes: Mapping[Placing, WayMix],
    *,
    face_coat: Mix | None = None,
    mixers: Sequence[Mixer] = (),
    prices: WayPrices = WayPrices(),
) -> tuple[WayRow, ...]:
    """Set the ways to cast each return and upright of a piece side by side.

    Parameters
    ----------
    piece : MeasuredPiece
        The piece, with its layers.
    mixes : mapping of Placing to WayMix
        A backer for each way of placing; see `way_mixes`.
    face_coat : Mix, optional
        The mix of the face coat; needed where the piece carries one.
    mixers : sequence of Mixer, optional
        The mixers of the shop.
    prices : WayPrices, optional
        What the shop has told of time and money.

    Returns
    -------
    tuple of WayRow
        Wall by wall in the order of the surfaces, each with all ways, feasible or not; none for
        walls that carry no backer, and for a piece that the backer fills.

    Raises
    ------
    MixError
        If the piece carries a face coat and no mix of it is told, or a mix contradicts itself.

    Notes
    -----
    What a wall takes is that of `wall_layers`. Filling is
    counted for each wall alone, down to its own foot. The count of batches is what is mixed for
    the wall over what the largest suiting mixer holds less its residue, rounded up.

    Examples
    --------
    >>> from takeoff.files.job_file import read_order
    >>> from takeoff.files.mix_file import read_mix
    >>> from takeoff.job.ordered_pieces import measure_ordered
    >>> from takeoff.job.way_mixes import way_mixes
    >>> order = read_order("samples/ferry-hall/job.toml")
    >>> panel = measure_ordered(order.pieces[2], order).pieces[0]
    >>> rows = ways_of(panel, way_mixes([WayMix(read_mix("backer-poured"))]),
    ...                face_coat=read_mix("face-coat-sprayed"))
    >>> [(row.surface, row.way.value, f"{row.volume_m3 * 1e3:.3g} L") for row in rows[:3]]
    [('R1', 'dammed', '2.69 L'), ('R1', 'cored', '2.69 L'), ('R1', 'filled', '103 L')]
    """
    backers = {placing: _backer(one, mixers) for placing, one in mixes.items()}
    face_kg_m3 = None if face_coat is None else fresh_density_kg_m3(face_coat)
    rows: list[WayRow] = []
    for wall in _walls(piece):
        if wall.face_m3 > 0.0 and face_kg_m3 is None:
            raise MixError("carries a face coat, and no mix of it is told", where=piece.name)
        face_kg = wall.face_m3 * (face_kg_m3 or 0.0)
        rows += [_row(wall, way, backers[PLACING_OF[way]], face_kg, prices) for way in Way]
    return tuple(rows)


def filling_notes(piece: MeasuredPiece, rows: Sequence[WayRow]) -> Iterator[Note]:
    """Say that several walls of a piece are filled once.

    Parameters
    ----------
    piece : MeasuredPiece
        The piece.
    rows : sequence of WayRow
        The ways of its walls.

    Yields
    ------
    Note
        One, where several walls can be filled.

    Examples
    --------
    >>> from takeoff.files.job_file import read_order
    >>> from takeoff.job.ordered_pieces import measure_ordered
    >>> order = read_order("samples/ferry-hall/job.toml")
    >>> list(filling_notes(measure_ordered(order.pieces[2], order).pieces[0], []))
    []
    """
    filled = [row for row in rows if row.way is Way.FILLED and row.feasible]
    if len(filled) > 1:
        deepest = max(filled, key=lambda row: row.depth_m)
        taken = {wall.surface: wall.filled_m3 for wall in piece.layers.walls}
        filled_m3 = max(taken[row.surface] for row in filled)
        yield Note(
            NoteCode.POURED_WALL,
            "filled is counted for each wall by itself; several are filled once, to the foot of "
            f"the deepest: for {deepest.surface}, {in_mm(deepest.depth_m)} deep, that takes "
            f"{filled_m3 * 1e3:.4g} L beyond the layers",
            where=piece.name,
        )


@dataclass(frozen=True, slots=True, eq=False)
class _Wall:
    """A wall, and how its layers are divided."""

    at_hand: WallAtHand
    face_m3: float
    backer_m3: float


def _walls(piece: MeasuredPiece) -> Iterator[_Wall]:
    """Take the walls that carry backer."""
    laid = piece.layers
    shown = {surface.id: surface for surface in piece.surfaces.surfaces}
    walls = [wall for wall in shown.values() if wall.surface_class in _WALLS]
    whole_m3 = {(row.layer, row.surface_class): row.volume_m3 for row in laid.rows}
    for taken in laid.walls:
        surface = shown[taken.surface]
        face_m3, backer_m3 = (whole_m3.get((layer, surface.surface_class), 0.0) for layer in Layer)
        if backer_m3 <= 0.0:
            continue
        share = taken.layer_m3 / (face_m3 + backer_m3)
        at_hand = WallAtHand(
            surface,
            taken,
            beside_m(laid.rows),
            piece.surfaces.rules.return_limit_m,
            sum(row.volume_m3 for row in laid.rows),
            piece.solid_m3,
            min(walls, key=lambda wall: wall.depth_m),
        )
        yield _Wall(at_hand, face_m3 * share, backer_m3 * share)


@dataclass(frozen=True, slots=True)
class _Backer:
    """A backer, and the mixer that takes most of it at once."""

    mix: WayMix
    density_kg_m3: float
    mixer: Mixer | None
    limit: BatchLimit | None


def _backer(mix: WayMix, mixers: Sequence[Mixer]) -> _Backer:
    density_kg_m3 = fresh_density_kg_m3(mix.mix)
    suiting = [
        (batch_limit(mixer, density_kg_m3=density_kg_m3), mixer)
        for mixer in mixers
        if not mixer.suits or mix.mix.name in mixer.suits
        if mixer.capacity_m3 * density_kg_m3 > mixer.residue_kg
    ]
    if not suiting:
        return _Backer(mix, density_kg_m3, None, None)
    limit, mixer = max(suiting, key=lambda one: one[0].placed_kg)
    return _Backer(mix, density_kg_m3, mixer, limit)


def _row(wall: _Wall, way: Way, backer: _Backer, face_kg: float, prices: WayPrices) -> WayRow:
    """Tell what a way takes of a wall, and what that costs where it can be followed."""
    at_hand = wall.at_hand
    fit = fit_of(way, at_hand)
    fills_m3 = at_hand.taken.filled_m3 if way is Way.FILLED and at_hand.fills() else 0.0
    backer_m3 = wall.backer_m3 + fills_m3
    placed_kg = backer_m3 * backer.density_kg_m3
    row = WayRow(
        at_hand.surface.id,
        at_hand.surface.depth_m,
        at_hand.covered(),
        way,
        fit,
        backer.mix,
        wall.face_m3,
        backer_m3,
        at_hand.taken.inner_form_m2 if way in INNER_FORMS and fit.feasible else 0.0,
        face_kg + placed_kg,
    )
    return _costed(row, backer, placed_kg, prices) if fit.feasible else row


def _costed(row: WayRow, backer: _Backer, placed_kg: float, prices: WayPrices) -> WayRow:
    """Put to a row its batches, its hours and its money."""
    mixed_kg = placed_kg / (1.0 - backer.mix.lost_share)
    area_m2 = row.inner_form_m2
    hours_s = prices.taken_s(row.way, inner_form_m2=area_m2, placed_kg=placed_kg)
    return replace(
        row,
        batches=None if backer.limit is None else batch_count(mixed_kg, backer.limit),
        mixer=None if backer.mixer is None else backer.mixer.name,
        hours_s=hours_s,
        money=WayMoney(
            _printed(prices.of_material(backer.mix.mix, mixed_kg)),
            _printed(prices.of_labour(hours_s)),
            _printed(prices.of_inner_form(row.way, area_m2)),
        ),
    )


def _printed(amount: Decimal | None) -> Decimal | None:
    return None if amount is None else rounded(amount)


def _written(amount: Decimal | None) -> str | None:
    return None if amount is None else str(amount)
