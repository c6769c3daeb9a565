"""Borders of a skin, beyond which a layer does not reach: it ends square to the skin there."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import NDArray

from takeoff.geometry.band_rules import BandRules
from takeoff.geometry.border_edges import BorderEdges
from takeoff.geometry.crosses import cross_normals
from takeoff.geometry.facets import Facets
from takeoff.geometry.mesh import Mesh
from takeoff.geometry.nearest import Seen, workers_for
from takeoff.geometry.skin_edges import SkinEdges
from takeoff.geometry.sums import summed

if TYPE_CHECKING:
    from scipy.spatial import cKDTree

FloatArray = NDArray[np.float64]
IntArray = NDArray[np.integer]
BoolArray = NDArray[np.bool_]


@dataclass(frozen=True, slots=True, eq=False)
class SkinBorder:
    """Samples along the borders of a skin.

    Parameters
    ----------
    points_m : ndarray of float, shape (m, 3)
        The samples. [m]
    outward_normals : ndarray of float, shape (m, 3)
        Unit vectors in the plane of the facet, out of the skin across the border. [-]
    dams : ndarray of bool, shape (m,), or None
        Where an end of the skin is dammed off: no layer passes the plane across it, not even
        that of another face. Where it is a rim, layers of other faces do. None where the
        border is no end at all, but the skin goes on.
    start_m, along_m : ndarray of float, shape (m, 3)
        Start of the edge of each, and the way to its end. [m]
    tree : scipy.spatial.cKDTree
        The samples as a tree.
    spacing_m : float
        Spacing of the samples of the skin. [m]
    rules : BandRules
        When a border is as near as the skin.
    sides : tuple of SkinBorder, default ()
        What is dammed off, by the way it faces, where it faces more than one: in a corner
        between two dams, a point inside the nearer may be beyond the other.
    """

    points_m: FloatArray
    outward_normals: FloatArray
    dams: BoolArray | None
    start_m: FloatArray
    along_m: FloatArray
    tree: cKDTree
    spacing_m: float
    rules: BandRules
    sides: tuple[SkinBorder, ...] = ()

    def beyond_m(
        self, points_m: FloatArray, seen: Seen, met_m: FloatArray, within_m: float
    ) -> FloatArray:
        """Tell how far points lie beyond the border, where their foot on the skin is at it.

        Parameters
        ----------
        points_m : ndarray of float, shape (n, 3)
            The points. [m]
        seen : Seen
            What they see of the skin.
        met_m : ndarray of float, shape (n, 3)
            The sample of the skin that each sees. [m]
        within_m : float
            How far to look. [m]

        Returns
        -------
        ndarray of float, shape (n,)
            Distances, below 0 inside the border, minus infinity far from it. [m]
        """
        beyond_m = np.full(len(points_m), -np.inf)
        asked = np.flatnonzero(np.isfinite(seen.distance_m))
        reach_m, found = self.tree.query(
            points_m[asked], distance_upper_bound=within_m, workers=workers_for(asked)
        )
        near = np.isfinite(reach_m)
        asked, reach_m, found = asked[near], reach_m[near], found[near]
        out_m = self._out_m(points_m[asked], found)
        half_m, beside_m = self.spacing_m / 2.0, self.rules.beside_ratio * self.spacing_m
        over_m = np.abs(seen.height_m[asked]) + beside_m
        # Inside it, the border is told where it may be as near as the skin; beyond it, a point
        # is its own only where no part of the skin is nearer.
        at_it = reach_m * reach_m - out_m * out_m <= over_m * over_m + half_m * half_m
        slack_m = np.where(out_m < self.rules.plane_ratio * self.spacing_m, half_m, half_m / 8.0)
        exact_m = self._from_edges_m(points_m[asked], found)
        nearer_m = np.minimum(out_m, seen.distance_m[asked] + slack_m - exact_m)
        outer = out_m > 0.0
        told = at_it | outer
        if self.dams is not None:
            dammed = self.dams[found]
            inner = self._out_m(met_m[asked], found) <= self.rules.same_share * self.spacing_m
            nearer_m = np.where(inner & dammed, out_m, nearer_m)
            # Planes of facets run past a rim: from beside it, the way leads across. But how far
            # a point is from where another face is nearer, this does not tell.
            across = inner & self._beside(met_m[asked], found)
            nearer_m = np.where(across, np.maximum(nearer_m, half_m / 8.0), nearer_m)
            told |= dammed
        beyond_m[asked[told]] = np.where(outer, nearer_m, out_m)[told]
        for side in self.sides:
            beyond_m[asked] = np.maximum(beyond_m[asked], side.past_m(points_m[asked], within_m))
        return beyond_m

    def past_m(self, points_m: FloatArray, within_m: float) -> FloatArray:
        """Tell how far points lie past the edges of the border, straight out from them.

        Parameters
        ----------
        points_m : ndarray of float, shape (n, 3)
            The points. [m]
        within_m : float
            How far to look. [m]

        Returns
        -------
        ndarray of float, shape (n,)
            Distances, minus infinity before the border, far from it and aside of its edges. [m]
        """
        reach_m, found = self.tree.query(points_m, distance_upper_bound=within_m)
        past_m = np.full(len(points_m), -np.inf)
        near = np.flatnonzero(np.isfinite(reach_m))
        sample = found[near]
        out_m = self._out_m(points_m[near], sample)
        arm_m, along_m = points_m[near] - self.start_m[sample], self.along_m[sample]
        length_m = np.maximum(np.linalg.norm(along_m, axis=1), np.finfo(np.float64).tiny)
        way_m = np.einsum("ij,ij->i", arm_m, along_m) / length_m
        slack_m = self.rules.same_share * self.spacing_m
        straight = (way_m >= -slack_m) & (way_m <= length_m + slack_m) & (out_m > 0.0)
        past_m[near[straight]] = out_m[straight]
        return past_m

    def _out_m(self, points_m: FloatArray, sample: IntArray) -> FloatArray:
        """How far points lie out of the planes across the border at some samples."""
        arm_m = points_m - self.points_m[sample]
        out_m: FloatArray = np.einsum("ij,ij->i", arm_m, self.outward_normals[sample])
        return out_m

    def _beside(self, met_m: FloatArray, sample: IntArray) -> BoolArray:
        """Tell which samples of the skin are so near the border that planes run past it."""
        by_m = self._from_edges_m(met_m, sample)
        return by_m < self.rules.plane_ratio * self.spacing_m

    def _from_edges_m(self, points_m: FloatArray, sample: IntArray) -> FloatArray:
        """Exact distance from the edges of some samples."""
        arm_m, along_m = points_m - self.start_m[sample], self.along_m[sample]
        length_m2 = np.maximum(np.einsum("ij,ij->i", along_m, along_m), np.finfo(np.float64).tiny)
        share = np.clip(np.einsum("ij,ij->i", arm_m, along_m) / length_m2, 0.0, 1.0)
        rest_m = arm_m - share[:, None] * along_m
        distance_m: FloatArray = np.sqrt(np.einsum("ij,ij->i", rest_m, rest_m))
        return distance_m


def dammed_ends(
    skin: SkinEdges, edges: BorderEdges, *, rules: BandRules = BandRules()
) -> BoolArray:
    """Tell the open edges at which a skin is dammed off from the rims at its foot.

    Parameters
    ----------
    skin : SkinEdges
        The skin.
    edges : BorderEdges
        Open edges of it.
    rules : BandRules, optional
        How far an end may lean.

    Returns
    -------
    ndarray of bool, shape (b,)
        True where the skin ends across the direction it faces on the whole; at a rim, it ends
        along it.

    Notes
    -----
    A groove or an upright that begins right at the border ends the skin at its own wall: that
    wall ends along the way the skin faces, so its border is a rim like the foot of a return.
    Its layer is as thick as all others, behind the wall, and ends square to the wall. Where a
    ledge is left before the groove, however narrow, the ledge ends across that way: its border
    is a dam, and the layer behind the wall of the groove is cut off in the plane of the dam.
    What the drawing shows decides; a ledge of half a millimetre takes the layer off.

    The way a part of a skin faces is the sum of its facets, each by its area: that of any
    surface within the same border. A tube faces no way, and has rims alone.

    Examples
    --------
    A gutter of three strips: its two ends are dammed, its lips are rims.

    >>> from takeoff.geometry.border_edges import open_border
    >>> from takeoff.geometry.skin_edges import skin_edges
    >>> net = [[x, y, z] for y in (0.0, 1.0) for x, z in ((0, 0), (0, 1), (1, 1), (1, 0))]
    >>> quads = [(0, 1, 5, 4), (1, 2, 6, 5), (2, 3, 7, 6)]
    >>> cut = [part for a, b, c, d in quads for part in ((a, b, c), (a, c, d))]
    >>> gutter = skin_edges(Mesh(np.array(net, dtype=float), np.array(cut, dtype=np.int32)))
    >>> ends = open_border(gutter.edges)
    >>> dams = dammed_ends(gutter, ends)
    >>> gutter.mesh.points_m[ends.start[dams], 1].tolist() != [], int(dams.sum())
    (True, 6)
    """
    if not len(edges.facet):
        return np.zeros(0, dtype=np.bool_)
    facets, part = skin.facets, skin.patches(np.inf)
    count = int(part.max()) + 1
    facing = np.stack(
        [summed(part, facets.area_m2 * facets.normals[:, axis], count) for axis in range(3)], axis=1
    )
    whole = np.sqrt(np.einsum("ij,ij->i", facing, facing))
    some = whole > rules.facing_share * summed(part, facets.area_m2, count)
    along_m = skin.mesh.points_m[edges.end] - skin.mesh.points_m[edges.start]
    outward = cross_normals(along_m, facets.normals[edges.facet])
    home = part[edges.facet]
    lean = np.abs(np.einsum("ij,ij->i", outward, facing[home]))
    most = np.sin(np.radians(rules.end_lean_deg)) * whole[home]
    dams: BoolArray = some[home] & (lean <= most * np.sqrt(np.einsum("ij,ij->i", along_m, along_m)))
    return dams


def sample_border(
    mesh: Mesh,
    facets: Facets,
    edges: BorderEdges,
    *,
    spacing_m: float,
    dams: BoolArray | None = None,
    rules: BandRules = BandRules(),
) -> SkinBorder | None:
    """Spread samples along borders.

    Parameters
    ----------
    mesh : Mesh
        The skin.
    facets : Facets
        Of the same mesh.
    edges : BorderEdges
        The border.
    spacing_m : float
        Spacing of the samples of the skin. [m]
    dams : ndarray of bool, shape (b,), optional
        Which of the edges are dammed off; left out where the border is no end.
    rules : BandRules, optional
        How closely.

    Returns
    -------
    SkinBorder or None
        The samples; None where there is no border.

    Examples
    --------
    >>> from takeoff.geometry.border_edges import open_border
    >>> from takeoff.geometry.edges import edge_table
    >>> from takeoff.geometry.facets import facets_of
    >>> half = Mesh(np.array([[0, 0, 0], [1, 0, 0], [0, 1, 0]], dtype=float),
    ...             np.array([[0, 1, 2]], dtype=np.int32))
    >>> edges = open_border(edge_table(half))
    >>> border = sample_border(half, facets_of(half), edges, spacing_m=0.1)
    >>> np.unique(border.outward_normals.round(3), axis=0)[0].tolist()
    [-1.0, 0.0, 0.0]
    """
    from scipy.spatial import cKDTree

    along_m = mesh.points_m[edges.end] - mesh.points_m[edges.start]
    length_m = np.linalg.norm(along_m, axis=1)
    reached_m = np.cumsum(length_m)
    if not len(reached_m) or reached_m[-1] <= 0.0:
        return None
    wanted = int(reached_m[-1] / (rules.border_step_ratio * spacing_m))
    count = min(max(len(length_m), wanted), rules.border_count)
    at_m = (np.arange(count) + 0.5) / count * reached_m[-1]
    edge = np.minimum(np.searchsorted(reached_m, at_m), len(reached_m) - 1)
    tiny_m = np.finfo(np.float64).tiny
    direction = along_m[edge] / np.maximum(length_m[edge], tiny_m)[:, None]
    points_m = mesh.points_m[edges.end[edge]] - (reached_m[edge] - at_m)[:, None] * direction
    outward = np.cross(direction, facets.normals[edges.facet[edge]])
    tree = cKDTree(points_m, balanced_tree=False, compact_nodes=False)
    start_m = mesh.points_m[edges.start[edge]]
    border = SkinBorder(
        points_m,
        outward,
        None if dams is None else dams[edge],
        start_m,
        along_m[edge],
        tree,
        spacing_m,
        rules,
    )
    return replace(border, sides=_sides(border))


def _sides(border: SkinBorder) -> tuple[SkinBorder, ...]:
    """Divide what is dammed off by the axis along which it faces."""
    from scipy.spatial import cKDTree

    if border.dams is None or not border.dams.any():
        return ()
    axis = np.argmax(np.abs(border.outward_normals), axis=1)
    up = np.take_along_axis(border.outward_normals, axis[:, None], axis=1)[:, 0] > 0.0
    side = np.where(border.dams, 2 * axis + up, -1)
    numbers = np.unique(side[border.dams])
    if len(numbers) < 2:
        return ()
    found = []
    for number in numbers.tolist():
        mine = side == number
        points_m = border.points_m[mine]
        found.append(
            SkinBorder(
                points_m,
                border.outward_normals[mine],
                None,
                border.start_m[mine],
                border.along_m[mine],
                cKDTree(points_m, balanced_tree=False, compact_nodes=False),
                border.spacing_m,
                border.rules,
            )
        )
    return tuple(found)
