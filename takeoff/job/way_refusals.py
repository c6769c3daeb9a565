"""The refusal of poured walls whose way nobody told, or told one that cannot be followed."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field

from takeoff.errors import SurfaceError
from takeoff.job.way_rows import WayRow
from takeoff.piece.explaining import in_mm
from takeoff.piece.ways import Way

_STANDING = (
    "a poured backer runs level and stands on no wall deeper than the layers of the show face "
    "beside it; "
)
_ASKING = (
    "tell in the job file how each of these is cast, by the lines below at the end of its "
    "[[piece]], under its plain keys"
)
_FOR_ALL = (
    ', or for all walls by way = "dammed" under [backer], [backer.return] or [backer.upright]'
)
_MIX = "packed and sprayed walls take the mix of [wall_backer]"


@dataclass(frozen=True, slots=True)
class AskedPiece:
    """The walls of one piece that the job must still say something of.

    Parameters
    ----------
    name : str
        The piece.
    rows : tuple of WayRow
        All ways of those walls, and of no others.
    told : mapping of str to Way
        The way told of a wall, where it is one that cannot be followed.
    sha256 : str, default ""
        Beginning of the hash of the drawing, where the job does not name it yet.
    """

    name: str
    rows: tuple[WayRow, ...]
    told: Mapping[str, Way] = field(default_factory=dict)
    sha256: str = ""


def asked_piece(
    name: str, rows: Iterable[WayRow], told: Mapping[str, Way | None], *, sha256: str = ""
) -> AskedPiece | None:
    """Pick the walls of a piece whose way is missing, or cannot be followed.

    Parameters
    ----------
    name : str
        The piece.
    rows : iterable of WayRow
        The ways of its walls.
    told : mapping of str to Way or None
        The way told of every wall on which the backer does not stand; None where nobody told.
    sha256 : str, default ""
        Beginning of the hash of the drawing, where the job does not name it yet.

    Returns
    -------
    AskedPiece or None
        Those walls; None where the job says all that is needed.

    Examples
    --------
    >>> asked_piece("tray", [], {}) is None
    True
    """
    rows = tuple(rows)
    unfit = {
        row.surface: row.way
        for row in rows
        if not row.feasible and not row.stands and told.get(row.surface) is row.way
    }
    wanted = {wall for wall, way in told.items() if way is None} | set(unfit)
    asked = tuple(row for row in rows if row.surface in wanted)
    return AskedPiece(name, asked, unfit, sha256) if asked else None


def way_refusal(asked: Sequence[AskedPiece]) -> SurfaceError:
    r"""Give the refusal of all such walls of a job at once, with the lines to paste.

    Parameters
    ----------
    asked : sequence of AskedPiece
        The walls, piece by piece.

    Returns
    -------
    SurfaceError
        The refusal: what every way takes of every wall, then a way for each, to be pasted.

    Examples
    --------
    >>> from takeoff.files.job_file import read_order
    >>> from takeoff.files.mix_file import read_mix
    >>> from takeoff.job.ordered_pieces import measure_ordered
    >>> from takeoff.job.way_mixes import WayMix, way_mixes
    >>> from takeoff.job.way_rows import ways_of
    >>> order = read_order("samples/ferry-hall/job.toml")
    >>> panel = measure_ordered(order.pieces[2], order).pieces[0]
    >>> rows = ways_of(panel, way_mixes([WayMix(read_mix("backer-poured"))]),
    ...                face_coat=read_mix("face-coat-sprayed"))
    >>> print(way_refusal([AskedPiece("panel", rows[:5])]).text.partition("[wall_backer]\n")[2])
    panel
      R1, 60 mm deep:
        dammed or cored 2.69 L, inner form 0.107 m²
        filled 102.99 L
        packed or sprayed 2.69 L
    # at the end of the [[piece]] of panel, under its plain keys
    [piece.wall]
    R1 = "dammed"
    """
    lines = [line for piece in asked for line in _lines(piece)]
    return SurfaceError("\n".join([f"{_STANDING}{_wanted(asked)}; {_MIX}", *lines]))


def _wanted(asked: Sequence[AskedPiece]) -> str:
    """Say what is wanted: where ways are told that cannot be done, which, and others instead."""
    told = dict.fromkeys(way.value for piece in asked for way in piece.told.values())
    for_all = "" if _cannot(asked, Way.DAMMED) else _FOR_ALL
    if not told:
        return f"{_ASKING}{for_all}"
    ways = " and ".join(told)
    return (
        f"{ways} {'is' if len(told) == 1 else 'are'} told of walls on which that cannot be done, "
        f"for the reason below; {_ASKING}"
    )


def _cannot(asked: Sequence[AskedPiece], way: Way) -> bool:
    """Tell whether a way cannot be followed on some wall."""
    return any(row.way is way and not row.feasible for piece in asked for row in piece.rows)


def _lines(piece: AskedPiece) -> Iterator[str]:
    """Write the walls of one piece, those that take the same as one, and what to paste under it."""
    walls: dict[str, list[WayRow]] = {}
    for row in piece.rows:
        walls.setdefault(row.surface, []).append(row)
    alike: dict[tuple[str, ...], list[str]] = {}
    for wall, rows in walls.items():
        told = f" {piece.told[wall]} is told and cannot be done" if wall in piece.told else ""
        head = f"{in_mm(rows[0].depth_m)} deep:{told}"
        alike.setdefault((head, *_takings(rows)), []).append(wall)
    yield piece.name
    for (head, *takings), names in alike.items():
        yield f"  {', '.join(names)}, {head}"
        yield from (f"    {taking}" for taking in takings)
    if piece.sha256:
        yield f'sha256 = "{piece.sha256}"'
    yield f"# at the end of the [[piece]] of {piece.name}, under its plain keys"
    yield "[piece.wall]"
    for wall, rows in walls.items():
        first = next(row.way for row in rows if row.feasible)
        yield f'{wall} = "{first}"'


def _takings(rows: Sequence[WayRow]) -> Iterator[str]:
    """Write what the ways take, those that take the same side by side; then which are none."""
    alike: dict[str, list[str]] = {}
    for row in rows:
        figures = f"{row.volume_m3 * 1e3:.2f} L"
        if row.inner_form_m2 > 0.0:
            figures += f", inner form {row.inner_form_m2:.3f} m²"
        words = figures if row.feasible else f"not feasible: {row.fit.why}"
        alike.setdefault(words, []).append(row.way.value)
    for words, ways in alike.items():
        yield f"{' or '.join(ways)} {words}"
