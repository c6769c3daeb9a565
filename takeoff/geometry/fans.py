"""Which facets of an edge shared by three or more belong together."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from takeoff.geometry.half_edges import ends_of
from takeoff.geometry.mesh import Mesh

IntArray = NDArray[np.int64]
_STEPS = 1 << 20  # of a full turn: facets on top of each other come to the same step


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

    half: NDArray[np.int32]
    mate: NDArray[np.int32]
    count: int
    torn: int


def fan_links(mesh: Mesh, fanned: NDArray[np.int32], sizes: NDArray[np.int64]) -> FanLinks:
    """Pair the half-edges of every edge that three or more facets share.

    Parameters
    ----------
    mesh : Mesh
        The mesh.
    fanned : ndarray of int, shape (f,)
        Half-edges of such edges, edge by edge, numbered three a facet.
    sizes : ndarray of int, shape (number of edges,)
        How many half-edges each edge has.

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
        return FanLinks(fanned, fanned, 0, 0)
    start, end = ends_of(mesh.triangles, fanned)
    forward = start < end
    fan = np.repeat(np.arange(len(sizes)), sizes)
    angle = _angles(mesh, fanned, np.where(forward, start, end), np.where(forward, end, start), fan)
    ranked = np.lexsort((~forward, angle, fan))
    half, forward = fanned[ranked], forward[ranked]
    surplus = np.bincount(fan, np.where(forward, 1, -1), minlength=len(sizes))
    even = (surplus == 0)[fan]
    pair, mate = _wedges(half[even], forward[even], fan[even])
    follows = np.flatnonzero(~even[1:] & (fan[1:] == fan[:-1])) + 1
    return FanLinks(
        half=np.concatenate([pair, half[follows - 1]]),
        mate=np.concatenate([mate, half[follows]]),
        count=len(sizes),
        torn=len(follows),
    )


def _angles(
    mesh: Mesh,
    half: NDArray[np.int32],
    low: NDArray[np.int32],
    high: NDArray[np.int32],
    fan: IntArray,
) -> IntArray:
    """Angle of each facet about its edge, from the first one of the fan, in steps."""
    apex = mesh.triangles[half // 3, (half + 2) % 3]
    axis = mesh.points_m[high] - mesh.points_m[low]
    axis /= np.linalg.norm(axis, axis=1, keepdims=True)
    arm = mesh.points_m[apex] - mesh.points_m[low]
    arm -= np.einsum("ij,ij->i", arm, axis)[:, None] * axis
    first = np.searchsorted(fan, np.arange(int(fan[-1]) + 1))
    across = arm[first][fan]
    cosine = np.einsum("ij,ij->i", arm, across)
    sine = np.einsum("ij,ij->i", np.cross(across, arm), axis)
    turn = np.arctan2(sine, cosine) / (2.0 * np.pi)
    step: IntArray = np.rint(turn * _STEPS).astype(np.int64) % _STEPS
    return step


def _wedges(
    half: NDArray[np.int32], forward: NDArray[np.bool_], fan: IntArray
) -> tuple[NDArray[np.int32], NDArray[np.int32]]:
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
