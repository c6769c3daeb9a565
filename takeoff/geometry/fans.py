"""Which facets of an edge shared by three or more belong together."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from takeoff.geometry.mesh import Mesh

IntArray = NDArray[np.int64]


@dataclass(frozen=True, slots=True, eq=False)
class FanLinks:
    """Half-edges of fans, paired.

    Parameters
    ----------
    half, mate : ndarray of int, shape (links,)
        Half-edges that belong together; those of fans that do not pair off come last.
    count : int
        Number of fans.
    torn : int
        How many of the last links come from fans that do not pair off.
    """

    half: IntArray
    mate: IntArray
    count: int
    torn: int


def fan_links(
    mesh: Mesh,
    start: NDArray[np.int32],
    end: NDArray[np.int32],
    order: IntArray,
    first: IntArray,
    count: IntArray,
) -> FanLinks:
    """Pair the half-edges of every edge that three or more facets share.

    Parameters
    ----------
    mesh : Mesh
        The mesh.
    start, end : ndarray of int, shape (3 k,)
        Point numbers of the half-edges, three a facet.
    order : ndarray of int, shape (3 k,)
        Half-edges sorted by edge.
    first, count : ndarray of int, shape (edges,)
        Place in ``order`` of the first half-edge of each edge, and how many it has.

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
    chosen = np.flatnonzero(count > 2)
    if not len(chosen):
        return FanLinks(order[:0], order[:0], 0, 0)
    sizes = count[chosen]
    fan = np.repeat(np.arange(len(chosen)), sizes)
    within = np.arange(len(fan)) - np.repeat(np.cumsum(sizes) - sizes, sizes)
    half = order[first[chosen][fan] + within]
    forward = start[half] < end[half]
    angle = _angles(mesh, start, end, half, np.cumsum(sizes) - sizes, fan)
    ranked = np.lexsort((~forward, angle, fan))
    half, forward = half[ranked], forward[ranked]
    surplus = np.bincount(fan, np.where(forward, 1, -1), minlength=len(chosen))
    even = (surplus == 0)[fan]
    pair, mate = _wedges(half[even], forward[even], fan[even])
    follows = np.flatnonzero(~even[1:] & (fan[1:] == fan[:-1])) + 1
    return FanLinks(
        half=np.concatenate([pair, half[follows - 1]]),
        mate=np.concatenate([mate, half[follows]]),
        count=len(chosen),
        torn=len(follows),
    )


def _angles(
    mesh: Mesh,
    start: NDArray[np.int32],
    end: NDArray[np.int32],
    half: IntArray,
    first: IntArray,
    fan: IntArray,
) -> NDArray[np.int64]:
    """Angle of each facet about its edge from the first facet of the fan, in steps of 1/2^20."""
    low = np.minimum(start[half], end[half])
    high = np.maximum(start[half], end[half])
    apex = mesh.triangles[half // 3, (half + 2) % 3]
    axis = mesh.points_m[high] - mesh.points_m[low]
    axis /= np.linalg.norm(axis, axis=1, keepdims=True)
    arm = mesh.points_m[apex] - mesh.points_m[low]
    arm -= np.einsum("ij,ij->i", arm, axis)[:, None] * axis
    across = arm[first][fan]
    cosine = np.einsum("ij,ij->i", arm, across)
    sine = np.einsum("ij,ij->i", np.cross(across, arm), axis)
    turn = np.arctan2(sine, cosine) / (2.0 * np.pi)
    return np.rint(turn * 2**20).astype(np.int64) % 2**20


def _wedges(half: IntArray, forward: NDArray[np.bool_], fan: IntArray) -> tuple[IntArray, IntArray]:
    """Match the backward facet that opens each wedge of material with the one that closes it."""
    if not len(half):
        return half, half
    step = np.where(forward, -1, 1)
    depth = np.cumsum(step)  # every fan sums to zero, so each starts from zero again
    level = np.where(forward, depth + 1, depth)
    ranked = np.lexsort((np.arange(len(half)), level, fan))
    half, forward, fan, level = half[ranked], forward[ranked], fan[ranked], level[ranked]
    new = np.ones(len(half), dtype=np.bool_)
    new[1:] = (fan[1:] != fan[:-1]) | (level[1:] != level[:-1])
    block = np.cumsum(new) - 1
    first = np.flatnonzero(new)
    size = np.diff(np.append(first, len(half)))
    shift = forward[first].astype(np.int64)  # a block that begins by closing is turned by one
    place = (np.arange(len(half)) - first[block] - shift[block]) % size[block] + first[block]
    turned = np.empty_like(half)
    turned[place] = half
    return turned[0::2], turned[1::2]
