"""All parts of all flats, put together from show face, walls, back and eased arrises."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from takeoff.piece.bending import Bends
from takeoff.piece.easing import Easing
from takeoff.piece.filling import spread
from takeoff.piece.judging import ClassColumn
from takeoff.piece.parts import Parts
from takeoff.piece.rules import SurfaceRules
from takeoff.piece.shell_edges import shell_edges_m
from takeoff.piece.walls import Walls
from takeoff.piece.zones import Reason, Zone, Zones

FloatArray = NDArray[np.float64]


def assemble(
    zones: Zones,
    bends: Bends,
    easing: Easing,
    walls: Walls,
    *,
    rules: SurfaceRules = SurfaceRules(),
) -> Parts:
    """Put the parts of all flats together.

    Parameters
    ----------
    zones : Zones
        The flats.
    bends : Bends
        How they bend.
    easing : Easing
        Their eased arrises.
    walls : Walls
        The walls, divided.
    rules : SurfaceRules, optional
        What is the edge of a shell, what is too small to keep.

    Returns
    -------
    Parts
        Parts of every flat; the shares of each sum to 1.

    Examples
    --------
    >>> import trimesh
    >>> from takeoff.geometry.mesh import Mesh
    >>> from takeoff.piece.flats import flats_of
    >>> from takeoff.piece.settling import settle
    >>> box = flats_of(Mesh.from_trimesh(trimesh.creation.box((3.0, 2.0, 0.1)), unit="m"))
    >>> settled = settle(box, np.array([0.0, 0.0, 1.0]))
    >>> parts = assemble(settled.zones, settled.bends, settled.easing, settled.walls)
    >>> np.bincount(parts.column).tolist()
    [1, 4, 0, 1]
    """
    width_m = shell_edges_m(zones, bends, rules=rules)
    edge = width_m > 0.0
    facing, away = zones.are(Zone.FACING), zones.are(Zone.AWAY)
    show_share = easing.facing_share
    back_share = np.where(edge, 0.0, easing.away_share)
    wall_share = np.where(edge, 0.0, 1.0 - show_share - back_share)
    handed = np.where(facing | away, wall_share, 0.0)
    parts = [
        walls.parts.scaled(wall_share, rules.sliver_share),
        _plain(show_share, ClassColumn.SHOW_FACE, np.where(facing, zones.reason, Reason.FLAT)),
        _plain(back_share, ClassColumn.BACK, np.where(away, zones.reason, Reason.BACK)),
        _handed_on(zones, walls, handed, rules),
        _shell_edges(width_m, 1.0 - show_share, rules),
    ]
    return Parts.together(parts).whole(zones.flats.count)


def _plain(share: FloatArray, column: ClassColumn, reason: NDArray[np.integer]) -> Parts:
    """Give the parts of one class of all flats that have some."""
    flat = np.flatnonzero(share > 0.0)
    return Parts.plain(flat, column, reason[flat], share[flat])


def _handed_on(zones: Zones, walls: Walls, share: FloatArray, rules: SurfaceRules) -> Parts:
    """Give shares of eased arrises to the classes of the walls beside them."""
    flats, taking = zones.flats, share > 0.0
    if not taking.any():
        return _plain(share, ClassColumn.SHOW_FACE, zones.reason)
    of_wall = walls.parts.shares(flats.count)
    way, _ = spread(flats, of_wall, zones.are(Zone.WALL), taking, rules=rules)
    own = np.flatnonzero(taking)
    given = share.take(own)[:, None] * way.take(own, axis=0)
    place, column = np.nonzero(given > rules.sliver_share)
    return Parts.plain(own.take(place), column, Reason.EASED, given[place, column])


def _shell_edges(width_m: FloatArray, share: FloatArray, rules: SurfaceRules) -> Parts:
    """Give the edges of curved shells, by their width."""
    edge = np.flatnonzero(width_m > 0.0)
    deep = width_m[edge] > rules.return_limit_m + rules.depth_tie_m
    column = np.where(deep, ClassColumn.UPRIGHT, ClassColumn.RETURN)
    return Parts.plain(edge, column, Reason.SHELL_EDGE, share[edge], width_m[edge])
