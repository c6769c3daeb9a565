"""Points that are the same become one: exactly by hashing, or within a length on open edges."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from takeoff.geometry.blocks import blocks
from takeoff.geometry.components import component_labels
from takeoff.geometry.edges import EdgeTable
from takeoff.geometry.mesh import Mesh
from takeoff.geometry.remapping import first_rows, remapped_corners
from takeoff.geometry.strips import Strips

_MOST_NEIGHBOURS = 256
_ROWS = 1 << 15
_CORNERS = 3 << 14
AnyFloat = NDArray[np.float32] | NDArray[np.float64]


def weld_exact(corners: AnyFloat) -> tuple[AnyFloat, NDArray[np.int32]]:
    """Find the distinct points among corners that repeat them exactly.

    Parameters
    ----------
    corners : ndarray of float32 or float64, shape (n, 3)
        Points, most of them several times; finite.

    Returns
    -------
    tuple of ndarray, shape (p, 3), and ndarray of int, shape (n,)
        The distinct points in the order of their first corners, and for each corner the
        number of its point. Zero and minus zero are the same.

    Notes
    -----
    Corners that a facet has in common with the one before it are left out first. The rest
    take one sort of 64-bit words, each the upper bits of a hash of a point over its row
    number. Equal hashes of unequal points do occur from some million rows on, so every
    corner is compared with its point, and those that differ are sorted by their
    coordinates. Where the meshoptimizer library is installed, it finds the same points
    among corners that came in order; in any order it is slower than the sort.

    Examples
    --------
    >>> corners = np.array([[1.0, 2.0, 0.0], [5.0, 5.0, 5.0], [1.0, 2.0, -0.0]])
    >>> points, number = weld_exact(corners)
    >>> len(points), bool(number[0] == number[2])
    (2, True)
    """
    strips = Strips(len(corners))
    for piece in blocks(len(corners), _CORNERS):
        strips.take_in(corners[piece])
    return welded_strips(strips)


def welded_strips(strips: Strips) -> tuple[AnyFloat, NDArray[np.int32]]:
    """Find the distinct points among corners taken in.

    Parameters
    ----------
    strips : Strips
        At least one corner; they are used up.

    Returns
    -------
    tuple of ndarray, shape (p, 3), and ndarray of int, shape (n,)
        As `weld_exact` gives them.

    Examples
    --------
    >>> strips = Strips(2)
    >>> strips.take_in(np.zeros((2, 3)))
    >>> welded_strips(strips)[1].tolist()
    [0, 0]
    """
    corners, place = strips.corners(), strips.place
    in_order = 2 * len(corners) <= len(place)
    known = remapped_corners(corners) if in_order else None
    if known is None:
        points, number = _distinct(corners)
    else:
        points, number = corners.take(first_rows(known), axis=0), known
    for piece in blocks(len(place)):
        place[piece] = number.take(place[piece])
    return points, place


@np.errstate(invalid="ignore")  # damaged files hold numbers that are none
def _distinct(corners: AnyFloat) -> tuple[AnyFloat, NDArray[np.int32]]:
    """Distinct points in the order of their first corners, and the point of each corner."""
    row_bits = max(len(corners) - 1, 1).bit_length()
    words = _words(corners, row_bits)
    words.sort()
    number = np.empty(len(corners), dtype=np.int32)
    leads = _leaders(words, row_bits, number)
    rank = words.view(np.int32)[: len(corners)]  # the words are done with: their memory serves
    np.cumsum(leads, out=rank)
    for piece in blocks(len(corners)):
        number[piece] = rank.take(number[piece]) - np.int32(1)
    points = corners.take(np.flatnonzero(leads), axis=0)
    return _told_apart(corners, points, number)


def _words(corners: AnyFloat, row_bits: int) -> NDArray[np.uint64]:
    """Upper bits of the hash of each corner over its row number, minus zero taken for zero."""
    words = np.empty(len(corners), dtype=np.uint64)
    row_mask = np.uint64((1 << row_bits) - 1)
    for piece in blocks(len(corners), _ROWS):
        bits = (corners[piece] + corners.dtype.type(0)).view(f"u{corners.dtype.itemsize}")
        word = words[piece]
        word[:] = bits[:, 0]
        word *= np.uint64(0x9E3779B97F4A7C15)
        word ^= word >> np.uint64(32)
        word ^= bits[:, 1]
        word *= np.uint64(0xC2B2AE3D27D4EB4F)
        word ^= word >> np.uint64(29)
        word ^= bits[:, 2]
        word *= np.uint64(0x165667B19E3779F9)
        word &= ~row_mask
        word |= np.arange(piece.start, piece.stop, dtype=np.uint64)
    return words


def _leaders(
    words: NDArray[np.uint64], row_bits: int, leader: NDArray[np.int32]
) -> NDArray[np.bool_]:
    """Mark the first row of each hash, and write it to all rows of that hash."""
    leads = np.zeros(len(words), dtype=np.bool_)
    row_mask = np.uint64((1 << row_bits) - 1)
    lead = np.empty(0, dtype=np.int32)
    for piece in blocks(len(words), _ROWS):
        word = words[max(piece.start - 1, 0) : piece.stop]
        differs = (word[1:] ^ word[:-1]) > row_mask
        row = (words[piece] & row_mask).view(np.int64)
        begin = np.flatnonzero(differs if piece.start else np.insert(differs, 0, True))
        first = row.take(begin).astype(np.int32)
        leads[first] = True
        if len(lead) and (not len(begin) or begin[0]):
            begin, first = np.insert(begin, 0, 0), np.insert(first, 0, lead)
        leader[row] = np.repeat(first, np.diff(begin, append=len(row)))
        lead = first[-1:]
    return leads


def _told_apart(
    corners: AnyFloat, points: AnyFloat, number: NDArray[np.int32]
) -> tuple[AnyFloat, NDArray[np.int32]]:
    """Give points of their own to corners whose hash fell on another point."""
    found = []
    for piece in blocks(len(corners)):
        wrong = points.take(number[piece], axis=0) != corners[piece]
        if wrong.any():
            found.append(np.flatnonzero(wrong.any(axis=1)) + piece.start)
    if not found:
        return points, number
    rows = np.concatenate(found)
    extra, which = np.unique(corners[rows] + 0, axis=0, return_inverse=True)
    number[rows] = len(points) + which.reshape(-1).astype(np.int32)
    return np.concatenate([points, extra]), number


def weld_near(mesh: Mesh, edges: EdgeTable, *, within_m: float) -> tuple[Mesh, int]:
    """Join points of open edges that lie closer together than a length.

    Parameters
    ----------
    mesh : Mesh
        A mesh welded exactly.
    edges : EdgeTable
        Of the same mesh.
    within_m : float
        Points no farther apart than this become one, chains of them too. [m]

    Returns
    -------
    tuple of Mesh and int
        The mesh over the remaining points, and how many points were joined to another.
        Facets that lost a side are still in it.

    Examples
    --------
    >>> from takeoff.geometry.edges import edge_table
    >>> near = [[0, 0, 0], [1, 0, 0], [1, 1, 0], [0, 1e-7, 0], [1, 1, 1e-7], [0, 1, 0]]
    >>> gaping = Mesh(np.array(near), np.array([[0, 1, 2], [3, 4, 5]], dtype=np.int32))
    >>> weld_near(gaping, edge_table(gaping), within_m=1e-6)
    (Mesh(points=4, triangles=2), 2)
    """
    rim = np.unique(np.concatenate([edges.open_start, edges.open_end]))
    if not len(rim):
        return mesh, 0
    first, second = _close_pairs(mesh.points_m[rim], within_m)
    if not len(first):
        return mesh, 0
    label = component_labels(len(rim), first, second)
    leader = np.empty(int(label.max()) + 1, dtype=np.int32)
    leader[label[::-1]] = rim[::-1]
    target = np.arange(len(mesh.points_m), dtype=np.int32)
    target[rim] = leader[label]
    joined = int((target != np.arange(len(target))).sum())
    return compacted(Mesh(mesh.points_m, target[mesh.triangles])), joined


def compacted(mesh: Mesh) -> Mesh:
    """Drop the points that no triangle uses.

    Parameters
    ----------
    mesh : Mesh
        Any mesh.

    Returns
    -------
    Mesh
        The same triangles over the points they use, in the same order.

    Examples
    --------
    >>> compacted(Mesh(np.eye(3).repeat(2, axis=0), np.array([[0, 2, 4]], dtype=np.int32)))
    Mesh(points=3, triangles=1)
    """
    used = np.zeros(len(mesh.points_m), dtype=np.bool_)
    used[mesh.triangles] = True
    if used.all():
        return mesh
    number = np.cumsum(used, dtype=np.int32) - np.int32(1)
    return Mesh(mesh.points_m[used], number[mesh.triangles])


def _close_pairs(
    points_m: NDArray[np.float64], within_m: float
) -> tuple[NDArray[np.int64], NDArray[np.int64]]:
    """Pairs of points no farther apart than a length, each pair at least once.

    The points are sorted along one direction; neighbours in that order are compared at
    growing distance in the order until none is close enough along it. Where more points than
    a few hundred are, as in damaged files, the farther ones are not tried.
    """
    direction = np.array([0.6123, 0.5377, 0.5797])  # no usual edge is square to it
    along = points_m @ direction
    order = np.argsort(along, kind="stable")
    along, points_m = along[order], points_m[order]
    found_first, found_second = [], []
    candidates = np.arange(len(points_m) - 1)
    step = 1
    while len(candidates) and step <= _MOST_NEIGHBOURS:
        near = along[candidates + step] - along[candidates] <= within_m
        candidates = candidates[near]
        gap = points_m[candidates + step] - points_m[candidates]
        close = np.einsum("ij,ij->i", gap, gap) <= within_m * within_m
        found_first.append(order[candidates[close]])
        found_second.append(order[candidates[close] + step])
        step += 1
        candidates = candidates[candidates + step < len(points_m)]
    return np.concatenate(found_first), np.concatenate(found_second)
