"""Everything that a job casts: its pieces, its samples and its test boards."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace

from takeoff.errors import TakeoffError
from takeoff.files.order import Order, OrderedPiece
from takeoff.files.order_parts import Portion
from takeoff.job.ordered_pieces import named_pieces
from takeoff.job.portions import PortionVolume, portion_volumes
from takeoff.job.told_mixes import refuse_misplaced
from takeoff.job.wall_ways import wall_ways, ways_in_job
from takeoff.job.way_refusals import asked_piece, way_refusal
from takeoff.job.way_rows import WayRow
from takeoff.measuring.correcting import SHORTEST
from takeoff.measuring.measurement import MeasuredPiece, Measurement
from takeoff.mix.mixes import Mix
from takeoff.mix.volumes import fresh_density_kg_m3
from takeoff.notes import Note, NoteCode
from takeoff.piece.thickness import ClassThickness
from takeoff.piece.ways import Way

SAMPLE = "sample"
BOARD = "board"


@dataclass(frozen=True, slots=True, eq=False)
class CastPiece:
    """What is cast alike, one or several times.

    Parameters
    ----------
    name : str
        What it is called.
    count : int
        How many are cast.
    volumes : tuple of PortionVolume
        What one of them takes.
    forms : int or None, default None
        How many forms there are of it; None where nobody told.
    ordered : OrderedPiece or None, default None
        What the job says of it; None for samples and boards.
    measured : MeasuredPiece or None, default None
        Its surfaces and layers; None for samples and boards.
    ways : mapping of str to Way
        How the walls are cast on which its backer does not stand by itself, by id.
    way_rows : tuple of WayRow, default ()
        All ways to cast its walls, side by side.
    """

    name: str
    count: int
    volumes: tuple[PortionVolume, ...]
    forms: int | None = None
    ordered: OrderedPiece | None = None
    measured: MeasuredPiece | None = None
    ways: Mapping[str, Way] = field(default_factory=dict)
    way_rows: tuple[WayRow, ...] = ()

    @property
    def form_count(self) -> int:
        """How many forms of it are built.

        Examples
        --------
        >>> CastPiece("tile", 6, (), forms=2).form_count
        2
        """
        return self.count if self.forms is None else min(self.forms, self.count)

    def volume_m3(self, portion: Portion) -> float:
        """Give what one of them takes of a portion.

        Parameters
        ----------
        portion : Portion
            What is mixed.

        Returns
        -------
        float
            Its volume. [m³]

        Examples
        --------
        >>> CastPiece("tile", 1, ()).volume_m3(Portion.BACKER)
        0.0
        """
        return float(sum(one.volume_m3 for one in self.volumes if one.portion is portion))

    def at_end(self, *, high: bool) -> CastPiece:
        """Give it as it is at one end of its thicknesses.

        Parameters
        ----------
        high : bool
            Whether at the most thickness, or at the least.

        Returns
        -------
        CastPiece
            What takes the least or the most.

        Examples
        --------
        >>> coat = PortionVolume(Portion.FACE_COAT, "show_face", 4.0, 3.0, 5.0)
        >>> CastPiece("tile", 1, (coat,)).at_end(high=True).volume_m3(Portion.FACE_COAT)
        5.0
        """
        volumes = tuple(
            replace(one, volume_m3=one.high_m3 if high else one.low_m3) for one in self.volumes
        )
        return replace(self, volumes=volumes)

    def wet_kg(self, mixes: Mapping[Portion, Mix]) -> float:
        """Give the mass of fresh mix in one of them.

        Parameters
        ----------
        mixes : mapping of Portion to Mix
            The mixes.

        Returns
        -------
        float
            Its mass. [kg]

        Examples
        --------
        >>> CastPiece("tile", 1, ()).wet_kg({})
        0.0
        """
        masses_kg = (
            one.volume_m3 * fresh_density_kg_m3(mixes[one.portion]) for one in self.volumes
        )
        return float(sum(masses_kg))


Taken = Sequence[tuple[OrderedPiece, Measurement]]


def cast_pieces(order: Order, mixes: Mapping[Portion, Mix], taken: Taken) -> tuple[CastPiece, ...]:
    """Give the pieces and samples of a job, in the order of the job file.

    Parameters
    ----------
    order : Order
        The job.
    mixes : mapping of Portion to Mix
        Its mixes.
    taken : sequence of tuple of OrderedPiece and Measurement
        Its drawings, measured.

    Returns
    -------
    tuple of CastPiece
        What is cast; test boards come with the days.

    Raises
    ------
    SurfaceError
        If a poured backer does not stand on walls whose way nobody told.
    BatchError
        If walls need a mix that the job does not tell, mixes contradict what it tells of walls,
        or cores leave no backer.

    Examples
    --------
    >>> from takeoff.files.job_file import read_order
    >>> from takeoff.files.mix_file import read_mix
    >>> from takeoff.job.ordered_pieces import measure_ordered
    >>> order = read_order("samples/ferry-hall/job.toml")
    >>> mixes = {portion: read_mix(one.mix) for portion, one in order.portions.items()}
    >>> taken = [(piece, measure_ordered(piece, order)) for piece in order.pieces]
    >>> [(one.name, one.count) for one in cast_pieces(order, mixes, taken)]
    [('ticket counter', 1), ('hearth surround', 1), ('wall panel', 6)]
    """
    refuse_misplaced(order, mixes)
    named = [
        (piece, one, _ways(one, piece, order, mixes))
        for piece, drawing in taken
        for one in named_pieces(piece, drawing)
    ]
    side_by_side = [ways_in_job(one, order, mixes) for _, one, _ in named]
    asked = [
        asked_piece(one.name, rows, ways, sha256="" if piece.sha256 else one.sha256[:SHORTEST])
        for (piece, one, ways), rows in zip(named, side_by_side, strict=True)
    ]
    if any(asked):
        raise way_refusal([one for one in asked if one is not None])
    wall_mix = mixes.get(Portion.WALL_BACKER)
    pieces = [
        CastPiece(
            one.name,
            piece.count,
            _volumes(one, piece, ways, wall_mix),
            forms=piece.forms,
            ordered=piece,
            measured=one,
            ways={wall: way for wall, way in ways.items() if way is not None},
            way_rows=rows,
        )
        for (piece, one, ways), rows in zip(named, side_by_side, strict=True)
    ]
    return (*pieces, *_samples(order))


def _ways(
    one: MeasuredPiece, piece: OrderedPiece, order: Order, mixes: Mapping[Portion, Mix]
) -> dict[str, Way | None]:
    try:
        return wall_ways(one, piece, order, mixes)
    except TakeoffError as error:
        raise error.within(piece.place) from None


def _volumes(
    one: MeasuredPiece, piece: OrderedPiece, ways: Mapping[str, Way | None], wall_mix: Mix | None
) -> tuple[PortionVolume, ...]:
    try:
        return portion_volumes(one, piece, ways, wall_mix)
    except TakeoffError as error:
        raise error.within(piece.place) from None


def board_pieces(
    order: Order, mixes: Mapping[Portion, Mix], counts: Mapping[Portion, int]
) -> tuple[CastPiece, ...]:
    """Give the test boards of a job.

    Parameters
    ----------
    order : Order
        The job.
    mixes : mapping of Portion to Mix
        Its mixes.
    counts : mapping of Portion to int
        How many are cast of each.

    Returns
    -------
    tuple of CastPiece
        One for each mix; none where the job asks for none.

    Examples
    --------
    >>> from takeoff.files.job_file import read_order
    >>> board_pieces(read_order("samples/ferry-hall/job.toml"), {}, {Portion.BACKER: 2})
    ()
    """
    boards = order.boards
    if boards is None:
        return ()
    volume_m3 = boards.area_m2 * boards.thickness_m
    return tuple(
        CastPiece(
            f"test board {mix.name}",
            counts[portion],
            (PortionVolume(portion, BOARD, volume_m3, volume_m3, volume_m3),),
        )
        for portion, mix in mixes.items()
        if counts.get(portion)
    )


def _samples(order: Order) -> Iterator[CastPiece]:
    """Lay the layers of the job flat on its samples."""
    for sample in order.samples:
        volumes = tuple(
            _flat(portion, sample.area_m2, ordered.thickness)
            for portion, ordered in order.portions.items()
            if portion is not Portion.WALL_BACKER and not ordered.thickness.fill
        )
        yield CastPiece(f"sample {sample.name}", sample.count, volumes)


def _flat(portion: Portion, area_m2: float, thickness: ClassThickness) -> PortionVolume:
    face = thickness.show_face
    low_m, high_m = face.ends_m
    return PortionVolume(portion, SAMPLE, area_m2 * face.aimed_m, area_m2 * low_m, area_m2 * high_m)


def form_notes(cast: Sequence[CastPiece]) -> Iterator[Note]:
    """Say where as many forms as castings are taken.

    Parameters
    ----------
    cast : sequence of CastPiece
        What is cast.

    Yields
    ------
    Note
        One for each piece cast several times whose forms nobody told.

    Examples
    --------
    >>> [note.where for note in form_notes([CastPiece("panel", 6, ()), CastPiece("top", 1, ())])]
    []
    """
    for piece in cast:
        if piece.ordered is not None and piece.forms is None and piece.count > 1:
            yield Note(
                NoteCode.DEFAULT_USED,
                f"as many forms as castings are taken, {piece.count}; tell forms in its [[piece]]",
                where=piece.name,
            )
