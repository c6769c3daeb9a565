"""How a skin curves where it is sampled, from the turns of the edges round each facet."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from takeoff.geometry.crosses import cross_normals
from takeoff.geometry.skin_edges import SkinEdges
from takeoff.geometry.skin_samples import SkinSamples
from takeoff.geometry.sums import summed

FloatArray = NDArray[np.float64]
IntArray = NDArray[np.integer]

_PAIRS = ((0, 0), (1, 1), (2, 2), (0, 1), (0, 2), (1, 2))


def turns_per_m(skin: SkinEdges, samples: SkinSamples, *, smooth_deg: float) -> FloatArray:
    """Give the curvature of a skin at its samples.

    Parameters
    ----------
    skin : SkinEdges
        The skin.
    samples : SkinSamples
        Where to give it.
    smooth_deg : float
        Edges that turn more than this are sharp and belong to no curve. [°]

    Returns
    -------
    ndarray of float, shape (m, 6)
        Symmetric tensors (xx, yy, zz, xy, xz, yz), above 0 where the skin curves towards the
        layer: one by the radius across a rounded arris. [1/m]

    Notes
    -----
    The turn of each edge is spread over the two facets beside it, across the edge. On a
    facet that is a step of a curve this is the turn by the width of the step.

    Examples
    --------
    A roof of two strips 0.1 m wide that turn by 0.1 rad:

    >>> from takeoff.geometry.mesh import Mesh
    >>> from takeoff.geometry.skin_edges import skin_edges
    >>> from takeoff.geometry.skin_samples import sample_skin
    >>> net = [[x, y, -abs(x) * np.tan(0.05)] for y in (0.0, 1.0) for x in (-0.1, 0.0, 0.1)]
    >>> strips = np.array([[0, 1, 4], [0, 4, 3], [1, 2, 5], [1, 5, 4]], dtype=np.int32)
    >>> roof = skin_edges(Mesh(np.array(net), strips))
    >>> samples = sample_skin(roof.mesh, roof.facets, 100)
    >>> float(turns_per_m(roof, samples, smooth_deg=20.0)[:, 0].mean().round(2))
    0.5
    """
    sampled, slot_of_sample = np.unique(samples.facet, return_inverse=True)
    slot = np.full(len(skin.mesh.triangles), -1, dtype=np.int32)
    slot[sampled] = np.arange(len(sampled), dtype=np.int32)
    tensor = np.zeros((len(sampled), len(_PAIRS)))
    bends = (skin.turn_rad != 0.0) & (np.abs(skin.turn_rad) < np.radians(smooth_deg))
    bent = np.flatnonzero(bends)
    for side in (skin.edges.left, skin.edges.right):
        chosen = bent[slot[side[bent]] >= 0]
        _add_turns(tensor, skin, chosen, side[chosen], slot)
    area_m2 = np.maximum(skin.facets.area_m2[sampled], np.finfo(np.float64).tiny)
    found: FloatArray = (tensor / area_m2[:, None])[slot_of_sample]
    return found


def _add_turns(
    tensor: FloatArray, skin: SkinEdges, chosen: IntArray, facet: IntArray, slot: IntArray
) -> None:
    """Add half the turn of some edges, times their length, across the facet on one side."""
    points_m, edges = skin.mesh.points_m, skin.edges
    along_m = points_m[edges.end[chosen]] - points_m[edges.start[chosen]]
    across = cross_normals(along_m, skin.facets.normals[facet])  # as long as the edge
    length_m = np.sqrt(np.einsum("ij,ij->i", along_m, along_m))
    half = skin.turn_rad[chosen] / (2.0 * np.maximum(length_m, np.finfo(np.float64).tiny))
    at = slot[facet]
    for column, (one, other) in enumerate(_PAIRS):
        tensor[:, column] += summed(at, half * across[:, one] * across[:, other], len(tensor))


def rise_twice_m(turn_per_m: FloatArray, arm_m: FloatArray) -> FloatArray:
    """Give the curvature along some arms times the square of their length.

    Parameters
    ----------
    turn_per_m : ndarray of float, shape (n, 6)
        Curvatures as `turns_per_m` gives them. [1/m]
    arm_m : ndarray of float, shape (n, 3)
        Arms in the plane of the skin. [m]

    Returns
    -------
    ndarray of float, shape (n,)
        Twice the height by which the skin leaves its plane at the end of each arm. [m]

    Examples
    --------
    >>> rise_twice_m(np.array([[2.0, 0, 0, 0, 0, 0]]), np.array([[0.1, 0.3, 0.0]])).round(9)
    array([0.02])
    """
    rise_m = np.zeros(len(arm_m))
    for column, (one, other) in enumerate(_PAIRS):
        times = 1.0 if one == other else 2.0
        rise_m += times * turn_per_m[:, column] * arm_m[:, one] * arm_m[:, other]
    return rise_m
