"""What open lines enclose by crossing one another, though none of them closes."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import NDArray

from takeoff.geometry.arcs import flattened_run_m
from takeoff.geometry.chaining import Chain
from takeoff.geometry.outline_rules import OutlineRules

if TYPE_CHECKING:
    import shapely

Array = NDArray[np.float64]


@dataclass(frozen=True, slots=True, eq=False)
class Enclosed:
    """A region that lines enclose without being drawn as its outline.

    Parameters
    ----------
    area_m2 : float
        Area of all such regions. [m²]
    at_m : ndarray of float, shape (2,)
        A point in the largest one. [m]
    """

    area_m2: float
    at_m: Array


def enclosed_by(
    marks: Sequence[Chain], loops: Sequence[Chain], *, rules: OutlineRules = OutlineRules()
) -> Enclosed | None:
    """Find what open lines enclose, alone or, outside the outlines, together with their edges.

    Parameters
    ----------
    marks : sequence of Chain
        Chains that do not close.
    loops : sequence of Chain
        Those that do.
    rules : OutlineRules, optional
        What is too little to count.

    Returns
    -------
    Enclosed or None
        The regions; None where there are none.

    Notes
    -----
    Such lines may be a hatch, or an outline whose lines run on past its corners.

    Examples
    --------
    >>> def line(*points):
    ...     return Chain(np.array(points), np.zeros(1), np.full(1, -1, dtype=np.int32), (0,))
    >>> rails = [line((-1.0, y), (2.0, y)) for y in (0.0, 1.0)]
    >>> posts = [line((x, -1.0), (x, 2.0)) for x in (0.0, 1.0)]
    >>> round(enclosed_by([*rails, *posts], []).area_m2, 9)
    1.0
    """
    import shapely

    if not marks:
        return None
    lines = [_drawn_out(flat_m, rules) for flat_m in _flattened(marks, rules)]
    edges = [shapely.LineString(flat_m) for flat_m in _flattened(loops, rules)]
    filled = shapely.union_all(shapely.make_valid([shapely.Polygon(edge) for edge in edges]))
    shapely.prepare(filled)
    alone = _faces(lines)
    beside = [
        face for face in _faces([*lines, *edges]) if not filled.contains(face.point_on_surface())
    ]
    joined = shapely.get_parts(shapely.union_all([*alone, *beside])).tolist()
    faces = [face for face in joined if face.area > rules.sliver_m2 and not _is_thin(face, rules)]
    if not faces:
        return None
    largest = max(faces, key=lambda face: face.area).point_on_surface()
    area_m2 = float(sum(face.area for face in faces))
    return Enclosed(area_m2, np.array([largest.x, largest.y]))


def _flattened(chains: Sequence[Chain], rules: OutlineRules) -> list[Array]:
    """Give each chain as points alone."""
    return [
        flattened_run_m(chain.points_m, chain.bulges, chord_m=rules.chord_m) for chain in chains
    ]


def _drawn_out(flat_m: Array, rules: OutlineRules) -> shapely.LineString:
    """Draw a line out at both ends by a gap that is closed without asking."""
    import shapely

    steps_m = flat_m[[0, -1]] - flat_m[[1, -2]]
    lengths_m = np.maximum(np.hypot(*steps_m.T), rules.same_point_m)[:, None]
    ends_m = flat_m[[0, -1]] + rules.join_m * steps_m / lengths_m
    return shapely.LineString(np.concatenate([ends_m[:1], flat_m, ends_m[1:]]))


def _faces(lines: Sequence[shapely.LineString]) -> list[shapely.Geometry]:
    """Give the regions that lines part the plane into."""
    import shapely

    noded = shapely.get_parts(shapely.union_all(list(lines)))
    faces: list[shapely.Geometry] = shapely.get_parts(shapely.polygonize(noded)).tolist()
    return faces


def _is_thin(face: shapely.Geometry, rules: OutlineRules) -> bool:
    """Tell whether a region is nowhere wider than twice a gap that is closed without asking."""
    import shapely

    return bool(shapely.buffer(face, -rules.join_m).is_empty)
