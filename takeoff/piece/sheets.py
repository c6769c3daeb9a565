"""Closed outlines of a surface that lies in the plane, with its holes."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from takeoff.geometry.edges import edge_table
from takeoff.geometry.mesh import Mesh
from takeoff.piece.pattern_rules import PatternRules
from takeoff.piece.unfolding import Unfolded

FloatArray = NDArray[np.float64]
IntArray = NDArray[np.integer]


@dataclass(frozen=True, slots=True, eq=False)
class Hole:
    """A hole in a sheet.

    Parameters
    ----------
    points_m : ndarray of float, shape (n, 2)
        Its corners, clockwise, each once. [m]
    opening : str or None
        The opening of the piece that it is, where it is one.
    """

    points_m: FloatArray
    opening: str | None


@dataclass(frozen=True, slots=True, eq=False)
class Sheet:
    """A connected part of a surface that lies in the plane.

    Parameters
    ----------
    outer_m : ndarray of float, shape (n, 2)
        Corners of its outline, counter-clockwise, each once. [m]
    holes : tuple of Hole
        Its holes.
    """

    outer_m: FloatArray
    holes: tuple[Hole, ...]

    @property
    def area_m2(self) -> float:
        """Area within the outline, holes taken off, in [m²]."""
        return loop_area_m2(self.outer_m) + sum(loop_area_m2(one.points_m) for one in self.holes)


def loop_area_m2(points_m: FloatArray) -> float:
    """Give the area that a closed loop runs round counter-clockwise.

    Parameters
    ----------
    points_m : ndarray of float, shape (n, 2)
        Its corners, each once. [m]

    Returns
    -------
    float
        Area, below 0 where it runs clockwise. [m²]

    Notes
    -----
    It is taken from the first corner, so that the side back to it adds nothing.

    Examples
    --------
    >>> loop_area_m2(np.array([[0.0, 0.0], [2.0, 0.0], [2.0, 1.0], [0.0, 1.0]]))
    2.0
    """
    x_m, y_m = (points_m - points_m[0]).T
    return float(x_m[:-1] @ y_m[1:] - y_m[:-1] @ x_m[1:]) / 2.0


def sheets_of(
    unfolded: Unfolded, opening_at: Sequence[str | None], *, rules: PatternRules = PatternRules()
) -> tuple[Sheet, ...] | None:
    """Give the outlines of a surface that lies in the plane.

    Parameters
    ----------
    unfolded : Unfolded
        The surface.
    opening_at : sequence of str or None
        Opening whose wall each point of the mesh is on.
    rules : PatternRules, optional
        Which points lie on a line.

    Returns
    -------
    tuple of Sheet or None
        One for each part, the largest first; None where a part lies over itself.

    Examples
    --------
    >>> import trimesh
    >>> from takeoff.piece.unfolding import laid_flat
    >>> ring = trimesh.creation.annulus(0.1, 0.5, 0.05, sections=8)
    >>> ring.update_faces(ring.face_normals[:, 2] > 0.5)
    >>> mesh = Mesh.from_trimesh(ring, unit="m")
    >>> [sheet] = sheets_of(laid_flat(mesh, edge_table(mesh), np.eye(3)[:2]), [None] * 99)
    >>> len(sheet.outer_m), len(sheet.holes), round(sheet.area_m2, 6), round(float(ring.area), 6)
    (8, 1, 0.678823, 0.678823)
    """
    flat = Mesh(
        np.column_stack([unfolded.points_m, np.zeros(len(unfolded.points_m))]),
        np.ascontiguousarray(unfolded.triangles, dtype=np.int32),
    )
    edges = edge_table(flat)
    if not edges.sound and (edges.fans or edges.same_way.any()):
        return None
    loops = loops_along(edges.open_start, edges.open_end)
    if loops is None:
        return None
    part_at = np.empty(len(flat.points_m), dtype=np.int64)
    part_at[flat.triangles] = unfolded.part[:, None]
    by_part: list[list[IntArray]] = [[] for _ in range(int(unfolded.part.max()) + 1)]
    for loop in loops:
        by_part[int(part_at[loop[0]])].append(loop)
    sheets = [_sheet(unfolded, part, opening_at, rules) for part in by_part]
    whole = tuple(sheet for sheet in sheets if sheet is not None)
    if len(whole) != len(sheets):
        return None
    return tuple(sorted(whole, key=lambda sheet: -sheet.area_m2))


def loops_along(start: IntArray, end: IntArray) -> list[IntArray] | None:
    """Follow directed edges round.

    Parameters
    ----------
    start, end : ndarray of int, shape (n,)
        Point numbers of the edges.

    Returns
    -------
    list of ndarray of int, or None
        Point numbers of each loop, each once; None where the edges fork or do not close.

    Examples
    --------
    >>> loops_along(np.array([5, 2, 7]), np.array([2, 7, 5]))[0].tolist()
    [5, 2, 7]
    """
    following = dict(zip(start.tolist(), end.tolist(), strict=True))
    if len(following) != len(start):
        return None
    loops = []
    while following:
        first = next(iter(following))
        loop, at = [first], following.pop(first)
        while at != first:
            loop.append(at)
            ahead = following.pop(at, None)
            if ahead is None:
                return None
            at = ahead
        loops.append(np.array(loop))
    return loops


def _sheet(
    unfolded: Unfolded,
    loops: Sequence[IntArray],
    opening_at: Sequence[str | None],
    rules: PatternRules,
) -> Sheet | None:
    """Make a sheet of the loops of a part; None where they are not an outline with holes."""
    import shapely

    points_m = [straightened_m(unfolded.points_m[loop], rules=rules) for loop in loops]
    areas_m2 = [loop_area_m2(loop_m) if len(loop_m) > 2 else 0.0 for loop_m in points_m]
    outer = [place for place, area_m2 in enumerate(areas_m2) if area_m2 > 0.0]
    if len(outer) != 1:
        return None
    inner = [place for place, area_m2 in enumerate(areas_m2) if area_m2 < 0.0]
    if not shapely.Polygon(points_m[outer[0]], [points_m[place] for place in inner]).is_valid:
        return None
    holes = [
        Hole(points_m[place], commonest([opening_at[at] for at in unfolded.source[loops[place]]]))
        for place in inner
    ]
    return Sheet(points_m[outer[0]], tuple(holes))


def straightened_m(points_m: FloatArray, *, rules: PatternRules = PatternRules()) -> FloatArray:
    """Leave out the points of a closed loop that lie on a line between others.

    Parameters
    ----------
    points_m : ndarray of float, shape (n, 2)
        Its corners, each once. [m]
    rules : PatternRules, optional
        How near a line.

    Returns
    -------
    ndarray of float, shape (k, 2)
        The others, as they ran.

    Examples
    --------
    >>> loop = np.array([[0.0, 0.0], [1.0, 0.0], [2.0, 0.0], [2.0, 1.0], [0.0, 1.0]])
    >>> straightened_m(loop).tolist()
    [[0.0, 0.0], [2.0, 0.0], [2.0, 1.0], [0.0, 1.0]]
    """
    import shapely

    corner = int(np.lexsort((points_m[:, 0], points_m[:, 1]))[0])
    ring = shapely.LineString(np.concatenate([points_m[corner:], points_m[: corner + 1]]))
    area_m2 = loop_area_m2(points_m)
    for near_m in (rules.rounding_m, rules.line_m):
        line = shapely.simplify(ring, near_m, preserve_topology=False)
        kept_m: FloatArray = shapely.get_coordinates(line)[:-1]
        off_m2 = abs(loop_area_m2(kept_m) - area_m2)
        if off_m2 <= rules.line_area_share * abs(area_m2):
            break
    return kept_m


def commonest(names: Sequence[str | None]) -> str | None:
    """Give the name that stands at most of some places.

    Parameters
    ----------
    names : sequence of str or None
        What stands at each.

    Returns
    -------
    str or None
        The name; None where none stands at half of them.

    Examples
    --------
    >>> commonest(["O1", None, "O1"]), commonest(["O1", None, None])
    ('O1', None)
    """
    told = [name for name in names if name is not None]
    if 2 * len(told) < len(names) or not told:
        return None
    return max(sorted(set(told)), key=told.count)
