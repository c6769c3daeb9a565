"""Sheets turned square, their lower left corner at the origin."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from takeoff.piece.pattern_rules import PatternRules
from takeoff.piece.sheets import Sheet

FloatArray = NDArray[np.float64]


def squared(
    sheets: Sequence[Sheet], *, apart: bool, rules: PatternRules = PatternRules()
) -> tuple[Sheet, ...]:
    """Turn sheets square and move them to the origin.

    Parameters
    ----------
    sheets : sequence of Sheet
        The sheets of a surface.
    apart : bool
        True where each is turned and moved for itself, False where they stay together.
    rules : PatternRules, optional
        By how much the rectangle round it must shrink.

    Returns
    -------
    tuple of Sheet
        The sheets, none of them mirrored.

    Examples
    --------
    >>> tilted = Sheet(np.array([[0.0, 0.0], [4.0, 3.0], [1.0, 7.0], [-3.0, 4.0]]), ())
    >>> squared([tilted], apart=True)[0].outer_m.round(9).tolist()
    [[0.0, 0.0], [5.0, 0.0], [5.0, 5.0], [0.0, 5.0]]
    """
    if not sheets:
        return ()
    if apart:
        return tuple(_moved([sheet], rules)[0] for sheet in sheets)
    return tuple(_moved(sheets, rules))


def _moved(sheets: Sequence[Sheet], rules: PatternRules) -> list[Sheet]:
    """Turn and move sheets together."""
    points_m = np.concatenate([sheet.outer_m for sheet in sheets])
    turn = _turn(points_m, rules)
    low_m = (points_m @ turn).min(axis=0)
    return [
        replace(
            sheet,
            outer_m=sheet.outer_m @ turn - low_m,
            holes=tuple(replace(one, points_m=one.points_m @ turn - low_m) for one in sheet.holes),
        )
        for sheet in sheets
    ]


def _turn(points_m: FloatArray, rules: PatternRules) -> FloatArray:
    """Rotation, applied from the right, after which the rectangle round the points is least."""
    import shapely

    hull_m = shapely.get_coordinates(shapely.MultiPoint(points_m).convex_hull)
    along_m = np.diff(hull_m, axis=0)
    along_m = along_m[:: 1 + len(along_m) // rules.hull_count]
    angle_rad = np.unique(np.arctan2(along_m[:, 1], along_m[:, 0]) % (np.pi / 2.0))
    angle_rad = np.where(angle_rad > np.pi / 4.0, angle_rad - np.pi / 2.0, angle_rad)
    right = np.stack([np.cos(angle_rad), np.sin(angle_rad)])
    up = np.stack([-right[1], right[0]])
    box_m2 = np.ptp(hull_m @ right, axis=0) * np.ptp(hull_m @ up, axis=0)
    best = int(np.argmin(box_m2))
    if box_m2[best] >= rules.turned_share * np.prod(np.ptp(points_m, axis=0)):
        return np.eye(2)
    turn: FloatArray = np.column_stack([right[:, best], up[:, best]])
    return turn
