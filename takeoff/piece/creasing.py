"""Lengths of the arrises and inside corners of the cast surfaces."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from takeoff.piece.bending import Bends, are_tighter
from takeoff.piece.flats import Flats
from takeoff.piece.rules import SurfaceRules
from takeoff.piece.surfaces import EdgeLengths

BoolArray = NDArray[np.bool_]


def crease_lengths(
    flats: Flats,
    bends: Bends,
    cast: BoolArray,
    *,
    rules: SurfaceRules = SurfaceRules(),
) -> EdgeLengths:
    """Add up arrises and inside corners as if all turned by 90 degrees.

    Parameters
    ----------
    flats : Flats
        The flats.
    bends : Bends
        How they bend.
    cast : ndarray of bool, shape (n,)
        Flats that are cast against the form.
    rules : SurfaceRules, optional
        What is sharp and what is rounded.

    Returns
    -------
    EdgeLengths
        Lengths of arrises and of inside corners, sharp and rounded.

    Notes
    -----
    Every edge counts with its turn over a right angle: sharp edges, and the steps of curves
    tighter than `SurfaceRules.blend_radius_m`. A round of any number of facets so counts the
    same as the sharp edge it eases; the two edges of a chamfer are sharp. Edges to the back,
    and to the bare wall of an opening, do not count.

    Examples
    --------
    A box has four arrises round its top and four upright ones:

    >>> import trimesh
    >>> from takeoff.geometry.mesh import Mesh
    >>> from takeoff.piece.bending import bends_of
    >>> from takeoff.piece.flats import flats_of
    >>> box = flats_of(Mesh.from_trimesh(trimesh.creation.box((3.0, 2.0, 0.5)), unit="m"))
    >>> lengths = crease_lengths(box, bends_of(box), box.normals[:, 2] > -0.5)
    >>> round(lengths.sharp_arris_m, 9), lengths.rounded_arris_m
    (12.0, 0.0)
    """
    joints = flats.joints
    tight = are_tighter(flats, bends, rules.blend_radius_m)
    rounded = bends.smooth & (tight.take(joints.left) | tight.take(joints.right))
    counted = rounded | (np.abs(joints.turn_deg) > rules.sharp_deg)
    at = np.flatnonzero(counted & joints.within(cast))
    turn_deg, rounded = joints.turn_deg[at], rounded[at]
    developed_m = np.abs(turn_deg) / 90.0 * joints.length_m[at]
    arris = turn_deg > 0.0
    return EdgeLengths(
        sharp_arris_m=float(developed_m[~rounded & arris].sum()),
        rounded_arris_m=float(developed_m[rounded & arris].sum()),
        sharp_inside_corner_m=float(developed_m[~rounded & ~arris].sum()),
        rounded_inside_corner_m=float(developed_m[rounded & ~arris].sum()),
    )
