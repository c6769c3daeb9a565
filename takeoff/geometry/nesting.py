"""Closed loops nested into regions: which is outer, which is a hole, and which cannot be told."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import NDArray

from takeoff.errors import OutlineError
from takeoff.geometry.chaining import Chain
from takeoff.geometry.crossings import LoopShape, loop_shapes
from takeoff.geometry.outline_rules import OutlineRules
from takeoff.geometry.runs import areas_of_runs_m2, lengths_of_runs_m, runs_of

if TYPE_CHECKING:
    import shapely


@dataclass(frozen=True, slots=True, eq=False)
class Crossing:
    """A point where a loop crosses itself or another one.

    Parameters
    ----------
    at_m : ndarray of float, shape (2,)
        The point. [m]
    loops : tuple of int
        Number of the loop, or of the two, in the order given.
    """

    at_m: NDArray[np.float64]
    loops: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class Region:
    """An outer loop with its holes, as numbers of the loops given.

    Parameters
    ----------
    outer : int
        The outer loop.
    holes : tuple of int
        Its holes, largest first.
    depth : int
        How many loops lie about it: 0 where it lies in nothing, 2 for an island in a hole.
    """

    outer: int
    holes: tuple[int, ...]
    depth: int


@dataclass(frozen=True, slots=True)
class Nested:
    """What nesting made of the loops.

    Parameters
    ----------
    regions : tuple of Region
        Largest outer loop first; none where loops cross.
    crossings : tuple of Crossing
        Where loops cross themselves or each other.
    repeats : tuple of int
        Loops dropped since they repeat another.
    empty : tuple of int
        Loops dropped since they hold no area.
    """

    regions: tuple[Region, ...]
    crossings: tuple[Crossing, ...]
    repeats: tuple[int, ...]
    empty: tuple[int, ...]


def region_areas_m2(loops: Sequence[Chain], regions: Sequence[Region]) -> NDArray[np.float64]:
    """Give the area of each region, net of its holes.

    Parameters
    ----------
    loops : sequence of Chain
        The closed chains that the regions number.
    regions : sequence of Region
        Outer loops with their holes.

    Returns
    -------
    ndarray of float, shape (n,)
        Areas. [m²]

    Examples
    --------
    >>> square = np.array([[0.0, 0.0], [1.0, 0.0], [1.0, 1.0], [0.0, 1.0], [0.0, 0.0]])
    >>> loop = Chain(square, np.zeros(4), np.full(4, -1, dtype=np.int32), (0,))
    >>> region_areas_m2([loop], [Region(0, (), 0)]).tolist()
    [1.0]
    """
    if not loops:
        return np.zeros(0)
    runs = runs_of([loop.points_m for loop in loops], [loop.bulges for loop in loops])
    areas_m2 = np.abs(areas_of_runs_m2(runs))
    return np.array(
        [areas_m2[region.outer] - areas_m2[list(region.holes)].sum() for region in regions]
    )


@dataclass(frozen=True, slots=True, eq=False)
class _Ranked:
    """A sound loop with what comparing it needs."""

    number: int
    shape: LoopShape
    area_m2: float
    slack_m2: float


def nested(loops: Sequence[Chain], *, rules: OutlineRules = OutlineRules()) -> Nested:
    """Nest closed loops by the even-odd rule.

    Parameters
    ----------
    loops : sequence of Chain
        Closed chains in any order and direction.
    rules : OutlineRules, optional
        What is too little to count.

    Returns
    -------
    Nested
        Regions, or the crossings that stand in the way, the first few of them.

    Raises
    ------
    OutlineError
        If more loops lie in one another than the rules allow.

    Notes
    -----
    Two loops may touch: an overlap thinner than ``join_m`` is no crossing. A loop that repeats
    another is dropped first, since the even-odd rule would take it for a hole that fills it.

    Examples
    --------
    >>> square = np.array([[0.0, 0.0], [1.0, 0.0], [1.0, 1.0], [0.0, 1.0], [0.0, 0.0]])
    >>> def chain(points_m):
    ...     return Chain(points_m, np.zeros(4), np.full(4, -1, dtype=np.int32), (0,))
    >>> nested([chain(0.5 * square + 0.25), chain(square)]).regions
    (Region(outer=1, holes=(0,), depth=0),)
    """
    shapes = loop_shapes(loops, rules=rules)
    crossings = [
        Crossing(shape.crossing_m, (number,))
        for number, shape in enumerate(shapes)
        if shape.crossing_m is not None
    ]
    ranked, empty = _ranked(loops, shapes, rules)
    ranked, repeats = _without_twins(ranked, loops)
    holders: dict[int, list[int]] = {loop.number: [] for loop in ranked}
    for large, small, holds in _meeting(ranked, repeats, rules):
        if len(crossings) >= rules.crossings_count:
            break
        if {large.number, small.number} & repeats:
            continue
        relation = "inside" if holds else _relation(large, small, rules)
        if relation == "crosses":
            crossings.append(_mutual_crossing(large, small))
        elif relation == "repeats":
            repeats.add(small.number)
        elif relation == "inside":
            holders[small.number].append(large.number)
    regions = () if crossings else _regions([loop.number for loop in ranked], holders, repeats)
    return Nested(regions, tuple(crossings), tuple(sorted(repeats)), tuple(empty))


def _ranked(
    loops: Sequence[Chain], shapes: Sequence[LoopShape], rules: OutlineRules
) -> tuple[list[_Ranked], list[int]]:
    """Put the sound loops in order, largest first, and name those that hold no area."""
    if not loops:
        return [], []
    runs = runs_of([loop.points_m for loop in loops], [loop.bulges for loop in loops])
    ranked, empty = [], []
    for number, (shape, area_m2, length_m) in enumerate(
        zip(shapes, np.abs(areas_of_runs_m2(runs)), lengths_of_runs_m(runs), strict=True)
    ):
        if shape.crossing_m is not None:
            continue
        edge_m2 = rules.join_m * float(length_m)
        if area_m2 <= min(rules.sliver_m2, edge_m2) or shape.polygon.is_empty:
            empty.append(number)
            continue
        slack_m2 = min(max(rules.sliver_m2, edge_m2), rules.open_gap_share * area_m2)
        ranked.append(_Ranked(number, shape, float(area_m2), float(slack_m2)))
    ranked.sort(key=lambda loop: _by_size_and_place(loop, rules))
    return ranked, empty


def _without_twins(
    ranked: Sequence[_Ranked], loops: Sequence[Chain]
) -> tuple[list[_Ranked], set[int]]:
    """Drop loops that repeat another to the last digit: found without comparing every two."""
    first: dict[tuple[bytes, bytes], _Ranked] = {}
    for loop in ranked:
        chain = loops[loop.number]
        first.setdefault((chain.points_m.tobytes(), chain.bulges.tobytes()), loop)
    kept = list(first.values())
    return kept, {loop.number for loop in ranked} - {loop.number for loop in kept}


def _by_size_and_place(loop: _Ranked, rules: OutlineRules) -> tuple[float, ...]:
    """Give what loops are sorted by: area, then the lowest, then the leftmost."""
    left_m, low_m, _, _ = loop.shape.polygon.bounds
    area_step, place_step = rules.sliver_m2, rules.same_point_m
    return (-round(loop.area_m2 / area_step), round(low_m / place_step), round(left_m / place_step))


def _meeting(
    ranked: Sequence[_Ranked], repeats: set[int], rules: OutlineRules
) -> Iterator[tuple[_Ranked, _Ranked, bool]]:
    """Give each two loops whose regions meet, the larger first, and whether it holds the other.

    Loops that turn out to repeat another meanwhile are passed over.
    """
    import shapely

    polygons = np.array([loop.shape.polygon for loop in ranked], dtype=object)
    tree = shapely.STRtree(polygons)
    count = 0
    for number, large in enumerate(ranked):
        if large.number in repeats:
            continue
        shapely.prepare(polygons[number])
        met = np.sort(tree.query(polygons[number], predicate="intersects"))
        held = set(tree.query(polygons[number], predicate="contains_properly").tolist())
        smaller = met[met > number].tolist()
        count += len(smaller)
        if count > rules.pairs_count:
            raise OutlineError(
                f"more than {rules.pairs_count} pairs of outlines lie in or over one another"
            )
        for other in smaller:
            yield large, ranked[other], other in held


def _relation(large: _Ranked, small: _Ranked, rules: OutlineRules) -> str:
    """Tell how a smaller loop lies to a larger one: apart, inside, repeats or crosses."""
    import shapely

    whole, part = large.shape.polygon, small.shape.polygon
    shared = shapely.intersection(whole, part)
    if _is_thin(shared, small.slack_m2, rules):
        return "apart"
    if not _is_thin(shapely.difference(part, shared), small.slack_m2, rules):
        return "crosses"
    alike = _is_thin(shapely.difference(whole, shared), large.slack_m2, rules)
    return "repeats" if alike else "inside"


def _is_thin(region: shapely.Geometry, slack_m2: float, rules: OutlineRules) -> bool:
    """Tell whether a region is nowhere wider than a gap that is closed without asking."""
    import shapely

    if region.area > slack_m2:
        return False
    return bool(shapely.buffer(region, -0.5 * rules.join_m).is_empty)


def _mutual_crossing(large: _Ranked, small: _Ranked) -> Crossing:
    """Give the lowest, then leftmost point where the edges of two loops meet."""
    import shapely

    meeting = shapely.intersection(large.shape.polygon.boundary, small.shape.polygon.boundary)
    points_m = shapely.get_coordinates(meeting)
    lowest_m = points_m[np.lexsort((points_m[:, 0], points_m[:, 1]))[0]]
    return Crossing(lowest_m, (large.number, small.number))


def _regions(
    numbers: Sequence[int], holders: dict[int, list[int]], repeats: set[int]
) -> tuple[Region, ...]:
    """Make regions by the even-odd rule: a loop inside an odd number of others is a hole."""
    depth: dict[int, int] = {}
    holes: dict[int, list[int]] = {}
    for number in numbers:
        if number in repeats:
            continue
        smallest_holder = holders[number][-1] if holders[number] else None
        depth[number] = 0 if smallest_holder is None else depth[smallest_holder] + 1
        if depth[number] % 2 and smallest_holder is not None:
            holes[smallest_holder].append(number)
        else:
            holes[number] = []
    return tuple(Region(number, tuple(inside), depth[number]) for number, inside in holes.items())
