"""Faces on which two bodies touch, taken out so that the bodies become one."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import NDArray

from takeoff.geometry.bodies import Bodies
from takeoff.geometry.facets import facets_of
from takeoff.geometry.mesh import Mesh
from takeoff.geometry.mesh_rules import MeshRules
from takeoff.geometry.parts import Parts

if TYPE_CHECKING:
    import shapely

FloatArray = NDArray[np.float64]
IntArray = NDArray[np.int64]


@dataclass(frozen=True, slots=True, eq=False)
class Joined:
    """A mesh whose touching bodies were joined.

    Parameters
    ----------
    mesh : Mesh
        The mesh without the shared faces; points on the joints may repeat, and edges may
        face several shorter ones.
    area_m2 : float
        Area of the shared faces, once. [m²]
    contacts : int
        How many there were.
    """

    mesh: Mesh
    area_m2: float
    contacts: int


def join_touching(mesh: Mesh, parts: Parts, bodies: Bodies, *, rules: MeshRules) -> Joined:
    """Take out the flat faces that closed bodies share.

    Parameters
    ----------
    mesh : Mesh
        A mesh wound outward.
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
    body = parts.body
    area_m2, contacts = 0.0, 0
    for one, other in _touching_bounds(bodies, rules.overlap_m):
        low = np.maximum(bodies.low_m[one], bodies.low_m[other]) - rules.overlap_m
        high = np.minimum(bodies.high_m[one], bodies.high_m[other]) + rules.overlap_m
        near = _facets_in(mesh, low, high)
        sides = np.flatnonzero(near & (body == one)), np.flatnonzero(near & (body == other))
        for plane in list(_facing_planes(mesh, *sides, rules.overlap_m)):
            near = _facets_in(mesh, low, high)
            faces = [
                np.flatnonzero(
                    near & (body == number) & _lies_on(mesh, plane, sign, rules.overlap_m)
                )
                for number, sign in ((one, 1.0), (other, -1.0))
            ]
            shared = _Contact.of(mesh, faces[0], faces[1], plane, rules.overlap_m)
            if shared is None:
                continue
            mesh, kept = shared.taken_out(mesh)
            body = np.concatenate([body[kept], shared.bodies(one, other)])
            area_m2, contacts = area_m2 + shared.area_m2, contacts + 1
    return Joined(mesh, area_m2, contacts)


@dataclass(frozen=True, slots=True, eq=False)
class _Plane:
    """A plane by its normal and its distance from the origin."""

    normal: FloatArray
    offset: float

    @property
    def axis(self) -> int:
        """The coordinate that is left out to look at the plane."""
        return int(np.abs(self.normal).argmax())

    @property
    def across(self) -> list[int]:
        """The two others, in the order that keeps a facet facing along the axis."""
        return [(self.axis + 1) % 3, (self.axis + 2) % 3]


def _touching_bounds(bodies: Bodies, within_m: float) -> Iterator[tuple[int, int]]:
    """Pairs of closed bodies whose bounds share at least a rectangle."""
    numbers = np.flatnonzero(bodies.closed)
    low, high = bodies.low_m[numbers], bodies.high_m[numbers]
    for place, number in enumerate(numbers.tolist()):
        overlap = np.minimum(high[place], high[place + 1 :]) - np.maximum(
            low[place], low[place + 1 :]
        )
        meets = (overlap >= -within_m).all(axis=1) & ((overlap > within_m).sum(axis=1) >= 2)
        for other in numbers[place + 1 :][meets].tolist():
            yield number, other


def _facets_in(mesh: Mesh, low_m: FloatArray, high_m: FloatArray) -> NDArray[np.bool_]:
    """True for facets whose bounds reach into a region."""
    reaches = np.ones(len(mesh.triangles), dtype=np.bool_)
    for axis in range(3):
        corners = np.ascontiguousarray(mesh.points_m[:, axis])[mesh.triangles]
        reaches &= (corners.min(axis=1) <= high_m[axis]) & (corners.max(axis=1) >= low_m[axis])
    return reaches


def _facing_planes(mesh: Mesh, one: IntArray, other: IntArray, within_m: float) -> Iterator[_Plane]:
    """Planes in which facets of both bodies lie, face to face."""
    normals = facets_of(Mesh(mesh.points_m, mesh.triangles[one])).normals
    corners = mesh.points_m[mesh.triangles[one]]
    facing = Mesh(mesh.points_m, mesh.triangles[other])
    left = np.ones(len(one), dtype=np.bool_)
    while left.any():
        first = int(left.argmax())
        plane = _Plane(normals[first], float(normals[first] @ corners[first, 0]))
        left &= ~_on_plane(corners, normals, plane, 1.0, within_m)
        left[first] = False
        if _lies_on(facing, plane, -1.0, within_m).any():
            yield plane


def _lies_on(mesh: Mesh, plane: _Plane, sign: float, within_m: float) -> NDArray[np.bool_]:
    """True for facets in a plane that face along its normal, or against it."""
    return _on_plane(mesh.points_m[mesh.triangles], facets_of(mesh).normals, plane, sign, within_m)


