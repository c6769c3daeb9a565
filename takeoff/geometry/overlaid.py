"""Where filled areas of several entities lie over one another."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import NDArray

from takeoff.geometry.arcs import flattened_run_m, run_lengths_m
from takeoff.geometry.chaining import Chain
from takeoff.geometry.nesting import Region, nested
from takeoff.geometry.outline_rules import OutlineRules

if TYPE_CHECKING:
    import shapely


def overlaid_at_m(
    loops: Sequence[Chain], regions: Sequence[Region], *, rules: OutlineRules = OutlineRules()
) -> NDArray[np.float64] | None:
    """Find a point that two entities fill and that the regions of all loops together leave out.

    Parameters
    ----------
    loops : sequence of Chain
        Closed chains; those of one entity name the same sources.
    regions : sequence of Region
        What all the loops bound together, nested by the even-odd rule.
    rules : OutlineRules, optional
        What is too little to count.

    Returns
    -------
    ndarray of float, shape (2,), or None
        A point in the largest part left out; None where each entity fills its own place. [m]

    Notes
    -----
    An area filled inside an area filled by another entity is an inlay or a second pattern, not
    an opening, though its boundary is nested like one.

    Examples
    --------
    >>> square_m = np.array([[0.0, 0.0], [4.0, 0.0], [4.0, 4.0], [0.0, 4.0], [0.0, 0.0]])
    >>> lines, no_curve = np.zeros(4), np.full(4, -1, dtype=np.int32)
    >>> inner_m = 1.0 + square_m / 2.0
    >>> fills = [Chain(square_m, lines, no_curve, (0,)), Chain(inner_m, lines, no_curve, (1,))]
    >>> overlaid_at_m(fills, nested(fills).regions).tolist()
    [2.0, 2.0]
    """
    import shapely

    by_entity: dict[tuple[int, ...], list[Chain]] = {}
    for loop in loops:
        by_entity.setdefault(loop.sources, []).append(loop)
    if len(by_entity) < 2:
        return None
    alone = [
        polygon
        for own in by_entity.values()
        for polygon in _polygons(own, nested(own, rules=rules).regions, rules)
    ]
    together = shapely.union_all(list(_polygons(loops, regions, rules)))
    lost = shapely.difference(shapely.union_all(alone), together)
    length_m = sum(float(run_lengths_m(loop.points_m, loop.bulges).sum()) for loop in loops)
    if lost.area <= rules.sliver_m2 + rules.join_m * length_m:
        return None
    largest = max(shapely.get_parts(lost), key=lambda part: float(part.area))
    point = shapely.point_on_surface(largest)
    return np.array([point.x, point.y])


def _polygons(
    loops: Sequence[Chain], regions: Iterable[Region], rules: OutlineRules
) -> Iterator[shapely.Polygon]:
    """Give regions with chords in place of their arcs."""
    import shapely

    for region in regions:
        outer, *holes = (
            flattened_run_m(loops[k].points_m, loops[k].bulges, chord_m=rules.chord_m)
            for k in (region.outer, *region.holes)
        )
        yield shapely.Polygon(outer, holes)
