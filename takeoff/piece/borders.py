"""Lines on a flat along which one class ends and another begins, from the area of each."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from takeoff.geometry.edges import edge_table
from takeoff.geometry.facets import facets_of
from takeoff.geometry.mesh import Mesh
from takeoff.piece.judging import ClassColumn
from takeoff.piece.pattern_rules import PatternRules

FloatArray = NDArray[np.float64]
IntArray = NDArray[np.integer]

_LEVEL = frozenset({ClassColumn.SHOW_FACE, ClassColumn.RETURN, ClassColumn.UPRIGHT})
_HALVINGS = 60  # of an interval: past the last digit of a coordinate


@dataclass(frozen=True, slots=True, eq=False)
class Border:
    """Parallel lines across a flat, and the class of each band between them.

    Parameters
    ----------
    axis : ndarray of float, shape (3,)
        Unit vector across the lines. [-]
    cuts_m : ndarray of float, shape (c,)
        Where the lines are along it, ascending. [m]
    columns : ndarray of int, shape (c + 1,)
        The class of each band, as the column of the shares.
    """

    axis: FloatArray
    cuts_m: FloatArray
    columns: IntArray


def border_on(
    flat: Mesh,
    shares: FloatArray,
    show_direction: FloatArray,
    *,
    show_below: bool = False,
    rules: PatternRules = PatternRules(),
) -> Border | None:
    """Find the lines that divide a flat between classes.

    Parameters
    ----------
    flat : Mesh
        The facets of the flat.
    shares : ndarray of float, shape (k, 4)
        Share of each of them in each class. [-]
    show_direction : ndarray of float, shape (3,)
        Unit vector out of the show face. [-]
    show_below : bool, default False
        True where the show face is below the wall, as in a basin.
    rules : PatternRules, optional
        How exactly the lines give the areas.

    Returns
    -------
    Border or None
        Upright lines through corners where these give every facet its shares; else an upright
        line between return and upright where their areas meet, or a level one between show
        face and a wall; None where none of these is to be had.

    Examples
    --------
    A wall 1 m long and 0.2 m deep:

    >>> points_m = np.array([[0, 0, 0], [1, 0, 0], [1, 0, 0.2], [0, 0, 0.2]], dtype=float)
    >>> wall = Mesh(points_m, np.array([[0, 1, 2], [0, 2, 3]], dtype=np.int32))
    >>> shares = np.array([[0.25, 0.75, 0.0, 0.0], [0.25, 0.75, 0.0, 0.0]])
    >>> level = border_on(wall, shares, np.array([0.0, 0.0, 1.0]))
    >>> level.cuts_m.round(9).tolist(), level.columns.tolist()
    ([0.15], [1, 0])
    """
    facets = facets_of(flat)
    normal = facets.area_m2 @ facets.normals
    normal /= np.linalg.norm(normal)
    level = np.cross(show_direction, normal)
    if np.linalg.norm(level) < rules.steep_share:
        return None
    level /= np.linalg.norm(level)
    across = _Spread.of(flat, facets.area_m2, level)
    lines_m = _corners_m(flat, level, rules)
    if 1 < len(lines_m) <= rules.border_count:
        found = _lines_through_corners(across, lines_m, shares, rules)
        if found is not None:
            return found
    class_m2 = facets.area_m2 @ shares
    present = np.flatnonzero(class_m2 > rules.border_share * class_m2.sum()).tolist()
    if present == [ClassColumn.RETURN, ClassColumn.UPRIGHT] and len(lines_m) <= rules.border_count:
        return _upright_lines(across, lines_m, class_m2, rules)
    if _LEVEL.issuperset(present) and present[0] == ClassColumn.SHOW_FACE:
        up = np.cross(normal, level)
        upwards = -up if show_below else up
        return _level_line(_Spread.of(flat, facets.area_m2, upwards), class_m2)
    return None


def _lines_through_corners(
    spread: _Spread, lines_m: FloatArray, shares: FloatArray, rules: PatternRules
) -> Border | None:
    """Give each column between corners the class that the facets in it tell of."""
    if len(shares) * len(lines_m) > rules.border_cell_count:
        return None
    before_m2 = np.array([spread.facets_before_m2(line_m) for line_m in lines_m.tolist()])
    in_column_m2 = np.diff(before_m2, axis=0).T
    wanted_m2 = shares * spread.area_m2[:, None]
    told, *_ = np.linalg.lstsq(
        in_column_m2.T @ in_column_m2, in_column_m2.T @ wanted_m2, rcond=rules.border_share
    )
    columns = told.argmax(axis=1)
    given_m2 = in_column_m2 @ np.eye(shares.shape[1])[columns]
    off_m2 = float(np.abs(given_m2 - wanted_m2).sum())
    if off_m2 > rules.flat_area_share * float(spread.area_m2.sum()):
        return None
    return _merged(spread.axis, lines_m, columns)


def _merged(axis: FloatArray, lines_m: FloatArray, columns: IntArray) -> Border:
    """Leave out the lines between columns of one class."""
    changes = np.flatnonzero(columns[1:] != columns[:-1])
    return Border(axis, lines_m[changes + 1], columns[np.append(changes, len(columns) - 1)])


@dataclass(frozen=True, slots=True, eq=False)
class _Spread:
    """How the area of some facets is spread along an axis."""

    axis: FloatArray
    ends_m: FloatArray
    area_m2: FloatArray

    @classmethod
    def of(cls, flat: Mesh, area_m2: FloatArray, axis: FloatArray) -> _Spread:
        """Sort the corners of each facet along an axis."""
        return cls(axis, np.sort((flat.points_m @ axis)[flat.triangles], axis=1), area_m2)

    def before_m2(self, at_m: float) -> float:
        """Area before a line across the axis."""
        return float(self.facets_before_m2(at_m).sum())

    def facets_before_m2(self, at_m: float) -> FloatArray:
        """Area of each facet before a line across the axis."""
        first_m, middle_m, last_m = self.ends_m.T
        whole_m = np.where(last_m > first_m, last_m - first_m, 1.0)
        rise_m = np.where(middle_m > first_m, middle_m - first_m, 1.0)
        fall_m = np.where(last_m > middle_m, last_m - middle_m, 1.0)
        rising = np.clip(at_m - first_m, 0.0, None) ** 2 / (whole_m * rise_m)
        falling = 1.0 - np.clip(last_m - at_m, 0.0, None) ** 2 / (whole_m * fall_m)
        share = np.where(at_m < middle_m, rising, falling)
        share = np.where(at_m >= last_m, 1.0, np.where(at_m <= first_m, 0.0, share))
        return self.area_m2 * share

    def at_m(self, wanted_m2: float, low_m: float, high_m: float) -> float:
        """Line between two others that has an area before it."""
        for _ in range(_HALVINGS):
            middle_m = (low_m + high_m) / 2.0
            if self.before_m2(middle_m) < wanted_m2:
                low_m = middle_m
            else:
                high_m = middle_m
        return (low_m + high_m) / 2.0


def _level_line(spread: _Spread, class_m2: FloatArray) -> Border:
    """Divide a flat level, the show face last along the axis, before it its main wall."""
    wall_m2 = class_m2.copy()
    wall_m2[ClassColumn.SHOW_FACE] = 0.0
    wall = int(wall_m2.argmax())
    low_m, high_m = float(spread.ends_m.min()), float(spread.ends_m.max())
    at_m = spread.at_m(float(wall_m2.sum()), low_m, high_m)
    return Border(spread.axis, np.array([at_m]), np.array([wall, ClassColumn.SHOW_FACE]))


def _upright_lines(
    spread: _Spread, lines_m: FloatArray, class_m2: FloatArray, rules: PatternRules
) -> Border:
    """Divide a wall into columns between its corners; the highest are upright."""
    before_m2 = np.array([spread.before_m2(line_m) for line_m in lines_m.tolist()])
    column_m2 = np.diff(before_m2)
    total_m2 = float(class_m2.sum())
    rest_m2, upright = float(class_m2[ClassColumn.UPRIGHT]), np.zeros(len(column_m2), np.bool_)
    for place in np.argsort(-column_m2 / np.diff(lines_m), kind="stable").tolist():
        if rest_m2 < column_m2[place] - rules.border_share * total_m2:
            break
        upright[place] = True
        rest_m2 -= float(column_m2[place])
    else:
        place = -1
    if rest_m2 > rules.border_share * total_m2:
        beside = _beside(upright, place)
        if beside is None:
            middle_m = float(lines_m[place] + lines_m[place + 1]) / 2.0
            falling = spread.before_m2(middle_m) - before_m2[place] > column_m2[place] / 2.0
            beside = place - 1 if falling else place + 1
        before = rest_m2 if beside < place else float(column_m2[place]) - rest_m2
        line_m = spread.at_m(
            float(before_m2[place]) + before, float(lines_m[place]), float(lines_m[place + 1])
        )
        lines_m = np.insert(lines_m, place + 1, line_m)
        upright = np.insert(upright, place + (beside > place), True)
    columns = np.where(upright, ClassColumn.UPRIGHT, ClassColumn.RETURN)
    return _merged(spread.axis, lines_m, columns)


def _beside(upright: NDArray[np.bool_], place: int) -> int | None:
    """Column beside one that is upright, where there is one only on one side."""
    sides = [at for at in (place - 1, place + 1) if 0 <= at < len(upright) and upright[at]]
    return sides[0] if len(sides) == 1 else None


def _corners_m(flat: Mesh, axis: FloatArray, rules: PatternRules) -> FloatArray:
    """Where the outline of a flat has points, along an axis, ascending."""
    edges = edge_table(flat)
    along_m: FloatArray = np.unique(flat.points_m[np.unique(edges.open_start)] @ axis)
    new = np.append(True, np.diff(along_m) > rules.seam_m)
    apart_m: FloatArray = along_m[new]
    return apart_m
