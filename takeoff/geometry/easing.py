"""Eased arrises: rounds and chamfers that a layer is too thick to follow.

Where an arris is rounded or chamfered, its faces shrink to nothing at some depth, and the faces
beside them meet from there on as if the arris were sharp. The plain sum over edges then counts
(tan(turn / 2) - sum of the tangents of its half turns) times the square of the depth that is
left too much for each unit of length. At a step, whose arris and inside corner cancel, it
counts (tan(turn / 2) - turn / 2) times that square too little.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from takeoff.geometry.components import component_labels
from takeoff.geometry.edge_draws import drawn_back_ratio
from takeoff.geometry.offset_rules import OffsetRules
from takeoff.geometry.sums import summed

FloatArray = NDArray[np.float64]
IntArray = NDArray[np.int64]
BoolArray = NDArray[np.bool_]


@dataclass(frozen=True, slots=True, eq=False)
class Borders:
    """Edges between flat faces, and the shrinking of each face with depth.

    Parameters
    ----------
    left, right : ndarray of int, shape (e,)
        The two faces of each edge.
    length_m : ndarray of float, shape (e,)
        Lengths. [m]
    turn_rad : ndarray of float, shape (e,)
        Turns, above 0 at an arris. [rad]
    open_face : ndarray of int, shape (b,)
        Face of each open edge.
    open_m : ndarray of float, shape (b,)
        Length of each open edge. [m]
    area_m2, square_m, cube_count : ndarray of float, shape (f,)
        Area of each face at depth s: ``area + 2 s square + 3 s² cube``. [m²], [m], [-]
    foot_count : float, default 0.0
        Slivers in doubt where edges run aslant into a border, in cubes of the depth. [-]
    """

    left: NDArray[np.integer]
    right: NDArray[np.integer]
    length_m: FloatArray
    turn_rad: FloatArray
    open_face: NDArray[np.integer]
    open_m: FloatArray
    area_m2: FloatArray
    square_m: FloatArray
    cube_count: FloatArray
    foot_count: float = 0.0

    def left_m2(self, depth_m: float | FloatArray) -> FloatArray:
        """Give what is left of each face at a depth; below 0 where it has shrunk away.

        Parameters
        ----------
        depth_m : float or ndarray of float, shape (f,)
            Depth below the surface. [m]

        Returns
        -------
        ndarray of float, shape (f,)
            Areas. [m²]
        """
        return self.area_m2 + depth_m * (2.0 * self.square_m + 3.0 * depth_m * self.cube_count)


@dataclass(frozen=True, slots=True, eq=False)
class Eased:
    """Runs of faces that shrink to nothing within the thickness of a layer.

    Parameters
    ----------
    run : ndarray of int, shape (f,)
        Number of the run that each face belongs to, or -1.
    area_m2 : ndarray of float, shape (g,)
        Area of each run. [m²]
    depth_m : ndarray of float, shape (g,)
        Depth at which each run is gone: the radius of a rounded arris. [m]
    half_turn_ratio : ndarray of float, shape (g,)
        Tangent of half the turn of each; 0 where it is no eased arris. [-]
    excess_m3 : ndarray of float, shape (g,)
        What the plain sum counts too much at it. [m³]
    arris : ndarray of bool, shape (g,)
        True for an eased arris; False for a rib, a nose or a rim narrower than the layers.
    rim_m : ndarray of float, shape (g,)
        Open edge along the rim of a wall; 0 for a run that is none. [m]
    """

    run: IntArray
    area_m2: FloatArray
    depth_m: FloatArray
    half_turn_ratio: FloatArray
    excess_m3: FloatArray
    arris: BoolArray
    rim_m: FloatArray


def eased_arrises(borders: Borders, thickness_m: float, *, rules: OffsetRules) -> Eased:
    """Find the faces that a layer is too thick to follow, and what the plain sum is off by.

    Parameters
    ----------
    borders : Borders
        Faces and the edges between them.
    thickness_m : float
        Thickness of the layer. [m]
    rules : OffsetRules
        How far an arris may turn.

    Returns
    -------
    Eased
        The runs, with depth, turn and excess.

    Examples
    --------
    A chamfer 4.142 mm wide, a metre long, is gone at 5 mm; 20 mm count 38.6 mL too much:

    >>> tangent = np.tan(np.radians(22.5))
    >>> chamfer = Borders(
    ...     left=np.array([0, 1]), right=np.array([1, 2]), length_m=np.ones(2),
    ...     turn_rad=np.radians([45.0, 45.0]),
    ...     open_face=np.empty(0, dtype=np.int64), open_m=np.empty(0),
    ...     area_m2=np.array([1.0, 2 * 0.005 * tangent, 1.0]),
    ...     square_m=tangent * np.array([-0.5, -1.0, -0.5]), cube_count=np.zeros(3))
    >>> found = eased_arrises(chamfer, 0.020, rules=OffsetRules())
    >>> (found.depth_m * 1000).round(6).tolist(), (found.excess_m3 * 1e6).round(3).tolist()
    ([5.0], [38.604])
    """
    gone = borders.left_m2(thickness_m) < -rules.gone_share * borders.area_m2
    run, count = _joined(borders, borders.turn_rad > 0.0, gone)
    turned_m, inner_m, outer_m, border_m, hollow_m, round_m = (np.zeros(count) for _ in range(6))
    convex = borders.turn_rad > 0.0
    tangent_m = drawn_back_ratio(borders.turn_rad, rules) * borders.length_m
    one, other = run[borders.left], run[borders.right]
    for side, beyond in ((one, other), (other, one)):
        outer = (side >= 0) & (beyond != side)
        border_m += summed(side[outer], borders.length_m[outer], count)
        hollow = outer & ~convex
        hollow_m += summed(side[hollow], borders.length_m[hollow], count)
        round_m += summed(side[hollow], (borders.turn_rad * borders.length_m)[hollow], count)
        outer &= convex
        outer_m += summed(side[outer], tangent_m[outer], count)
        turned_m += summed(side[outer], (borders.turn_rad * borders.length_m)[outer], count)
    inner = (one >= 0) & (one == other) & convex
    inner_m += summed(one[inner], tangent_m[inner], count)
    turned_m += summed(one[inner], (borders.turn_rad * borders.length_m)[inner], count)
    rim = run[borders.open_face]
    rim_m = summed(rim[rim >= 0], borders.open_m[rim >= 0], count)
    area_m2 = summed(run[run >= 0], borders.area_m2[run >= 0], count)
    length_m = np.maximum((border_m + rim_m) / 2.0, np.finfo(np.float64).tiny)
    turn_rad = turned_m / length_m
    rim_m = np.where(rim_m > rules.rim_share * border_m, rim_m, 0.0)
    arris = (turn_rad <= np.radians(rules.arris_turn_deg)) & (rim_m == 0.0)
    depth_m = np.minimum(area_m2 / (2.0 * inner_m + outer_m), thickness_m)
    turn_rad += round_m / length_m
    half_turn = np.where(arris, np.tan(np.where(arris, turn_rad, 0.0) / 2.0), 0.0)
    half_turn = np.where(turn_rad < 0.0, turn_rad / 2.0, half_turn)
    law = np.where(arris, half_turn - (inner_m + outer_m + round_m / 2.0) / length_m, 0.0)
    step = arris & (hollow_m > rules.rim_share * border_m)
    law = np.where(step, law, np.maximum(0.0, law))
    excess_m3 = law * (thickness_m - depth_m) ** 2 * length_m
    return Eased(run, area_m2, depth_m, half_turn, excess_m3, arris, rim_m)


def lost_m3(borders: Borders, eased: Eased, thickness_m: float, *, rules: OffsetRules) -> float:
    """Estimate how far the volume may still be off.

    Parameters
    ----------
    borders : Borders
        Faces and the edges between them.
    eased : Eased
        Runs of faces that are gone at this thickness.
    thickness_m : float
        Thickness of the layer. [m]
    rules : OffsetRules
        How well the law of an eased arris is trusted.

    Returns
    -------
    float
        Volume; 0 where every face is wide enough. [m³]

    Notes
    -----
    Beside a rib or a nose that is narrower than the layers, the layers of its two sides are
    counted twice below the depth at which they meet; so is the layer below a rim shallower
    than itself. Faces that eased arrises leave too little of are counted as far as they are
    overdrawn.

    Examples
    --------
    >>> none = np.empty(0)
    >>> wide = Borders(none.astype(int), none.astype(int), none, none, none.astype(int), none,
    ...                np.array([1.0]), np.array([-0.5]), np.array([1.0]))
    >>> found = eased_arrises(wide, 0.02, rules=OffsetRules())
    >>> lost_m3(wide, found, 0.02, rules=OffsetRules())
    0.0
    """
    kept_m2 = borders.left_m2(thickness_m)
    doubt = np.where(eased.excess_m3 < 0.0, rules.step_share, rules.eased_share)
    error_m3 = float((doubt * np.abs(eased.excess_m3)).sum())
    nose = ~eased.arris & (eased.rim_m == 0.0)
    error_m3 += float((eased.area_m2 * (thickness_m - eased.depth_m))[nose].sum())
    error_m3 += float(
        (eased.rim_m * thickness_m * (thickness_m - eased.depth_m))[~eased.arris].sum()
    )
    for side, beyond in ((borders.left, borders.right), (borders.right, borders.left)):
        beside = (eased.run[side] < 0) & (eased.run[beyond] >= 0) & (borders.turn_rad > 0.0)
        face, run = side[beside], eased.run[beyond[beside]]
        missing_m = thickness_m - eased.depth_m[run]
        error_m3 += float((kept_m2[face] * missing_m)[nose[run]].sum())
        more = eased.half_turn_ratio[run] - drawn_back_ratio(borders.turn_rad[beside], rules)
        drawn_m2 = np.where(eased.arris[run], more * missing_m * borders.length_m[beside], 0.0)
        kept_m2 = kept_m2 - summed(face, drawn_m2, len(kept_m2))
    kept = eased.run < 0
    curve = np.abs(borders.turn_rad) <= np.radians(rules.smooth_deg)
    smooth, count = _joined(borders, curve, kept)
    overdrawn_m2 = np.maximum(0.0, -summed(smooth[kept], kept_m2[kept], count))
    error_m3 += borders.foot_count * thickness_m**3
    return error_m3 + float(overdrawn_m2.sum()) * thickness_m


def _joined(borders: Borders, across: BoolArray, chosen: BoolArray) -> tuple[IntArray, int]:
    """Give a number to each run of chosen faces that hang together across some edges."""
    faces = len(chosen)
    run = np.full(faces, -1, dtype=np.int64)
    if not chosen.any():
        return run, 0
    both = across & chosen[borders.left] & chosen[borders.right]
    label = component_labels(faces, borders.left, borders.right, linked=both)
    numbers, run[chosen] = np.unique(label[chosen], return_inverse=True)
    return run, len(numbers)
