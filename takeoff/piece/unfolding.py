"""A surface rolled out into the plane, flat by flat, along the joints that hold it best."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from takeoff.geometry.components import component_labels
from takeoff.geometry.edges import EdgeTable
from takeoff.geometry.mesh import Mesh
from takeoff.geometry.sums import summed
from takeoff.geometry.umbrellas import corners_at, umbrellas_of
from takeoff.piece.flats import Flats
from takeoff.piece.keys import numbered
from takeoff.piece.pattern_rules import PatternRules
from takeoff.piece.plane_axes import plane_axes

FloatArray = NDArray[np.float64]
ComplexArray = NDArray[np.complex128]
IntArray = NDArray[np.integer]
BoolArray = NDArray[np.bool_]


@dataclass(frozen=True, slots=True, eq=False)
class Unfolded:
    """A surface laid into the plane.

    Parameters
    ----------
    points_m : ndarray of float, shape (n, 2)
        Points in the plane; a point on a cut is there on both sides of it. [m]
    triangles : ndarray of int, shape (k, 3)
        The facets over them.
    source : ndarray of int, shape (n,)
        The point of the mesh that each was.
    part : ndarray of int, shape (k,)
        Part that each facet belongs to; parts do not hang together.
    clean : bool
        True where nothing was strained: what is cut is cut as a tube or a cone is.
    """

    points_m: FloatArray
    triangles: IntArray
    source: IntArray
    part: IntArray
    clean: bool


def unfold(
    flats: Flats, show_direction: FloatArray, *, rules: PatternRules = PatternRules()
) -> Unfolded:
    """Roll a surface out into the plane.

    Parameters
    ----------
    flats : Flats
        The flats of the surface alone.
    show_direction : ndarray of float, shape (3,)
        Unit vector out of the show face, which points up on a wall that is rolled out. [-]
    rules : PatternRules, optional
        Which joints still hold.

    Returns
    -------
    Unfolded
        The surface in the plane, every flat in its true shape, seen from outside.

    Notes
    -----
    Each flat is moved as a whole, so that its area stays. The flats are hung on each other
    along the tree of joints with the greatest common length; the motions along the tree are
    composed by doubling. Joints outside the tree whose sides come to lie on each other hold
    too; the others are cuts.

    Examples
    --------
    >>> import trimesh
    >>> from takeoff.geometry.mesh import Mesh
    >>> from takeoff.piece.flats import flats_of
    >>> tube = trimesh.creation.cylinder(0.5, 2.0, sections=48)
    >>> tube.update_faces(abs(tube.face_normals[:, 2]) < 0.5)
    >>> rolled = unfold(flats_of(Mesh.from_trimesh(tube, unit="m")), np.array([0.0, 0.0, 1.0]))
    >>> rolled.clean, np.ptp(rolled.points_m, axis=0).round(3).tolist()
    (True, [3.139, 2.0])
    """
    local_m = _local_m(flats, show_direction)
    pairs = _pairs(flats, local_m)
    turn, shift_m = _motions(flats, pairs)
    corners_m = turn[flats.of_facet][:, None] * local_m + shift_m[flats.of_facet][:, None]
    gap_m = _gaps_m(flats, corners_m)
    size_m = float(np.hypot.reduce(np.ptp(flats.mesh.points_m, axis=0)))
    holds = gap_m.max(axis=0, initial=0.0) <= rules.fit_share * size_m
    clean = _is_clean(flats, holds, gap_m, rules)
    joined = np.ones(len(flats.edges.left), dtype=np.bool_)
    joined[flats.of_facet[flats.edges.left] != flats.of_facet[flats.edges.right]] = holds
    return _glued(flats.mesh, flats.edges, corners_m, joined, clean=clean)


def laid_flat(mesh: Mesh, edges: EdgeTable, axes: FloatArray) -> Unfolded:
    """Lay a surface that is flat into the plane as it is.

    Parameters
    ----------
    mesh : Mesh
        The surface alone.
    edges : EdgeTable
        Of the same mesh.
    axes : ndarray of float, shape (2, 3)
        Unit vectors to the right and up. [-]

    Returns
    -------
    Unfolded
        The surface as seen square on.

    Examples
    --------
    >>> import trimesh
    >>> from takeoff.geometry.edges import edge_table
    >>> box = trimesh.creation.box((1.0, 2.0, 3.0))
    >>> box.update_faces(box.face_normals[:, 2] > 0.5)
    >>> top = Mesh.from_trimesh(box, unit="m")
    >>> np.ptp(laid_flat(top, edge_table(top), np.eye(3)[:2]).points_m, axis=0).tolist()
    [1.0, 2.0]
    """
    plane_m = mesh.points_m @ axes.T
    corners_m = (plane_m[:, 0] + 1j * plane_m[:, 1])[mesh.triangles]
    joined = np.ones(len(edges.left), dtype=np.bool_)
    return _glued(mesh, edges, corners_m, joined, clean=True)


def _local_m(flats: Flats, show_direction: FloatArray) -> ComplexArray:
    """Corners of the facets in the plane of their own flat, as complex numbers."""
    points_m = flats.mesh.points_m - flats.mesh.points_m.mean(axis=0)
    axes = plane_axes(flats.normals, show_direction)[flats.of_facet]
    corners_m = points_m[flats.mesh.triangles]
    right_m, up_m = (np.einsum("kci,ki->kc", corners_m, axes[:, axis]) for axis in (0, 1))
    local_m: ComplexArray = right_m + 1j * up_m
    return local_m


@dataclass(frozen=True, slots=True, eq=False)
class _Pairs:
    """Flats that meet, and the motion of the one with the higher number to the other."""

    low: IntArray
    high: IntArray
    length_m: FloatArray
    turn: ComplexArray
    shift_m: ComplexArray


def _ends_m(flats: Flats, corners_m: ComplexArray) -> tuple[ComplexArray, ComplexArray]:
    """Give the ends of the joints as they lie in the left and in the right facet, shape (2, j)."""
    joints, mesh, loose_m = flats.joints, flats.mesh, corners_m.ravel()
    left_m, right_m = (
        np.array([loose_m[corners_at(mesh, facet, point)] for point in (joints.start, joints.end)])
        for facet in (joints.left_facet, joints.right_facet)
    )
    return left_m, right_m


def _gaps_m(flats: Flats, corners_m: ComplexArray) -> FloatArray:
    """How far apart the sides of each joint lie at its start and its end, shape (2, j)."""
    left_m, right_m = _ends_m(flats, corners_m)
    return np.abs(left_m - right_m)


def _pairs(flats: Flats, local_m: ComplexArray) -> _Pairs:
    """Take the joints between the same two flats together."""
    joints = flats.joints
    low, high = np.minimum(joints.left, joints.right), np.maximum(joints.left, joints.right)
    code = low.astype(np.int64) * flats.count + high
    of_joint, first = numbered(code)
    count = len(first)
    left_m, right_m = _ends_m(flats, local_m)
    on_left = joints.left == low
    low_m, high_m = np.where(on_left, left_m, right_m), np.where(on_left, right_m, left_m)
    product = (low_m[1] - low_m[0]) * (high_m[1] - high_m[0]).conj()
    length_m = summed(of_joint, joints.length_m, count)
    turn = _complex_sums(of_joint, product, count)
    turn = np.where(np.abs(turn) > 0.0, turn, 1.0)
    turn = turn / np.abs(turn)
    weight = np.where(length_m > 0.0, length_m, 1.0)
    middle_low_m, middle_high_m = (
        _complex_sums(of_joint, joints.length_m * side_m.mean(axis=0), count) / weight
        for side_m in (low_m, high_m)
    )
    return _Pairs(
        low=low[first],
        high=high[first],
        length_m=length_m,
        turn=turn,
        shift_m=middle_low_m - turn * middle_high_m,
    )


def _complex_sums(group: IntArray, values: ComplexArray, count: int) -> ComplexArray:
    """Add up complex numbers by group."""
    sums: ComplexArray = summed(group, values.real, count) + 1j * summed(group, values.imag, count)
    return sums


def _motions(flats: Flats, pairs: _Pairs) -> tuple[ComplexArray, ComplexArray]:
    """Turn and shift of every flat into the plane of the largest flat of its part."""
    count = flats.count
    parent, pair = _tree(flats, pairs)
    turn, shift_m = np.ones(count + 1, np.complex128), np.zeros(count + 1, np.complex128)
    hung = np.flatnonzero(pair >= 0)
    at = pair[hung]
    upwards = pairs.high[at] == hung
    back = pairs.turn[at].conj()
    turn[hung] = np.where(upwards, pairs.turn[at], back)
    shift_m[hung] = np.where(upwards, pairs.shift_m[at], -back * pairs.shift_m[at])
    while (parent != count).any():
        shift_m = turn[parent] * shift_m + shift_m[parent]
        turn = turn[parent] * turn
        turn /= np.abs(turn)
        parent = parent[parent]
    return turn[:count], shift_m[:count]


def _tree(flats: Flats, pairs: _Pairs) -> tuple[IntArray, IntArray]:
    """Parent of each flat and the pair that joins them; one node more is parent of the roots."""
    from scipy.sparse import coo_array
    from scipy.sparse.csgraph import breadth_first_order, minimum_spanning_tree

    count = flats.count
    part = component_labels(count, pairs.low, pairs.high)
    by_size = np.lexsort((np.arange(count), -flats.area_m2, part))
    _, first = np.unique(part[by_size], return_index=True)
    roots = by_size[first]
    least_m = pairs.length_m[pairs.length_m > 0.0].min(initial=1.0)
    cost = 1.0 / np.maximum(pairs.length_m, least_m)
    # The graph library takes 32-bit numbers of nodes only, whatever the arrays hold.
    low = np.concatenate([pairs.low, roots]).astype(np.int32)
    high = np.concatenate([pairs.high, np.full(len(roots), count)]).astype(np.int32)
    costs = np.concatenate([cost, np.full(len(roots), cost.max(initial=1.0))])
    graph = coo_array((costs, (low, high)), shape=(count + 1, count + 1)).tocsr()
    _, parent = breadth_first_order(minimum_spanning_tree(graph), count, directed=False)
    parent = parent.astype(np.int64)
    parent[count] = count
    child = np.arange(count)
    key = np.minimum(child, parent[:-1]) * np.int64(count) + np.maximum(child, parent[:-1])
    keys = pairs.low.astype(np.int64) * count + pairs.high
    place = np.minimum(np.searchsorted(keys, key), max(len(keys) - 1, 0))
    pair = np.full(count + 1, -1, dtype=np.int64)
    hung = parent[:-1] != count
    pair[:-1][hung] = place[hung]
    return parent, pair


def _is_clean(flats: Flats, holds: BoolArray, gap_m: FloatArray, rules: PatternRules) -> bool:
    """Tell whether the cuts are those of a tube or a cone, or too slight to matter."""
    if holds.all():
        return True
    if _lacking_rad(flats, ~holds) <= rules.apex_rad:
        return True
    length_m = flats.joints.length_m
    cut_m = float(length_m[~holds].sum())
    gaping_m2 = float((length_m * gap_m.mean(axis=0))[~holds].sum())
    short = cut_m <= rules.slit_length_share * float(length_m[holds].sum())
    return short and gaping_m2 <= rules.slit_area_share * float(flats.area_m2.sum())


def _lacking_rad(flats: Flats, cut: BoolArray) -> float:
    """Add up what the points inside that lie on cuts, but for one, lack of a full turn."""
    mesh, joints = flats.mesh, flats.joints
    umbrella = umbrellas_of(mesh, flats.edges)
    count = int(umbrella.max()) + 1
    corners_m = mesh.points_m[mesh.triangles]
    ahead = np.roll(corners_m, -1, axis=1) - corners_m
    behind = np.roll(corners_m, 1, axis=1) - corners_m
    across = np.linalg.norm(np.cross(ahead, behind), axis=2)
    angle_rad = np.arctan2(across, np.einsum("kci,kci->kc", ahead, behind)).ravel()
    lacking_rad = np.abs(2.0 * np.pi - summed(umbrella, angle_rad, count))
    for point in (flats.open_edges.start, flats.open_edges.end):
        lacking_rad[umbrella[corners_at(mesh, flats.open_edges.facet, point)]] = 0.0
    on_cut = np.unique(
        [
            umbrella[corners_at(mesh, joints.left_facet[cut], point[cut])]
            for point in (joints.start, joints.end)
        ]
    )
    found_rad = lacking_rad[on_cut]
    return float(found_rad.sum() - found_rad.max(initial=0.0))


def _glued(
    mesh: Mesh, edges: EdgeTable, corners_m: ComplexArray, joined: BoolArray, *, clean: bool
) -> Unfolded:
    """Join the facets along the chosen edges."""
    at = np.flatnonzero(joined)
    left, right = (
        np.concatenate([corners_at(mesh, facet[at], end[at]) for end in (edges.start, edges.end)])
        for facet in (edges.left, edges.right)
    )
    label = component_labels(mesh.triangles.size, left, right)
    count = int(label.max()) + 1
    middle_m = _complex_sums(label, corners_m.ravel(), count) / np.bincount(label)
    source = np.empty(count, dtype=np.int64)
    source[label] = mesh.triangles.ravel()
    return Unfolded(
        points_m=np.column_stack([middle_m.real, middle_m.imag]),
        triangles=label.reshape(-1, 3),
        source=source,
        part=component_labels(len(mesh.triangles), edges.left, edges.right, linked=joined),
        clean=clean,
    )
