"""Which facets of an edge shared by three or more belong together."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from takeoff.geometry.half_edges import Sides
from takeoff.geometry.mesh import Mesh

IntArray = NDArray[np.int64]
_STEPS = 1 << 20  # of a full turn: facets on top of each other come to the same step


@dataclass(frozen=True, slots=True, eq=False)
class FanLinks:
    """Sides of fans, paired.

    Parameters
    ----------
    first, second : ndarray of int, shape (links,)
        Rows of the sides that belong together; those of fans that do not pair off come last.
    count : int
        Number of fans.
    torn : int
        How many of the last links come from fans that do not pair off.
    """

    first: IntArray
    second: IntArray
    count: int
    torn: int


def fan_links(mesh: Mesh, fanned: Sides, sizes: IntArray) -> FanLinks:
    """Pair the sides of every edge that three or more facets share.

    Parameters
    ----------
    mesh : Mesh
        The mesh.
    fanned : Sides
        Sides of facets on such edges, edge by edge.
    sizes : ndarray of int, shape (number of edges,)
        How many sides each edge has.

    Returns
    -------
    FanLinks
        The links; none where every edge has at most two facets.

    Notes
    -----
    Around an edge of a sound solid, wedges of material and of air alternate. A facet that
    runs the edge forward has its material at the smaller angle, so it is paired with the
    nearest backward facet below it: two solids that touch along an edge stay two. Where
    facets lie on top of each other the forward one comes first. A fan with more facets one
    way than the other is linked in sequence.

    Examples
    --------
    Two boxes that touch along one edge stay two bodies:

    >>> import trimesh
    >>> from takeoff.geometry.edges import edge_table
    >>> pair = [trimesh.creation.box(bounds=[[i, i, 0], [i + 1, i + 1, 1]]) for i in (0, 1)]
    >>> both = trimesh.util.concatenate(pair)
    >>> both.merge_vertices()
    >>> table = edge_table(Mesh.from_trimesh(both, unit="m"))
    >>> table.fans, table.torn_links, bool(((table.left < 12) == (table.right < 12)).all())
    (1, 0, True)
    """
    if not len(sizes):
        nothing = np.empty(0, dtype=np.int64)
        return FanLinks(nothing, nothing, 0, 0)
    forward = fanned.start < fanned.end
    fan = np.repeat(np.arange(len(sizes)), sizes)
    angle = _angles(mesh, fanned, fan)
    ranked = np.lexsort((~forward, angle, fan))
    forward = forward[ranked]
    surplus = np.bincount(fan, np.where(forward, 1, -1), minlength=len(sizes))
    even = (surplus == 0)[fan]
    pair, mate = _wedges(ranked[even], forward[even], fan[even])
    follows = np.flatnonzero(~even[1:] & (fan[1:] == fan[:-1])) + 1
    return FanLinks(
        first=np.concatenate([pair, ranked[follows - 1]]),
        second=np.concatenate([mate, ranked[follows]]),
        count=len(sizes),
        torn=len(follows),
    )


def _angles(mesh: Mesh, fanned: Sides, fan: IntArray) -> IntArray:
    """Angle of each facet about its edge, from the first one of the fan, in steps."""
    low, high = np.minimum(fanned.start, fanned.end), np.maximum(fanned.start, fanned.end)
    apex = mesh.triangles[fanned.facet].sum(axis=1) - low - high
    axis = mesh.points_m[high] - mesh.points_m[low]
    length_m = np.linalg.norm(axis, axis=1, keepdims=True)
    axis /= np.where(length_m > 0.0, length_m, 1.0)
    arm = mesh.points_m[apex] - mesh.points_m[low]
    arm -= np.einsum("ij,ij->i", arm, axis)[:, None] * axis
    first = np.searchsorted(fan, np.arange(int(fan[-1]) + 1))
    across = arm[first][fan]
    cosine = np.einsum("ij,ij->i", arm, across)
    sine = np.einsum("ij,ij->i", np.cross(across, arm), axis)
    turn = np.arctan2(sine, cosine) / (2.0 * np.pi)
    step: IntArray = np.rint(turn * _STEPS).astype(np.int64) % _STEPS
    return step


def _wedges(side: IntArray, forward: NDArray[np.bool_], fan: IntArray) -> tuple[IntArray, IntArray]:
    """Match the backward facet that opens each wedge of material with the one that closes it."""
    if not len(side):
        return side, side
    step = np.where(forward, -1, 1)
    depth = np.cumsum(step)  # every fan sums to zero, so each starts from zero again
    level = np.where(forward, depth + 1, depth)
    ranked = np.lexsort((np.arange(len(side)), level, fan))
    side, forward, fan, level = side[ranked], forward[ranked], fan[ranked], level[ranked]
    new = np.ones(len(side), dtype=np.bool_)
    new[1:] = (fan[1:] != fan[:-1]) | (level[1:] != level[:-1])
    block = np.cumsum(new) - 1
    first = np.flatnonzero(new)
    size = np.diff(np.append(first, len(side)))
    shift = forward[first].astype(np.int64)  # a block that begins by closing is turned by one
    place = (np.arange(len(side)) - first[block] - shift[block]) % size[block] + first[block]
    turned = np.empty_like(side)
    turned[place] = side
    return turned[0::2], turned[1::2]
