"""Whether a closed loop crosses itself, and where."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import NDArray

from takeoff.geometry.chaining import Chain
from takeoff.geometry.outline_rules import OutlineRules
from takeoff.geometry.runs import flattened_runs_m, runs_of

if TYPE_CHECKING:
    import shapely

Array = NDArray[np.float64]


@dataclass(frozen=True, slots=True, eq=False)
class LoopShape:
    """A loop as a polygon, or the point that keeps it from being one.

    Parameters
    ----------
    polygon : shapely geometry
        The region inside, flattened; empty where the loop crosses itself.
    crossing_m : ndarray of float, shape (2,), or None
        Where the loop crosses itself or runs along itself. [m]
    """

    polygon: shapely.Geometry
    crossing_m: Array | None = None


def loop_shapes(loops: Sequence[Chain], *, rules: OutlineRules = OutlineRules()) -> list[LoopShape]:
    """Make a polygon of each closed loop, or find where it crosses itself.

    Parameters
    ----------
    loops : sequence of Chain
        Closed chains.
    rules : OutlineRules, optional
        How closely arcs are followed, and what area is too little to count.

    Returns
    -------
    list of LoopShape
        The polygon of each, or its crossing.

    Notes
    -----
    A loop may touch itself in a point: what decides is how often it winds about each of the
    regions it parts the plane into. Every count must be 0, or all others the same 1 or -1.

    Examples
    --------
    >>> bow_tie = np.array([[0.0, 0.0], [1.0, 0.0], [0.0, 0.6], [1.0, 0.6], [0.0, 0.0]])
    >>> loop = Chain(bow_tie, np.zeros(4), np.full(4, -1, dtype=np.int32), (0,))
    >>> loop_shapes([loop])[0].crossing_m.round(9).tolist()
    [0.5, 0.3]
    """
    import shapely

    if not loops:
        return []
    runs = runs_of([loop.points_m for loop in loops], [loop.bulges for loop in loops])
    flat_m, counts = flattened_runs_m(runs, chord_m=rules.chord_m)
    rings_m = np.split(flat_m, np.cumsum(counts)[:-1])
    polygons = np.full(len(loops), shapely.Polygon(), dtype=object)
    real = counts > 3
    if real.any():
        owner = np.repeat(np.arange(int(real.sum())), counts[real])
        rings = shapely.linearrings(flat_m[np.repeat(real, counts)], indices=owner)
        polygons[real] = shapely.polygons(rings)
    shapes = [LoopShape(polygon) for polygon in polygons]
    for number in np.flatnonzero(~shapely.is_valid(polygons)):
        shapes[number] = _parted(rings_m[number], rules)
    return shapes


def _parted(ring_m: Array, rules: OutlineRules) -> LoopShape:
    """Part the plane by a ring; give the region it winds about once, or a point of crossing."""
    import shapely

    origin_m, ring_m = ring_m[0], ring_m - ring_m[0]  # near the origin nothing is rounded off
    crossed_m = _many_crossings(ring_m, rules)
    if crossed_m is not None:
        return LoopShape(shapely.Polygon(), crossed_m + origin_m)
    noded = shapely.node(shapely.LineString(ring_m))
    edges = shapely.get_parts(noded)
    faces = shapely.get_parts(shapely.polygonize(edges))
    sliver_m2 = rules.join_m * float(np.hypot(*np.diff(ring_m, axis=0).T).sum())
    faces = faces[shapely.area(faces) > min(rules.sliver_m2, sliver_m2)]
    if not len(faces):
        return LoopShape(shapely.Polygon())
    winds = np.array([_winding(ring_m, face.representative_point()) for face in faces], dtype=int)
    drawn_m, noded_m = shapely.LineString(ring_m).length, noded.length
    main = int(np.sign(float(winds @ shapely.area(faces))))
    wrong = (winds != 0) & (winds != main)
    if not wrong.any() and drawn_m - noded_m <= rules.join_m:
        region = shapely.union_all(faces[winds != 0])
        return LoopShape(shapely.transform(region, lambda points_m: points_m + origin_m))
    ends_m = np.concatenate([shapely.get_coordinates(edge)[[0, -1]] for edge in edges])
    nodes_m, counts = np.unique(ends_m, axis=0, return_counts=True)
    met_m = nodes_m[counts > 2] if (counts > 2).any() else ring_m[:1]
    if wrong.any():
        reach_m = shapely.distance(shapely.points(met_m), faces[wrong][0])
        met_m = met_m[reach_m <= reach_m.min() + rules.same_point_m]
    lowest_m = met_m[np.lexsort((met_m[:, 0], met_m[:, 1]))[0]]
    return LoopShape(shapely.Polygon(), lowest_m + origin_m)


def _many_crossings(ring_m: Array, rules: OutlineRules) -> Array | None:
    """Give a point of crossing where a ring crosses itself too often to look at each."""
    import shapely

    chords = shapely.linestrings(np.stack([ring_m[:-1], ring_m[1:]], axis=1))
    tree = shapely.STRtree(chords)
    count = 0
    for start in range(0, len(chords), rules.batch_count):
        batch = chords[start : start + rules.batch_count]
        first, second = tree.query(batch, predicate="crosses")
        count += len(first)
        if count > 2 * rules.crossings_count:
            meeting = shapely.intersection(batch[first], chords[second])
            points_m = shapely.get_coordinates(meeting)
            lowest_m: Array = points_m[np.lexsort((points_m[:, 0], points_m[:, 1]))[0]]
            return lowest_m
    return None


def _winding(ring_m: Array, point: shapely.Point) -> int:
    """Count how often a ring winds about a point, counter-clockwise."""
    x, y = ring_m[:, 0] - point.x, ring_m[:, 1] - point.y
    left = x[:-1] * y[1:] - x[1:] * y[:-1]
    up = (y[:-1] <= 0.0) & (y[1:] > 0.0) & (left > 0.0)
    down = (y[:-1] > 0.0) & (y[1:] <= 0.0) & (left < 0.0)
    return int(up.sum()) - int(down.sum())
