"""Samples of a skin along its inside corners and knife edges, and which lie where planes end."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from takeoff.geometry.crosses import cross_normals
from takeoff.geometry.dihedrals import lengths_m
from takeoff.geometry.skin_edges import SkinEdges
from takeoff.geometry.skin_samples import SkinSamples
from takeoff.geometry.sums import summed

FloatArray = NDArray[np.float64]
IntArray = NDArray[np.int64]
BoolArray = NDArray[np.bool_]

_NEAR = 6  # lines asked for one of the same patch: those of the other side are as near


@dataclass(frozen=True, slots=True, eq=False)
class Limits:
    """Where the planes of samples end.

    Parameters
    ----------
    beside : ndarray of bool, shape (m,)
        True for samples near a sharp or an open edge of their own smooth patch.
    edge_m : ndarray of float, shape (2, m, 3)
        A point of the sharp and one of the open edge. [m]
    outward_normals : ndarray of float, shape (2, m, 3)
        Unit vectors in the plane of the facet across them; zero where there is none. [-]
    flat : ndarray of bool, shape (m,)
        True for samples on flat faces that are wider than the reach.
    """

    beside: BoolArray
    edge_m: FloatArray
    outward_normals: FloatArray
    flat: BoolArray


def beside_limits(
    skin: SkinEdges, samples: SkinSamples, *, flat_deg: float, smooth_deg: float, reach_m: float
) -> Limits:
    """Tell the samples near a sharp or an open edge of their own smooth patch.

    Parameters
    ----------
    skin : SkinEdges
        The skin.
    samples : SkinSamples
        Its samples.
    flat_deg, smooth_deg : float
        Edges that turn less than the first are none, those that turn more than the second
        sharp. [°]
    reach_m : float
        How near. [m]

    Returns
    -------
    Limits
        Where they are.

    Examples
    --------
    A strip 1 m long: its samples near either end, and along both sides.

    >>> from takeoff.geometry.mesh import Mesh
    >>> from takeoff.geometry.skin_edges import skin_edges
    >>> from takeoff.geometry.skin_samples import sample_skin
    >>> net = np.array([[0, 0, 0], [1, 0, 0], [1, 1, 0], [0, 1, 0]], dtype=float)
    >>> strip = skin_edges(Mesh(net, np.array([[0, 1, 2], [0, 2, 3]], dtype=np.int32)))
    >>> samples = sample_skin(strip.mesh, strip.facets, 1000)
    >>> near = beside_limits(strip, samples, flat_deg=0.05, smooth_deg=20.0, reach_m=0.05)
    >>> bool(abs(near.beside.mean() - (1.0 - 0.9**2)) < 0.02)
    True
    """
    count = len(samples.facet)
    limits = Limits(
        np.zeros(count, dtype=np.bool_),
        np.zeros((2, count, 3)),
        np.zeros((2, count, 3)),
        _on_wide_flats(skin, flat_deg, reach_m)[samples.facet],
    )
    sharp = np.flatnonzero(np.abs(skin.turn_rad) > np.radians(smooth_deg))
    patch = skin.patches(smooth_deg)
    for kind, lines in enumerate((_sharp_lines(skin, sharp), _open_lines(skin))):
        if len(lines.facet):
            chosen, line = _nearest_lines(lines, samples, patch, reach_m)
            limits.beside[chosen] = True
            limits.edge_m[kind, chosen] = lines.start_m[line]
            limits.outward_normals[kind, chosen] = lines.outward_normals[line]
    return limits


def _nearest_lines(
    lines: _Lines, samples: SkinSamples, patch: NDArray[np.int32], reach_m: float
) -> tuple[IntArray, IntArray]:
    """Find the samples that a line of their own patch is near, and the nearest of these."""
    from scipy.spatial import cKDTree

    points_m, number = lines.strewn(reach_m / 5.0, len(samples.facet))
    tree = cKDTree(points_m, balanced_tree=False, compact_nodes=False)
    _, near = tree.query(samples.points_m, k=_NEAR, distance_upper_bound=reach_m)
    home = np.append(patch[lines.facet[number]], -1)
    line = np.full(len(samples.facet), -1, dtype=np.int64)
    for column in reversed(range(_NEAR)):
        mine = np.flatnonzero(home[near[:, column]] == patch[samples.facet])
        line[mine] = number[near[mine, column]]
    chosen = np.flatnonzero(line >= 0)
    return chosen, line[chosen]


@dataclass(frozen=True, slots=True, eq=False)
class _Lines:
    """Sharp and open edges, each once for every facet beside it."""

    facet: IntArray
    start_m: FloatArray
    along_m: FloatArray
    outward_normals: FloatArray

    def strewn(self, step_m: float, most_count: int) -> tuple[FloatArray, IntArray]:
        """Give points along the lines, and the line of each; one at least on every line."""
        length_m = np.sqrt(_length_m2(self.along_m))
        wanted = np.ceil(length_m / max(step_m, float(length_m.sum()) / most_count))
        count = np.maximum(wanted, 1.0).astype(np.int64)
        line = np.repeat(np.arange(len(count)), count)
        number = np.arange(len(line)) - np.repeat(np.cumsum(count) - count, count)
        share = (number + 0.5) / count[line]
        return self.start_m[line] + share[:, None] * self.along_m[line], line


def _sharp_lines(skin: SkinEdges, sharp: IntArray) -> _Lines:
    """Gather sharp edges, in the winding of either facet."""
    edges = skin.edges
    back = ~edges.same_way[sharp]
    start, end = edges.start[sharp], edges.end[sharp]
    facet = np.concatenate([edges.left[sharp], edges.right[sharp]])
    first = np.concatenate([start, np.where(back, end, start)])
    return _lines(skin, facet, first, np.concatenate([end, np.where(back, start, end)]))


def _open_lines(skin: SkinEdges) -> _Lines:
    """Gather the open edges."""
    edges = skin.edges
    return _lines(skin, edges.open_facet, edges.open_start, edges.open_end)


def _lines(
    skin: SkinEdges,
    facet: NDArray[np.int32],
    first: NDArray[np.int32],
    last: NDArray[np.int32],
) -> _Lines:
    """Give edges of facets as lines."""
    start_m = skin.mesh.points_m[first]
    along_m = skin.mesh.points_m[last] - start_m
    outward = cross_normals(along_m, skin.facets.normals[facet])
    length_m = np.maximum(np.sqrt(_length_m2(outward)), np.finfo(np.float64).tiny)
    return _Lines(facet.astype(np.int64), start_m, along_m, outward / length_m[:, None])


def with_edges(
    skin: SkinEdges,
    samples: SkinSamples,
    *,
    smooth_deg: float,
    knife_deg: float,
    most_count: int,
    chosen: BoolArray | None = None,
) -> SkinSamples:
    """Put samples along inside corners and knife edges, twice as close as those of the skin.

    Behind an inside corner, and off a knife edge, the edge is nearer than any facet beside it,
    and narrow facets there hold no sample of their own.

    Parameters
    ----------
    skin : SkinEdges
        The skin.
    samples : SkinSamples
        Its samples.
    smooth_deg : float
        Inside corners that turn more than this are sharp. [°]
    knife_deg : float
        Arrises that turn more than this are knife edges. [°]
    most_count : int
        How many to put at most.
    chosen : ndarray of bool, shape (k,), optional
        Facets that are sampled; all of them where it is left out.

    Returns
    -------
    SkinSamples
        Both.

    Examples
    --------
    >>> from takeoff.geometry.mesh import Mesh
    >>> from takeoff.geometry.skin_edges import skin_edges
    >>> from takeoff.geometry.skin_samples import sample_skin
    >>> net = [[x, y, abs(x)] for y in (0.0, 1.0) for x in (-1.0, 0.0, 1.0)]
    >>> valley = np.array([[0, 1, 4], [0, 4, 3], [1, 2, 5], [1, 5, 4]], dtype=np.int32)
    >>> skin = skin_edges(Mesh(np.array(net), valley))
    >>> spread = sample_skin(skin.mesh, skin.facets, 1131)
    >>> both = with_edges(skin, spread, smooth_deg=20.0, knife_deg=110.0, most_count=1000)
    >>> len(both.points_m) - len(spread.points_m), float(both.points_m[-1, 0])
    (80, 0.0)
    """
    edges, mesh = skin.edges, skin.mesh
    telling = skin.turn_rad < -np.radians(smooth_deg)
    telling |= skin.turn_rad > np.radians(knife_deg)
    chosen_edges = np.flatnonzero(telling)
    reached_m = np.cumsum(skin.lengths_m(chosen_edges))
    if not len(chosen_edges) or reached_m[-1] <= 0.0:
        return samples
    count = min(int(np.ceil(2.0 * reached_m[-1] / samples.spacing_m)), most_count)
    at_m = (np.arange(count) + 0.5) / count * reached_m[-1]
    number = np.minimum(np.searchsorted(reached_m, at_m), len(chosen_edges) - 1)
    edge = chosen_edges[number]
    end_m = mesh.points_m[edges.end[edge]]
    along_m = end_m - mesh.points_m[edges.start[edge]]
    length_m = np.maximum(np.sqrt(_length_m2(along_m)), np.finfo(np.float64).tiny)
    points_m = end_m - ((reached_m[number] - at_m) / length_m)[:, None] * along_m
    facet = np.concatenate([edges.left[edge], edges.right[edge]])
    points_m = np.concatenate([points_m, points_m])
    if chosen is not None:
        facet, points_m = facet[chosen[facet]], points_m[chosen[facet]]
    return samples.with_more(skin.facets, points_m, facet)


def _on_wide_flats(skin: SkinEdges, flat_deg: float, width_m: float) -> BoolArray:
    """Tell the facets of flat faces that are wider than a width, by their area and outline."""
    edges, area_m2 = skin.edges, skin.facets.area_m2
    face = skin.patches(flat_deg)
    count = int(face.max()) + 1
    border = np.flatnonzero(np.abs(skin.turn_rad) > np.radians(flat_deg))
    length_m = skin.lengths_m(border)
    open_m = lengths_m(skin.mesh, edges.open_start, edges.open_end)
    outline_m = summed(face[edges.open_facet], open_m, count)
    for side in (edges.left, edges.right):
        outline_m += summed(face[side[border]], length_m, count)
    wide = 2.0 * summed(face, area_m2, count) > width_m * outline_m
    return np.asarray(wide[face])


def _length_m2(arm_m: FloatArray) -> FloatArray:
    """Squares of lengths."""
    return np.asarray(np.einsum("ij,ij->i", arm_m, arm_m))
