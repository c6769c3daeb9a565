"""Openings: closed runs of wall round a hole in the show face."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from takeoff.piece.judging import ClassColumn
from takeoff.piece.plan_axes import across_m
from takeoff.piece.rules import SurfaceRules
from takeoff.piece.settling import Settled
from takeoff.piece.zones import Reason

FloatArray = NDArray[np.float64]
IntArray = NDArray[np.int64]
BoolArray = NDArray[np.bool_]

_ENDING = (Reason.EDGE, Reason.SHELL_EDGE, Reason.FILLED)


@dataclass(frozen=True, slots=True, eq=False)
class FoundOpening:
    """An opening as it is found.

    Parameters
    ----------
    flats : ndarray of bool, shape (n,)
        The flats of its wall.
    width_m : float
        Least width, at the show face or at the back, whichever is less. [m]
    """

    flats: BoolArray
    width_m: float


def find_openings(settled: Settled, *, rules: SurfaceRules = SurfaceRules()) -> list[FoundOpening]:
    """Find the openings of a piece.

    Parameters
    ----------
    settled : Settled
        The surface, divided.
    rules : SurfaceRules, optional
        When a loop is closed.

    Returns
    -------
    list of FoundOpening
        Openings whose wall is cast, in no particular order.

    Notes
    -----
    The border between show face and wall, taken in the winding of the show face, runs clockwise
    round an opening and counter-clockwise round the piece: its signed area tells which.

    Examples
    --------
    >>> import trimesh
    >>> from takeoff.geometry.mesh import Mesh
    >>> from takeoff.piece.flats import flats_of
    >>> from takeoff.piece.settling import settle
    >>> ring = trimesh.creation.annulus(0.1, 0.5, 0.05)
    >>> flats = flats_of(Mesh.from_trimesh(ring, unit="m"))
    >>> found = find_openings(settle(flats, np.array([0.0, 0.0, 1.0])))
    >>> len(found), round(found[0].width_m, 2)
    (1, 0.2)
    """
    flats = settled.flats
    wall = _ending_walls(settled)
    show = settled.parts.shares(flats.count)[:, ClassColumn.SHOW_FACE] >= 0.5
    show &= ~wall
    region = np.where(wall, flats.regions(wall), -1)
    top = _borders(settled, region, show)
    foot = _borders(settled, region, ~show & ~wall)
    found = []
    for number in np.unique(top.region[_hole_borders(settled, top, rules)]):
        ends = [border.ends_m(settled, number) for border in (top, foot)]
        widths_m = [_least_width_m(plan) for plan in ends if len(plan)]
        found.append(FoundOpening(region == number, min(widths_m)))
    return found


def _ending_walls(settled: Settled) -> BoolArray:
    """Tell cast walls that run from the show face to the back."""
    parts = settled.parts
    cast = np.isin(parts.column, (ClassColumn.RETURN, ClassColumn.UPRIGHT))
    cast &= np.isin(parts.reason, _ENDING)
    share = np.bincount(parts.flat[cast], parts.share[cast], minlength=settled.flats.count)
    return share > 0.5


@dataclass(frozen=True, slots=True, eq=False)
class _Borders:
    """Directed edges between regions of wall and what lies beyond."""

    region: IntArray
    start: IntArray
    end: IntArray

    def ends_m(self, settled: Settled, number: int) -> FloatArray:
        """Points of the border of one region, in plan, shape (p, 2)."""
        own = self.region == number
        points_m = settled.flats.mesh.points_m[np.concatenate([self.start[own], self.end[own]])]
        return np.column_stack(across_m(points_m, settled.zones.show_direction))


def _borders(settled: Settled, region: IntArray, beyond: BoolArray) -> _Borders:
    """Edges between regions and flats beyond, in the winding of the latter; open edges too."""
    joints, edges = settled.flats.joints, settled.flats.open_edges
    right = beyond[joints.left] & (region[joints.right] >= 0)
    left = beyond[joints.right] & (region[joints.left] >= 0)
    free = region[edges.flat] >= 0
    return _Borders(
        np.concatenate([region[joints.right[right]], region[joints.left[left]], region[edges.flat[free]]]),
        np.concatenate([joints.start[right], joints.end[left], edges.end[free]]),
        np.concatenate([joints.end[right], joints.start[left], edges.start[free]]),
    )
