"""Whether layers meet that no edge accounts for: from faces that lie back to back."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from takeoff.geometry.band_parts import sampled_skin
from takeoff.geometry.band_rules import BandRules
from takeoff.geometry.border_edges import open_border
from takeoff.geometry.components import component_labels
from takeoff.geometry.dam_passing import passing_share
from takeoff.geometry.nearest import NearestSkin
from takeoff.geometry.offset_rules import OffsetRules
from takeoff.geometry.skin_borders import sample_border
from takeoff.geometry.skin_edges import SkinEdges
from takeoff.geometry.skin_samples import sample_skin
from takeoff.geometry.solid_skins import SolidSkin

FloatArray = NDArray[np.float64]
IntArray = NDArray[np.int64]
BoolArray = NDArray[np.bool_]


def meeting_share(
    skin: SkinEdges,
    depth_m: FloatArray,
    *,
    solid: SolidSkin | None = None,
    rules: BandRules = BandRules(),
    offset_rules: OffsetRules = OffsetRules(),
) -> float:
    """Tell behind how much of a skin layers meet, or come out of the solid.

    Parameters
    ----------
    skin : SkinEdges
        The skin.
    depth_m : ndarray of float, shape (k,)
        Depth of the layers behind each facet. [m]
    solid : SolidSkin, optional
        The closed surface they stay within.
    rules : BandRules, optional
        How many places are tried.
    offset_rules : OffsetRules, optional
        What counts as smooth.

    Returns
    -------
    float
        Share of the area. [-]

    Notes
    -----
    From points of the skin, a step is taken to the inner face of the layers. Where another
    face is nearer there, that neither belongs to the same curve nor meets it at an edge, its
    layers are met. Those of faces that share an edge the sum over edges accounts for.

    Examples
    --------
    Two plates back to back, 30 mm apart:

    >>> from takeoff.geometry.mesh import Mesh
    >>> from takeoff.geometry.skin_edges import skin_edges
    >>> plate = np.array([[0, 0, 0], [1, 0, 0], [1, 1, 0], [0, 1, 0]], dtype=float)
    >>> both = Mesh(np.vstack([plate, plate - [0, 0, 0.03]]),
    ...             np.array([[0, 1, 2], [0, 2, 3], [4, 6, 5], [4, 7, 6]], dtype=np.int32))
    >>> pair = skin_edges(both)
    >>> meeting_share(pair, np.full(4, 0.012)), meeting_share(pair, np.full(4, 0.020))
    (0.0, 1.0)
    """
    if not depth_m.any():
        return 0.0
    passing = passing_share(skin, depth_m, rules=rules) if solid is None else 0.0
    tried = sampled_skin(skin, float(depth_m.max()), rules=rules.rough(), offset_rules=offset_rules)
    samples = tried.samples
    every = max(1, len(samples.points_m) // rules.probe_count)
    facet, from_m = samples.facet[::every], samples.points_m[::every]
    deep_m = depth_m[facet]
    at_m = from_m + deep_m[:, None] * samples.inward_normals[::every]
    seen = tried.seen_from(at_m, float(depth_m.max()))
    other = samples.facet[seen.sample]
    nearer_m = np.minimum(deep_m, depth_m[other]) * (1.0 - rules.near_share)
    met = seen.distance_m < nearer_m
    met[met] = ~_akin(skin, facet[met], other[met], offset_rules)
    if solid is not None:
        inside = solid.roughly(float(depth_m.max()))
        met |= _comes_out(skin, _Steps(from_m, at_m, deep_m), inside, rules)
    return max(float(met.mean()), passing)


def coming_out_share(
    skin: SkinEdges,
    depth_m: FloatArray,
    solid: SolidSkin,
    chosen: IntArray,
    *,
    rules: BandRules = BandRules(),
) -> float:
    """Tell behind how much of some facets layers come out at the back of a solid.

    Parameters
    ----------
    skin : SkinEdges
        The skin.
    depth_m : ndarray of float, shape (k,)
        Depth of the layers behind each facet. [m]
    solid : SolidSkin
        The closed surface of the piece.
    chosen : ndarray of int
        The facets.
    rules : BandRules, optional
        How many places are tried.

    Returns
    -------
    float
        Share of their area. [-]

    Examples
    --------
    >>> import trimesh
    >>> from takeoff.geometry.mesh import Mesh
    >>> from takeoff.geometry.skin_edges import skin_edges
    >>> slab = skin_edges(Mesh.from_trimesh(trimesh.creation.box((1, 1, 0.02)), unit="m"))
    >>> top = np.flatnonzero(slab.facets.normals[:, 2] > 0.5)
    >>> solid = SolidSkin.of(slab, [0.02, 0.024])
    >>> [coming_out_share(slab, np.full(12, depth), solid, top) for depth in (0.02, 0.024)]
    [0.0, 1.0]
    """
    samples = sample_skin(skin.mesh, skin.facets, rules.probe_count, chosen=chosen)
    deep_m = depth_m[samples.facet]
    at_m = samples.points_m + deep_m[:, None] * samples.inward_normals
    inside = solid.roughly(float(depth_m.max()))
    out_m = -inside.seen_from(at_m, float(depth_m.max())).depth_m
    return float((out_m > rules.near_share * deep_m).mean())


def _akin(skin: SkinEdges, one: IntArray, other: IntArray, rules: OffsetRules) -> BoolArray:
    """Tell pairs of facets of one smooth patch, of two that meet at an edge, or of one arris."""
    if not len(one):
        return np.zeros(0, dtype=np.bool_)
    edges, normals, turn_rad = skin.edges, skin.facets.normals, skin.turn_rad
    sharp = np.flatnonzero(np.abs(turn_rad) > np.radians(rules.smooth_deg))
    patch = skin.patches(rules.smooth_deg).astype(np.int64)
    pitch = int(patch.max()) + 1
    left, right = patch[edges.left[sharp]], patch[edges.right[sharp]]
    known = np.unique(np.concatenate([left * pitch + right, right * pitch + left]))
    wanted = patch[one] * pitch + patch[other]
    akin: BoolArray = (patch[one] == patch[other]) | np.isin(wanted, known)
    rounding = (turn_rad > -np.radians(rules.smooth_deg)) & (
        turn_rad < np.radians(rules.chamfer_deg)
    )
    run = component_labels(len(patch), edges.left, edges.right, linked=rounding)
    least = np.cos(np.radians(rules.arris_turn_deg))
    facing = np.einsum("ij,ij->i", normals[one], normals[other]) > least
    akin |= (run[one] == run[other]) & facing
    return akin


@dataclass(frozen=True, slots=True, eq=False)
class _Steps:
    """Steps from the skin to the inner face of its layers."""

    from_m: FloatArray
    at_m: FloatArray
    deep_m: FloatArray


def _comes_out(skin: SkinEdges, steps: _Steps, inside: NearestSkin, rules: BandRules) -> BoolArray:
    """Tell where layers come out at the back, away from the rim at which they end."""
    within_m = float(steps.deep_m.max())
    out = inside.seen_from(steps.at_m, within_m).depth_m < -rules.near_share * steps.deep_m
    spacing_m = inside.samples.spacing_m
    rim = sample_border(skin.mesh, skin.facets, open_border(skin.edges), spacing_m=spacing_m)
    if rim is None or not out.any():
        return out
    reach_m, _ = rim.tree.query(steps.from_m)
    found: BoolArray = out & (reach_m > steps.deep_m)
    return found
