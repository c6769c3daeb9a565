"""Grooves that run along a wall: the wall goes on below them."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from takeoff.geometry.sums import summed
from takeoff.piece.columns import Columns
from takeoff.piece.flats import Flats
from takeoff.piece.judging import CAST_WALLS, Verdicts
from takeoff.piece.parts import Parts
from takeoff.piece.rules import SurfaceRules
from takeoff.piece.zones import Reason, Zone, Zones

FloatArray = NDArray[np.float64]
BoolArray = NDArray[np.bool_]


def groove_floors(
    zones: Zones,
    columns: Columns,
    verdicts: Verdicts,
    parts: Parts,
    *,
    rules: SurfaceRules = SurfaceRules(),
) -> BoolArray:
    """Find the floors of grooves that run along cast walls.

    Parameters
    ----------
    zones : Zones
        The flats.
    columns : Columns
        Columns of the walls.
    verdicts : Verdicts
        What they were judged to be.
    parts : Parts
        Parts of the walls.
    rules : SurfaceRules, optional
        How deep a groove may be.

    Returns
    -------
    ndarray of bool, shape (n,)
        The floors: narrow flats that face the show direction, hidden under the wall above.

    Notes
    -----
    A groove has a narrow ceiling that borders a cast wall along one of its long sides, a wall,
    and a narrow floor. From its floor the wall below counts as from a show face; each part of
    the wall is so judged by its own depth. A ledge without a floor is the rebate of a back edge,
    and back; a hole into a wall borders it with its short end, and its inside is back.

    Examples
    --------
    The wall below a groove round a disc is a return like the wall above it:

    >>> import trimesh
    >>> from takeoff.geometry.mesh import Mesh
    >>> from takeoff.piece.classifying import classify
    >>> from takeoff.piece.surfaces import ModelKind
    >>> section = [[0.0, 0.0], [0.3, 0.0], [0.3, 0.04], [0.28, 0.04], [0.28, 0.07], [0.3, 0.07],
    ...            [0.3, 0.1], [0.0, 0.1]]
    >>> disc = Mesh.from_trimesh(trimesh.creation.revolve(np.array(section)), unit="m")
    >>> told = classify(disc, kind=ModelKind.PIECE, show_direction=np.array([0.0, 0.0, 1.0]))
    >>> [(s.id, round(s.depth_m, 6)) for s in told.surfaces if s.surface_class == "return"]
    [('R1', 0.04), ('R2', 0.03), ('R3', 0.03)]
    """
    flats = zones.flats
    groove = verdicts.reason == Reason.INNER
    floors = np.zeros(flats.count, dtype=np.bool_)
    if not groove.any():
        return floors
    cast = np.isin(parts.column, CAST_WALLS)
    wall = np.bincount(parts.flat[cast], parts.share[cast], minlength=flats.count) > 0.5
    hidden = zones.reason == Reason.HIDDEN
    ceiling = _narrow(zones, zones.are(Zone.AWAY) & ~hidden, rules)
    floor = _narrow(zones, hidden, rules)
    ceiling &= _along(flats, ceiling, wall, rules)
    groove &= np.append(ceiling, False)[columns.flat_above]
    groove &= np.append(floor, False)[columns.flat_below]
    floors[columns.flat_below[groove]] = True
    region = flats.regions(floor)
    reached = np.zeros(flats.count, dtype=np.bool_)
    reached[region[floors]] = True
    return floor & reached[region]


def _along(flats: Flats, chosen: BoolArray, wall: BoolArray, rules: SurfaceRules) -> BoolArray:
    """Tell the chosen flats of regions that border walls along a long side."""
    if not chosen.any():
        return chosen
    joints, region = flats.joints, flats.regions(chosen)
    round_m, beside_m = np.zeros(flats.count), np.zeros(flats.count)
    for own, other in ((joints.left, joints.right), (joints.right, joints.left)):
        border = np.flatnonzero(chosen.take(own) & ~chosen.take(other))
        at, length_m = region.take(own.take(border)), joints.length_m.take(border)
        round_m += summed(at, length_m, flats.count)
        beside_m += summed(at, length_m * wall.take(other.take(border)), flats.count)
    long: BoolArray = beside_m > rules.groove_side_share * round_m
    return chosen & long[region]


def _narrow(zones: Zones, chosen: BoolArray, rules: SurfaceRules) -> BoolArray:
    """Keep the chosen flats that make strips no wider than a groove is deep."""
    if not chosen.any():
        return chosen
    narrow: BoolArray = chosen & (
        zones.flats.widths_m(chosen) <= rules.relief_m + rules.clearance_m
    )
    return narrow
