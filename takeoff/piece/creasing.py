"""Lengths of the arrises and inside corners of the cast surfaces."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from takeoff.piece.bending import Bends, tightest_radii_m
from takeoff.piece.flats import Flats
from takeoff.piece.rules import SurfaceRules

FloatArray = NDArray[np.float64]


def crease_lengths_m(
    flats: Flats,
    bends: Bends,
    cast_share: FloatArray,
    *,
    rules: SurfaceRules = SurfaceRules(),
) -> tuple[float, float]:
    """Add up arrises and inside corners as if all turned by 90 degrees.

    Parameters
    ----------
    flats : Flats
        The flats.
    bends : Bends
        How they bend.
    cast_share : ndarray of float, shape (n,)
        Share of each flat that is cast against the form. [-]
    rules : SurfaceRules, optional
        What is sharp and what is tight.

    Returns
    -------
    tuple of float
        Length of arrises and of inside corners. [m]

    Notes
    -----
    Every edge counts with its turn over a right angle: sharp edges, and the steps of curves
    tighter than `SurfaceRules.tight_radius_m`. A round of any number of facets so counts the
    same as the sharp edge it eases. Edges to the back do not count.

    Examples
    --------
    A box has four arrises round its top and four upright ones:

    >>> import trimesh
    >>> from takeoff.geometry.mesh import Mesh
    >>> from takeoff.piece.bending import bends_of
    >>> from takeoff.piece.flats import flats_of
    >>> box = flats_of(Mesh.from_trimesh(trimesh.creation.box((3.0, 2.0, 0.5)), unit="m"))
    >>> cast_share = (box.normals[:, 2] > -0.5).astype(float)
    >>> [round(length, 9) for length in crease_lengths_m(box, bends_of(box), cast_share)]
    [12.0, 0.0]
    """
    joints = flats.joints
    cast = cast_share >= 0.5
    turn = np.abs(joints.turn_deg)
    tight = tightest_radii_m(flats, bends, rules.tight_radius_m) < rules.tight_radius_m
    counted = (turn > rules.sharp_deg) | tight[joints.left] | tight[joints.right]
    counted &= joints.within(cast)
    developed_m = np.where(counted, turn / 90.0 * joints.length_m, 0.0)
    arris = joints.turn_deg > 0.0
    return float(developed_m[arris].sum()), float(developed_m[~arris].sum())
