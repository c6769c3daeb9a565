"""Noise: whether a mesh is a scan, which no rule for drawn surfaces can be held against."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from takeoff.geometry.dihedrals import edge_lengths_m
from takeoff.geometry.sums import summed
from takeoff.piece.flats import Flats
from takeoff.piece.noise_rules import NoiseRules

FloatArray = NDArray[np.float64]
IntArray = NDArray[np.integer]
BoolArray = NDArray[np.bool_]


@dataclass(frozen=True, slots=True)
class Noise:
    """How noisy a mesh is.

    Parameters
    ----------
    ragged_share : float
        Share of the area whose facets have both an arris and an inside corner beside them,
        each slight. [-]
    unrest_ratio : float
        How much the bend differs from point to point, over the bend itself: near 0 on a smooth
        surface however it curves, about 1 where every point is off by chance; 0 where too
        little is ragged to ask. [-]
    scan : bool
        True for a scan.
    """

    ragged_share: float
    unrest_ratio: float
    scan: bool


def noise_of(flats: Flats, *, rules: NoiseRules = NoiseRules()) -> Noise:
    """Measure the noise of a mesh.

    Parameters
    ----------
    flats : Flats
        Its flats.
    rules : NoiseRules, optional
        What counts as a scan.

    Returns
    -------
    Noise
        The noise.

    Notes
    -----
    The facets of a drawn surface turn one way, or each way along lines; only saddles turn both
    ways at every facet. On a saddle the bends at neighbouring points agree, in a scan they do
    not.

    Examples
    --------
    >>> import trimesh
    >>> from takeoff.geometry.mesh import Mesh
    >>> from takeoff.piece.flats import flats_of
    >>> ball = Mesh.from_trimesh(trimesh.creation.icosphere(5, 0.5), unit="m")
    >>> noise_of(flats_of(ball)).scan
    False
    >>> shake = 1.0 + 0.001 * np.random.default_rng(1).normal(size=(len(ball.points_m), 1))
    >>> noise_of(flats_of(Mesh(ball.points_m * shake, ball.triangles))).scan
    True
    """
    if len(flats.facets.area_m2) <= rules.least_facet_count:
        return Noise(0.0, 0.0, scan=False)
    share = _ragged_share(flats, rules)
    if share <= rules.ragged_share:
        return Noise(share, 0.0, scan=False)
    unrest = _unrest_ratio(flats, rules)
    return Noise(share, unrest, scan=unrest > rules.unrest_ratio)


def _ragged_share(flats: Flats, rules: NoiseRules) -> float:
    """Share of the area of facets that have slight turns both ways."""
    size = np.abs(flats.turn_deg)
    slight = np.flatnonzero((size > rules.least_turn_deg) & (size < rules.most_turn_deg))
    outward = flats.turn_deg.take(slight) > 0.0
    ragged = _beside(flats, slight[outward])
    ragged &= _beside(flats, slight[~outward])
    area_m2 = flats.facets.area_m2
    return float(area_m2[ragged].sum() / area_m2.sum())


def _beside(flats: Flats, edge: IntArray) -> BoolArray:
    """Tell the facets beside chosen edges."""
    chosen = np.zeros(len(flats.facets.area_m2), dtype=np.bool_)
    chosen[flats.edges.left.take(edge)] = True
    chosen[flats.edges.right.take(edge)] = True
    return chosen


def _unrest_ratio(flats: Flats, rules: NoiseRules) -> float:
    """Difference of the bend at every point from the mean of its neighbours, over all bends."""
    slight = np.flatnonzero(np.abs(flats.turn_deg) < rules.most_turn_deg)
    start, end = flats.edges.start[slight], flats.edges.end[slight]
    turn = np.radians(flats.turn_deg[slight])
    bend_m = turn * edge_lengths_m(flats.mesh, flats.edges)[slight]
    count = len(flats.mesh.points_m)
    at_point_m = _at_both(start, end, bend_m, bend_m, count)
    beside_m = _at_both(start, end, at_point_m[end], at_point_m[start], count)
    edges = np.bincount(start, minlength=count) + np.bincount(end, minlength=count)
    off_m = np.abs(at_point_m - beside_m / np.maximum(edges, 1))
    whole_m = float(np.abs(bend_m).sum())
    return float(off_m.sum() / whole_m) if whole_m > 0.0 else 0.0


def _at_both(
    start: IntArray, end: IntArray, at_start: FloatArray, at_end: FloatArray, count: int
) -> FloatArray:
    """Add up values of edges at both their points."""
    return summed(start, at_start, count) + summed(end, at_end, count)
