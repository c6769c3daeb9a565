"""Whether layers reach past the dams at the ends of a skin, as beside a groove near its border."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from takeoff.geometry.band_rules import BandRules
from takeoff.geometry.border_edges import open_border
from takeoff.geometry.skin_borders import SkinBorder, dammed_ends, sample_border
from takeoff.geometry.skin_edges import SkinEdges
from takeoff.geometry.skin_samples import sample_skin

FloatArray = NDArray[np.float64]


def passing_share(skin: SkinEdges, depth_m: FloatArray, *, rules: BandRules = BandRules()) -> float:
    """Tell behind how much of a skin the layers pass the dams at its ends.

    Parameters
    ----------
    skin : SkinEdges
        The skin.
    depth_m : ndarray of float, shape (k,)
        Depth of the layers behind each facet. [m]
    rules : BandRules, optional
        How many places are tried.

    Returns
    -------
    float
        Share of the area. [-]

    Notes
    -----
    The sum over edges lets every layer end square to its own face alone; what of it lies past
    the dam of another is cut off there only by the count.

    Examples
    --------
    The wall of a groove 2 mm beside the end of a panel: layers of 1 mm stay before the dam.

    >>> from takeoff.geometry.mesh import Mesh
    >>> from takeoff.geometry.skin_edges import skin_edges
    >>> line = [(0.0, 0.0), (0.002, 0.0), (0.002, -0.02), (0.03, -0.02), (0.03, 0.0), (0.2, 0.0)]
    >>> net = [[x, y, z] for y in (0.0, 0.3) for x, z in line]
    >>> cut = [part for k in range(5) for part in ((k, k + 1, k + 7), (k, k + 7, k + 6))]
    >>> panel = skin_edges(Mesh(np.array(net), np.array(cut, dtype=np.int32)))
    >>> [round(passing_share(panel, np.full(10, depth)), 2) for depth in (0.001, 0.004)]
    [0.0, 0.08]
    """
    ends = open_border(skin.edges)
    if not len(ends.facet):
        return 0.0
    samples = sample_skin(skin.mesh, skin.facets, rules.probe_count)
    deep_m = depth_m[samples.facet]
    at_m = samples.points_m + deep_m[:, None] * samples.inward_normals
    border = sample_border(skin.mesh, skin.facets, ends, spacing_m=samples.spacing_m, rules=rules)
    if border is None or not _passing(border, at_m, deep_m).any():
        return 0.0
    border = sample_border(
        skin.mesh,
        skin.facets,
        ends.chosen(dammed_ends(skin, ends, rules=rules)),
        spacing_m=samples.spacing_m,
        rules=rules,
    )
    return 0.0 if border is None else float(_passing(border, at_m, deep_m).mean())


def _passing(border: SkinBorder, at_m: FloatArray, deep_m: FloatArray) -> NDArray[np.bool_]:
    """Tell which points lie past the planes across the border beside them."""
    reach_m, found = border.tree.query(at_m)
    out_m = np.einsum("ij,ij->i", at_m - border.points_m[found], border.outward_normals[found])
    passing: NDArray[np.bool_] = out_m > border.rules.near_share * deep_m
    passing &= reach_m < 2.0 * (deep_m + border.spacing_m)
    return passing
