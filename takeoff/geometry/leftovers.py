"""What to think of lines that do not close: marks, repeats, or outlines with a gap."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import NDArray

from takeoff.geometry.arcs import flattened_run_m, run_lengths_m
from takeoff.geometry.chaining import Chain
from takeoff.geometry.outline_rules import OutlineRules

if TYPE_CHECKING:
    import shapely


@dataclass(frozen=True, slots=True, eq=False)
class Gap:
    """A gap that keeps an outline from closing.

    Parameters
    ----------
    ends_m : ndarray of float, shape (2, 2)
        The two ends that do not meet. [m]
    width_m : float
        How far apart they are. [m]
    sources : tuple of int
        Numbers of the entities of the outline.
    """

    ends_m: NDArray[np.float64]
    width_m: float
    sources: tuple[int, ...]


@dataclass(frozen=True, slots=True, eq=False)
class Leftovers:
    """Open chains, judged.

    Parameters
    ----------
    gaps : tuple of Gap
        Gaps in what is plainly meant to be an outline, widest first.
    repeats : tuple of Chain
        Chains that lie on the edge of a loop.
    marks : tuple of Chain
        The rest: centre lines, leaders, fold lines.
    """

    gaps: tuple[Gap, ...]
    repeats: tuple[Chain, ...]
    marks: tuple[Chain, ...]


def judged(
    open_chains: Sequence[Chain], loops: Sequence[Chain], *, rules: OutlineRules = OutlineRules()
) -> Leftovers:
    """Judge the chains that do not close.

    Parameters
    ----------
    open_chains : sequence of Chain
        The chains that do not close.
    loops : sequence of Chain
        Those that do.
    rules : OutlineRules, optional
        When an open chain is taken for an outline.

    Returns
    -------
    Leftovers
        Gaps, repeats and marks.

    Notes
    -----
    A chain is an outline with a gap if its ends are near each other for its length, if it bends
    about a closed loop, or if it closes together with other open chains across short gaps.

    Examples
    --------
    >>> hook_m = np.array([[0.0, 0.0], [1.0, 0.0], [1.0, 1.0], [0.0, 1.0], [0.0, 0.1]])
    >>> hook = Chain(hook_m, np.zeros(4), np.full(4, -1, dtype=np.int32), (0,))
    >>> round(judged([hook], []).gaps[0].width_m, 9)
    0.1
    """
    import shapely

    if not open_chains:
        return Leftovers((), (), ())
    shapes = [shapely.LineString(_flat_m(loop, rules)) for loop in loops]
    edges = shapely.MultiLineString(shapes)
    shapely.prepare(edges)
    repeats = [chain for chain in open_chains if _lies_on(chain, edges, rules)]
    rest = [chain for chain in open_chains if not any(chain is other for other in repeats)]
    tree = shapely.STRtree(shapes)
    gaps, free = [], []
    for chain in rest:
        gap = _own_gap(chain)
        length_m = float(run_lengths_m(chain.points_m, chain.bulges).sum())
        hull = shapely.LineString(_flat_m(chain, rules)).convex_hull
        about = len(tree.query(hull, predicate="contains_properly"))
        if gap.width_m <= rules.open_gap_share * length_m or about:
            gaps.append(gap)
        else:
            free.append(chain)
    together, marks = _closing_together(free, rules)
    gaps = sorted([*gaps, *together], key=lambda gap: -gap.width_m)
    return Leftovers(tuple(gaps), tuple(repeats), tuple(marks))


def _flat_m(chain: Chain, rules: OutlineRules) -> NDArray[np.float64]:
    """Give a chain as points alone."""
    return flattened_run_m(chain.points_m, chain.bulges, chord_m=rules.chord_m)


def _own_gap(chain: Chain) -> Gap:
    """Give the gap between the two ends of a chain."""
    ends_m = chain.points_m[[0, -1]]
    ends_m = ends_m[np.lexsort((ends_m[:, 0], ends_m[:, 1]))]
    return Gap(ends_m, float(np.hypot(*(ends_m[1] - ends_m[0]))), chain.sources)


def _lies_on(chain: Chain, edges: shapely.Geometry, rules: OutlineRules) -> bool:
    """Tell whether every point of a chain lies on the edges of the loops."""
    import shapely

    flat_m = _flat_m(chain, rules)
    between_m = [
        flat_m[:-1] + share * np.diff(flat_m, axis=0) for share in (0.0, 0.25, 0.5, 0.75, 1.0)
    ]
    points = shapely.points(np.concatenate(between_m))
    return bool(shapely.dwithin(edges, points, rules.join_m).all())


def _closing_together(
    chains: Sequence[Chain], rules: OutlineRules
) -> tuple[list[Gap], list[Chain]]:
    """Try open chains as one outline across short gaps; give its gaps, and the chains not used."""
    links = _links(chains, rules)
    partner = {end: other for pair in links for end, other in (pair, pair[::-1])}
    used: set[int] = set()
    gaps = []
    for first in range(len(chains)):
        ring = _ring_from(2 * first, partner)
        members = [end // 2 for end in ring]
        bent = any(len(chains[k].bulges) > 1 or chains[k].bulges.any() for k in members)
        if first in used or not ring or not (bent or len(members) > 2):
            continue
        used.update(members)
        sources = tuple(sorted({source for k in members for source in chains[k].sources}))
        for end in ring:
            ends_m = np.array([_end_m(chains, end), _end_m(chains, partner[end])])
            gaps.append(Gap(ends_m, float(np.hypot(*(ends_m[1] - ends_m[0]))), sources))
    return gaps, [chain for k, chain in enumerate(chains) if k not in used]


def _end_m(chains: Sequence[Chain], end: int) -> NDArray[np.float64]:
    """Give the point of an end: 2 k is the start of chain k, 2 k + 1 its end."""
    point_m: NDArray[np.float64] = chains[end // 2].points_m[-(end % 2)]
    return point_m


def _links(chains: Sequence[Chain], rules: OutlineRules) -> list[tuple[int, int]]:
    """Pair the ends of different chains, nearest first, across gaps short for their lengths."""
    from scipy.spatial import cKDTree

    if len(chains) < 2:
        return []
    ends_m = np.array([_end_m(chains, end) for end in range(2 * len(chains))])
    lengths_m = np.array([run_lengths_m(chain.points_m, chain.bulges).sum() for chain in chains])
    reach_m = rules.near_gap_share * np.repeat(lengths_m, 2)
    near_m, near = cKDTree(ends_m).query(ends_m, k=min(len(ends_m), 8))
    pairs = sorted(
        (float(gap_m), min(end, int(other)), max(end, int(other)))
        for end, (gaps_m, others) in enumerate(zip(near_m, near, strict=True))
        for gap_m, other in zip(gaps_m, others, strict=True)
        if end // 2 != other // 2 and gap_m <= min(reach_m[end], reach_m[other])
    )
    taken: set[int] = set()
    links = []
    for _, end, other in pairs:
        if not {end, other} & taken:
            taken |= {end, other}
            links.append((end, other))
    return links


def _ring_from(end: int, partner: dict[int, int]) -> list[int]:
    """Follow chains from end to linked end; give the ends left by, if it comes round."""
    ring = []
    at = end
    while at ^ 1 in partner:
        ring.append(at ^ 1)
        at = partner[at ^ 1]
        if at == end:
            return ring
    return []
