"""Flat faces of a mesh: coplanar neighbours taken together, whatever their triangulation."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from takeoff.geometry.dihedrals import lengths_m, turns_deg
from takeoff.geometry.edges import EdgeTable, edge_table
from takeoff.geometry.facets import Facets, bounds_m, facets_of
from takeoff.geometry.mesh import Mesh
from takeoff.geometry.sums import summed
from takeoff.piece.joining import joined
from takeoff.piece.rules import SurfaceRules

FloatArray = NDArray[np.float64]
IntArray = NDArray[np.integer]
BoolArray = NDArray[np.bool_]


@dataclass(frozen=True, slots=True, eq=False)
class Joints:
    """Edges along which two flats meet.

    Parameters
    ----------
    left, right : ndarray of int, shape (j,)
        The two flats; the edge runs from start to end in the winding of the left one.
    left_facet, right_facet : ndarray of int, shape (j,)
        The two facets.
    start, end : ndarray of int, shape (j,)
        Point numbers.
    length_m : ndarray of float, shape (j,)
        Lengths. [m]
    turn_deg : ndarray of float, shape (j,)
        Signed turn, above 0 at an arris. [°]
    """

    left: IntArray
    right: IntArray
    left_facet: IntArray
    right_facet: IntArray
    start: IntArray
    end: IntArray
    length_m: FloatArray
    turn_deg: FloatArray

    def within(self, chosen: BoolArray) -> BoolArray:
        """Tell the joints both of whose flats are chosen."""
        return chosen.take(self.left) & chosen.take(self.right)

    def sums(self, value: FloatArray, joint: BoolArray, count: int) -> FloatArray:
        """Add up a value of the chosen joints at both their flats."""
        weight = value * joint
        return summed(self.left, weight, count) + summed(self.right, weight, count)


@dataclass(frozen=True, slots=True, eq=False)
class OpenEdges:
    """Edges of a flat along which nothing follows.

    Parameters
    ----------
    flat, facet : ndarray of int, shape (o,)
        The flat and the facet.
    start, end : ndarray of int, shape (o,)
        Point numbers, in the winding of the facet.
    """

    flat: IntArray
    facet: IntArray
    start: IntArray
    end: IntArray


@dataclass(frozen=True, slots=True, eq=False)
class Flats:
    """The flat faces of a mesh.

    Parameters
    ----------
    mesh : Mesh
        The mesh.
    facets : Facets
        Its facets.
    of_facet : ndarray of int, shape (k,)
        The flat each facet belongs to.
    area_m2 : ndarray of float, shape (n,)
        Area of each flat. [m²]
    normals : ndarray of float, shape (n, 3)
        Unit normals. [-]
    evenness_ratio : ndarray of float, shape (n,)
        Length of the sum of the vector areas over the sum of the areas: 1 for a plane. [-]
    joints : Joints
        Where flats meet.
    open_edges : OpenEdges
        Where they end.
    edges : EdgeTable
        Edges between the facets.
    turn_deg : ndarray of float, shape (e,)
        Signed turn at each of them. [°]
    """

    mesh: Mesh
    facets: Facets
    of_facet: IntArray
    area_m2: FloatArray
    normals: FloatArray
    evenness_ratio: FloatArray
    joints: Joints
    open_edges: OpenEdges
    edges: EdgeTable
    turn_deg: FloatArray

    @property
    def count(self) -> int:
        """Number of flats."""
        return len(self.area_m2)

    def regions(self, chosen: BoolArray, joint: BoolArray | None = None) -> IntArray:
        """Give each flat the number of its region: chosen flats that hang together."""
        between = self.joints.within(chosen)
        if joint is not None:
            between &= joint
        at = np.flatnonzero(between)
        return joined(self.count, self.joints.left.take(at), self.joints.right.take(at))

    def widths_m(self, chosen: BoolArray) -> FloatArray:
        """Give the mean width of the connected strip that each chosen flat is part of."""
        return self.strip_widths_m(self.regions(chosen), chosen)

    def strip_widths_m(self, region: IntArray, chosen: BoolArray) -> FloatArray:
        """Give the same where the region of each chosen flat is known."""
        joints = self.joints
        left = chosen.take(joints.left)
        border = np.flatnonzero(left != chosen.take(joints.right))
        inner = np.where(left[border], joints.left[border], joints.right[border])
        border_m = summed(region.take(inner), joints.length_m.take(border), self.count)
        area_m2 = summed(region[chosen], self.area_m2[chosen], self.count)
        known = border_m > 0.0
        width_m = np.where(known, 2.0 * area_m2 / np.where(known, border_m, 1.0), np.inf)
        return np.where(chosen, width_m[region], np.inf)


def flats_of(
    mesh: Mesh,
    *,
    facets: Facets | None = None,
    edges: EdgeTable | None = None,
    rules: SurfaceRules = SurfaceRules(),
) -> Flats:
    """Take coplanar neighbours of a mesh together.

    Parameters
    ----------
    mesh : Mesh
        A mesh wound consistently.
    facets : Facets, optional
        Its facets, where they are known already.
    edges : EdgeTable, optional
        Its edges, likewise.
    rules : SurfaceRules, optional
        What counts as flat.

    Returns
    -------
    Flats
        Flat faces and the joints between them.

    Notes
    -----
    A finely divided curve may turn by less than the limit from facet to facet. A flat whose
    facets differ from each other is therefore taken apart again. A facet hardly higher than
    the step of the coordinates looks anywhere: it belongs to the flat along its longest sides.

    Examples
    --------
    >>> import trimesh
    >>> box = Mesh.from_trimesh(trimesh.creation.box((1.0, 2.0, 3.0)), unit="m")
    >>> flats = flats_of(box)
    >>> flats.count, sorted(flats.area_m2.round(9).tolist())
    (6, [2.0, 2.0, 3.0, 3.0, 6.0, 6.0])
    """
    facets = facets_of(mesh) if facets is None else facets
    edges = edge_table(mesh) if edges is None else edges
    turn_deg = turns_deg(mesh, facets, edges)
    flat = np.abs(turn_deg) < rules.flat_deg
    flat[_rounded(mesh, facets, edges, turn_deg, rules)] = True
    of_facet = joined(len(facets.area_m2), edges.left, edges.right, linked=flat)
    planes = _planes(facets, of_facet)
    bent = planes.evenness_ratio < np.cos(np.radians(rules.chain_deg))
    apart = _apart(of_facet, bent)
    if apart is not of_facet:
        planes = _planes(facets, apart)
    return _gathered(mesh, facets, edges, turn_deg, planes)


def regathered(flats: Flats, of_facet: IntArray) -> tuple[Flats, IntArray]:
    """Divide the flats of a mesh further.

    Parameters
    ----------
    flats : Flats
        The flats.
    of_facet : ndarray of int, shape (k,)
        New flat of each facet, from 0; each within one former flat.

    Returns
    -------
    tuple of Flats and ndarray of int
        The new flats, and the former flat of each of them.

    Examples
    --------
    >>> import trimesh
    >>> box = Mesh.from_trimesh(trimesh.creation.box((1.0, 2.0, 3.0)), unit="m")
    >>> apart, former = regathered(flats_of(box), np.arange(12))
    >>> apart.count, np.bincount(former).tolist()
    (12, [2, 2, 2, 2, 2, 2])
    """
    former = np.empty(int(of_facet.max()) + 1, dtype=np.int64)
    former[of_facet] = flats.of_facet
    planes = _planes(flats.facets, of_facet)
    return _gathered(flats.mesh, flats.facets, flats.edges, flats.turn_deg, planes), former


@dataclass(frozen=True, slots=True, eq=False)
class _Planes:
    """Flats and their measures."""

    of_facet: IntArray
    area_m2: FloatArray
    normals: FloatArray
    evenness_ratio: FloatArray


def _gathered(
    mesh: Mesh, facets: Facets, edges: EdgeTable, turn_deg: FloatArray, planes: _Planes
) -> Flats:
    """Collect the joints of the flats."""
    of_facet = planes.of_facet
    return Flats(
        mesh=mesh,
        facets=facets,
        of_facet=of_facet,
        area_m2=planes.area_m2,
        normals=planes.normals,
        evenness_ratio=planes.evenness_ratio,
        joints=_joints(mesh, edges, turn_deg, of_facet),
        open_edges=OpenEdges(
            of_facet[edges.open_facet], edges.open_facet, edges.open_start, edges.open_end
        ),
        edges=edges,
        turn_deg=turn_deg,
    )


def _rounded(
    mesh: Mesh, facets: Facets, edges: EdgeTable, turn_deg: FloatArray, rules: SurfaceRules
) -> IntArray:
    """Edges that turn by no more than rounding may turn the lower of their two facets."""
    turn = np.abs(turn_deg)
    at = np.flatnonzero((turn > rules.chain_deg) & (turn < 90.0))
    if not len(at):
        return at
    step_m = rules.rounding_share * float(np.abs(bounds_m(mesh)).max())
    left_m2, right_m2 = (facets.area_m2.take(side.take(at)) for side in (edges.left, edges.right))
    length_m = lengths_m(mesh, edges.start.take(at), edges.end.take(at))
    height_m = 2.0 * np.minimum(left_m2, right_m2) / length_m
    return at[np.tan(np.radians(turn.take(at))) * height_m < step_m]


def _planes(facets: Facets, of_facet: IntArray) -> _Planes:
    """Measure the area, normal and evenness of every flat."""
    count = int(of_facet.max()) + 1
    area_m2 = summed(of_facet, facets.area_m2, count)
    columns = [
        summed(of_facet, facets.area_m2 * facets.normals[:, axis], count) for axis in range(3)
    ]
    length = np.sqrt(columns[0] ** 2 + columns[1] ** 2 + columns[2] ** 2)
    divisor = np.where(length > 0.0, length, 1.0)
    normals = np.empty((count, 3))
    for axis, column in enumerate(columns):
        np.divide(column, divisor, out=normals[:, axis])
    return _Planes(of_facet, area_m2, normals, length / np.where(area_m2 > 0.0, area_m2, 1.0))


def _apart(of_facet: IntArray, chosen: BoolArray) -> IntArray:
    """Give every facet of the chosen flats a number of its own."""
    loose = np.flatnonzero(chosen[of_facet])
    if not len(loose):
        return of_facet
    count = len(chosen)
    label = of_facet.copy()
    label[loose] = count + np.arange(len(loose))
    used = np.zeros(count + len(loose), dtype=np.bool_)
    used[label] = True
    return (np.cumsum(used) - 1)[label]


def _joints(mesh: Mesh, edges: EdgeTable, turn_deg: FloatArray, of_facet: IntArray) -> Joints:
    """Edges between different flats."""
    left, right = of_facet.take(edges.left), of_facet.take(edges.right)
    kept = np.flatnonzero(left != right)
    start, end = edges.start.take(kept), edges.end.take(kept)
    return Joints(
        left=left.take(kept),
        right=right.take(kept),
        left_facet=edges.left.take(kept),
        right_facet=edges.right.take(kept),
        start=start,
        end=end,
        length_m=lengths_m(mesh, start, end),
        turn_deg=turn_deg.take(kept),
    )
