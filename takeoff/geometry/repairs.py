"""What was put right in a mesh, kind by kind."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from enum import StrEnum


class Defect(StrEnum):
    """A kind of defect, in the words of its repair."""

    NO_AREA = "facets without area dropped"
    DUPLICATE = "duplicate facets dropped"
    TWO_SIDED = "facets drawn from both sides counted once"
    BACK_TO_BACK = "facets back to back inside a solid dropped"
    TOUCHING = "facets of shared faces between touching bodies dropped"
    CONTACT = "shared faces of touching bodies taken out"
    GAP = "points joined across hairline gaps"
    SEAM = "facets split where corners meet their edges"
    WINDING = "facets wound against their neighbours turned"
    INSIDE_OUT = "facets of inside-out bodies turned"


@dataclass(frozen=True, slots=True)
class Repair:
    """One kind of defect that was put right.

    Parameters
    ----------
    what : Defect
        The defect.
    count : int
        How many of them.
    """

    what: Defect
    count: int


def summed(repairs: Iterable[Repair]) -> tuple[Repair, ...]:
    """Add up repairs of the same kind.

    Parameters
    ----------
    repairs : iterable of Repair
        In any order.

    Returns
    -------
    tuple of Repair
        One of each kind, in the order of first appearance.

    Examples
    --------
    >>> total = summed([Repair(Defect.GAP, 1), Repair(Defect.SEAM, 2), Repair(Defect.GAP, 3)])
    >>> [(repair.what.value, repair.count) for repair in total]
    [('points joined across hairline gaps', 4), ('facets split where corners meet their edges', 2)]
    """
    counts: dict[Defect, int] = {}
    for repair in repairs:
        counts[repair.what] = counts.get(repair.what, 0) + repair.count
    return tuple(Repair(what, count) for what, count in counts.items())
