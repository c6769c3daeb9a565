"""How tightly the surface bends at every flat, from the turns at its joints."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from takeoff.piece.flats import Flats
from takeoff.piece.rules import SurfaceRules

FloatArray = NDArray[np.float64]
BoolArray = NDArray[np.bool_]


@dataclass(frozen=True, slots=True, eq=False)
class Bends:
    """Bending of the flats.

    Parameters
    ----------
    smooth : ndarray of bool, shape (j,)
        Joints that are steps of a curve, not edges.
    bend_m : ndarray of float, shape (n,)
        Half the turn times length of the smooth joints round each flat, in radians: above 0
        where the surface is convex. [m]
    radius_m : ndarray of float, shape (n,)
        Area over bend: the radius of a cylinder, half that of a sphere; infinite where
        nothing bends. [m]
    """

    smooth: BoolArray
    bend_m: FloatArray
    radius_m: FloatArray


def bends_of(flats: Flats, *, rules: SurfaceRules = SurfaceRules()) -> Bends:
    """Find how tightly the surface bends at every flat.

    Parameters
    ----------
    flats : Flats
        The flats.
    rules : SurfaceRules, optional
        What counts as a step of a curve.

    Returns
    -------
    Bends
        Smooth joints, bend and radius.

    Examples
    --------
    >>> import trimesh
    >>> from takeoff.geometry.mesh import Mesh
    >>> from takeoff.piece.flats import flats_of
    >>> tube = trimesh.creation.cylinder(0.2, 1.0, sections=64)
    >>> bends = bends_of(flats_of(Mesh.from_trimesh(tube, unit="m")))
    >>> round(float(np.median(bends.radius_m)), 3)
    0.2
    """
    turn_deg = flats.joints.turn_deg
    smooth = np.abs(turn_deg) < rules.smooth_deg
    half = np.radians(turn_deg) * flats.joints.length_m / 2.0
    bend_m = flats.joints.sums(half, smooth, flats.count)
    bent = bend_m != 0.0
    radius_m = np.full(flats.count, np.inf)
    radius_m[bent] = flats.area_m2[bent] / np.abs(bend_m[bent])
    return Bends(smooth, bend_m, radius_m)
