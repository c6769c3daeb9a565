"""Volume of the points between two depths behind a skin, counted on a lattice."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from takeoff.geometry.band_rules import BandRules
from takeoff.geometry.lattice import Cells, cells_round
from takeoff.geometry.nearest import NearestSkin, Seen
from takeoff.geometry.skin_borders import SkinBorder
from takeoff.geometry.sums import row_products

FloatArray = NDArray[np.float64]
IntArray = NDArray[np.int64]
BoolArray = NDArray[np.bool_]


@dataclass(frozen=True, slots=True, eq=False)
class BandPart:
    """A part of a skin whose layers have one thickness.

    Parameters
    ----------
    skin : NearestSkin
        Its samples.
    ends : SkinBorder or None
        Where its layers end square.
    joins : SkinBorder or None
        Where other parts begin, with layers of other thickness.
    from_m, to_m : float
        The two depths. [m]
    """

    skin: NearestSkin
    ends: SkinBorder | None
    joins: SkinBorder | None
    from_m: float
    to_m: float


@dataclass(frozen=True, slots=True, eq=False)
class Band:
    """What lies between the two depths.

    Parameters
    ----------
    volume_m3 : ndarray of float, shape (c,)
        Volume by column of the shares. [m³]
    moment_m4 : ndarray of float, shape (c, 3)
        First moments, by column. [m⁴]
    rind_m3 : ndarray of float, shape (c,)
        Volume of the innermost part of it, by column. [m³]
    rind_m : float
        Depth of that part: its volume by its depth is the area of the inner face. [m]
    cells : int
        How many points were asked.
    """

    volume_m3: FloatArray
    moment_m4: FloatArray
    rind_m3: FloatArray
    rind_m: float
    cells: int


@dataclass(frozen=True, slots=True, eq=False)
class _Placed:
    """Where points are: how deep inside the band, how far before its inner face, whose.

    Where layers end square there is no inner face.
    """

    inside_m: FloatArray
    left_m: FloatArray
    owner: IntArray

    def of(self, chosen: BoolArray) -> _Placed:
        return _Placed(self.inside_m[chosen], self.left_m[chosen], self.owner[chosen])


def band_between(
    parts: Sequence[BandPart],
    shares: FloatArray,
    *,
    side_m: float,
    lattice: int = 0,
    inside: NearestSkin | None = None,
    low_m: FloatArray | None = None,
    rules: BandRules = BandRules(),
) -> Band:
    """Count what lies between two depths behind a skin.

    Parameters
    ----------
    parts : sequence of BandPart
        The parts of the skin, all samples of which are on the same mesh.
    shares : ndarray of float, shape (k, c)
        Share of each facet of the mesh in each class. [-]
    side_m : float
        Side of the finest cells. [m]
    lattice : int, default 0
        Number of the lattice: the results on several tell how far one may be off.
    inside : NearestSkin, optional
        The closed surface that the layers stay within.
    low_m : ndarray of float, shape (3,), optional
        Low corner of the skin, from which the lattice is laid; that of its samples where it is
        left out. [m]
    rules : BandRules, optional
        How finely.

    Returns
    -------
    Band
        Volume by class, and first moment.

    Notes
    -----
    Cells wholly between the fronts, or wholly off them, are settled while they are wide; the
    finest are told by one point strewn into each. So no bias is left at arrises and tips.

    Examples
    --------
    The inner half of a layer 40 mm thick in a cube of 1 m:

    >>> import trimesh
    >>> from takeoff.geometry.band_parts import band_parts
    >>> from takeoff.geometry.mesh import Mesh
    >>> from takeoff.geometry.skin_edges import skin_edges
    >>> cube = skin_edges(Mesh.from_trimesh(trimesh.creation.box((1, 1, 1)), unit="m"))
    >>> parts = band_parts(cube, np.full(12, 0.02), np.full(12, 0.04))
    >>> band = band_between(parts, np.ones((12, 1)), side_m=0.02)
    >>> bool(abs(band.volume_m3[0] / (0.96**3 - 0.92**3) - 1.0) < 0.005)
    True
    """
    deepest_m = max(part.to_m for part in parts)
    spacing_m = max(part.skin.samples.spacing_m for part in parts)
    points_m = np.concatenate([part.skin.samples.points_m for part in parts])
    coarse_m = side_m * 2.0**rules.level_count
    cells = cells_round(points_m, coarse_m, deepest_m, lattice=lattice, low_m=low_m)
    rind_m = deepest_m / 10.0
    count = _Count(parts, shares, inside, spacing_m * rules.slack_ratio, deepest_m, rind_m)
    tally = _Tally.empty(shares.shape[1])
    for _ in range(rules.level_count):
        at_m = cells.middles_m()
        within_m = deepest_m + cells.reach_m + cells.side_m + 2.0 * spacing_m
        margin_m = cells.reach_m + count.slack_m
        placed = _placed(parts, at_m, within_m, inside, margin_m)
        whole = placed.inside_m > margin_m
        tally.add(at_m[whole], shares[placed.owner[whole]], cells.volume_m3)
        tally.cells += len(at_m)
        cut = ~whole & (placed.inside_m > -margin_m)
        cells, wider = cells.halved(cut), _Wider(at_m[cut], placed.of(cut))
    within_m = deepest_m + cells.reach_m + cells.side_m + 2.0 * spacing_m
    count.finest(cells, cells.strewn_m(lattice), wider, within_m, tally)
    return Band(tally.volume_m3, tally.moment_m4, tally.rind_m3, rind_m, tally.cells)


@dataclass(slots=True, eq=False)
class _Tally:
    """What has been counted so far, by column."""

    volume_m3: FloatArray
    moment_m4: FloatArray
    rind_m3: FloatArray
    cells: int

    @classmethod
    def empty(cls, columns: int) -> _Tally:
        return cls(np.zeros(columns), np.zeros((columns, 3)), np.zeros(columns), 0)

    def add(self, at_m: FloatArray, weight: FloatArray, cell_m3: float) -> None:
        self.volume_m3 += weight.sum(axis=0) * cell_m3
        self.moment_m4 += row_products(weight.T, at_m.T) * cell_m3


@dataclass(frozen=True, slots=True, eq=False)
class _Wider:
    """The cells that were cut into eight: their middles, and where those are."""

    middle_m: FloatArray
    placed: _Placed


@dataclass(frozen=True, slots=True, eq=False)
class _Count:
    """What is counted, and how far distances are known."""

    parts: Sequence[BandPart]
    shares: FloatArray
    inside: NearestSkin | None
    slack_m: float
    deepest_m: float
    rind_m: float

    def finest(
        self, cells: Cells, at_m: FloatArray, wider: _Wider, within_m: float, tally: _Tally
    ) -> None:
        """Count the finest cells, each by its point, asking only where it is not yet known.

        From the middle of a cell to a point in it, no distance changes by more than the way.
        """
        way_m = at_m - np.repeat(wider.middle_m, 8, axis=0)
        gap_m = np.sqrt(np.einsum("ij,ij->i", way_m, way_m)) + self.slack_m
        known_m = np.repeat(wider.placed.inside_m, 8)
        deep = known_m > gap_m + self.rind_m
        tally.add(at_m[deep], self.shares[np.repeat(wider.placed.owner, 8)[deep]], cells.volume_m3)
        asked_m = at_m[~deep & (known_m > -gap_m)]
        placed = _placed(self.parts, asked_m, within_m, self.inside, 0.0)
        within = placed.inside_m > 0.0
        weight = self.shares[placed.owner[within]]
        tally.add(asked_m[within], weight, cells.volume_m3)
        rind = placed.left_m[within] < self.rind_m
        tally.rind_m3 += weight[rind].sum(axis=0) * cells.volume_m3
        tally.cells += len(asked_m)


def _placed(
    parts: Sequence[BandPart],
    points_m: FloatArray,
    within_m: float,
    inside: NearestSkin | None,
    margin_m: float,
) -> _Placed:
    """Place points between the two fronts, only roughly those off them by more than a margin."""
    seen = [part.skin.seen_from(points_m, within_m) for part in parts]
    nearest = _nearest(seen)
    count = len(points_m)
    covered_m, first_m = np.full(count, -np.inf), np.full(count, -np.inf)
    depth_m, owner = np.full(count, -np.inf), np.zeros(count, dtype=np.int64)
    own_m, left_m = np.full(count, -np.inf), np.full(count, -np.inf)
    for number, (part, view) in enumerate(zip(parts, seen, strict=True)):
        mine = nearest == number
        ends_m = np.full(count, np.inf)
        met_m = part.skin.samples.points_m[view.sample]
        if part.ends is not None:
            ends_m = -part.ends.beyond_m(points_m, view, met_m, within_m)
        if part.joins is not None:
            other = ~mine & np.isfinite(view.distance_m) & (view.distance_m < within_m)
            joins_m = -part.joins.beyond_m(points_m, view, met_m, within_m)
            ends_m = np.where(other, np.minimum(ends_m, joins_m), ends_m)
        signed_m = np.where(
            mine, view.distance_m, np.where(view.height_m >= 0.0, view.distance_m, np.inf)
        )
        reach_m = np.minimum(part.to_m - signed_m, ends_m)
        takes = (reach_m > covered_m) & ~((own_m > 0.0) & ~mine)
        takes |= mine & (reach_m > 0.0)
        facet = part.skin.samples.facet[view.sample]
        owner = np.where(takes, facet, owner)
        own_m = np.where(mine, reach_m, own_m)
        left_m = np.maximum(left_m, np.where(ends_m > 0.0, part.to_m - signed_m, -np.inf))
        covered_m = np.maximum(covered_m, reach_m)
        first_m = np.maximum(first_m, np.minimum(part.from_m - signed_m, ends_m))
        depth_m = np.where(mine, view.depth_m, depth_m)
    out_m = covered_m
    if any(part.from_m > 0.0 for part in parts):
        out_m = np.minimum(covered_m, -first_m)
    if inside is None:
        return _Placed(np.minimum(out_m, depth_m), left_m, owner)
    asked = np.flatnonzero(out_m > -margin_m)
    out_m = out_m.copy()
    behind_m = inside.seen_from(points_m[asked], within_m).depth_m
    out_m[asked] = np.minimum(out_m[asked], behind_m)
    return _Placed(out_m, left_m, owner)


def _nearest(seen: Sequence[Seen]) -> IntArray:
    """Find the part nearest to each point; of equals, the one that faces it most."""
    if len(seen) == 1:
        return np.zeros(len(seen[0].sample), dtype=np.int64)
    distances_m = np.stack([view.distance_m for view in seen])
    least_m = distances_m.min(axis=0)
    facing_m = np.stack([np.abs(view.height_m) for view in seen])
    facing_m[distances_m > least_m * (1.0 + np.finfo(np.float32).eps)] = -1.0
    nearest: IntArray = np.argmax(facing_m, axis=0).astype(np.int64)
    return nearest
