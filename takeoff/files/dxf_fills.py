"""The reader of filled triangles and four-sided areas, which count where nothing else is drawn."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from takeoff.errors import UnreadableError
from takeoff.files.dxf_gathered import FILL, DrawnFaces, DrawnFill, Gathered
from takeoff.files.dxf_meshes import face_round
from takeoff.files.dxf_placing import moved, object_axes
from takeoff.files.dxf_values import number_of, point_of
from takeoff.files.dxf_walk import Placed
from takeoff.geometry.chaining import Chain, scaled_rules
from takeoff.geometry.patches import loops_about

THICK = "a fill with a thickness, which stands for a body in space; convert it to faces in CAD"

_AROUND = (0, 1, 3, 2)  # the third and the fourth corner are stored crosswise


def read_fill(here: Placed, gathered: Gathered) -> None:
    """Read a SOLID or TRACE of three or four corners.

    Raises
    ------
    UnreadableError
        If a figure cannot be read, or is beyond all sense.
    """
    record = here.entity.record
    if not {10, 11, 12} <= {code for code, _ in record.tags}:
        gathered.skip(here, "has fewer than three corners")
        return
    corners = [point_of(record, code) for code in (10, 11, 12)]
    corners.append(point_of(record, 13, corners[-1].tolist()))
    matrix = here.matrix @ object_axes(record)
    points_m = moved(np.array(corners)[list(_AROUND)], matrix) * gathered.metres_per_unit
    if not (np.abs(points_m) <= gathered.rules.meshes.farthest_m).all():
        raise UnreadableError(
            f"{here.place} has a coordinate beyond {gathered.rules.meshes.farthest_m / 1000.0:g} "
            "km; the file is damaged, or its unit is not the one told"
        )
    thickness_m = abs(number_of(record, 39, 0.0)) * gathered.metres_per_unit
    if _is_a_line(points_m, gathered):
        gathered.skip(here, "has no area")
        return
    kind, source = record.kind, gathered.new_source(here)
    gathered.fills.append(DrawnFill(kind, points_m, thickness_m, here.layer, source))


def settle_fills(gathered: Gathered) -> None:
    """Decide what the fills of a whole drawing are, now that all of it is read.

    Parameters
    ----------
    gathered : Gathered
        What the walk gathered; added to.

    Notes
    -----
    Beside lines or hatches a fill is an arrow head or a colour, and is left out. On a layer with
    faces in space it is one of these faces. Only where nothing else is drawn do the fills, united,
    bound the piece.

    Examples
    --------
    >>> from collections import Counter
    >>> from takeoff.files.dxf_rules import DxfRules
    >>> corners_m = np.array([[0.0, 0.0, 0.0], [0.9, 0.0, 0.0], [0.9, 0.6, 0.0], [0.0, 0.6, 0.0]])
    >>> gathered = Gathered(0.001, "utf-8", DxfRules(), Counter())
    >>> gathered.fills.append(DrawnFill("SOLID", corners_m, 0.0, "TOP", 0))
    >>> settle_fills(gathered)
    >>> [np.ptp(loop.points_m, axis=0).tolist() for loop in gathered.hatches]
    [[0.9, 0.6]]
    """
    faced = {drawn.layer for drawn in gathered.faces}
    faced |= {fill.layer for fill in gathered.fills if not _is_level(fill, gathered)}
    level = []
    for fill in gathered.fills:
        if fill.layer not in faced:
            level.append(fill)
        elif fill.thickness_m:
            gathered.skipped[fill.kind, THICK] += 1
        else:
            gathered.faces.append(
                DrawnFaces(fill.points_m, (face_round(fill.points_m),), fill.layer)
            )
    if gathered.strokes or gathered.hatches or gathered.faces:
        for fill in level:
            gathered.skipped[fill.kind, FILL] += 1
    else:
        _bound(level, gathered)


def _is_a_line(points_m: NDArray[np.float64], gathered: Gathered) -> bool:
    """Tell whether all corners of a fill lie on one line."""
    arms_m = points_m[1:] - points_m[0]
    length_m = float(np.linalg.norm(arms_m, axis=1).max())
    spans_m2 = np.cross(arms_m, np.roll(arms_m, 1, axis=0))
    least_m2 = gathered.rules.outlines.same_point_share * length_m * length_m
    return bool((np.linalg.norm(spans_m2, axis=1) <= least_m2).all())


def _is_level(fill: DrawnFill, gathered: Gathered) -> bool:
    """Tell whether a fill lies flat in the plan."""
    return float(np.ptp(fill.points_m[:, 2])) <= gathered.rules.outlines.join_m


def _bound(fills: list[DrawnFill], gathered: Gathered) -> None:
    """Take the fills of each layer, united, for the boundary of a hatch."""
    by_layer: dict[str, list[Chain]] = {}
    for fill in fills:
        points_m = np.concatenate([fill.points_m, fill.points_m[:1]])[:, :2]
        no_curve = np.full(len(points_m) - 1, -1, dtype=np.int32)
        patch = Chain(points_m, np.zeros(len(no_curve)), no_curve, (fill.source,))
        by_layer.setdefault(fill.layer, []).append(patch)
        gathered.heights_m.append(float(fill.points_m[0, 2]))
        if fill.thickness_m:
            gathered.thicknesses_m.append(fill.thickness_m)
    for layer in sorted(by_layer):
        rules = scaled_rules(by_layer[layer], gathered.rules.outlines)
        gathered.hatches += loops_about(by_layer[layer], rules=rules)
