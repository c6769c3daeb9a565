"""Which surfaces meet, and along which length."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from takeoff.geometry.sums import summed
from takeoff.piece.keys import numbered
from takeoff.piece.rules import SurfaceRules
from takeoff.piece.settling import Settled
from takeoff.piece.walls import touching

FloatArray = NDArray[np.float64]
IntArray = NDArray[np.integer]


def neighbours_m(
    settled: Settled, surface: IntArray, *, rules: SurfaceRules = SurfaceRules()
) -> list[dict[int, float]]:
    """Measure along which length surfaces meet.

    Parameters
    ----------
    settled : Settled
        The surface of the piece, divided.
    surface : ndarray of int, shape (p,)
        Surface of every part, from 0.
    rules : SurfaceRules, optional
        What is too short to count.

    Returns
    -------
    list of dict of int to float
        For every surface the length shared with each of its neighbours. [m]

    Notes
    -----
    Surfaces meet along joints. Where a wall is divided without one, at the column where its
    depth passes a limit, the height of that column counts.

    Examples
    --------
    >>> import trimesh
    >>> from takeoff.geometry.mesh import Mesh
    >>> from takeoff.piece.flats import flats_of
    >>> from takeoff.piece.settling import settle
    >>> box = flats_of(Mesh.from_trimesh(trimesh.creation.box((3.0, 2.0, 0.1)), unit="m"))
    >>> settled = settle(box, np.array([0.0, 0.0, 1.0]))
    >>> meets = neighbours_m(settled, settled.parts.flat)
    >>> sorted(round(length, 6) for length in meets[int(settled.zones.tilt_deg.argmin())].values())
    [2.0, 2.0, 3.0, 3.0]
    """
    count = int(surface.max()) + 1
    borders = (_over_joints(settled, surface), _between_columns(settled, surface))
    first, second, length_m = (
        np.concatenate([border[entry] for border in borders]) for entry in range(3)
    )
    apart = (first != second) & (first >= 0) & (second >= 0)
    low, high = np.minimum(first, second)[apart], np.maximum(first, second)[apart]
    key = low.astype(np.int64) * count + high
    at, place = numbered(key)
    pair, total_m = key.take(place), summed(at, length_m[apart], len(place))
    meets: list[dict[int, float]] = [{} for _ in range(count)]
    for cell, shared_m in zip(pair.tolist(), total_m.tolist(), strict=True):
        if shared_m > rules.clearance_m:
            one, other = divmod(cell, count)
            meets[one][other] = shared_m
            meets[other][one] = shared_m
    return meets


def main_surfaces(settled: Settled, surface: IntArray) -> IntArray:
    """Give the surface that holds most of each flat.

    Parameters
    ----------
    settled : Settled
        The surface of the piece, divided.
    surface : ndarray of int, shape (p,)
        Surface of every part.

    Returns
    -------
    ndarray of int, shape (n,)
        The surface of every flat.

    Examples
    --------
    >>> import trimesh
    >>> from takeoff.geometry.mesh import Mesh
    >>> from takeoff.piece.flats import flats_of
    >>> from takeoff.piece.settling import settle
    >>> box = flats_of(Mesh.from_trimesh(trimesh.creation.box((3.0, 2.0, 0.1)), unit="m"))
    >>> settled = settle(box, np.array([0.0, 0.0, 1.0]))
    >>> np.bincount(main_surfaces(settled, settled.parts.column)).tolist()
    [1, 4, 0, 1]
    """
    parts = settled.parts
    main = np.zeros(settled.flats.count, dtype=np.int64)
    main[parts.flat] = surface
    shared = parts.sharing()
    order = shared[np.lexsort((parts.share[shared], parts.flat[shared]))]
    main[parts.flat[order]] = surface[order]
    return main


def _over_joints(settled: Settled, surface: IntArray) -> tuple[IntArray, IntArray, FloatArray]:
    """Surfaces on both sides of every joint, but for those within one wall."""
    joints, sector = settled.flats.joints, settled.sectors.of_flat
    main = main_surfaces(settled, surface)
    here, there = main.take(joints.left), main.take(joints.right)
    at = np.flatnonzero(here != there)
    left, right = sector.take(joints.left.take(at)), sector.take(joints.right.take(at))
    at = at[(left != right) | (left < 0)]
    return here.take(at), there.take(at), joints.length_m.take(at)


def _between_columns(settled: Settled, surface: IntArray) -> tuple[IntArray, IntArray, FloatArray]:
    """Surfaces of columns that touch, and how high they do."""
    columns, parts, patch = settled.columns, settled.parts, settled.walls.patch
    here, there = touching(columns)
    differ = patch[here] != patch[there]
    here, there = here[differ], there[differ]
    of_patch = np.full(int(patch.max()) + 1 if len(patch) else 0, -1, dtype=np.int64)
    cut = parts.patch >= 0
    of_patch[parts.patch[cut]] = surface[cut]
    top_m = np.minimum(columns.high_m[here], columns.high_m[there])
    foot_m = np.maximum(columns.low_m[here], columns.low_m[there])
    return of_patch[patch[here]], of_patch[patch[there]], top_m - foot_m
