"""Lines and arcs drawn more than once, wholly or in part, brought down to one each."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from takeoff.errors import OutlineError
from takeoff.geometry.arcs import arc_centres_m, arc_middles_m, run_lengths_m
from takeoff.geometry.outline_rules import OutlineRules
from takeoff.geometry.strokes import Stroke, stroke_lengths_m


@dataclass(frozen=True, slots=True, eq=False)
class Cleaned:
    """Open strokes without their repeats.

    Parameters
    ----------
    strokes : tuple of Stroke
        Single lines, single arcs and whole curves, none lying on another.
    repeats : int
        How many lay wholly on another and were dropped.
    overlaps : int
        How many lay partly on another and were cut back.
    """

    strokes: tuple[Stroke, ...]
    repeats: int
    overlaps: int


def without_repeats(strokes: Sequence[Stroke], *, rules: OutlineRules = OutlineRules()) -> Cleaned:
    """Break open strokes into lines, arcs and curves, and drop what is drawn twice.

    Parameters
    ----------
    strokes : sequence of Stroke
        Open strokes.
    rules : OutlineRules, optional
        How near two strokes must lie to be one.

    Returns
    -------
    Cleaned
        What is left, with the counts.

    Raises
    ------
    OutlineError
        If more lines or arcs lie on one another than the rules allow.

    Notes
    -----
    Lines on one line (and arcs on one circle) that overlap are cut at each other's ends, and each
    stretch is kept once.

    Examples
    --------
    >>> there = Stroke(np.array([[0.0, 0.0], [2.0, 0.0]]), np.zeros(1), 0)
    >>> back = Stroke(np.array([[2.0, 0.0], [1.0, 0.0]]), np.zeros(1), 1)
    >>> cleaned = without_repeats([there, back])
    >>> cleaned.repeats, cleaned.overlaps, len(cleaned.strokes)
    (1, 0, 2)
    """
    single = _parts(strokes, rules)
    if not single:
        return Cleaned((), 0, 0)
    distinct = _drop_equal(single, rules)
    lines = [part for part in distinct if not part.curve and not part.bulges[0]]
    arcs = [part for part in distinct if not part.curve and part.bulges[0]]
    curves = [part for part in distinct if part.curve]
    repeats, overlaps = len(single) - len(distinct), 0
    kept = curves
    for parts, groups, cut in (
        (lines, _collinear_groups(lines, rules), _cut_lines),
        (arcs, _concentric_groups(arcs, rules), _cut_arcs),
    ):
        for group in groups:
            members = [parts[number] for number in group]
            if len(members) == 1:
                kept += members
                continue
            _refuse_too_many(len(members) ** 2 // 2, rules)
            left, dropped = cut(members, rules)
            kept += left
            repeats += dropped
            overlaps += len(members) - dropped - 1
    return Cleaned(tuple(kept), repeats, overlaps)


def _parts(strokes: Sequence[Stroke], rules: OutlineRules) -> list[Stroke]:
    """Break strokes into single lines and arcs, unless they are curves; leave out empty ones."""
    parts = []
    for stroke in strokes:
        if stroke.curve or len(stroke.bulges) == 1:
            parts.append(stroke)
            continue
        long = run_lengths_m(stroke.points_m, stroke.bulges) > rules.same_point_m
        parts += [
            Stroke(stroke.points_m[k : k + 2], stroke.bulges[k : k + 1], stroke.source)
            for k in np.flatnonzero(long)
        ]
    return parts


def _drop_equal(parts: Sequence[Stroke], rules: OutlineRules) -> list[Stroke]:
    """Drop every part that another one equals in ends, middle and length, in either direction."""
    if len(parts) < 2:
        return list(parts)
    marks = _marks(parts)
    _, distinct = np.unique(marks, axis=0, return_index=True)
    dropped = np.ones(len(parts), dtype=bool)
    dropped[distinct] = False  # those equal to the last digit are not compared two by two
    distinct.sort()
    pairs = _near_pairs(marks[distinct], rules.same_point_m, rules)
    for first, second in distinct[pairs[np.lexsort(pairs.T[::-1])]]:
        if not dropped[first]:
            dropped[second] = True
    return [part for part, drop in zip(parts, dropped, strict=True) if not drop]


def _refuse_too_many(pairs_count: int, rules: OutlineRules) -> None:
    """Refuse more pairs of lines or arcs on one another than can be kept in memory."""
    if pairs_count > rules.alike_count:
        raise OutlineError(
            f"more than {rules.alike_count} pairs of lines or arcs lie on one another; draw each "
            "outline once"
        )


def _near_pairs(
    marks: NDArray[np.float64], within_m: float, rules: OutlineRules
) -> NDArray[np.intp]:
    """Give the pairs of parts whose figures are alike; refuse more than can be kept."""
    from scipy.spatial import cKDTree

    tree = cKDTree(marks)
    _refuse_too_many((int(tree.count_neighbors(tree, within_m)) - len(marks)) // 2, rules)
    return np.asarray(tree.query_pairs(within_m, output_type="ndarray"), dtype=np.intp)


def _marks(parts: Sequence[Stroke]) -> NDArray[np.float64]:
    """Give figures for each part that are the same for equal ones, whichever way they run."""
    starts_m = np.array([part.points_m[0] for part in parts])
    ends_m = np.array([part.points_m[-1] for part in parts])
    steps_m = ends_m - starts_m
    spread_m = np.abs(steps_m)
    rising_m = np.where(steps_m.prod(axis=1) > 0.0, spread_m.min(axis=1), 0.0)
    bulges = np.array([part.bulges[0] for part in parts])
    to_right_m = np.column_stack([steps_m[:, 1], -steps_m[:, 0]])
    middles_m = 0.5 * (starts_m + ends_m + bulges[:, None] * to_right_m)
    for number, part in enumerate(parts):
        if part.curve:
            middles_m[number] = arc_middles_m(part.points_m, part.bulges).mean(axis=0)
    return np.column_stack(
        [starts_m + ends_m, spread_m, rising_m, middles_m, stroke_lengths_m(parts)]
    )


def _linked(count: int, pairs: NDArray[np.intp]) -> list[list[int]]:
    """Group numbers that are linked by pairs, singles too, in rising order of the first."""
    from scipy.sparse import coo_array
    from scipy.sparse.csgraph import connected_components

    links = coo_array((np.ones(len(pairs)), (pairs[:, 0], pairs[:, 1])), shape=(count, count))
    _, labels = connected_components(links, directed=False)
    order = np.argsort(labels, kind="stable")
    cuts = np.flatnonzero(np.diff(labels[order])) + 1
    return [group.tolist() for group in np.split(order, cuts)]


def _collinear_groups(lines: Sequence[Stroke], rules: OutlineRules) -> list[list[int]]:
    """Group the lines that lie along one another for more than a joint."""
    import shapely

    if not lines:
        return []
    ends_m = np.array([line.points_m for line in lines])
    tree = shapely.STRtree(shapely.linestrings(ends_m))
    low_m, high_m = ends_m.min(axis=1) - rules.join_m, ends_m.max(axis=1) + rules.join_m
    about = shapely.box(low_m[:, 0], low_m[:, 1], high_m[:, 0], high_m[:, 1])
    pairs = [np.zeros((0, 2), dtype=np.intp)]
    for start in range(0, len(lines), rules.batch_count):  # thousands may meet in one point
        first, second = tree.query(about[start : start + rules.batch_count])
        pairs.append(_lying_along(first + start, second, ends_m, rules))
        _refuse_too_many(sum(map(len, pairs)), rules)
    return _linked(len(lines), np.concatenate(pairs))


def _lying_along(
    first: NDArray[np.intp],
    second: NDArray[np.intp],
    ends_m: NDArray[np.float64],
    rules: OutlineRules,
) -> NDArray[np.intp]:
    """Give those pairs of which the second, shorter line lies along the first."""
    steps_m = ends_m[:, 1] - ends_m[:, 0]
    lengths_m = np.hypot(*steps_m.T)
    along = steps_m / lengths_m[:, None]
    slack_m = np.minimum(rules.join_m, rules.open_gap_share * lengths_m)
    turned = along[first, 0] * steps_m[second, 1] - along[first, 1] * steps_m[second, 0]
    shorter = (lengths_m[first] > lengths_m[second]) | (
        (lengths_m[first] == lengths_m[second]) & (first < second)
    )
    likely = shorter & (np.abs(turned) <= 2.0 * slack_m[second])
    first, second = first[likely], second[likely]
    axis, slack_m = along[first], slack_m[second]
    from_start_m = ends_m[second] - ends_m[first, :1]
    off_m = from_start_m[:, :, 1] * axis[:, :1] - from_start_m[:, :, 0] * axis[:, 1:]
    at_m = (from_start_m * axis[:, None]).sum(axis=2)
    shared_m = np.minimum(at_m.max(axis=1), lengths_m[first]) - np.maximum(at_m.min(axis=1), 0.0)
    hit = (np.abs(off_m).max(axis=1) <= slack_m) & (shared_m > slack_m)
    return np.column_stack([first[hit], second[hit]])


def _cut_lines(lines: Sequence[Stroke], rules: OutlineRules) -> tuple[list[Stroke], int]:
    """Cut lines that overlap at each other's ends; count those that add nothing."""
    longest = max(lines, key=lambda line: float(np.hypot(*np.diff(line.points_m, axis=0)[0])))
    step = np.diff(longest.points_m, axis=0)[0]
    points_m = np.concatenate([line.points_m for line in lines])
    at_m = (points_m - longest.points_m[0]) @ (step / np.hypot(*step))
    order, places_m = _places(at_m, rules.join_m)
    spans_m = np.sort(at_m.reshape(-1, 2), axis=1)
    middles_m = 0.5 * (places_m[:-1] + places_m[1:])
    covers = (spans_m[:, :1] < middles_m) & (middles_m < spans_m[:, 1:])
    owners, dropped = _owners(covers, spans_m[:, 1] - spans_m[:, 0])
    return [
        Stroke(points_m[[order[k], order[k + 1]]], np.zeros(1), lines[owner].source)
        for k, owner in owners
    ], dropped


