"""Flat patches, which may touch or overlap, united into the loops that bound them."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING

import numpy as np

from takeoff.geometry.chaining import Chain
from takeoff.geometry.outline_rules import OutlineRules

if TYPE_CHECKING:
    import shapely


def loops_about(
    patches: Sequence[Chain], *, rules: OutlineRules = OutlineRules()
) -> tuple[Chain, ...]:
    """Give the loops that bound what some patches cover together.

    Parameters
    ----------
    patches : sequence of Chain
        Closed chains of straight lines, each the boundary of one patch.
    rules : OutlineRules, optional
        Which points are one.

    Returns
    -------
    tuple of Chain
        Outer loops and the holes that the patches leave; a patch that crosses itself is given
        as it stands, for it bounds nothing that can be told.

    Examples
    --------
    >>> square_m = np.array([[0.0, 0.0], [1.0, 0.0], [1.0, 1.0], [0.0, 1.0], [0.0, 0.0]])
    >>> lines, no_curve = np.zeros(4), np.full(4, -1, dtype=np.int32)
    >>> beside_m = square_m + [1.0, 0.0]
    >>> tiles = [Chain(square_m, lines, no_curve, (0,)), Chain(beside_m, lines, no_curve, (1,))]
    >>> [whole] = loops_about(tiles)
    >>> whole.sources, np.ptp(whole.points_m, axis=0).tolist()
    ((0, 1), [2.0, 1.0])
    """
    import shapely

    shapes = shapely.polygons([patch.points_m for patch in patches])
    sound = shapely.is_valid(shapes)
    crossed = [patch for patch, is_sound in zip(patches, sound, strict=True) if not is_sound]
    kept = [patch for patch, is_sound in zip(patches, sound, strict=True) if is_sound]
    covered = shapely.union_all(shapes[sound], grid_size=rules.same_point_m)
    tree = shapely.STRtree(shapely.point_on_surface(shapes[sound]))
    loops: list[Chain] = []
    for part in shapely.get_parts(covered):
        numbers = tree.query(part, predicate="intersects")
        sources = tuple(sorted({source for k in numbers for source in kept[k].sources}))
        loops += _rings(part, sources)
    return (*loops, *crossed)


def _rings(part: shapely.Polygon, sources: tuple[int, ...]) -> Iterator[Chain]:
    """Give the outer loop of a polygon and its holes."""
    for ring in (part.exterior, *part.interiors):
        points_m = np.array(ring.coords)[:, :2]
        count = len(points_m) - 1
        yield Chain(points_m, np.zeros(count), np.full(count, -1, dtype=np.int32), sources)
