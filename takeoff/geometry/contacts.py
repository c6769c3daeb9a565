"""Faces on which two bodies touch, taken out so that the bodies become one."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import NDArray

from takeoff.geometry.bodies import Bodies
from takeoff.geometry.facets import Facets
from takeoff.geometry.meeting import meeting_boxes
from takeoff.geometry.mesh import Mesh
from takeoff.geometry.mesh_rules import MeshRules
from takeoff.geometry.parts import Parts
from takeoff.geometry.standing_apart import not_apart

if TYPE_CHECKING:
    import shapely

FloatArray = NDArray[np.float64]
IntArray = NDArray[np.int64]
_POLYGON = 3  # type number of polygons in shapely
_PAIR_WORK = 20_000  # what the faces of a pair cost, in facets looked at
_MOST_WORK = 20_000_000  # facets looked at in all: some seconds


@dataclass(frozen=True, slots=True, eq=False)
class Joined:
    """A mesh whose touching bodies were joined.

    Parameters
    ----------
    mesh : Mesh
        The mesh without the shared faces; points on the joints may repeat, and edges may
        face several shorter ones.
    contacts : int
        How many shared faces there were.
    unexamined : int
        Pairs of bodies not looked at, because there are too many of them.
    """

    mesh: Mesh
    contacts: int
    unexamined: int


def join_touching(
    mesh: Mesh, facets: Facets, parts: Parts, bodies: Bodies, *, rules: MeshRules
) -> Joined:
    """Take out the flat faces that closed bodies share.

    Parameters
    ----------
    mesh : Mesh
        A mesh wound outward.
    facets : Facets
        Of the same mesh.
    parts : Parts
        Of the same mesh.
    bodies : Bodies
        Of the same mesh.
    rules : MeshRules
        How near two planes must be to be one.

    Returns
    -------
    Joined
        The mesh itself, with no contacts, where bodies stand clear of each other.

    Examples
    --------
    A block in the middle of a slab, drawn as two bodies:

    >>> import trimesh
    >>> from takeoff.geometry.mending import mend
    >>> slab = trimesh.creation.box(bounds=[[0, 0, 0], [3, 3, 1]])
    >>> block = trimesh.creation.box(bounds=[[1, 1, 1], [2, 2, 2]])
    >>> both = mend(Mesh.from_trimesh(trimesh.util.concatenate([slab, block]), unit="m"))
    >>> both.parts.body_count, float(both.facets.area_m2.sum())
    (1, 34.0)
    """
    closed = np.flatnonzero(bodies.closed)
    low_m, high_m = bodies.low_m[closed], bodies.high_m[closed]
    pairs = closed[meeting_boxes(low_m, high_m, overlap_m=rules.overlap_m, axes=2)]
    pairs = not_apart(mesh, facets, parts, pairs, overlap_m=-rules.overlap_m)
    if not len(pairs):
        return Joined(mesh, 0, 0)
    surfaces = _Surfaces(mesh, parts)
    affordable = surfaces.affordable(pairs)
    contacts = 0
    for one, other in pairs[:affordable].tolist():
        low = np.maximum(bodies.low_m[one], bodies.low_m[other]) - rules.overlap_m
        high = np.minimum(bodies.high_m[one], bodies.high_m[other]) + rules.overlap_m
        contacts += _parted(surfaces, (one, other), _Region(low, high, rules.overlap_m))
    return Joined(surfaces.mesh() if contacts else mesh, contacts, len(pairs) - affordable)


def _parted(surfaces: _Surfaces, pair: tuple[int, int], region: _Region) -> int:
    """Take the shared faces of two bodies out of both, and count them."""
    contacts = 0
    for plane in region.facing_planes(surfaces[pair[0]], surfaces[pair[1]]):
        sides = surfaces[pair[0]], surfaces[pair[1]]
        faces = [
            region.holds(side) & region.lies_on(side, plane, sign_ratio)
            for side, sign_ratio in zip(sides, (1.0, -1.0), strict=True)
        ]
        fillings = _without_shared(sides, faces, plane, region.within_m)
        if fillings is None:
            continue
        contacts += 1
        for body, side, face, filling in zip(pair, sides, faces, fillings, strict=True):
            surfaces[body] = np.concatenate([side[~face], filling])
    return contacts


class _Surfaces:
    """Corners of the facets of each body, of which some are replaced."""

    def __init__(self, mesh: Mesh, parts: Parts) -> None:
        self._mesh = mesh
        self._order = np.argsort(parts.body, kind="stable")
        self._first = np.searchsorted(parts.body[self._order], np.arange(parts.body_count + 1))
        self._replaced: dict[int, FloatArray] = {}

    def affordable(self, pairs: IntArray) -> int:
        """How many of the pairs can be looked at in some seconds."""
        work = np.cumsum(np.diff(self._first)[pairs].sum(axis=1) + _PAIR_WORK)
        return int((work <= _MOST_WORK).sum())

    def __getitem__(self, body: int) -> FloatArray:
        if body in self._replaced:
            return self._replaced[body]
        return self._mesh.points_m[self._mesh.triangles[self._facets(body)]]

    def __setitem__(self, body: int, corners_m: FloatArray) -> None:
        self._replaced[body] = corners_m

    def _facets(self, body: int) -> IntArray:
        facets: IntArray = self._order[self._first[body] : self._first[body + 1]]
        return facets

    def mesh(self) -> Mesh:
        """Put the bodies together again, those replaced with points of their own."""
        kept = np.ones(len(self._mesh.triangles), dtype=np.bool_)
        for body in self._replaced:
            kept[self._facets(body)] = False
        points_m = np.concatenate([*self._replaced.values()]).reshape(-1, 3)
        number = np.arange(len(points_m), dtype=np.int32) + np.int32(len(self._mesh.points_m))
        return Mesh(
            np.concatenate([self._mesh.points_m, points_m]),
            np.concatenate([self._mesh.triangles[kept], number.reshape(-1, 3)]),
        )


@dataclass(frozen=True, slots=True, eq=False)
class _Plane:
    """A plane by its normal and its distance from the origin."""

    normal: FloatArray
    offset_m: float

    @property
    def axis(self) -> int:
        """The coordinate that is left out to look at the plane."""
        return int(np.abs(self.normal).argmax())

    @property
    def across(self) -> list[int]:
        """The two others, in the order that keeps a facet facing along the axis."""
        return [(self.axis + 1) % 3, (self.axis + 2) % 3]

    def points_m(self, flat_m: FloatArray, known_m: FloatArray) -> FloatArray:
        """Lift points into the plane, onto a known one where there is one."""
        slope = self.normal[self.across]
        points_m = np.empty((len(flat_m), 3))
        points_m[:, self.across] = flat_m
        points_m[:, self.axis] = (self.offset_m - flat_m @ slope) / self.normal[self.axis]
        rows = zip(known_m[:, self.across].tolist(), known_m.tolist(), strict=True)
        exact = {tuple(flat): point for flat, point in rows}
        for row, flat in enumerate(flat_m.tolist()):
            points_m[row] = exact.get(tuple(flat), points_m[row])
        return points_m


@dataclass(frozen=True, slots=True, eq=False)
class _Region:
    """Where two bodies can touch, and how far apart faces that touch may lie."""

    low_m: FloatArray
    high_m: FloatArray
    within_m: float

    def holds(self, corners_m: FloatArray) -> NDArray[np.bool_]:
        """Find facets whose bounds reach into the region."""
        reaches: NDArray[np.bool_] = (corners_m.min(axis=1) <= self.high_m).all(axis=1)
        reaches &= (corners_m.max(axis=1) >= self.low_m).all(axis=1)
        return reaches

    def lies_on(self, corners_m: FloatArray, plane: _Plane, sign_ratio: float) -> NDArray[np.bool_]:
        """Find facets in a plane that face along its normal, or against it."""
        off = np.abs(corners_m @ plane.normal - plane.offset_m).max(axis=1)
        on_plane: NDArray[np.bool_] = (_normals(corners_m) @ plane.normal) * sign_ratio > 0.5
        on_plane &= off <= self.within_m
        return on_plane

    def facing_planes(self, one_m: FloatArray, other_m: FloatArray) -> list[_Plane]:
        """List planes in which facets of both bodies lie, face to face."""
        corners, facing = one_m[self.holds(one_m)], other_m[self.holds(other_m)]
        normals = _normals(corners)
        left = np.ones(len(corners), dtype=np.bool_)
        planes = []
        while left.any():
            first = int(left.argmax())
            plane = _Plane(normals[first], float(normals[first] @ corners[first, 0]))
            left &= ~self.lies_on(corners, plane, 1.0)
            left[first] = False
            if self.lies_on(facing, plane, -1.0).any():
                planes.append(plane)
        return planes


def _normals(corners_m: FloatArray) -> FloatArray:
    """Give the unit normals of facets."""
    normals = np.cross(corners_m[:, 1] - corners_m[:, 0], corners_m[:, 2] - corners_m[:, 0])
    unit: FloatArray = normals / np.linalg.norm(normals, axis=1, keepdims=True)
    return unit


def _without_shared(
    sides: tuple[FloatArray, FloatArray],
    faces: list[NDArray[np.bool_]],
    plane: _Plane,
    within_m: float,
) -> list[FloatArray] | None:
    """Fill the faces of two bodies in one plane with new facets, less what both cover."""
    import shapely

    one, other = (
        shapely.union_all(shapely.polygons(side[face][:, :, plane.across]))
        for side, face in zip(sides, faces, strict=True)
    )
    other = shapely.snap(other, one, within_m)
    shared = _thick(shapely.intersection(one, other), within_m)
    if shared.is_empty:
        return None
    known_m = np.concatenate([side[face] for side, face in zip(sides, faces, strict=True)])
    upward = bool(plane.normal[plane.axis] > 0.0)
    fillings = []
    for outline, up in ((one, upward), (other, not upward)):
        flat = _filled(_thick(shapely.difference(outline, shared), within_m), upward=up)
        points = plane.points_m(flat.reshape(-1, 2), known_m.reshape(-1, 3))
        fillings.append(points.reshape(-1, 3, 3))
    return fillings


def _thick(area: shapely.Geometry, within_m: float) -> shapely.Geometry:
    """Keep the polygons of an area that are wider than rounding."""
    import shapely

    pieces = shapely.get_parts(area)
    wide = shapely.area(pieces) > within_m * shapely.length(pieces)
    return shapely.multipolygons(pieces[wide & (shapely.get_type_id(pieces) == _POLYGON)])


def _filled(area: shapely.Geometry, *, upward: bool) -> FloatArray:
    """Corners of triangles that fill an area of the plane."""
    import shapely

    triangles = shapely.get_parts(shapely.constrained_delaunay_triangles(shapely.get_parts(area)))
    corners = shapely.get_coordinates(triangles).reshape(-1, 4, 2)[:, :3]
    counter = shapely.is_ccw(shapely.get_exterior_ring(triangles))
    corners[counter != upward] = corners[counter != upward][:, ::-1]
    filled: FloatArray = corners
    return filled
