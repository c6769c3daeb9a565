"""The tightest radius of the cast surfaces of a piece."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from takeoff.geometry.sums import summed
from takeoff.piece.flats import Flats
from takeoff.piece.rules import SurfaceRules

FloatArray = NDArray[np.float64]
IntArray = NDArray[np.integer]
BoolArray = NDArray[np.bool_]

_AXES = ((0, 0), (1, 1), (2, 2), (0, 1), (1, 2), (2, 0))


def min_radius_m(
    flats: Flats, cast: BoolArray, *, rules: SurfaceRules = SurfaceRules()
) -> float | None:
    """Find the tightest radius of rounded arrises, inside corners and curved faces.

    Parameters
    ----------
    flats : Flats
        The flats.
    cast : ndarray of bool, shape (n,)
        Flats that are cast against the form.
    rules : SurfaceRules, optional
        What is a step of a curve, and what a fold between planes.

    Returns
    -------
    float or None
        The radius; None where no cast surface is curved. [m]

    Notes
    -----
    The turns round a flat, times the directions of their edges, add up to a tensor whose
    greatest eigenvalue over the area is the greatest curvature; flats are taken together with
    their neighbours in the curve, since the triangles of one curve differ. A flat that turns
    to one side only is the end of a curve, or a plane beside a fold, and gives none. Along a
    cone it is the mean radius.

    Examples
    --------
    >>> import trimesh
    >>> from takeoff.geometry.mesh import Mesh
    >>> from takeoff.piece.flats import flats_of
    >>> tube = flats_of(Mesh.from_trimesh(trimesh.creation.cylinder(0.2, 1.0), unit="m"))
    >>> round(min_radius_m(tube, np.ones(tube.count, dtype=bool)), 3)
    0.2
    """
    turn_deg = np.abs(flats.joints.turn_deg)
    step = (turn_deg > rules.flat_deg) & (turn_deg < rules.smooth_deg)
    step &= flats.joints.within(cast)
    if not step.any():
        return None
    bend_m = np.radians(turn_deg) * flats.joints.length_m / 2.0
    least_m = np.full(flats.count, np.inf)
    whole_m = flats.joints.sums(bend_m, step, flats.count)
    bent = whole_m > 0.0
    least_m[bent] = flats.area_m2[bent] / whole_m[bent]
    widest_m = float(least_m[bent].max())
    reach_m, found_m = float(least_m.min()), np.inf
    while found_m > reach_m:
        found_m = _tightest_m(flats, step, least_m <= 2.0 * reach_m, rules)
        if 2.0 * reach_m >= widest_m:
            break
        reach_m = min(found_m, 2.0 * reach_m)
    return float(found_m) if np.isfinite(found_m) else None


@dataclass(frozen=True, slots=True, eq=False)
class _Steps:
    """Joints that are steps of curves, with the flats at them numbered from 0."""

    flat: IntArray
    left: IntArray
    right: IntArray
    along_direction: FloatArray
    bend_m: FloatArray

    def sums(self, at_left: FloatArray, at_right: FloatArray) -> FloatArray:
        """Add up values of joints at their flats."""
        count = len(self.flat)
        return summed(self.left, at_left, count) + summed(self.right, at_right, count)


def _steps(flats: Flats, chosen: BoolArray) -> _Steps:
    """Gather the chosen joints."""
    joints, points_m, at = flats.joints, flats.mesh.points_m, np.flatnonzero(chosen)
    ends = np.concatenate([joints.left.take(at), joints.right.take(at)])
    used = np.zeros(flats.count, dtype=np.bool_)
    used[ends] = True
    left, right = (np.cumsum(used) - 1).take(ends).reshape(2, -1)
    length_m = joints.length_m.take(at)
    along = points_m.take(joints.end.take(at), axis=0)
    along -= points_m.take(joints.start.take(at), axis=0)
    along /= np.where(length_m > 0.0, length_m, 1.0)[:, None]
    bend_m = np.radians(joints.turn_deg.take(at)) * length_m / 2.0
    return _Steps(np.flatnonzero(used), left, right, along, bend_m)


def _tightest_m(flats: Flats, step: BoolArray, near: BoolArray, rules: SurfaceRules) -> float:
    """Tightest radius of chosen flats; infinite where none of them lies within a curve."""
    joints, asked = flats.joints, np.flatnonzero(near)
    every = 1 + len(asked) // rules.radius_flat_count
    sample = np.zeros(flats.count, dtype=np.bool_)
    sample[asked[::every]] = True
    ring = sample.copy()
    if every == 1:
        beside = step & (sample.take(joints.left) | sample.take(joints.right))
        ring[joints.left[beside]] = True
        ring[joints.right[beside]] = True
    steps = _steps(flats, step & (ring.take(joints.left) | ring.take(joints.right)))
    within = near[steps.flat] & ring[steps.flat] & _both_sided(flats, steps, rules)
    chosen = within & sample[steps.flat]
    if not chosen.any():
        return np.inf
    linked = within[steps.left] & within[steps.right]
    entries_m = []
    for first, second in _AXES:
        own_m = steps.bend_m * steps.along_direction[:, first] * steps.along_direction[:, second]
        entries_m.append(_with_neighbours(steps, linked, steps.sums(own_m, own_m)))
    area_m2 = _with_neighbours(steps, linked, flats.area_m2[steps.flat])
    radius_m = area_m2[chosen] / _greatest_m(entries_m)[chosen]
    most_m2 = rules.radius_area_share * float(flats.area_m2.sum())
    return _least_held_m(radius_m, every * flats.area_m2[steps.flat[chosen]], most_m2, rules)


def _least_held_m(
    radius_m: FloatArray, area_m2: FloatArray, most_m2: float, rules: SurfaceRules
) -> float:
    """Least radius that is held by more than slivers: the lower quarter of those like it."""
    order = np.argsort(radius_m, kind="stable")
    radius_m, before_m2 = radius_m[order], np.concatenate([[0.0], np.cumsum(area_m2[order])])
    last = np.searchsorted(radius_m, radius_m * rules.like_radius_ratio, "right")
    held_m2 = before_m2[last] - before_m2[:-1]
    held = held_m2 >= np.minimum(rules.radius_held_share * radius_m**2, most_m2)
    if not held.any():
        return np.inf
    first = int(held.argmax())
    quarter_m2 = before_m2[first] + held_m2[first] / 4.0
    return float(radius_m[np.searchsorted(before_m2, quarter_m2, "left") - 1])


def _both_sided(flats: Flats, steps: _Steps, rules: SurfaceRules) -> BoolArray:
    """Tell flats whose steps lie on sides opposite each other."""
    size_m = np.abs(steps.bend_m)
    square = np.zeros(len(steps.flat))
    sides = [
        flats.normals.take(steps.flat.take(flat), axis=0) for flat in (steps.left, steps.right)
    ]
    for axis in range(3):
        one, two = (axis + 1) % 3, (axis + 2) % 3
        outward = []
        for normals in sides:
            out = (
                steps.along_direction[:, one] * normals[:, two]
                - steps.along_direction[:, two] * normals[:, one]
            )
            outward.append(size_m * out)
        square += steps.sums(outward[0], -outward[1]) ** 2
    both: BoolArray = np.sqrt(square) < rules.one_side_share * steps.sums(size_m, size_m)
    return both


def _with_neighbours(steps: _Steps, linked: BoolArray, values: FloatArray) -> FloatArray:
    """Add to the value of each flat those of its neighbours."""
    left, right = steps.left[linked], steps.right[linked]
    count = len(values)
    return values + summed(left, values[right], count) + summed(right, values[left], count)


def _greatest_m(entries_m: list[FloatArray]) -> FloatArray:
    """Greatest eigenvalue, in size, of tensors that bend in two directions only."""
    trace_m = entries_m[0] + entries_m[1] + entries_m[2]
    square = entries_m[0] ** 2 + entries_m[1] ** 2 + entries_m[2] ** 2
    square += 2.0 * (entries_m[3] ** 2 + entries_m[4] ** 2 + entries_m[5] ** 2)
    spread_m = np.sqrt(np.maximum(square / 2.0 - trace_m**2 / 4.0, 0.0))
    greatest_m: FloatArray = np.abs(trace_m) / 2.0 + spread_m
    return greatest_m
