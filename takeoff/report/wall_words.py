"""How walls are cast, in the words of a printed sheet: which of them are dammed, which filled."""

from __future__ import annotations

import re
from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from itertools import pairwise

from takeoff.documents import BidDocument
from takeoff.piece.ways import Way
from takeoff.pour_documents import CastWallRow, cast_wall_row

_ID = re.compile(r"(\D+)(\d+)")
_FILL = "fill"  # class of what fills a piece to the foot of its walls
_FEWEST = 3  # that are named as a run
_OF_OWN_MIX = frozenset({Way.PACKED, Way.SPRAYED})


def bid_walls(document: BidDocument) -> list[CastWallRow]:
    """Take the walls whose way is told out of a bid.

    Parameters
    ----------
    document : BidDocument
        The bid.

    Returns
    -------
    list of CastWallRow
        The walls, piece by piece.

    Examples
    --------
    >>> piece = {"name": "tray", "ways": {"U1": "cored"},
    ...          "surfaces": [{"id": "F1", "class": "show_face"}, {"id": "U1", "class": "upright"}]}
    >>> [(row["piece"], row["class"], row["way"]) for row in bid_walls({"pieces": [piece]})]
    [('tray', 'upright', 'cored')]
    """
    return [
        cast_wall_row(
            piece["name"],
            row["id"],
            surface_class=row["class"],
            way=piece["ways"][row["id"]],
        )
        for piece in document["pieces"]
        for row in piece["surfaces"]
        if row["id"] in piece["ways"]
    ]


def placed_walls(
    walls: Iterable[CastWallRow], portions: Collection[str], classes: Mapping[str, float]
) -> tuple[tuple[str, str], ...]:
    """Take the walls of a piece that a batch is placed on.

    Parameters
    ----------
    walls : iterable of CastWallRow
        Its walls whose way is told.
    portions : collection of str
        What the mix of the batch is in the job: packed and sprayed walls take the wall backer,
        all others the backer, and the face coat is the same on any.
    classes : mapping of str to float
        What the batch puts on each class of surface. [kg]

    Returns
    -------
    tuple of tuple of str
        Walls of these classes, and those that the batch fills the piece to: id and way.

    Examples
    --------
    >>> walls = [cast_wall_row("tray", "R1", surface_class="return", way="dammed"),
    ...          cast_wall_row("tray", "U1", surface_class="upright", way="packed")]
    >>> placed_walls(walls, ["backer"], {"return": 2.0, "upright": 0.0})
    (('R1', 'dammed'),)
    >>> placed_walls(walls, ["face_coat"], {"return": 2.0, "upright": 1.0})
    ()
    """
    return tuple(
        (row["surface"], row["way"])
        for row in walls
        if _portion(row["way"]) in portions
        and (
            classes.get(row["class"], 0.0) > 0.0
            or (row["way"] == Way.FILLED and classes.get(_FILL, 0.0) > 0.0)
        )
    )


def _portion(way: str) -> str:
    return "wall_backer" if way in _OF_OWN_MIX else "backer"


def wall_words(ways: Mapping[str, str]) -> str:
    """Say how walls are cast, way by way.

    Parameters
    ----------
    ways : mapping of str to str
        Way by id of the wall.

    Returns
    -------
    str
        The words; empty where there are no such walls.

    Examples
    --------
    >>> wall_words({"U1": "dammed", "U2": "dammed", "U3": "filled"})
    'U1, U2 dammed; U3 filled'
    >>> wall_words({"R1": "cored", "R2": "cored", "R3": "cored", "U1": "cored"})
    'R1 to R3, U1 cored'
    """
    by_way: dict[str, list[str]] = {}
    for wall, way in ways.items():
        by_way.setdefault(way, []).append(wall)
    return "; ".join(f"{', '.join(_runs(walls))} {way}" for way, walls in by_way.items())


def _runs(walls: Sequence[str]) -> Iterator[str]:
    """Name walls, those that are numbered one after the other by their ends."""
    cuts = [at for at, pair in enumerate(pairwise(walls), 1) if not _follows(*pair)]
    for start, end in pairwise([0, *cuts, len(walls)]):
        if end - start < _FEWEST:
            yield from walls[start:end]
        else:
            yield f"{walls[start]} to {walls[end - 1]}"


def _follows(first: str, second: str) -> bool:
    one, other = _ID.fullmatch(first), _ID.fullmatch(second)
    if one is None or other is None or one[1] != other[1]:
        return False
    return int(other[2]) == int(one[2]) + 1
