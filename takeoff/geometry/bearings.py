"""Where a side of an outline lies, in words: bottom, top right ..."""

from __future__ import annotations

from enum import StrEnum

import numpy as np

from takeoff.geometry.outline_rules import OutlineRules
from takeoff.geometry.outlines import Side, side_length_m


class Bearing(StrEnum):
    """Which way a side faces, seen from the middle of the outline or opening that it bounds."""

    BOTTOM = "bottom"
    BOTTOM_RIGHT = "bottom right"
    RIGHT = "right"
    TOP_RIGHT = "top right"
    TOP = "top"
    TOP_LEFT = "top left"
    LEFT = "left"
    BOTTOM_LEFT = "bottom left"
    ALL_ROUND = "all round"


_TURNING = tuple(Bearing)[:8]  # counter-clockwise, an eighth of a turn apart


def bearing_of(
    side: Side, *, of_opening: bool = False, rules: OutlineRules = OutlineRules()
) -> Bearing:
    """Tell which way a side faces.

    Parameters
    ----------
    side : Side
        A side of an outline.
    of_opening : bool, default False
        True where it bounds an opening: its bottom is then the low side of the opening.
    rules : OutlineRules, optional
        From when on a side is called slanted.

    Returns
    -------
    Bearing
        The bearing of its chord; all round where it ends where it starts.

    Examples
    --------
    >>> bearing_of(Side("E1", np.array([[0.0, 0.0], [2.4, 0.0]]), np.zeros(1))).value
    'bottom'
    >>> bearing_of(Side("E2", np.array([[2.4, 0.0], [2.0, 1.0]]), np.zeros(1))).value
    'top right'
    """
    along_m = side.points_m[-1] - side.points_m[0]
    if float(np.hypot(*along_m)) <= rules.join_share * side_length_m(side):
        return Bearing.ALL_ROUND
    turned = 1.0 if of_opening else -1.0
    outward = turned * np.array([-along_m[1], along_m[0]])
    from_bottom_deg = float(np.degrees(np.arctan2(outward[1], outward[0]))) + 90.0
    quarter = round(from_bottom_deg / 90.0)
    if abs(from_bottom_deg - 90.0 * quarter) <= rules.slanted_deg:
        return _TURNING[2 * quarter % 8]
    return _TURNING[(2 * int(from_bottom_deg // 90.0) + 1) % 8]
