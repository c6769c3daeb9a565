"""A piece seen from one side: what of it is hollow, stands out, is shaped or eased."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from takeoff.piece.flats import Flats
from takeoff.piece.plan_axes import cosines_ratio
from takeoff.piece.planning import Plan, plan_of
from takeoff.piece.reading_rules import ReadingRules
from takeoff.piece.sampling import Samples
from takeoff.piece.shaping import Shapes, shapes_of

FloatArray = NDArray[np.float64]
BoolArray = NDArray[np.bool_]


@dataclass(frozen=True, slots=True)
class Side:
    """One side of a piece.

    Parameters
    ----------
    hollow_share : float
        Share of the plan that lies deep between higher parts, along or across. [-]
    enclosed_share : float
        Share of it that does so both along and across. [-]
    hollow_depth_m : float
        Mean depth of the hollow. [m]
    proud_share : float
        Share of the plan that stands out beyond the middle height. [-]
    shaped_share : float
        Share of the plan that is neither flat nor a wall. [-]
    relief_m : float
        Depth of what is shaped. [m]
    shaped_inside_share : float
        Share of the area that is shaped inside the hollow, the coves round its floor twice. [-]
    eased_share : float
        Share of the area that eased arrises take. [-]
    splay_share : float
        Share of the area that walls of openings take which are seen right to the other
        side. [-]
    """

    hollow_share: float
    enclosed_share: float
    hollow_depth_m: float
    proud_share: float
    shaped_share: float
    relief_m: float
    shaped_inside_share: float
    eased_share: float
    splay_share: float


def sides_of(
    flats: Flats, samples: Samples, axis: FloatArray, *, rules: ReadingRules = ReadingRules()
) -> tuple[Side, Side]:
    """Look at a piece from both ends of an axis.

    Parameters
    ----------
    flats : Flats
        The piece.
    samples : Samples
        Points of its surface.
    axis : ndarray of float, shape (3,)
        Unit vector. [-]
    rules : ReadingRules, optional
        What counts as hollow, as shaped.

    Returns
    -------
    tuple of Side
        The side the axis points out of, and the one behind.

    Examples
    --------
    >>> import trimesh
    >>> from takeoff.geometry.mesh import Mesh
    >>> from takeoff.piece.flats import flats_of
    >>> from takeoff.piece.sampling import samples_of
    >>> tray = trimesh.creation.box((2.0, 1.0, 0.1))
    >>> tray.update_faces(tray.face_normals[:, 2] > -0.5)
    >>> flats = flats_of(Mesh.from_trimesh(tray, unit="m"))
    >>> up = np.array([0.0, 0.0, 1.0])
    >>> shown, behind = sides_of(flats, samples_of(flats, 60000), up)
    >>> shown.hollow_share, round(behind.hollow_share, 1), round(behind.hollow_depth_m, 2)
    (0.0, 0.9, 0.1)
    """
    plan = plan_of(samples, axis, cell_count=rules.cell_count)
    return (
        _side(flats, samples, plan, axis, rules),
        _side(flats, samples, plan, -axis, rules),
    )


def _side(
    flats: Flats, samples: Samples, plan: Plan, direction: FloatArray, rules: ReadingRules
) -> Side:
    heights_m = samples.points_m @ direction
    extent_m = float(np.ptp(heights_m))
    tops_m = plan.tops_m(heights_m)
    seen = np.isfinite(tops_m)
    between_m, within_m = _rims_m(tops_m)
    least_m = min(rules.hollow_ratio * extent_m, rules.most_hollow_m)
    least_m = max(least_m, rules.least_hollow_m)
    hollow = seen & (between_m > tops_m + least_m)
    enclosed = seen & (within_m > tops_m + least_m)
    cells = int(seen.sum())
    shapes = shapes_of(flats, direction, rules=rules)
    visible = heights_m >= tops_m.ravel()[plan.of_sample] - plan.cell_m
    shaped = shapes.shaped[samples.flat] & visible
    sunk = (within_m.ravel()[plan.of_sample] > heights_m) & shaped
    middle_m = float(np.median(tops_m[seen]))
    cosine = cosines_ratio(flats.normals[samples.flat], direction)
    inside = int((shaped & hollow.ravel()[plan.of_sample]).sum()) / len(heights_m)
    if int(hollow.sum()) > rules.even_share * cells:
        coves = shapes.shaped & ~shapes.convex
        inside += float(flats.area_m2[coves].sum() / flats.area_m2.sum())
    return Side(
        hollow_share=int(hollow.sum()) / cells,
        enclosed_share=int(enclosed.sum()) / max(int(hollow.sum()), 1),
        hollow_depth_m=float((between_m[hollow] - tops_m[hollow]).mean()) if hollow.any() else 0.0,
        proud_share=int((tops_m[seen] > middle_m + least_m).sum()) / cells,
        shaped_share=float(cosine[shaped].sum()) * samples.area_m2 / (cells * plan.cell_m**2),
        relief_m=float(np.ptp(heights_m[shaped])) if shaped.any() else 0.0,
        shaped_inside_share=inside,
        eased_share=_eased_share(flats, shapes, heights_m, extent_m, rules),
        splay_share=_splay_share(samples, shapes, sunk, extent_m, rules),
    )


def _rims_m(tops_m: FloatArray) -> tuple[FloatArray, FloatArray]:
    """Height of the lower of the highest parts on both sides: along or across, and of both."""
    ways = []
    for turned in (tops_m, tops_m.T):
        before = np.maximum.accumulate(turned, axis=0)
        after = np.maximum.accumulate(turned[::-1], axis=0)[::-1]
        ways.append(np.minimum(before, after))
    along_m, across_m = ways[0], ways[1].T
    return np.maximum(along_m, across_m), np.minimum(along_m, across_m)


def _eased_share(
    flats: Flats, shapes: Shapes, heights_m: FloatArray, extent_m: float, rules: ReadingRules
) -> float:
    """Share of the area in arrises eased at the face of this side."""
    reach_m = float(heights_m.max()) - shapes.low_m
    eased = shapes.shaped & shapes.convex & (reach_m < rules.eased_reach_ratio * extent_m)
    if not eased.any():
        return 0.0
    eased &= flats.widths_m(shapes.shaped) < rules.eased_width_m
    return float(flats.area_m2[eased].sum() / flats.area_m2.sum())


def _splay_share(
    samples: Samples, shapes: Shapes, sunk: BoolArray, extent_m: float, rules: ReadingRules
) -> float:
    """Share of the area in walls of openings that lean back from front to back."""
    through = shapes.high_m - shapes.low_m > rules.splay_reach_ratio * extent_m
    return int((sunk & through[samples.flat]).sum()) / len(sunk)
