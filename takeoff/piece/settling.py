"""The whole surface settled: every flat divided into parts of one class each."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from takeoff.piece.bending import Bends, bends_of
from takeoff.piece.columns import Columns, columns_of
from takeoff.piece.curving import Curves, curve, curves_of
from takeoff.piece.cutting import cut_walls
from takeoff.piece.easing import Easing, ease
from takeoff.piece.filling import spread
from takeoff.piece.flats import Flats, regathered
from takeoff.piece.hiding import hide
from takeoff.piece.judging import ClassColumn, judge
from takeoff.piece.parts import Parts
from takeoff.piece.rules import SurfaceRules
from takeoff.piece.sectors import Sectors, sectors_of
from takeoff.piece.shell_edges import shell_edges_m
from takeoff.piece.splitting import split
from takeoff.piece.walls import Walls, divide_walls
from takeoff.piece.zones import Reason, Zone, Zones, zones_of

FloatArray = NDArray[np.float64]
BoolArray = NDArray[np.bool_]


@dataclass(frozen=True, slots=True, eq=False)
class Settled:
    """A surface with every flat divided.

    Parameters
    ----------
    zones : Zones
        The flats; those that are of several classes are taken apart into facets.
    bends : Bends
        How they bend.
    curves : Curves
        Curves that pass 45 degrees.
    easing : Easing
        Their eased arrises.
    sectors : Sectors
        Their walls.
    columns : Columns
        The columns of the walls.
    walls : Walls
        The walls, divided.
    parts : Parts
        All parts of all flats.
    """

    zones: Zones
    bends: Bends
    curves: Curves
    easing: Easing
    sectors: Sectors
    columns: Columns
    walls: Walls
    parts: Parts

    @property
    def flats(self) -> Flats:
        """The flats."""
        return self.zones.flats


def settle(
    flats: Flats, show_direction: FloatArray, *, rules: SurfaceRules = SurfaceRules()
) -> Settled:
    """Divide every flat into parts of one class each.

    Parameters
    ----------
    flats : Flats
        Flats of a mesh, normals out of the finished surface.
    show_direction : ndarray of float, shape (3,)
        Unit vector out of the finished show face. [-]
    rules : SurfaceRules, optional
        The limits.

    Returns
    -------
    Settled
        All parts, and what they were found from.

    Examples
    --------
    >>> import trimesh
    >>> from takeoff.geometry.mesh import Mesh
    >>> from takeoff.piece.flats import flats_of
    >>> box = flats_of(Mesh.from_trimesh(trimesh.creation.box((3.0, 2.0, 0.1)), unit="m"))
    >>> settled = settle(box, np.array([0.0, 0.0, 1.0]))
    >>> settled.parts.shares(6).sum(axis=0).round(9).tolist()
    [1.0, 4.0, 0.0, 1.0]
    """
    bends = bends_of(flats, rules=rules)
    zones = hide(zones_of(flats, show_direction, rules=rules), rules=rules)
    curves = curves_of(zones, bends, rules=rules)
    zones = curve(zones, bends, curves, rules=rules)
    easing = ease(zones, bends, rules=rules)
    sectors = sectors_of(zones, easing, rules=rules)
    columns = columns_of(sectors, rules=rules)
    verdicts = judge(columns, rules=rules)
    cuts = cut_walls(sectors, columns, rules=rules)
    walls = divide_walls(sectors, columns, verdicts, cuts, rules=rules)
    relief = zones.are(Zone.WALL) & _shown(walls.parts, flats.count)
    if relief.any():
        sectors = sectors.with_show(relief)
        columns = columns_of(sectors, rules=rules)
        verdicts = judge(columns, rules=rules)
        cuts = cut_walls(sectors, columns, rules=rules)
        walls = divide_walls(sectors, columns, verdicts, cuts, rules=rules)
    mixed = _mixed(walls.parts, flats)
    if mixed.any():
        of_facet, cuts = split(sectors, columns, walls.patch, cuts, mixed, rules=rules)
        apart, former = regathered(flats, of_facet)
        zones, easing = zones.on(apart, former), easing.on(former)
        sectors = replace(sectors, zones=zones, of_flat=sectors.of_flat[former])
        walls = divide_walls(sectors, columns, verdicts, cuts, rules=rules)
        bends = bends_of(apart, rules=rules)
    width_m = shell_edges_m(zones, bends, rules=rules)
    kept = np.where(width_m > 0.0, 0.0, 1.0 - easing.facing_share)
    parts = Parts.together(
        [
            walls.parts.scaled(kept, rules.sliver_share),
            *_facing_parts(zones, easing, walls, rules),
            _back_parts(zones, width_m),
            _shell_edge_parts(width_m, easing, rules),
        ]
    )
    whole = parts.whole(zones.flats.count)
    return Settled(zones, bends, curves, easing, sectors, columns, walls, whole)


def _shown(parts: Parts, count: int) -> BoolArray:
    """Tell flats most of which is show face."""
    shown: BoolArray = parts.shares(count)[:, ClassColumn.SHOW_FACE] > 0.5
    return shown


def _mixed(parts: Parts, flats: Flats) -> BoolArray:
    """Tell flats of several facets that are of several classes."""
    present = parts.shares(flats.count) > 0.0
    facets = np.bincount(flats.of_facet, minlength=flats.count)
    mixed: BoolArray = (present.sum(axis=1) > 1) & (facets > 1)
    return mixed


def _facing_parts(zones: Zones, easing: Easing, walls: Walls, rules: SurfaceRules) -> list[Parts]:
    """Show faces, with what eased arrises give to the walls below them."""
    flats = zones.flats
    facing = zones.are(Zone.FACING)
    beyond = facing & (easing.facing_share < 1.0)
    way, reached = spread(
        flats, walls.parts.shares(flats.count), zones.are(Zone.WALL), beyond, rules=rules
    )
    way[beyond & ~reached] = np.eye(4)[ClassColumn.SHOW_FACE]
    rest = np.where(beyond, 1.0 - easing.facing_share, 0.0)[:, None] * np.where(
        beyond[:, None], way, 0.0
    )
    flat, column = np.nonzero(rest > rules.sliver_share)
    show = np.flatnonzero((facing | zones.are(Zone.WALL)) & (easing.facing_share > 0.0))
    reason = np.where(facing, zones.reason, Reason.FLAT)[show]
    return [
        Parts.plain(show, ClassColumn.SHOW_FACE, reason, easing.facing_share[show]),
        Parts.plain(flat, column, Reason.EASED, rest[flat, column]),
    ]


def _back_parts(zones: Zones, width_m: FloatArray) -> Parts:
    """Give what faces away, less the edges of curved shells."""
    back = np.flatnonzero(zones.are(Zone.AWAY) & (width_m == 0.0))
    return Parts.plain(back, ClassColumn.BACK, zones.reason[back], np.ones(len(back)))


def _shell_edge_parts(width_m: FloatArray, easing: Easing, rules: SurfaceRules) -> Parts:
    """Edges of curved shells, by their width."""
    edge = np.flatnonzero(width_m > 0.0)
    deep = width_m[edge] > rules.return_limit_m
    column = np.where(deep, ClassColumn.UPRIGHT, ClassColumn.RETURN)
    share = 1.0 - easing.facing_share[edge]
    return Parts.plain(edge, column, Reason.SHELL_EDGE, share, width_m[edge])
