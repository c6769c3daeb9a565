"""The whole surface settled: every flat divided into parts of one class each."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from takeoff.piece.assembling import assemble
from takeoff.piece.bending import Bends, bends_of
from takeoff.piece.columns import Columns, columns_of
from takeoff.piece.curving import Curves, curve, curves_of
from takeoff.piece.cutting import Cuts, cut_walls
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
    easing = ease(zones, bends, rules=rules)
    sectors = sectors_of(zones, easing, rules=rules)
    columns, verdicts, cuts, walls = _judged(sectors, rules)
    for _ in range(rules.groove_count):
        show = zones.are(Zone.WALL) & _shown(walls.parts, flats.count)
        show |= groove_floors(zones, columns, verdicts, walls.parts, rules=rules)
        if not sectors.beyond_rims(show):
            break
        sectors = sectors.with_show(show)
        columns, verdicts, cuts, walls = _judged(sectors, rules)
    mixed = _mixed(walls.parts, flats)
    if mixed.any():
        of_facet, cuts = split(sectors, columns, walls.patch, cuts, mixed, rules=rules)
        apart, former = regathered(flats, of_facet)
        zones, easing = zones.on(apart, former), easing.on(former)
        sectors = replace(sectors, zones=zones, of_flat=sectors.of_flat[former])
        walls = divide_walls(sectors, columns, verdicts, cuts, rules=rules)
        bends = bends_of(apart, rules=rules)
    parts = assemble(zones, bends, easing, walls, rules=rules)
    return Settled(zones, bends, curves, easing, sectors, columns, walls, parts)


def _judged(sectors: Sectors, rules: SurfaceRules) -> tuple[Columns, Verdicts, Cuts, Walls]:
    """Cut the walls into columns, judge them, and divide the walls by them."""
    columns = columns_of(sectors, rules=rules)
    verdicts = judge(columns, rules=rules)
    cuts = cut_walls(sectors, columns, rules=rules)
    return columns, verdicts, cuts, divide_walls(sectors, columns, verdicts, cuts, rules=rules)


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
