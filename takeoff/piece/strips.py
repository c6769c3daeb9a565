"""Level strips across each sector, and what lines of rims or flats cut out of them."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from takeoff.piece.rules import SurfaceRules
from takeoff.piece.sectors import Sectors

FloatArray = NDArray[np.float64]
IntArray = NDArray[np.integer]
BoolArray = NDArray[np.bool_]


@dataclass(frozen=True, slots=True, eq=False)
class Strips:
    """Upright strips side by side, sector after sector.

    Parameters
    ----------
    sector : ndarray of int, shape (s,)
        Sector of each strip, ascending.
    left_m, right_m : ndarray of float, shape (s,)
        Where it begins and ends along the wall. [m]
    origin_m, pitch_m : float
        What sets the sectors apart on one line. [m]
    """

    sector: IntArray
    left_m: FloatArray
    right_m: FloatArray
    origin_m: float
    pitch_m: float

    @property
    def middle_m(self) -> FloatArray:
        """Middle of each strip along the wall."""
        return (self.left_m + self.right_m) / 2.0

    def _on_line(self, sector: IntArray, run_m: FloatArray) -> FloatArray:
        """Positions of all sectors on one ascending line."""
        return sector * self.pitch_m + (run_m - self.origin_m)

    def at(self, sector: IntArray, run_m: FloatArray) -> IntArray:
        """Find the strip of each position; -1 where its sector has none."""
        line = self._on_line(self.sector, self.left_m)
        found = np.searchsorted(line, self._on_line(sector, run_m), "right") - 1
        found = np.clip(found, 0, max(len(line) - 1, 0))
        first = np.searchsorted(self.sector, sector, "left")
        last = np.searchsorted(self.sector, sector, "right") - 1
        return np.where(last >= first, np.clip(found, first, np.maximum(last, first)), -1)

    def crossed(self, sector: IntArray, run_m: FloatArray) -> tuple[IntArray, IntArray]:
        """List the strips whose middle each edge crosses: edge numbers and strips."""
        line = self._on_line(self.sector, self.middle_m)
        first = np.searchsorted(line, self._on_line(sector, np.minimum(*run_m.T)), "left")
        end = self._on_line(sector, np.maximum(*run_m.T))
        last, crossing = first.copy(), np.flatnonzero(np.append(line, np.inf).take(first) < end)
        last[crossing] = np.searchsorted(line, end.take(crossing), "left")
        number = last - first
        edge = np.repeat(np.arange(len(sector)), number)
        before = np.cumsum(number) - number
        return edge, np.arange(len(edge)) + np.repeat(first - before, number)


def strips_of(
    sectors: Sectors,
    *,
    rules: SurfaceRules = SurfaceRules(),
    extra_m: tuple[IntArray, FloatArray] | None = None,
) -> Strips:
    """Cut every sector into strips, at its corners and evenly between.

    Parameters
    ----------
    sectors : Sectors
        The sectors.
    rules : SurfaceRules, optional
        How many strips.
    extra_m : tuple of ndarray of int and ndarray of float, shape (x,), optional
        Further places to cut at: sectors, and positions along their walls. [m]

    Returns
    -------
    Strips
        The strips.

    Examples
    --------
    >>> import trimesh
    >>> from takeoff.geometry.mesh import Mesh
    >>> from takeoff.piece.bending import bends_of
    >>> from takeoff.piece.easing import ease
    >>> from takeoff.piece.flats import flats_of
    >>> from takeoff.piece.sectors import sectors_of
    >>> from takeoff.piece.zones import zones_of
    >>> box = flats_of(Mesh.from_trimesh(trimesh.creation.box((3.0, 2.0, 0.5)), unit="m"))
    >>> zones = zones_of(box, np.array([0.0, 0.0, 1.0]))
    >>> strips = strips_of(sectors_of(zones, ease(zones, bends_of(box))))
    >>> widths_m = np.bincount(strips.sector, strips.right_m - strips.left_m)
    >>> np.sort(widths_m).round(9).tolist()
    [2.0, 2.0, 3.0, 3.0]
    """
    rims = sectors.rims
    low, high = np.full(sectors.count, np.inf), np.full(sectors.count, -np.inf)
    least_m, most_m = rims.ends_m()
    np.minimum.at(low, rims.sector, least_m)
    np.maximum.at(high, rims.sector, most_m)
    sector, run_m = _even_cuts(sectors, low, high, rules)
    corner = rims.bend_deg > rules.flat_deg
    edge, end = np.nonzero(corner)
    at = rims.sector.take(edge)
    few = np.bincount(at, minlength=sectors.count) <= rules.corner_count
    cut = few.take(at) | (rims.bend_deg[edge, end] > rules.corner_deg)
    parts = [(sector, run_m), (at[cut], rims.run_m[edge[cut], end[cut]])]
    if extra_m is not None:
        parts.append(extra_m)
    return _between(
        np.concatenate([part[0] for part in parts]),
        np.concatenate([part[1] for part in parts]),
        rules,
    )


def _even_cuts(
    sectors: Sectors, low_m: FloatArray, high_m: FloatArray, rules: SurfaceRules
) -> tuple[IntArray, FloatArray]:
    """Places to cut at, evenly over each sector."""
    least_m2 = rules.small_wall_share * float(sectors.zones.flats.area_m2.sum())
    number = np.where(sectors.area_m2 > least_m2, rules.strip_count, rules.small_strip_count)
    number[~(high_m - low_m > rules.strip_m)] = 0
    cuts = np.where(number > 0, number + 1, 0)
    sector = np.repeat(np.arange(sectors.count), cuts)
    step = np.arange(len(sector)) - np.repeat(np.cumsum(cuts) - cuts, cuts)
    width_m = (high_m - low_m)[sector] / np.maximum(number, 1)[sector]
    return sector, low_m[sector] + width_m * step


def _between(sector: IntArray, run_m: FloatArray, rules: SurfaceRules) -> Strips:
    """Make strips between successive cuts of a sector, but none too narrow."""
    if not len(run_m):
        nothing = np.empty(0)
        return Strips(np.empty(0, dtype=np.int64), nothing, nothing, 0.0, 1.0)
    origin_m = float(run_m.min())
    pitch_m = 2.0 * (float(run_m.max()) - origin_m) + rules.strip_m
    order = np.argsort(sector * pitch_m + (run_m - origin_m), kind="stable")
    sector, run_m = sector[order], run_m[order]
    apart = np.diff(run_m) > rules.strip_m
    kept = np.concatenate([[True], apart | (np.diff(sector) > 0)])
    sector, run_m = sector[kept], run_m[kept]
    same = np.diff(sector) == 0
    return Strips(sector[:-1][same], run_m[:-1][same], run_m[1:][same], origin_m, pitch_m)
