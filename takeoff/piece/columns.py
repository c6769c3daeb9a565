"""Columns of wall: from the face above to what lies below, strip by strip."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from takeoff.piece.keys import sorted_runs
from takeoff.piece.rules import SurfaceRules
from takeoff.piece.sectors import Beyond, Rims, Sectors
from takeoff.piece.strips import Strips, strips_of

FloatArray = NDArray[np.float64]
IntArray = NDArray[np.integer]
BoolArray = NDArray[np.bool_]


@dataclass(frozen=True, slots=True, eq=False)
class Crossings:
    """Edges of rims that cross the middle of strips, by strip and from the foot up.

    Parameters
    ----------
    strips : Strips
        The strips.
    edge, strip : ndarray of int, shape (x,)
        Edge of the rims, and strip.
    height_m : ndarray of float, shape (x,)
        Where it crosses. [m]
    end_height_m : ndarray of float, shape (x, 2)
        Height of the rim at the left and right end of the strip. [m]
    extra_m : tuple of ndarray of int, shape (e,), and ndarray of float, shape (e,)
        Sector and position of the limits passed, where strips are cut besides. [m]
    """

    strips: Strips
    edge: IntArray
    strip: IntArray
    height_m: FloatArray
    end_height_m: FloatArray
    extra_m: tuple[IntArray, FloatArray]

    def extra_at(self, sector: IntArray, run_m: FloatArray) -> bool:
        """Tell whether the strips are cut at these very places besides."""
        return np.array_equal(self.extra_m[0], sector) and np.array_equal(self.extra_m[1], run_m)


@dataclass(frozen=True, slots=True, eq=False)
class Columns:
    """Columns of wall, by strip and from the foot up.

    Parameters
    ----------
    even, crossings : Crossings
        What crosses the strips, before they are cut where depths pass limits and after.
    strips : Strips
        The strips.
    strip : ndarray of int, shape (c,)
        Strip of each column, ascending.
    low_m, high_m : ndarray of float, shape (c,)
        Height of foot and top in the middle of the strip. [m]
    below, above : ndarray of int, shape (c,)
        What lies below and above, a `Beyond`.
    flat_below, flat_above : ndarray of int, shape (c,)
        The flats there, -1 at an open edge.
    depth_m : ndarray of float, shape (c,)
        Depth in the middle of the strip, from the plane of the face above. [m]
    edge_depth_m : ndarray of float, shape (c, 2)
        Depth at the left and right end of the strip. [m]
    """

    even: Crossings
    crossings: Crossings
    strips: Strips
    strip: IntArray
    low_m: FloatArray
    high_m: FloatArray
    below: NDArray[np.int8]
    above: NDArray[np.int8]
    flat_below: IntArray
    flat_above: IntArray
    depth_m: FloatArray
    edge_depth_m: FloatArray

    @property
    def sector(self) -> IntArray:
        """Sector of each column."""
        return self.strips.sector[self.strip]

    @property
    def width_m(self) -> FloatArray:
        """Width of each column along the wall."""
        return (self.strips.right_m - self.strips.left_m)[self.strip]

    def at(self, strip: IntArray, height_m: FloatArray, *, slack_m: float) -> IntArray:
        """Find the column at each height of a strip; -1 where there is none."""
        if not len(self.strip):
            return np.full(len(strip), -1, dtype=np.int64)
        origin_m = float(self.low_m.min())
        pitch_m = 2.0 * (float(self.high_m.max()) - origin_m) + 1.0
        line = self.strip * pitch_m + (self.low_m - origin_m)
        height_on_line = np.clip(height_m + slack_m - origin_m, 0.0, pitch_m / 2.0)
        found = np.searchsorted(line, strip * pitch_m + height_on_line, "right") - 1
        found = np.maximum(found, 0)
        hit = (self.strip[found] == strip) & (height_m <= self.high_m[found] + slack_m)
        hit &= height_m >= self.low_m[found] - slack_m
        return np.where(hit, found, -1)


def columns_of(
    sectors: Sectors, *, former: Columns | None = None, rules: SurfaceRules = SurfaceRules()
) -> Columns:
    """Cut the sectors into columns.

    Parameters
    ----------
    sectors : Sectors
        Walls, unrolled.
    former : Columns, optional
        Columns of the same sectors, of which only what lies beyond their rims has changed.
    rules : SurfaceRules, optional
        How finely, and at which depths a column must not change within a strip.

    Returns
    -------
    Columns
        The columns; strips in which tops and feet do not pair are left out.

    Notes
    -----
    Where the depth of a wall passes the return limit or the relief limit inside a strip, the
    strip is cut there, so that a sloping wall divides exactly.

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
    >>> columns = columns_of(sectors_of(zones, ease(zones, bends_of(box))))
    >>> set(columns.depth_m.round(9).tolist()), set(columns.above.tolist())
    ({0.5}, {0})
    """
    if former is None:
        even = _crossings(sectors, (np.empty(0, dtype=np.int64), np.empty(0)), rules)
    else:
        even = former.even
    columns = _columns_at(sectors, even, even)
    limits_m = (rules.return_limit_m + rules.depth_tie_m, rules.relief_m + rules.depth_tie_m)
    passings = [_passings(columns, limit_m) for limit_m in limits_m]
    sector = np.concatenate([passing[0] for passing in passings])
    run_m = np.concatenate([passing[1] for passing in passings])
    if not len(sector):
        return columns
    if former is not None and former.crossings.extra_at(sector, run_m):
        return _columns_at(sectors, even, former.crossings)
    return _columns_at(sectors, even, _crossings(sectors, (sector, run_m), rules))


def _passings(columns: Columns, limit_m: float) -> tuple[IntArray, FloatArray]:
    """Sector and position where the depth of a column passes a limit within its strip."""
    left, right = (columns.edge_depth_m - limit_m).T
    passing = np.flatnonzero(left * right < 0.0)
    strip = columns.strip[passing]
    share = left[passing] / (left[passing] - right[passing])
    strips = columns.strips
    run_m = strips.left_m[strip] + share * (strips.right_m - strips.left_m)[strip]
    return strips.sector[strip], run_m


def _crossings(
    sectors: Sectors, extra_m: tuple[IntArray, FloatArray], rules: SurfaceRules
) -> Crossings:
    """Find the rim edges that cross the middle of every strip, from the foot up."""
    rims, strips = sectors.rims, strips_of(sectors, rules=rules, extra_m=extra_m)
    edge, strip = strips.crossed(rims.sector, rims.run_m)
    height_m = height_at_m(rims.run_m, rims.height_m, edge, strips.middle_m.take(strip))
    order = sorted_by(strip, height_m)
    edge, strip = edge[order], strip[order]
    ends_m = np.concatenate([strips.left_m.take(strip), strips.right_m.take(strip)])
    end_height_m = _height_along(rims, np.tile(edge, 2), ends_m, rules)
    ends_m = end_height_m.reshape(2, -1).T
    return Crossings(strips, edge, strip, height_m[order], ends_m, extra_m)


def _columns_at(sectors: Sectors, even: Crossings, crossings: Crossings) -> Columns:
    """Pair the crossings of every strip, from the foot up."""
    rims, strips = sectors.rims, crossings.strips
    kept = np.flatnonzero(~_bridged(crossings.strip, rims.beyond[crossings.edge]))
    foot = paired(crossings.strip[kept])
    low, high = kept[foot], kept[foot + 1]
    below, above = crossings.edge[low], crossings.edge[high]
    low_m, high_m = crossings.height_m[low], crossings.height_m[high]
    ends_m = crossings.end_height_m[high] - crossings.end_height_m[low]
    added_m = rims.drop_m[above] + rims.drop_m[below]
    return Columns(
        even=even,
        crossings=crossings,
        strips=strips,
        strip=crossings.strip[low],
        low_m=low_m,
        high_m=high_m,
        below=rims.beyond[below],
        above=rims.beyond[above],
        flat_below=rims.flat[below],
        flat_above=rims.flat[above],
        depth_m=high_m - low_m + added_m,
        edge_depth_m=ends_m + added_m[:, None],
    )


def sorted_by(group: IntArray, height_m: FloatArray) -> IntArray:
    """Give the order by group and, within it, by height.

    Parameters
    ----------
    group : ndarray of int, shape (n,)
        Groups.
    height_m : ndarray of float, shape (n,)
        Heights. [m]

    Returns
    -------
    ndarray of int, shape (n,)
        The order.

    Notes
    -----
    Most groups are a pair: a top and a foot. These are put right without sorting by height.

    Examples
    --------
    >>> sorted_by(np.array([1, 0, 1]), np.array([2.0, 5.0, 1.0])).tolist()
    [1, 2, 0]
    """
    order, first = sorted_runs(group)
    size = np.diff(first, append=len(group))
    two = first[size == 2]
    one, other = order.take(two), order.take(two + 1)
    falling = height_m.take(one) > height_m.take(other)
    order[two] = np.where(falling, other, one)
    order[two + 1] = np.where(falling, one, other)
    several = np.flatnonzero(np.repeat(size > 2, size))
    own = order.take(several)
    order[several] = own.take(np.lexsort((height_m.take(own), group.take(own))))
    return order


def height_at_m(
    run_m: FloatArray, height_m: FloatArray, edge: IntArray, at_m: FloatArray
) -> FloatArray:
    """Give the height of straight edges at positions along the wall.

    Parameters
    ----------
    run_m, height_m : ndarray of float, shape (n, 2)
        Their two ends. [m]
    edge : ndarray of int, shape (p,)
        The edge asked of at each position.
    at_m : ndarray of float, shape (p,)
        The positions. [m]

    Returns
    -------
    ndarray of float, shape (p,)
        Heights. [m]

    Examples
    --------
    >>> run_m, height_m = np.array([[0.0, 2.0]]), np.array([[0.0, 1.0]])
    >>> height_at_m(run_m, height_m, np.array([0, 0]), np.array([0.5, 1.0])).tolist()
    [0.25, 0.5]
    """
    span_m = run_m[:, 1] - run_m[:, 0]
    span_m[span_m == 0.0] = 1.0
    share = at_m - run_m[:, 0].take(edge)
    share /= span_m.take(edge)
    share *= (height_m[:, 1] - height_m[:, 0]).take(edge)
    share += height_m[:, 0].take(edge)
    return share


def _height_along(rims: Rims, edge: IntArray, at_m: FloatArray, rules: SurfaceRules) -> FloatArray:
    """Height of the rims that edges are of at a position, or where they end short of it."""
    edge = _reaching(rims, edge, at_m, rules)
    run_m, height_m = rims.run_m.take(edge, axis=0), rims.height_m.take(edge, axis=0)
    at_m = np.clip(at_m, np.minimum(*run_m.T), np.maximum(*run_m.T))
    return height_at_m(run_m, height_m, np.arange(len(edge)), at_m)


def _reaching(rims: Rims, edge: IntArray, at_m: FloatArray, rules: SurfaceRules) -> IntArray:
    """Follow rims from edges to those that reach a position, or to the last on the way."""
    reached = edge.copy()
    run_m = rims.run_m.take(edge, axis=0)
    rising = at_m > np.maximum(*run_m.T) + rules.strip_m
    going = np.flatnonzero(rising | (at_m < np.minimum(*run_m.T) - rules.strip_m))
    way, wanted_m = np.where(rising[going], 1.0, -1.0), at_m[going]
    while len(going):
        here = reached[going]
        first_m, second_m = rims.run_m.take(here, axis=0).T * way
        following = rims.ahead[here, np.where(second_m > first_m, 1, 0)]
        next_m = np.maximum(*(rims.run_m.take(following, axis=0).T * way))
        onward = (following >= 0) & (next_m > np.maximum(first_m, second_m))
        reached[going[onward]] = following[onward]
        onward &= wanted_m * way > next_m + rules.strip_m
        going, way, wanted_m = going[onward], way[onward], wanted_m[onward]
    return reached


def _rank(strip: IntArray) -> tuple[IntArray, BoolArray]:
    """Position of each crossing within its strip, and whether the strip has an even number."""
    start = np.flatnonzero(np.concatenate([[True], np.diff(strip) != 0]))
    number = np.diff(np.append(start, len(strip)))
    rank = np.arange(len(strip)) - np.repeat(start, number)
    return rank, np.repeat(number % 2 == 0, number)


def _bridged(strip: IntArray, beyond: NDArray[np.int8]) -> BoolArray:
    """Crossings at both sides of a hole or groove in one wall: the column runs on."""
    bridged = np.zeros(len(strip), dtype=np.bool_)
    if not len(strip):
        return bridged
    rank, even = _rank(strip)
    top = np.flatnonzero(even & (rank % 2 == 1) & (beyond != Beyond.SHOW))
    top = top[top + 1 < len(strip)]
    top = top[(strip[top + 1] == strip[top]) & (beyond[top + 1] != Beyond.SHOW)]
    bridged[top] = True
    bridged[top + 1] = True
    return bridged


def paired(group: IntArray) -> IntArray:
    """Give the first of each pair of neighbours in groups of an even number.

    Parameters
    ----------
    group : ndarray of int, shape (n,)
        Groups, members side by side.

    Returns
    -------
    ndarray of int
        Places of the first member of each pair; groups of an odd number give none.

    Examples
    --------
    >>> paired(np.array([4, 4, 5, 5, 5, 7, 7, 7, 7])).tolist()
    [0, 5, 7]
    """
    if not len(group):
        return np.empty(0, dtype=np.int64)
    rank, even = _rank(group)
    return np.flatnonzero(even & (rank % 2 == 0))
