"""Samples of a skin round the tips of spikes."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from takeoff.geometry.band_rules import BandRules
from takeoff.geometry.corners import facet_angles_rad
from takeoff.geometry.skin_edges import SkinEdges
from takeoff.geometry.skin_samples import SkinSamples
from takeoff.geometry.sums import summed

BoolArray = NDArray[np.bool_]
IntArray = NDArray[np.int64]


def with_tips(
    skin: SkinEdges,
    samples: SkinSamples,
    *,
    chosen: BoolArray | None = None,
    rules: BandRules = BandRules(),
) -> SkinSamples:
    """Put samples below the tips of spikes, on the facets all round them.

    So little area lies there that the topmost sample may stand alone, and tell the points on
    the other side of the tip that they are inside.

    Parameters
    ----------
    skin : SkinEdges
        The skin.
    samples : SkinSamples
        Its samples.
    chosen : ndarray of bool, shape (k,), optional
        Facets that are sampled; all of them where it is left out.
    rules : BandRules, optional
        What a tip is, and how many samples it gets.

    Returns
    -------
    SkinSamples
        Both.

    Examples
    --------
    >>> from takeoff.geometry.mesh import Mesh
    >>> from takeoff.geometry.skin_edges import skin_edges
    >>> from takeoff.geometry.skin_samples import sample_skin
    >>> foot = np.array([[1, 0, 0], [-1, 1, 0], [-1, -1, 0]], dtype=float)
    >>> sides = np.array([[0, 1, 3], [1, 2, 3], [2, 0, 3]], dtype=np.int32)
    >>> added = []
    >>> for high in (1.0, 9.0):
    ...     spike = skin_edges(Mesh(np.vstack([foot, [[0, 0, high]]]), sides))
    ...     spread = sample_skin(spike.mesh, spike.facets, 100)
    ...     added.append(len(with_tips(spike, spread).points_m) - 100)
    >>> added
    [0, 15]
    """
    mesh = skin.mesh
    facet, corner = np.nonzero(_tips(skin, rules)[mesh.triangles])
    if chosen is not None:
        facet, corner = facet[chosen[facet]], corner[chosen[facet]]
    every = max(1, len(facet) // rules.tip_facet_count)
    facet, corner = facet[::every], corner[::every]
    corners_m = mesh.points_m[mesh.triangles[facet]]
    row = np.arange(len(facet))
    tip_m = corners_m[row, corner]
    arm_m = (corners_m[row, corner - 1] + corners_m[row, corner - 2]) / 2.0 - tip_m
    length_m = np.maximum(np.linalg.norm(arm_m, axis=1), np.finfo(np.float64).tiny)
    steps_m = np.arange(rules.tip_step_ratio / 2.0, rules.limit_ratio, rules.tip_step_ratio)
    share = np.minimum(steps_m[:, None] * samples.spacing_m / length_m, 1.0)
    points_m = (tip_m + share[:, :, None] * arm_m).reshape(-1, 3)
    return samples.with_more(skin.facets, points_m, np.tile(facet, len(steps_m)))


def _tips(skin: SkinEdges, rules: BandRules) -> BoolArray:
    """Tell the points whose angles sum to no more than those of a tip."""
    mesh, edges = skin.mesh, skin.edges
    turned_rad = np.zeros(len(mesh.points_m))
    bent = np.flatnonzero(skin.turn_rad > 0.0)
    for end in (edges.start, edges.end):
        turned_rad += summed(end[bent], skin.turn_rad[bent], len(turned_rad))
    # The edges of a tip turn by more than half a turn together: most points need no angles.
    tips = turned_rad > np.pi
    tips[edges.open_start] = tips[edges.open_end] = False
    if tips.any():
        facets = np.flatnonzero(tips[mesh.triangles].any(axis=1))
        angles_rad = facet_angles_rad(mesh, facets).ravel()
        around_rad = summed(mesh.triangles[facets].ravel(), angles_rad, len(tips))
        tips &= around_rad < np.radians(rules.tip_angle_deg)
    return tips
