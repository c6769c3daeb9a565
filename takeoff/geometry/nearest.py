"""Distance of points from a skin: the nearest sample found by a tree, put right by its facet."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import NDArray

from takeoff.geometry.band_rules import BandRules
from takeoff.geometry.blocks import blocks
from takeoff.geometry.crosses import cross_normals
from takeoff.geometry.mesh import Mesh
from takeoff.geometry.skin_curves import rise_twice_m
from takeoff.geometry.skin_limits import Limits
from takeoff.geometry.skin_samples import SkinSamples
from takeoff.geometry.thin_walls import thin_samples

if TYPE_CHECKING:
    from scipy.spatial import cKDTree

FloatArray = NDArray[np.float64]
IntArray = NDArray[np.int64]
BoolArray = NDArray[np.bool_]

_MANY = 1 << 15  # points from which on a second thread saves more than it costs to start


@dataclass(frozen=True, slots=True, eq=False)
class Seen:
    """What points see of a skin.

    Parameters
    ----------
    distance_m : ndarray of float, shape (n,)
        Distance, infinite beyond the reach that was asked for. [m]
    height_m : ndarray of float, shape (n,)
        Height over the plane of the nearest facet, above 0 on the side of the layer. [m]
    sample : ndarray of int, shape (n,)
        The nearest sample; 0 where there is none within reach.
    """

    distance_m: FloatArray
    height_m: FloatArray
    sample: IntArray

    @property
    def depth_m(self) -> FloatArray:
        """Distance, below 0 on the other side of the skin, in [m]."""
        return np.where(self.height_m >= 0.0, self.distance_m, -self.distance_m)


@dataclass(frozen=True, slots=True, eq=False)
class NearestSkin:
    """A skin that can be asked for distances.

    Parameters
    ----------
    mesh : Mesh
        The mesh the samples are on.
    samples : SkinSamples
        The samples.
    large : ndarray of bool, shape (m,)
        Samples of facets large enough to be met exactly.
    bounded : ndarray of bool, shape (m,)
        Samples of smaller facets beside sharp or open edges, met with their neighbours.
    tiny : ndarray of bool, shape (m,)
        Those of them on a wide flat, or whose facets are shorter than the spacing of the samples:
        they stand for their plane, as far as its limit.
    thin : ndarray of bool, shape (m,)
        Samples beside others of an opposite side, met with more neighbours from anywhere.
    tree : scipy.spatial.cKDTree
        The samples as a tree.
    limits : Limits or None
        Where the planes of samples end.
    turn_per_m : ndarray of float, shape (m, 6), or None
        How the skin curves at each sample; None where it is flat. [1/m]
    rules : BandRules
        How far a sample stands for its plane.
    """

    mesh: Mesh
    samples: SkinSamples
    large: BoolArray
    bounded: BoolArray
    tiny: BoolArray
    thin: BoolArray
    tree: cKDTree
    limits: Limits | None
    turn_per_m: FloatArray | None
    rules: BandRules

    def seen_from(self, points_m: FloatArray, within_m: float) -> Seen:
        """Measure the distance of points from the skin.

        Parameters
        ----------
        points_m : ndarray of float, shape (n, 3)
            The points. [m]
        within_m : float
            How far to look. [m]

        Returns
        -------
        Seen
            Distances and the nearest samples.
        """
        samples, rules = self.samples, self.rules
        reach_m, found = self.tree.query(
            points_m, distance_upper_bound=within_m, workers=workers_for(points_m)
        )
        near = np.isfinite(reach_m)
        sample = np.where(near, found, 0)
        arm_m = points_m - samples.points_m[sample]
        height_m = np.einsum("ij,ij->i", arm_m, samples.inward_normals[sample])
        aside_m2 = reach_m * reach_m - height_m * height_m
        on_plane = aside_m2 < (rules.plane_ratio * samples.spacing_m) ** 2
        distance_m = np.where(on_plane, np.abs(height_m), reach_m)
        if self.turn_per_m is not None:
            self._follow_curves(self.turn_per_m, on_plane & near, sample, arm_m, height_m)
            distance_m = np.where(on_plane, np.abs(height_m), reach_m)
        sample = sample.astype(np.int64)
        aside = near & (aside_m2 > (rules.exact_ratio * samples.spacing_m) ** 2)
        thin = near & self.thin[sample]
        aside &= ~thin
        self._meet_facets(points_m, aside & self.large[sample], sample, distance_m, height_m)
        self._meet_neighbours(points_m, aside & self.bounded[sample], sample, distance_m, height_m)
        most = rules.thin_neighbour_count
        self._meet_neighbours(points_m, thin, sample, distance_m, height_m, count=most)
        return Seen(np.where(near, distance_m, np.inf), height_m, sample)

    def _follow_curves(
        self,
        turn_per_m: FloatArray,
        chosen: BoolArray,
        sample: IntArray,
        arm_m: FloatArray,
        height_m: FloatArray,
    ) -> None:
        """Put in the height over the curved skin where the plane of a sample stood for it."""
        at = np.flatnonzero(chosen & ~(self.large | self.bounded)[sample])
        owner, over_m = sample[at], height_m[at]
        aside_m = arm_m[at] - over_m[:, None] * self.samples.inward_normals[owner]
        height_m[at] = self._over_curve_m(over_m, turn_per_m[owner], aside_m)

    def _over_curve_m(
        self, over_m: FloatArray, turn_per_m: FloatArray, aside_m: FloatArray
    ) -> FloatArray:
        """Give the height over the curved skin of points aside of their samples."""
        rise_m = rise_twice_m(turn_per_m, aside_m)
        aside_m2 = np.maximum(np.einsum("ij,ij->i", aside_m, aside_m), np.finfo(np.float64).tiny)
        room = np.maximum(1.0 - over_m * rise_m / aside_m2, self.rules.room_ratio)
        height_m: FloatArray = over_m - rise_m / (2.0 * room)
        return height_m

    def _meet_facets(
        self,
        points_m: FloatArray,
        wanted: BoolArray,
        sample: IntArray,
        distance_m: FloatArray,
        height_m: FloatArray,
    ) -> None:
        """Put in the exact distance from the facet of the nearest sample, or of its neighbours."""
        chosen = np.flatnonzero(wanted)
        if not len(chosen):
            return
        reach_m, over_m = self._from_facets_m(points_m[chosen], sample[chosen])
        distance_m[chosen] = reach_m
        outside = reach_m > np.abs(over_m) * (1.0 + self.rules.same_share)
        again = np.zeros(len(points_m), dtype=np.bool_)
        again[chosen[outside]] = True
        self._meet_neighbours(points_m, again, sample, distance_m, height_m)

    def _meet_neighbours(
        self,
        points_m: FloatArray,
        wanted: BoolArray,
        sample: IntArray,
        distance_m: FloatArray,
        height_m: FloatArray,
        *,
        count: int | None = None,
    ) -> None:
        """Put in the least exact distance from the facets of several near samples.

        Of facets equally near, as at an edge, the one that the point faces most tells the side.
        """
        chosen = np.flatnonzero(wanted)
        if not len(chosen):
            return
        count = min(count or self.rules.neighbour_count, len(self.samples.points_m))
        _, found = self.tree.query(
            points_m[chosen], k=np.arange(1, count + 1), workers=workers_for(chosen)
        )
        least_m = np.full(len(chosen), np.inf)
        most_m = np.zeros(len(chosen))
        for column in range(count):
            reach_m, over_m = self._from_facets_m(points_m[chosen], found[:, column])
            nearer = reach_m < least_m * (1.0 - self.rules.same_share)
            same = ~nearer & (reach_m < least_m * (1.0 + self.rules.same_share))
            taken = nearer | (same & (np.abs(over_m) > np.abs(most_m)))
            most_m = np.where(taken, over_m, most_m)
            sample[chosen] = np.where(taken, found[:, column], sample[chosen])
            least_m = np.minimum(least_m, reach_m)
        distance_m[chosen] = least_m
        height_m[chosen] = most_m

    def _from_facets_m(
        self, points_m: FloatArray, sample: IntArray
    ) -> tuple[FloatArray, FloatArray]:
        """Exact distance from the facets of some samples, and height over their planes."""
        samples, mesh = self.samples, self.mesh
        reach_m, over_m = np.empty(len(sample)), np.empty(len(sample))
        for piece in blocks(len(sample)):
            owner = sample[piece]
            normals = samples.inward_normals[owner]
            arm_m = points_m[piece] - samples.points_m[owner]
            height_m = np.einsum("ij,ij->i", arm_m, normals)
            foot_m = points_m[piece] - height_m[:, None] * normals
            corners = mesh.triangles.take(samples.facet[owner], axis=0).T
            off_m2 = _off_facet_m2(mesh.points_m.take(corners, axis=0), normals, foot_m)
            over_m[piece] = height_m
            reach_m[piece] = np.sqrt(off_m2 + height_m * height_m)
        self._meet_planes(points_m, sample, reach_m, over_m)
        return reach_m, over_m

    def _meet_planes(
        self, points_m: FloatArray, sample: IntArray, reach_m: FloatArray, over_m: FloatArray
    ) -> None:
        """Put in the distance from the plane round tiny facets, as far as its limit."""
        at = np.flatnonzero(self.tiny[sample])
        if not len(at) or self.limits is None:
            return
        owner = sample[at]
        arm_m = points_m[at] - self.samples.points_m[owner]
        aside_m = arm_m - over_m[at, None] * self.samples.inward_normals[owner]
        aside_m2 = np.einsum("ij,ij->i", aside_m, aside_m)
        on_plane = aside_m2 < (self.rules.plane_ratio * self.samples.spacing_m) ** 2
        at, owner, aside_m = at[on_plane], owner[on_plane], aside_m[on_plane]
        height_m = over_m[at]
        if self.turn_per_m is not None:
            height_m = self._over_curve_m(height_m, self.turn_per_m[owner], aside_m)
        over_m[at], off_m2 = height_m, height_m * height_m
        for edge_m, outward in zip(self.limits.edge_m, self.limits.outward_normals, strict=True):
            out_m = np.einsum("ij,ij->i", points_m[at] - edge_m[owner], outward[owner])
            off_m2 += np.maximum(out_m, 0.0) ** 2
        reach_m[at] = np.sqrt(off_m2)


def nearest_skin(
    mesh: Mesh,
    samples: SkinSamples,
    *,
    turn_per_m: FloatArray | None = None,
    limits: Limits | None = None,
    rules: BandRules = BandRules(),
) -> NearestSkin:
    """Make a sampled skin ready to be asked for distances.

    Parameters
    ----------
    mesh : Mesh
        The mesh the samples are on.
    samples : SkinSamples
        The samples.
    turn_per_m : ndarray of float, shape (m, 6), optional
        How the skin curves at each sample, as `turns_per_m` gives it. [1/m]
    limits : Limits, optional
        Where the planes of samples end.
    rules : BandRules, optional
        How far a sample stands for its plane.

    Returns
    -------
    NearestSkin
        The skin.

    Examples
    --------
    >>> from takeoff.geometry.facets import facets_of
    >>> from takeoff.geometry.skin_samples import sample_skin
    >>> square = np.array([[0, 0, 0], [1, 0, 0], [1, 1, 0], [0, 1, 0]], dtype=float)
    >>> flat = Mesh(square, np.array([[0, 1, 2], [0, 2, 3]], dtype=np.int32))
    >>> skin = nearest_skin(flat, sample_skin(flat, facets_of(flat), 1000))
    >>> seen = skin.seen_from(np.array([[0.5, 0.5, -0.02], [0.5, 1.3, -0.4]]), 2.0)
    >>> seen.depth_m.round(9).tolist()
    [0.02, 0.5]
    """
    from scipy.spatial import cKDTree

    longest_m, doubled_m2 = _sizes(mesh, samples)
    large = doubled_m2 > rules.large_ratio * samples.spacing_m * longest_m
    tree = cKDTree(samples.points_m, balanced_tree=False, compact_nodes=False)
    thin = thin_samples(samples, tree, turn_per_m=turn_per_m, rules=rules)
    bounded = np.zeros_like(large) if limits is None else (limits.beside | thin) & ~large
    narrow = doubled_m2 < longest_m * samples.spacing_m
    tiny = bounded if limits is None else bounded & (limits.flat | narrow)
    return NearestSkin(mesh, samples, large, bounded, tiny, thin, tree, limits, turn_per_m, rules)


def _sizes(mesh: Mesh, samples: SkinSamples) -> tuple[FloatArray, FloatArray]:
    """Longest side and twice the area of the facet of each sample."""
    corners_m = mesh.points_m.take(mesh.triangles.take(samples.facet, axis=0).T, axis=0)
    sides_m = [corners_m[(here + 1) % 3] - corners_m[here] for here in range(3)]
    lengths_m2 = [np.einsum("ij,ij->i", side_m, side_m) for side_m in sides_m]
    across_m2 = cross_normals(sides_m[0], sides_m[1])
    doubled_m2 = np.sqrt(np.einsum("ij,ij->i", across_m2, across_m2))
    return np.sqrt(np.maximum.reduce(lengths_m2)), doubled_m2


def workers_for(points_m: NDArray[np.generic]) -> int:
    """Tell how many threads are worth starting for some points.

    Parameters
    ----------
    points_m : ndarray
        As many rows as points. [m]

    Returns
    -------
    int
        1 for few points, -1 (as many as there are processors) for many.

    Examples
    --------
    >>> workers_for(np.zeros((10, 3)))
    1
    """
    return -1 if len(points_m) > _MANY else 1


def _off_facet_m2(corners_m: FloatArray, normals: FloatArray, foot_m: FloatArray) -> FloatArray:
    """Square of how far points of a facet's plane are off the facet."""
    corners_m = np.ascontiguousarray(np.moveaxis(corners_m, 2, 0))  # by axis, then by corner
    foot_m, (nx, ny, nz) = np.ascontiguousarray(foot_m.T), np.ascontiguousarray(normals.T)
    inside = np.ones(len(nx), dtype=np.bool_)
    least_m2 = np.full(len(nx), np.inf)
    for here in range(3):
        sx, sy, sz = corners_m[:, (here + 1) % 3] - corners_m[:, here]
        ax, ay, az = arm_m = foot_m - corners_m[:, here]
        # outward of the side: the normals point into the layer
        out = ax * (ny * sz - nz * sy) + ay * (nz * sx - nx * sz) + az * (nx * sy - ny * sx)
        inside &= out <= 0.0
        length_m2 = np.maximum(sx * sx + sy * sy + sz * sz, np.finfo(np.float64).tiny)
        along = np.clip((ax * sx + ay * sy + az * sz) / length_m2, 0.0, 1.0)
        arm_m -= along * np.stack([sx, sy, sz])
        least_m2 = np.minimum(least_m2, ax * ax + ay * ay + az * az)
    return np.where(inside, 0.0, least_m2)
