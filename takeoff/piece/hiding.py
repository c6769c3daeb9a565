"""Facing surfaces that other surfaces hide, seen along the show direction."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from takeoff.geometry.sums import summed
from takeoff.piece.keys import by_group, renumbered
from takeoff.piece.plan_axes import across_m, cosines_ratio, heights_m
from takeoff.piece.rules import SurfaceRules
from takeoff.piece.zones import Reason, Zone, Zones

FloatArray = NDArray[np.float64]
IntArray = NDArray[np.integer]
BoolArray = NDArray[np.bool_]


def hide(zones: Zones, *, rules: SurfaceRules = SurfaceRules()) -> Zones:
    """Put facing surfaces that lie behind others into the back.

    Parameters
    ----------
    zones : Zones
        Flats sorted by tilt.
    rules : SurfaceRules, optional
        How much of a surface must be hidden, and by how far.

    Returns
    -------
    Zones
        The same, with the hidden surfaces facing away.

    Notes
    -----
    Probes are spread over each connected facing surface; a probe is hidden if the line through
    it along the show direction meets a facet above it. Surfaces that come out near the limit are
    probed once more, by many.

    Examples
    --------
    The inside floor of a hollow box faces up, but is not seen from above:

    >>> import trimesh
    >>> from takeoff.geometry.mesh import Mesh
    >>> from takeoff.piece.flats import flats_of
    >>> from takeoff.piece.zones import zones_of
    >>> inside = trimesh.creation.box((0.8, 0.8, 0.8))
    >>> inside.faces = inside.faces[:, ::-1]
    >>> hollow = trimesh.util.concatenate([trimesh.creation.box((1, 1, 1)), inside])
    >>> flats = flats_of(Mesh.from_trimesh(hollow, unit="m"))
    >>> zones = hide(zones_of(flats, np.array([0.0, 0.0, 1.0])))
    >>> int(zones.are(Zone.FACING).sum()), int((zones.reason == Reason.HIDDEN).sum())
    (1, 1)
    """
    facing = zones.are(Zone.FACING)
    region = zones.flats.regions(facing)
    region_of_facing, count = renumbered(region[facing])
    if count < 2:
        return zones
    region = np.full(len(facing), -1, dtype=np.int64)
    region[facing] = region_of_facing
    share = _hidden_shares(zones, region, count, rules.few_probe_count, rules)
    near = np.abs(share - rules.hidden_share) < rules.hidden_doubt_share
    if near.any():
        closer = np.where(near, np.cumsum(near) - 1, -1)
        region_near = np.where(facing, closer[region], -1)
        share[near] = _hidden_shares(
            zones, region_near, int(near.sum()), rules.most_probe_count, rules
        )
    hidden = facing & (share > rules.hidden_share)[region]
    return zones.moved(hidden, Zone.AWAY, Reason.HIDDEN)


def _hidden_shares(
    zones: Zones, region: IntArray, count: int, most_count: int, rules: SurfaceRules
) -> FloatArray:
    """Share of each region that is hidden, by probes."""
    probe_region, probe_m = _probes(zones, region, count, most_count, rules)
    covered = _covered(zones, probe_m, rules)
    probes = np.bincount(probe_region, minlength=count)
    return summed(probe_region, covered.astype(np.float64), count) / np.maximum(probes, 1)


def _probes(
    zones: Zones, region: IntArray, count: int, most_count: int, rules: SurfaceRules
) -> tuple[IntArray, FloatArray]:
    """Points inside the facets of each region, spread evenly over its area."""
    flats = zones.flats
    facet_region = region.take(flats.of_facet)
    facets = np.flatnonzero(facet_region >= 0)
    facets = facets.take(by_group(facet_region.take(facets), count))
    area_m2 = flats.facets.area_m2.take(facets)
    region_area_m2 = summed(facet_region.take(facets), area_m2, count)
    number = int(np.clip(rules.probe_count // count, rules.least_probe_count, most_count))
    step = (np.arange(number) + 0.5) / number
    start_m2 = np.cumsum(region_area_m2) - region_area_m2
    target_m2 = start_m2[:, None] + region_area_m2[:, None] * step
    chosen = np.searchsorted(np.cumsum(area_m2), target_m2.ravel())
    facet = facets[np.minimum(chosen, len(facets) - 1)]
    corners = flats.mesh.points_m[flats.mesh.triangles[facet]]
    return np.repeat(np.arange(count), number), _inside(corners)


def _inside(corners_m: FloatArray) -> FloatArray:
    """One point inside each triangle, by the golden-ratio sequence of two dimensions."""
    number = np.arange(len(corners_m))
    along = np.sqrt((0.5 + 0.7548776662466927 * number) % 1.0)[:, None]
    across = ((0.5 + 0.5698402909980532 * number) % 1.0)[:, None]
    first, second, third = corners_m[:, 0], corners_m[:, 1], corners_m[:, 2]
    points: FloatArray = (
        first * (1.0 - along) + second * along * (1.0 - across) + third * along * across
    )
    return points


def _covered(zones: Zones, probe_m: FloatArray, rules: SurfaceRules) -> BoolArray:
    """Tell the probes above which a facet lies."""
    mesh, direction = zones.flats.mesh, zones.show_direction
    point_height_m = heights_m(mesh.points_m, direction)
    probe_height_m = heights_m(probe_m, direction)
    above = point_height_m > float(probe_height_m.min()) + rules.clearance_m
    hiding = _hiding(zones)
    corners = [corner.take(hiding) for corner in mesh.triangles.T]
    reaching = np.flatnonzero(np.logical_or.reduce([above.take(corner) for corner in corners]))
    covered = np.zeros(len(probe_m), dtype=np.bool_)
    if not len(reaching):
        return covered
    corners = [corner.take(reaching) for corner in corners]
    plan_m = across_m(mesh.points_m, direction)
    probe_plan_m = across_m(probe_m, direction)
    facet, probe = _least_pairs(corners, plan_m, probe_plan_m)
    corners = [corner.take(facet) for corner in corners]
    u_m, v_m = (
        [plan_m[axis].take(corner) - probe_plan_m[axis].take(probe) for corner in corners]
        for axis in range(2)
    )
    height_m = [point_height_m.take(corner) for corner in corners]
    limit_m = probe_height_m[probe] + rules.clearance_m
    covered[probe[_height_over(u_m, v_m, height_m) > limit_m]] = True
    return covered


def _hiding(zones: Zones) -> IntArray:
    """Facets that can hide others: the undersides of a closed piece, all of an open surface."""
    flats = zones.flats
    cosine = cosines_ratio(flats.normals, zones.show_direction)
    able = cosine != 0.0 if len(flats.open_edges.flat) else cosine < 0.0
    return np.flatnonzero(able.take(flats.of_facet))


def _least_pairs(
    corners: list[NDArray[np.int32]],
    plan_m: tuple[FloatArray, FloatArray],
    probe_m: tuple[FloatArray, FloatArray],
) -> tuple[IntArray, IntArray]:
    """Pair facets and probes that may lie over each other, by the axis that tells more."""
    ranges = []
    for axis in range(2):
        corner_m = [plan_m[axis].take(corner) for corner in corners]
        order = np.argsort(probe_m[axis], kind="stable")
        at_m = probe_m[axis].take(order)
        low = np.minimum(np.minimum(corner_m[0], corner_m[1]), corner_m[2])
        high = np.maximum(np.maximum(corner_m[0], corner_m[1]), corner_m[2])
        first = np.searchsorted(at_m, low, "left")
        under = np.flatnonzero(np.append(at_m, np.inf).take(first) <= high)
        number = np.zeros(len(first), dtype=np.int64)
        number[under] = np.searchsorted(at_m, high.take(under), "right") - first.take(under)
        ranges.append((int(number.sum()), order, first, number))
        if ranges[-1][0] < 2 * len(first):
            break
    _, order, first, number = min(ranges, key=lambda one: one[0])
    facet = np.repeat(np.arange(len(first)), number)
    place = np.arange(len(facet)) + np.repeat(first - (np.cumsum(number) - number), number)
    return facet, order[place]


def _height_over(
    u_m: list[FloatArray], v_m: list[FloatArray], height_m: list[FloatArray]
) -> FloatArray:
    """Height of triangles over the origin of their plan, minus infinity beside them."""
    weights = []
    for corner in range(3):
        after, last = (corner + 1) % 3, (corner + 2) % 3
        weights.append(u_m[after] * v_m[last] - u_m[last] * v_m[after])
    total = weights[0] + weights[1] + weights[2]
    inside = np.minimum.reduce(weights) * np.maximum.reduce(weights) >= 0.0
    inside &= total != 0.0
    over = weights[0] * height_m[0] + weights[1] * height_m[1] + weights[2] * height_m[2]
    return np.where(inside, over / np.where(inside, total, 1.0), -np.inf)
