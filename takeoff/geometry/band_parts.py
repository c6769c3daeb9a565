"""A skin made ready to be counted behind: its parts of one thickness each, sampled."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from takeoff.geometry.band import BandPart
from takeoff.geometry.band_rules import BandRules
from takeoff.geometry.border_edges import border_between, open_border
from takeoff.geometry.nearest import NearestSkin, nearest_skin
from takeoff.geometry.offset_rules import OffsetRules
from takeoff.geometry.skin_borders import dammed_ends, sample_border
from takeoff.geometry.skin_curves import turns_per_m
from takeoff.geometry.skin_edges import SkinEdges
from takeoff.geometry.skin_limits import beside_limits, with_edges
from takeoff.geometry.skin_samples import sample_skin
from takeoff.geometry.skin_tips import with_tips
from takeoff.geometry.sums import dot

FloatArray = NDArray[np.float64]
IntArray = NDArray[np.int64]


def sampled_skin(
    skin: SkinEdges,
    depth_m: float,
    *,
    chosen: IntArray | None = None,
    rules: BandRules = BandRules(),
    offset_rules: OffsetRules = OffsetRules(),
) -> NearestSkin:
    """Sample a skin, or a part of it, as closely as a depth asks for.

    Parameters
    ----------
    skin : SkinEdges
        The skin.
    depth_m : float
        How deep its layers are. [m]
    chosen : ndarray of int, optional
        Facets of the part; all of them where it is left out.
    rules : BandRules, optional
        How closely.
    offset_rules : OffsetRules, optional
        What counts as smooth.

    Returns
    -------
    NearestSkin
        The samples, ready to be asked for distances.

    Examples
    --------
    >>> import trimesh
    >>> from takeoff.geometry.mesh import Mesh
    >>> from takeoff.geometry.skin_edges import skin_edges
    >>> box = skin_edges(Mesh.from_trimesh(trimesh.creation.box((1, 1, 1)), unit="m"))
    >>> float(sampled_skin(box, 0.02).seen_from(np.zeros((1, 3)), 1.0).depth_m[0])
    0.5
    """
    mesh, facets = skin.mesh, skin.facets
    count = _sample_count(skin, depth_m, rules)
    if chosen is not None:
        share = float(facets.area_m2[chosen].sum()) / float(facets.area_m2.sum())
        count = max(int(count * share), rules.neighbour_count)
    mask = None if chosen is None else _mask(chosen, len(mesh.triangles))
    samples = with_edges(
        skin,
        sample_skin(mesh, facets, count, chosen=chosen),
        smooth_deg=offset_rules.smooth_deg,
        knife_deg=rules.thin_turn_deg,
        most_count=count,
        chosen=mask,
    )
    samples = with_tips(skin, samples, chosen=mask, rules=rules)
    turn_per_m = turns_per_m(skin, samples, smooth_deg=offset_rules.smooth_deg)
    limits = beside_limits(
        skin,
        samples,
        flat_deg=offset_rules.flat_deg,
        smooth_deg=offset_rules.smooth_deg,
        reach_m=rules.limit_ratio * samples.spacing_m,
    )
    curved = bool(np.abs(turn_per_m).max(initial=0.0) > 0.0)
    return nearest_skin(
        mesh, samples, turn_per_m=turn_per_m if curved else None, limits=limits, rules=rules
    )


def _sample_count(skin: SkinEdges, depth_m: float, rules: BandRules) -> int:
    """Tell how many samples a depth asks for: the more of them, the more the skin bends."""
    whole_m2 = float(skin.facets.area_m2.sum())
    wanted, most = whole_m2 * (rules.samples_per_thickness_count / depth_m) ** 2, 0.0
    if wanted > rules.most_sample_count:
        bent = np.flatnonzero(skin.turn_rad != 0.0)
        turned_m = dot(np.abs(skin.turn_rad[bent]), skin.lengths_m(bent))
        most = (turned_m / whole_m2 / rules.turn_per_spacing_rad) ** 2 * whole_m2
    most = np.clip(most, rules.most_sample_count, rules.most_bent_sample_count)
    return int(np.clip(wanted, rules.least_sample_count, most))


def band_parts(
    skin: SkinEdges,
    from_m: FloatArray,
    to_m: FloatArray,
    *,
    ends_square: bool = True,
    rules: BandRules = BandRules(),
) -> tuple[BandPart, ...]:
    """Divide a skin into parts of one thickness each.

    Parameters
    ----------
    skin : SkinEdges
        The skin.
    from_m, to_m : ndarray of float, shape (k,)
        The two depths behind each facet. [m]
    ends_square : bool, default True
        Whether the layers end square at open edges; where they stay within a solid they do
        not, but run on to its back.
    rules : BandRules, optional
        How closely.

    Returns
    -------
    tuple of BandPart
        The parts, in the order of their thickness.

    Examples
    --------
    >>> import trimesh
    >>> from takeoff.geometry.mesh import Mesh
    >>> from takeoff.geometry.skin_edges import skin_edges
    >>> box = skin_edges(Mesh.from_trimesh(trimesh.creation.box((1, 1, 1)), unit="m"))
    >>> up = np.where(box.facets.normals[:, 2] > 0.5, 0.03, 0.02)
    >>> [part.to_m for part in band_parts(box, np.zeros(12), up)]
    [0.02, 0.03]
    """
    from_m, to_m = _in_steps(from_m, to_m, skin.facets.area_m2, rules)
    pairs, number = _pairs(from_m, to_m)
    deepest_m = float(to_m.max())
    parts = []
    for step, (start_m, deep_m) in enumerate(pairs):
        chosen = np.flatnonzero(number == step) if len(pairs) > 1 else None
        sampled = sampled_skin(skin, deepest_m, chosen=chosen, rules=rules)
        spacing_m = sampled.samples.spacing_m
        ends = joins = None
        if ends_square:
            open_ends = open_border(skin.edges).of(number == step)
            dams = dammed_ends(skin, open_ends, rules=rules)
            ends = sample_border(
                skin.mesh, skin.facets, open_ends, spacing_m=spacing_m, dams=dams, rules=rules
            )
        if len(pairs) > 1:
            others = border_between(skin.edges, number == step)
            joins = sample_border(skin.mesh, skin.facets, others, spacing_m=spacing_m, rules=rules)
        parts.append(BandPart(sampled, ends, joins, start_m, deep_m))
    return tuple(parts)


def _mask(chosen: IntArray, count: int) -> NDArray[np.bool_]:
    """Put true and false for numbers."""
    mask = np.zeros(count, dtype=np.bool_)
    mask[chosen] = True
    return mask


def _pairs(from_m: FloatArray, to_m: FloatArray) -> tuple[list[tuple[float, float]], IntArray]:
    """Give the pairs of depths that occur, by their depth, and the number of each facet's pair."""
    number = np.zeros(len(to_m), dtype=np.int64)
    varied_m = [values_m for values_m in (to_m, from_m) if np.ptp(values_m) > 0.0]
    if not varied_m:
        return [(float(from_m[0]), float(to_m[0]))], number
    for values_m in varied_m:
        levels_m, level = np.unique(values_m, return_inverse=True)
        number = number * len(levels_m) + level
    _, first, number = np.unique(number, return_index=True, return_inverse=True)
    return list(zip(from_m[first].tolist(), to_m[first].tolist(), strict=True)), number


def _in_steps(
    from_m: FloatArray, to_m: FloatArray, area_m2: FloatArray, rules: BandRules
) -> tuple[FloatArray, FloatArray]:
    """Put means of a few steps for layers of very many thicknesses."""
    levels = [1 if np.ptp(m) == 0.0 else len(np.unique(m)) for m in (from_m, to_m)]
    if levels[0] * levels[1] <= rules.part_count:
        return from_m, to_m
    low_m, high_m = float(to_m.min()), float(to_m.max())
    width_m = (high_m - low_m) / rules.part_count
    step = np.zeros(len(to_m), dtype=np.int64)
    if width_m > 0.0:
        step = np.minimum((to_m - low_m) / width_m, rules.part_count - 1).astype(np.int64)
    whole_m2 = np.bincount(step, area_m2)
    means = []
    for values in (from_m, to_m):
        total = np.bincount(step, area_m2 * values)
        means.append((total / np.maximum(whole_m2, np.finfo(np.float64).tiny))[step])
    return means[0], means[1]
