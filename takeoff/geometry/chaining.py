"""Strokes chained end to end into closed loops, small gaps bridged."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from takeoff.geometry.outline_rules import OutlineRules
from takeoff.geometry.repeats import without_repeats
from takeoff.geometry.strokes import Stroke, stroke_lengths_m


@dataclass(frozen=True, slots=True, eq=False)
class Chain:
    """Strokes joined end to end.

    Parameters
    ----------
    points_m : ndarray of float, shape (k + 1, 2)
        Points of the chain; the last is the first where it is closed. [m]
    bulges : ndarray of float, shape (k,)
        Bulge between each two points, 0 for a line. [-]
    curves : ndarray of int, shape (k,)
        The same number where neighbours belong to one smooth curve, -1 elsewhere.
    sources : tuple of int
        Numbers of the entities it was made of, rising.
    """

    points_m: NDArray[np.float64]
    bulges: NDArray[np.float64]
    curves: NDArray[np.int32]
    sources: tuple[int, ...]


@dataclass(frozen=True, slots=True, eq=False)
class Chained:
    """What chaining made of the strokes.

    Parameters
    ----------
    loops : tuple of Chain
        Closed chains.
    open_chains : tuple of Chain
        Chains that do not close.
    branches_m : tuple of ndarray, shape (2,)
        Points where three or more lines of a closed network meet. [m]
    gaps : int
        Gaps bridged.
    largest_gap_m : float
        The widest of them. [m]
    gap_at_m : ndarray of float, shape (2,)
        Where that one is. [m]
    repeats, overlaps, empty : int
        Strokes dropped since they lie wholly on others, cut back since they lie partly on others,
        and dropped since they have no length.
    """

    loops: tuple[Chain, ...]
    open_chains: tuple[Chain, ...]
    branches_m: tuple[NDArray[np.float64], ...]
    gaps: int
    largest_gap_m: float
    gap_at_m: NDArray[np.float64]
    repeats: int
    overlaps: int
    empty: int


def chained(strokes: Sequence[Stroke], *, rules: OutlineRules = OutlineRules()) -> Chained:
    """Chain strokes end to end into closed loops.

    Parameters
    ----------
    strokes : sequence of Stroke
        What was drawn, in any order and direction.
    rules : OutlineRules, optional
        Which gaps are bridged, and which points are one.

    Returns
    -------
    Chained
        Loops, open chains, and what was bridged or dropped on the way.

    Raises
    ------
    OutlineError
        If more lines or arcs lie on one another than the rules allow.

    Notes
    -----
    Ends that meet are joined first. Only ends left alone are then joined across a gap, nearest
    first, so that fine detail is never pulled together.

    Examples
    --------
    >>> corners_m = np.array([[0.0, 0.0], [2.0, 0.0], [2.0, 1.0], [0.0, 1.0]])
    >>> lines = [Stroke(corners_m[[k, k - 1]], np.zeros(1), k) for k in range(4)]
    >>> found = chained(lines)
    >>> len(found.loops), len(found.open_chains)
    (1, 0)
    """
    if not strokes:
        return Chained((), (), (), 0, 0.0, np.zeros(2), 0, 0, 0)
    rules = scaled_rules(strokes, rules)
    loops: list[Chain] = []
    rest: list[Stroke] = []
    empty = 0
    bridges: list[_Bridge] = []
    ends_m = np.array([stroke.points_m[[0, -1]] for stroke in strokes])
    gaps_m = np.hypot(*(ends_m[:, 1] - ends_m[:, 0]).T)
    for stroke, gap_m, length_m in zip(strokes, gaps_m, stroke_lengths_m(strokes), strict=True):
        if length_m <= rules.same_point_m:
            empty += 1
        elif gap_m <= rules.join_m and gap_m <= rules.open_gap_share * length_m:
            if gap_m > rules.same_point_m:
                bridges.append(_Bridge(float(gap_m), stroke.points_m[0]))
            loops.append(_closed_stroke(stroke, len(loops)))
        else:
            rest.append(stroke)
    cleaned = without_repeats(rest, rules=rules)
    network = _network(cleaned.strokes, rules)
    bridges += network.bridges
    more, open_chains, branches = _traced(cleaned.strokes, network, len(loops))
    widest = max(bridges, key=lambda bridge: bridge.width_m, default=_Bridge(0.0, np.zeros(2)))
    return Chained(
        (*loops, *more),
        tuple(open_chains),
        tuple(branches),
        len(bridges),
        widest.width_m,
        widest.at_m,
        cleaned.repeats,
        cleaned.overlaps,
        empty,
    )


def scaled_rules(runs: Sequence[Stroke | Chain], rules: OutlineRules) -> OutlineRules:
    """Shrink the lengths of the rules where the drawing is too small for them.

    Parameters
    ----------
    runs : sequence of Stroke or Chain
        What was drawn.
    rules : OutlineRules
        The rules as they stand.

    Returns
    -------
    OutlineRules
        The same with each length at most its share of the overall size.

    Examples
    --------
    >>> tiny = Stroke(np.array([[0.0, 0.0], [0.01, 0.0]]), np.zeros(1), 0)
    >>> round(scaled_rules([tiny], OutlineRules()).join_m, 9)
    1e-05
    """
    if not runs:
        return rules
    points_m = np.concatenate([run.points_m for run in runs])
    overall_m = float(np.hypot(*np.ptp(points_m, axis=0)))
    return replace(
        rules,
        join_m=min(rules.join_m, rules.join_share * overall_m),
        same_point_m=min(rules.same_point_m, rules.same_point_share * overall_m),
        chord_m=min(rules.chord_m, rules.chord_share * overall_m),
        sliver_m2=min(rules.sliver_m2, (rules.join_share * overall_m) ** 2),
    )


def _closed_stroke(stroke: Stroke, number: int) -> Chain:
    """Make a loop of one stroke whose ends meet."""
    points_m = stroke.points_m.copy()
    points_m[0] = points_m[-1] = 0.5 * (points_m[0] + points_m[-1])
    curve = number if stroke.curve else -1
    curves = np.full(len(stroke.bulges), curve, dtype=np.int32)
    return Chain(points_m, stroke.bulges, curves, (stroke.source,))


@dataclass(frozen=True, slots=True, eq=False)
class _Bridge:
    """A gap that was closed: how wide, and where."""

    width_m: float
    at_m: NDArray[np.float64]


@dataclass(frozen=True, slots=True, eq=False)
class _Network:
    """Which node each end of each stroke stands on, and where the nodes are."""

    starts: NDArray[np.intp]
    ends: NDArray[np.intp]
    points_m: NDArray[np.float64]
    bridges: list[_Bridge]


def _network(strokes: Sequence[Stroke], rules: OutlineRules) -> _Network:
    """Join the ends of strokes into nodes, those that meet first, lone ones across gaps next."""
    if not strokes:
        return _Network(np.zeros(0, np.intp), np.zeros(0, np.intp), np.zeros((0, 2)), [])
    from scipy.sparse import coo_array
    from scipy.sparse.csgraph import connected_components
    from scipy.spatial import cKDTree

    ends_m = np.array([stroke.points_m[[0, -1]] for stroke in strokes]).reshape(-1, 2)
    tree = cKDTree(ends_m)

    def nodes_of(pairs: NDArray[np.intp]) -> NDArray[np.intp]:
        links = coo_array((np.ones(len(pairs)), tuple(pairs.T)), shape=(len(ends_m),) * 2)
        labels: NDArray[np.intp] = connected_components(links, directed=False)[1]
        return labels

    met = tree.query_pairs(rules.same_point_m, output_type="ndarray")
    nodes = nodes_of(met)
    alone = np.bincount(nodes)[nodes] == 1
    near = tree.query_pairs(rules.join_m, output_type="ndarray")
    near = near[alone[near].all(axis=1) & (near[:, 0] // 2 != near[:, 1] // 2)]
    gaps_m = np.hypot(*(ends_m[near[:, 0]] - ends_m[near[:, 1]]).T)
    joined, bridges = [], []
    for number in np.lexsort((*ends_m[near].sum(axis=1).T, gaps_m)):
        pair = near[number]
        if alone[pair].all():
            alone[pair] = False
            joined.append(pair)
            bridges.append(_Bridge(float(gaps_m[number]), ends_m[pair[0]]))
    nodes = nodes_of(np.concatenate([met, np.array(joined, dtype=np.intp).reshape(-1, 2)]))
    counts = np.bincount(nodes)
    points_m = np.column_stack([np.bincount(nodes, axis) / counts for axis in ends_m.T])
    return _Network(nodes[0::2], nodes[1::2], points_m, bridges)


def _traced(
    strokes: Sequence[Stroke], network: _Network, first_curve: int
) -> tuple[list[Chain], list[Chain], list[NDArray[np.float64]]]:
    """Follow the strokes from node to node: loops, open chains and the points of branching."""
    at_node: dict[int, set[int]] = {}
    for number, pair in enumerate(zip(network.starts, network.ends, strict=True)):
        for node in pair:
            at_node.setdefault(int(node), set()).add(number)
    tails = _tails(at_node, network)
    branches = sorted(
        (network.points_m[node] for node, numbers in at_node.items() if len(numbers) > 2),
        key=lambda point_m: (point_m[1], point_m[0]),
    )
    left = set().union(*at_node.values()) if at_node else set()
    loops = _paths(left, network) if not branches else []
    open_paths = _paths(tails, network)
    curve = first_curve + len(strokes)
    chains = [_joined(path, strokes, network, curve) for path in (*loops, *open_paths)]
    closed = [chain for chain in chains if (chain.points_m[0] == chain.points_m[-1]).all()]
    rest = [chain for chain in chains if not (chain.points_m[0] == chain.points_m[-1]).all()]
    return closed, sorted(rest, key=lambda chain: tuple(chain.points_m.min(axis=0))), branches


def _tails(at_node: dict[int, set[int]], network: _Network) -> set[int]:
    """Take out, one after another, the strokes that end at a node of their own."""
    tails: set[int] = set()
    waiting = [node for node, numbers in at_node.items() if len(numbers) == 1]
    while waiting:
        node = waiting.pop()
        if len(at_node[node]) != 1:
            continue
        number = at_node[node].pop()
        tails.add(number)
        start, end = int(network.starts[number]), int(network.ends[number])
        far = end if node == start else start
        at_node[far].discard(number)
        if len(at_node[far]) == 1:
            waiting.append(far)
    return tails


def _paths(numbers: set[int], network: _Network) -> list[list[tuple[int, bool]]]:
    """Part strokes into paths, each a list of stroke numbers and whether it is run backwards."""
    at_node: dict[int, list[int]] = {}
    for number in sorted(numbers):
        for node in (int(network.starts[number]), int(network.ends[number])):
            at_node.setdefault(node, []).append(number)
    free = set(numbers)
    paths = []
    heads = [node for node in sorted(at_node) if len(at_node[node]) != 2]
    for node in [*heads, *sorted(at_node)]:
        while any(number in free for number in at_node[node]):
            paths.append(_path_from(node, at_node, free, network))
    return paths


def _path_from(
    node: int, at_node: dict[int, list[int]], free: set[int], network: _Network
) -> list[tuple[int, bool]]:
    """Follow free strokes from a node until it branches, ends or closes."""
    path: list[tuple[int, bool]] = []
    first = node
    while True:
        number = next((number for number in at_node[node] if number in free), None)
        if number is None:
            return path
        free.discard(number)
        backwards = int(network.starts[number]) != node
        path.append((number, backwards))
        node = int(network.starts[number] if backwards else network.ends[number])
        if node == first or len(at_node[node]) != 2:
            return path


def _joined(
    path: Sequence[tuple[int, bool]], strokes: Sequence[Stroke], network: _Network, curve: int
) -> Chain:
    """Make one chain of the strokes of a path, its joints moved onto the nodes."""
    points_m, bulges, curves = [], [], []
    for number, backwards in path:
        stroke = strokes[number]
        run_m = stroke.points_m.copy()
        run_m[0] = network.points_m[network.starts[number]]
        run_m[-1] = network.points_m[network.ends[number]]
        points_m.append(run_m[::-1][:-1] if backwards else run_m[:-1])
        bulges.append(-stroke.bulges[::-1] if backwards else stroke.bulges)
        curves.append(np.full(len(stroke.bulges), curve + number if stroke.curve else -1))
    number, backwards = path[-1]
    last = network.starts[number] if backwards else network.ends[number]
    points_m.append(network.points_m[last][None, :])
    return Chain(
        np.concatenate(points_m),
        np.concatenate(bulges),
        np.concatenate(curves).astype(np.int32),
        tuple(sorted({strokes[number].source for number, _ in path})),
    )
