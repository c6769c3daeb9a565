"""What a mended mesh is: how large, closed or not, of how many bodies, with how many holes."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from takeoff.geometry.mending import MendedMesh
from takeoff.geometry.mesh_rules import MeshRules
from takeoff.geometry.repairs import Repair
from takeoff.geometry.rims import rims_of
from takeoff.geometry.topology import openings_of

Point = tuple[float, float, float]


@dataclass(frozen=True, slots=True)
class MeshReport:
    """Counts and measures of a mesh.

    Parameters
    ----------
    triangles, points, edges, open_edges : int
        Counts after mending; edges of two facets count once, open ones too.
    area_m2 : float
        Whole surface. [m²]
    volume_m3 : float or None
        Enclosed volume, cavities taken off; None unless the mesh is closed, wound alike
        and its bodies are known to be free of overlap. [m³]
    closed : bool
        True where every edge has its two facets.
    consistent : bool
        True where neighbours are wound alike.
    oriented : bool
        True where no part is one-sided.
    bodies : int
        Connected parts, cavities included.
    cavities : int
        Bodies that are voids inside another.
    overlapping : int
        Pairs of bodies whose material is counted twice.
    unexamined : int
        Pairs of bodies that were not looked at, because there are too many.
    through_holes : int
        Holes that go right through; in an open surface, holes besides its outer rim.
    small_holes : int
        Holes of some missing facets.
    torn_edges : int
        Links along edges shared by three or more facets that do not pair off.
    patches : int
        Smooth patches.
    first_open_m : point or None
        Where the first open edge begins; None where there is none. [m]
    bounds_m : tuple of two points
        Low and high corner. [m]
    thickness_m : float or None
        Twice the volume over the area: the mean thickness of a shell; None without a
        volume. [m]
    farthest_m : float
        Largest coordinate. [m]
    resolution_m : float
        Step of the stored coordinates there. [m]
    repairs : tuple of Repair
        What was put right.
    """

    triangles: int
    points: int
    edges: int
    open_edges: int
    area_m2: float
    volume_m3: float | None
    closed: bool
    consistent: bool
    oriented: bool
    bodies: int
    cavities: int
    overlapping: int
    unexamined: int
    through_holes: int
    small_holes: int
    torn_edges: int
    patches: int
    first_open_m: Point | None
    bounds_m: tuple[Point, Point]
    thickness_m: float | None
    farthest_m: float
    resolution_m: float
    repairs: tuple[Repair, ...]


def examine_mesh(mended: MendedMesh, *, rules: MeshRules = MeshRules()) -> MeshReport:
    """Measure a mended mesh and tell whether it is sound.

    Parameters
    ----------
    mended : MendedMesh
        From `mend`.
    rules : MeshRules, optional
        Tolerances.

    Returns
    -------
    MeshReport
        Counts and measures.

    Examples
    --------
    >>> import trimesh
    >>> from takeoff.geometry.mending import mend
    >>> from takeoff.geometry.mesh import Mesh
    >>> box = Mesh.from_trimesh(trimesh.creation.box((1.0, 2.0, 3.0)), unit="m")
    >>> report = examine_mesh(mend(box))
    >>> report.area_m2, report.volume_m3, report.closed, report.patches
    (22.0, 6.0, True, 6)
    """
    mesh, edges, roles = mended.mesh, mended.edges, mended.roles
    low, high = mended.bodies.low_m.min(axis=0), mended.bodies.high_m.max(axis=0)
    diagonal = float(np.linalg.norm(high - low))
    rims = rims_of(mesh, edges, small_m=rules.small_hole_share * diagonal)
    area = float(mended.facets.area_m2.sum())
    volume = _volume_m3(mended, rules)
    return MeshReport(
        triangles=len(mesh.triangles),
        points=len(mesh.points_m),
        edges=len(edges.left) + len(edges.open_facet),
        open_edges=len(edges.open_facet),
        area_m2=area,
        volume_m3=volume,
        closed=not len(edges.open_facet) and not edges.torn_links,
        consistent=not edges.same_way.any(),
        oriented=not mended.one_sided,
        bodies=mended.parts.body_count,
        cavities=int(roles.cavity.sum()),
        overlapping=len(roles.overlapping),
        unexamined=roles.unexamined,
        through_holes=openings_of(mesh, edges, mended.parts, rims),
        small_holes=int(rims.small.sum()),
        torn_edges=edges.torn_links,
        patches=mended.parts.patch_count,
        first_open_m=_first_open_m(mended),
        bounds_m=(_point(low), _point(high)),
        thickness_m=2.0 * volume / area if volume else None,
        farthest_m=float(max(np.abs(low).max(), np.abs(high).max())),
        resolution_m=mended.resolution_m,
        repairs=mended.repairs,
    )


def _volume_m3(mended: MendedMesh, rules: MeshRules) -> float | None:
    """Volume of all bodies, where it means something."""
    sound = bool(mended.bodies.closed.all()) and not mended.one_sided
    sound = sound and not mended.bodies.flat(within_m=rules.weld_m).any()
    if not sound or mended.roles.overlapping or mended.roles.unexamined:
        return None
    return float(mended.bodies.volume_m3.sum())


def _first_open_m(mended: MendedMesh) -> Point | None:
    """Where the first open edge begins."""
    starts = mended.edges.open_start
    return _point(mended.mesh.points_m[starts[0]]) if len(starts) else None


def _point(point_m: NDArray[np.float64]) -> Point:
    """Coordinates as plain numbers."""
    x, y, z = point_m.tolist()
    return x, y, z