def _on_plane(
    corners_m: FloatArray, normals: FloatArray, plane: _Plane, sign: float, within_m: float
) -> NDArray[np.bool_]:
    """True for facets, by their corners and normals, in a plane and facing as asked."""
    off = np.abs(corners_m @ plane.normal - plane.offset).max(axis=1)
    along: NDArray[np.bool_] = (normals @ plane.normal) * sign > 0.5
    return along & (off <= within_m)


@dataclass(frozen=True, slots=True, eq=False)
class _Contact:
    """A shared face: the facets it takes away, and those that take their place."""

    dropped: tuple[IntArray, IntArray]
    corners_m: tuple[FloatArray, FloatArray]
    area_m2: float

    @classmethod
    def of(
        cls, mesh: Mesh, one: IntArray, other: IntArray, plane: _Plane, within_m: float
    ) -> _Contact | None:
        """Intersect the faces of two bodies in one plane."""
        import shapely

        first, second = _outline(mesh, one, plane), _outline(mesh, other, plane)
        second = shapely.snap(second, first, within_m)
        shared = _thick(shapely.intersection(first, second), within_m)
        if shared.is_empty:
            return None
        heights = _Heights.of(mesh, np.concatenate([one, other]), plane)
        rest = [_thick(shapely.difference(face, shared), within_m) for face in (first, second)]
        return cls(
            (one, other),
            (heights.facets(rest[0], forward=True), heights.facets(rest[1], forward=False)),
            float(shared.area / abs(plane.normal[plane.axis])),
        )

    def taken_out(self, mesh: Mesh) -> tuple[Mesh, NDArray[np.bool_]]:
        """The mesh without the shared face, and which of its facets were kept."""
        kept = np.ones(len(mesh.triangles), dtype=np.bool_)
        kept[np.concatenate(self.dropped)] = False
        extra = np.concatenate(self.corners_m)
        numbers = np.arange(len(extra), dtype=np.int32) + np.int32(len(mesh.points_m))
        return (
            Mesh(
                np.concatenate([mesh.points_m, extra]),
                np.concatenate([mesh.triangles[kept], numbers.reshape(-1, 3)]),
            ),
            kept,
        )

    def bodies(self, one: int, other: int) -> NDArray[np.int32]:
        """Body of each facet that was put in."""
        sizes = [len(corners) // 3 for corners in self.corners_m]
        return np.repeat(np.array([one, other], dtype=np.int32), sizes)


def _outline(mesh: Mesh, facets: IntArray, plane: _Plane) -> shapely.Geometry:
    """Area that some facets cover, seen along an axis."""
    import shapely

    corners = mesh.points_m[mesh.triangles[facets]][:, :, plane.across]
    return shapely.union_all(shapely.polygons(corners))


def _thick(area: shapely.Geometry, within_m: float) -> shapely.Geometry:
    """The polygons of an area that are wider than rounding."""
    import shapely

    pieces = shapely.get_parts(area)
    wide = pieces[shapely.area(pieces) > within_m * shapely.length(pieces)]
    return shapely.union_all(wide[shapely.get_type_id(wide) == 3])


@dataclass(frozen=True, slots=True, eq=False)
class _Heights:
    """The third coordinate of points in a plane: that of a corner where there is one."""

    plane: _Plane
    known: dict[tuple[float, float], float]

    @classmethod
    def of(cls, mesh: Mesh, facets: IntArray, plane: _Plane) -> _Heights:
        """Take the corners of some facets."""
        points = mesh.points_m[np.unique(mesh.triangles[facets])]
        flat = points[:, plane.across].tolist()
        rows = zip(flat, points[:, plane.axis].tolist(), strict=True)
        return cls(plane, {(x, y): height for (x, y), height in rows})

    def facets(self, area: shapely.Geometry, *, forward: bool) -> FloatArray:
        """Corners of triangles that fill an area of the plane, facing along its normal or not."""
        import shapely

        triangles = shapely.get_parts(
            shapely.get_parts(shapely.constrained_delaunay_triangles(shapely.get_parts(area)))
        )
        if not len(triangles):
            return np.empty((0, 3))
        corners = shapely.get_coordinates(triangles).reshape(-1, 4, 2)[:, :3]
        u, v = corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0]
        upward = u[:, 0] * v[:, 1] - u[:, 1] * v[:, 0] > 0.0
        wanted = (self.plane.normal[self.plane.axis] > 0.0) == forward
        corners[upward != wanted] = corners[upward != wanted][:, ::-1]
        corners = corners.reshape(-1, 2)
        points = np.empty((len(corners), 3))
        points[:, self.plane.across] = corners
        slope = self.plane.normal[self.plane.across]
        level = (self.plane.offset - corners @ slope) / self.plane.normal[self.plane.axis]
        points[:, self.plane.axis] = [
            self.known.get((x, y), height)
            for (x, y), height in zip(corners.tolist(), level.tolist(), strict=True)
        ]
        return points
