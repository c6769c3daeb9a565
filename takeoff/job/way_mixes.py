"""The mix that each way to cast a wall takes: the job's own, or a shipped one as an example."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass

from takeoff.files.mix_file import read_mix
from takeoff.mix.mixes import Mix, Placing
from takeoff.notes import Note, NoteCode
from takeoff.piece.ways import Way

PLACING_OF: Mapping[Way, Placing] = {
    Way.DAMMED: Placing.POURED,
    Way.CORED: Placing.POURED,
    Way.FILLED: Placing.POURED,
    Way.PACKED: Placing.PACKED,
    Way.SPRAYED: Placing.SPRAYED,
}
"""How the backer is placed in each way."""


@dataclass(frozen=True, slots=True)
class WayMix:
    """A backer that walls can be cast with.

    Parameters
    ----------
    mix : Mix
        The mix.
    lost_share : float, default 0
        Share of what is mixed that does not stay in the piece: sprayed past it, or spare. [-]
    told : bool, default True
        False for a shipped mix that stands in as an example.
    """

    mix: Mix
    lost_share: float = 0.0
    told: bool = True


def way_mixes(told: Iterable[WayMix]) -> dict[Placing, WayMix]:
    """Give a backer for each way of placing.

    Parameters
    ----------
    told : iterable of WayMix
        The backers of the job; of two that are placed alike, the first counts.

    Returns
    -------
    dict of Placing to WayMix
        The job's own, and ``backer-poured``, ``backer-packed`` or ``backer-sprayed`` where it
        has none that is so placed.

    Examples
    --------
    >>> mixes = way_mixes([WayMix(read_mix("backer-poured"))])
    >>> [(one.mix.name, one.told) for one in mixes.values()]
    [('backer-sprayed', False), ('backer-packed', False), ('backer-poured', True)]
    """
    own: dict[Placing, WayMix] = {}
    for one in told:
        own.setdefault(one.mix.placing, one)
    return {placing: own.get(placing) or _example(placing) for placing in Placing}


def _example(placing: Placing) -> WayMix:
    return WayMix(read_mix(f"backer-{placing.value}"), told=False)


def example_notes(mixes: Mapping[Placing, WayMix]) -> Iterator[Note]:
    """Say which ways are figured with an example, and where to tell the shop's own mix.

    Parameters
    ----------
    mixes : mapping of Placing to WayMix
        The mixes.

    Yields
    ------
    Note
        One for each example.

    Examples
    --------
    >>> [note.where for note in example_notes(way_mixes([WayMix(read_mix("backer-poured"))]))]
    ['backer-sprayed', 'backer-packed']
    """
    for placing, one in mixes.items():
        if one.told:
            continue
        ways = " or ".join(way.value for way, placed in PLACING_OF.items() if placed is placing)
        table = "[backer]" if placing is Placing.POURED else "[wall_backer]"
        yield Note(
            NoteCode.DEFAULT_USED,
            f"walls {ways} are figured with this shipped mix as an example, nothing of it lost, "
            f"since the job tells no backer that is {placing.value}; tell yours as "
            f"the mix of {table}",
            where=one.mix.name,
        )
