"""Where a sampled skin lies close to another side of itself: at knife edges, tips and cusps."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import NDArray

from takeoff.geometry.band_rules import BandRules
from takeoff.geometry.blocks import blocks
from takeoff.geometry.skin_samples import SkinSamples

if TYPE_CHECKING:
    from scipy.spatial import cKDTree

FloatArray = NDArray[np.float64]
BoolArray = NDArray[np.bool_]
IntArray = NDArray[np.int64]


def thin_samples(
    samples: SkinSamples,
    tree: cKDTree,
    *,
    turn_per_m: FloatArray | None = None,
    rules: BandRules = BandRules(),
) -> BoolArray:
    """Tell the samples that have others of an opposite side beside them, or near them.

    There, the nearest sample of a point is as likely on the other side, where the point would
    be taken for one inside the skin though it is outside.

    Parameters
    ----------
    samples : SkinSamples
        The samples.
    tree : scipy.spatial.cKDTree
        The same as a tree.
    turn_per_m : ndarray of float, shape (m, 6), optional
        How the skin curves at each sample, as `turns_per_m` gives it. [1/m]
    rules : BandRules, optional
        How near, and how opposite.

    Returns
    -------
    ndarray of bool, shape (m,)
        True for those samples.

    Notes
    -----
    A few samples are tried first, the most curved among them: most skins are nowhere thin.

    Examples
    --------
    A ridge 6 mm wide and 60 mm high, sampled 2 mm apart:

    >>> from scipy.spatial import cKDTree
    >>> from takeoff.geometry.facets import facets_of
    >>> from takeoff.geometry.mesh import Mesh
    >>> from takeoff.geometry.skin_samples import sample_skin
    >>> net = [[x, y, z] for y in (0.0, 0.1) for x, z in ((-0.003, 0), (0, 0.06), (0.003, 0))]
    >>> ridge = Mesh(np.array(net), np.array([[0, 4, 1], [0, 3, 4], [1, 5, 2], [1, 4, 5]]))
    >>> samples = sample_skin(ridge, facets_of(ridge), 3000)
    >>> thin = thin_samples(samples, cKDTree(samples.points_m))
    >>> bool(thin[samples.points_m[:, 2] > 0.05].all()), bool(thin.all())
    (True, False)
    """
    count = len(samples.points_m)
    every = max(1, count // rules.probe_count)
    tried = np.arange(0, count, every)
    if turn_per_m is not None:
        turned = np.abs(turn_per_m[:, :3].sum(axis=1))
        tried = np.union1d(tried, np.argsort(-turned, kind="stable")[: rules.probe_count // 5])
    if not _have_opposites(samples, tree, tried, rules).any():
        return np.zeros(count, dtype=np.bool_)
    every_one = np.arange(count)
    found = [_have_opposites(samples, tree, every_one[piece], rules) for piece in blocks(count)]
    return _or_beside(samples, np.concatenate(found), rules)


def _or_beside(samples: SkinSamples, thin: BoolArray, rules: BandRules) -> BoolArray:
    """Tell which samples are thin, or within reach of those that are."""
    from scipy.spatial import cKDTree

    tree = cKDTree(samples.points_m[thin])
    reach_m = rules.limit_ratio * samples.spacing_m
    far_m, _ = tree.query(samples.points_m, distance_upper_bound=reach_m)
    beside: BoolArray = np.isfinite(far_m)
    return beside


def _have_opposites(
    samples: SkinSamples, tree: cKDTree, tried: IntArray, rules: BandRules
) -> BoolArray:
    """Tell which of some samples have others beside them that face the other way."""
    most = min(rules.thin_neighbour_count, len(samples.points_m))
    _, near = tree.query(
        samples.points_m[tried],
        k=np.arange(1, most + 1),
        distance_upper_bound=rules.limit_ratio * samples.spacing_m,
    )
    normals = np.concatenate([samples.inward_normals, np.zeros((1, 3))])
    facing = np.einsum("ij,ikj->ik", samples.inward_normals[tried], normals[near])
    opposite: BoolArray = (facing < np.cos(np.radians(rules.thin_turn_deg))).any(axis=1)
    return opposite
