"""The whole surface settled: every flat divided into parts of one class each."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from takeoff.geometry.sums import summed
from takeoff.piece.assembling import assemble
from takeoff.piece.bending import Bends, bends_of
from takeoff.piece.columns import Columns, columns_of
from takeoff.piece.curving import Curves, curve, curves_of
from takeoff.piece.cutting import Cuts, Pieces, cut_walls, pieces_of
from takeoff.piece.easing import Easing, ease
from takeoff.piece.flats import Flats, regathered
from takeoff.piece.grooves import groove_floors
from takeoff.piece.hiding import hide
from takeoff.piece.judging import ClassColumn, Verdicts, judge
from takeoff.piece.parts import Parts
from takeoff.piece.rules import SurfaceRules
from takeoff.piece.sectors import Sectors, sectors_of
from takeoff.piece.splitting import split
from takeoff.piece.walls import Walls, divide_walls
from takeoff.piece.zones import Zone, Zones, zones_of

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
    easing = ease(zones, bends, curves=curves, rules=rules)
    sectors = sectors_of(zones, easing, rules=rules)
    judged = _judged(sectors, None, rules)
    for _ in range(rules.groove_count):
        parts = judged.walls.parts
        show = zones.are(Zone.WALL) & _shown(parts, flats.count)
        show |= groove_floors(zones, judged.columns, judged.verdicts, parts, rules=rules)
        if not sectors.beyond_rims(show):
            break
        sectors = sectors.with_show(show)
        judged = _judged(sectors, judged, rules)
    columns, walls = judged.columns, judged.walls
    mixed = _mixed(walls.parts, flats)
    if mixed.any():
        of_facet, cuts = split(sectors, columns, walls.patch, judged.cuts, mixed, rules=rules)
        apart, former = regathered(flats, of_facet)
        zones, easing = zones.on(apart, former), easing.on(former)
        sectors = replace(sectors, zones=zones, of_flat=sectors.of_flat[former])
        walls = divide_walls(sectors, columns, judged.verdicts, cuts, rules=rules)
        bends = bends_of(apart, rules=rules)
    parts = assemble(zones, bends, easing, walls, rules=rules)
    return Settled(zones, bends, curves, easing, sectors, columns, walls, parts)


@dataclass(frozen=True, slots=True, eq=False)
class _Judged:
    """The walls cut into columns, these judged, and the walls divided by them."""

    columns: Columns
    verdicts: Verdicts
    pieces: Pieces
    cuts: Cuts
    walls: Walls


def _judged(sectors: Sectors, former: _Judged | None, rules: SurfaceRules) -> _Judged:
    """Judge the walls, or judge them anew as what lies beyond their rims is show face now."""
    known = None if former is None else former.columns
    columns = columns_of(sectors, former=known, rules=rules)
    verdicts = judge(columns, rules=rules)
    if former is not None and columns.strips is former.columns.strips:
        pieces = former.pieces
    else:
        pieces = pieces_of(sectors, columns.strips, rules=rules)
    cuts = cut_walls(sectors, columns, pieces=pieces, rules=rules)
    walls = divide_walls(sectors, columns, verdicts, cuts, rules=rules)
    return _Judged(columns, verdicts, pieces, cuts, walls)


def _shown(parts: Parts, count: int) -> BoolArray:
    """Tell flats most of which is show face."""
    own = np.flatnonzero(parts.column == ClassColumn.SHOW_FACE)
    shown: BoolArray = summed(parts.flat[own], parts.share[own], count) > 0.5
    return shown


def _mixed(parts: Parts, flats: Flats) -> BoolArray:
    """Tell flats of several facets that are of several classes."""
    present = np.flatnonzero(parts.share > 0.0)
    flat, column = parts.flat.take(present), parts.column.take(present)
    one = np.zeros(flats.count, dtype=np.int64)
    one[flat] = column
    mixed = np.zeros(flats.count, dtype=np.bool_)
    mixed[flat[one.take(flat) != column]] = True
    if mixed.any():
        mixed &= np.bincount(flats.of_facet, minlength=flats.count) > 1
    return mixed