def _places(
    at_m: NDArray[np.float64], join_m: float
) -> tuple[NDArray[np.intp], NDArray[np.float64]]:
    """Give the distinct places among some, rising, and which of them stands for each."""
    rising = np.argsort(at_m, kind="stable")
    fresh = np.concatenate([[True], np.diff(at_m[rising]) > join_m])
    return rising[fresh], at_m[rising[fresh]]


def _owners(
    covers: NDArray[np.bool_], sizes: NDArray[np.float64]
) -> tuple[list[tuple[int, int]], int]:
    """Give each covered stretch to the largest that covers it; count those left without any."""
    order = np.argsort(-sizes, kind="stable")
    stretches = np.flatnonzero(covers.any(axis=0))
    owners = [(int(k), int(order[np.argmax(covers[order, k])])) for k in stretches]
    return owners, len(covers) - len({owner for _, owner in owners})


def _concentric_groups(arcs: Sequence[Stroke], rules: OutlineRules) -> list[list[int]]:
    """Group the arcs that lie along one another on one circle for more than a joint."""
    if not arcs:
        return []
    centres_m = np.array([arc_centres_m(arc.points_m, arc.bulges)[0] for arc in arcs])
    starts_m = np.array([arc.points_m[0] for arc in arcs])
    radii_m = np.hypot(*(starts_m - centres_m).T)
    begins_m, turns = _begins_m(arcs)
    shared = []
    pairs = _near_pairs(np.column_stack([centres_m, radii_m]), rules.join_m, rules)
    for some in np.array_split(pairs, 1 + len(pairs) // rules.pairs_count):
        first, second = some.T
        spokes_m = begins_m[some] - centres_m[first, None]
        starts = np.arctan2(spokes_m[..., 1], spokes_m[..., 0])
        ahead = (starts[:, 1] - starts[:, 0]) % (2.0 * np.pi)
        slack = np.minimum(
            rules.join_m / radii_m[first], rules.open_gap_share * turns[some].min(axis=1)
        )
        beyond = ahead + turns[second] - 2.0 * np.pi
        shared.append(some[(turns[first] - ahead > slack) | (beyond > slack)])
    return _linked(len(arcs), np.concatenate(shared))


def _begins_m(arcs: Sequence[Stroke]) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """Give where arcs start, counter-clockwise, and how far they turn, in radians."""
    bulges = np.array([arc.bulges[0] for arc in arcs])
    ends_m = np.array([arc.points_m for arc in arcs])
    begins_m = np.where(bulges[:, None] > 0.0, ends_m[:, 0], ends_m[:, -1])
    return begins_m, 4.0 * np.arctan(np.abs(bulges))


def _cut_arcs(arcs: Sequence[Stroke], rules: OutlineRules) -> tuple[list[Stroke], int]:
    """Cut arcs that overlap at each other's ends; count those that add nothing."""
    widest = max(arcs, key=lambda arc: abs(float(arc.bulges[0])))
    centre_m = arc_centres_m(widest.points_m, widest.bulges)[0]
    slack = rules.join_m / float(np.hypot(*(widest.points_m[0] - centre_m)))
    from_m = _begins_m([widest])[0][0] - centre_m
    datum = float(np.arctan2(from_m[1], from_m[0])) - slack
    points_m = np.concatenate([arc.points_m for arc in arcs])
    spokes_m = points_m - centre_m
    at = (np.arctan2(spokes_m[:, 1], spokes_m[:, 0]) - datum) % (2.0 * np.pi)
    order, places = _places(at, slack)
    order, places = np.append(order, order[0]), np.append(places, places[0] + 2.0 * np.pi)
    begins_m, turns = _begins_m(arcs)
    starts = np.arctan2(*(begins_m - centre_m).T[::-1])
    middles = datum + 0.5 * (places[:-1] + places[1:])
    covers = (middles - starts[:, None]) % (2.0 * np.pi) < turns[:, None]
    owners, dropped = _owners(covers, turns)
    return [
        Stroke(
            points_m[[order[k], order[k + 1]]],
            np.tan((places[k + 1 : k + 2] - places[k]) / 4.0),
            arcs[owner].source,
        )
        for k, owner in owners
    ], dropped
