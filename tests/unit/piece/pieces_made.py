"""Pieces for tests, in millimetres, and ways to draw the same piece differently."""

import numpy as np
import shapely
import trimesh

from takeoff.geometry.mending import mend
from takeoff.geometry.mesh import Mesh
from takeoff.piece.classifying import classify
from takeoff.piece.rules import SurfaceRules
from takeoff.piece.surfaces import ModelKind, SurfaceClass

UP = np.array([0.0, 0.0, 1.0])
BACK = np.array([0.0, 1.0, 0.0])
MM = 1e-3


def prism(section_mm, length_mm):
    """A section in x and y, drawn out along z: its show face looks along +y."""
    section = shapely.orient_polygons(shapely.Polygon(np.asarray(section_mm, dtype=float)))
    ring = np.array(section.exterior.coords)[:-1]
    number = {tuple(point): index for index, point in enumerate(ring.tolist())}
    caps = [
        [number[point] for point in shapely.orient_polygons(triangle).exterior.coords[:3]]
        for triangle in shapely.constrained_delaunay_triangles(section).geoms
    ]
    count = len(ring)
    here, ahead = np.arange(count), (np.arange(count) + 1) % count
    sides = [[here, ahead, ahead + count], [here, ahead + count, here + count]]
    bottom = np.array(caps)[:, ::-1]
    triangles = np.concatenate([bottom, np.array(caps) + count, *(np.array(s).T for s in sides)])
    points = [np.column_stack([ring, np.full(count, z)]) for z in (0.0, length_mm)]
    return Mesh(np.concatenate(points) * MM, triangles.astype(np.int32))


def turned_section(section_mm, sections=128):
    """A section in radius and z, from the axis back to the axis, turned round it."""
    body = trimesh.creation.revolve(np.asarray(section_mm, dtype=float) * MM, sections=sections)
    return mend(Mesh(np.array(body.vertices), np.array(body.faces, dtype=np.int32))).mesh


def turned_share(sections=128):
    """Area or length of a polygon of that many sides over that of its outer circle."""
    angle = np.pi / sections
    return np.sin(2.0 * angle) / (2.0 * angle), np.sin(angle) / angle


def mend_body(body_mm):
    """A mended mesh of a body of the trimesh library that is in millimetres."""
    points_m = np.asarray(body_mm.vertices, dtype=float) * MM
    return mend(Mesh(points_m, np.asarray(body_mm.faces, dtype=np.int32))).mesh


def box(low_mm, high_mm):
    """A box between two corners."""
    body = trimesh.creation.box(bounds=np.array([low_mm, high_mm], dtype=float) * MM)
    return Mesh(np.array(body.vertices), np.array(body.faces, dtype=np.int32))


def without(mesh, direction):
    """The same mesh without the facets that look along a direction."""
    corners = mesh.points_m[mesh.triangles]
    normals = np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0])
    kept = normals @ np.asarray(direction, dtype=float) <= 0.5 * np.linalg.norm(normals, axis=1)
    return Mesh(mesh.points_m, mesh.triangles[kept])


def beside(*meshes):
    """Several meshes as one."""
    offset = np.cumsum([0, *(len(mesh.points_m) for mesh in meshes[:-1])])
    return Mesh(
        np.concatenate([mesh.points_m for mesh in meshes]),
        np.concatenate(
            [mesh.triangles + np.int32(start) for mesh, start in zip(meshes, offset, strict=True)]
        ),
    )


def moved(mesh, shift_mm):
    """The same mesh elsewhere."""
    return Mesh(mesh.points_m + np.asarray(shift_mm, dtype=float) * MM, mesh.triangles)


def told(mesh, *, show=UP, kind=ModelKind.PIECE, **rules):
    """Classify a mesh."""
    return classify(mesh, kind=kind, show_direction=show, rules=SurfaceRules(**rules))


def areas_mm2(mesh, **how):
    """Show face, return, upright and back of a mesh."""
    area_m2 = told(mesh, **how).area_m2
    return [area_m2[surface_class] / MM**2 for surface_class in SurfaceClass]


# The same piece drawn differently: mesh and direction in, mesh and direction out.


def as_drawn(mesh, show):
    return mesh, show


def turned(mesh, show):
    rotation = trimesh.transformations.rotation_matrix(1.0, [0.3, -0.5, 0.8])[:3, :3]
    return Mesh(mesh.points_m @ rotation.T + [0.4, -7.0, 1.3], mesh.triangles), rotation @ show


def subdivided(mesh, show):
    points, triangles = trimesh.remesh.subdivide(mesh.points_m, mesh.triangles)
    points, triangles = trimesh.remesh.subdivide(points, triangles)
    return Mesh(points, triangles.astype(np.int32)), show


def shuffled(mesh, show):
    chance = np.random.default_rng(5)
    renamed = chance.permutation(len(mesh.points_m))
    points = np.empty_like(mesh.points_m)
    points[renamed] = mesh.points_m
    triangles = renamed[chance.permutation(mesh.triangles)]
    return Mesh(points, np.roll(triangles, 1, axis=1).astype(np.int32)), show


def unwelded(mesh, show):
    points = mesh.points_m[mesh.triangles].reshape(-1, 3).astype(np.float32).astype(float)
    triangles = np.arange(len(points), dtype=np.int32).reshape(-1, 3)
    return mend(Mesh(points, triangles)).mesh, show


def partly_flipped(mesh, show):
    triangles = mesh.triangles.copy()
    triangles[::7] = triangles[::7, ::-1]
    return mend(Mesh(mesh.points_m, triangles)).mesh, show


def wholly_flipped(mesh, show):
    return mend(Mesh(mesh.points_m, mesh.triangles[:, ::-1])).mesh, show


WAYS = [as_drawn, turned, subdivided, shuffled, unwelded, partly_flipped, wholly_flipped]


def bowl(top, floor):
    """A solid 600 x 400 x 160 mm with a bowl 140 deep, straight or tapering to its floor."""
    block = trimesh.creation.box(bounds=[(-0.3, -0.2, 0.0), (0.3, 0.2, 0.16)])
    rim, foot = np.array(top) / 2, np.array(floor) / 2
    above = rim + (rim - foot) / 7  # 20 mm above the rim: the plug comes out
    corners = [
        (x * half[0], y * half[1], z)
        for half, z in ((above, 0.18), (foot, 0.02))
        for x in (-1, 1)
        for y in (-1, 1)
    ]
    plug = trimesh.convex.convex_hull(np.array(corners))
    cast = block.difference(plug, engine="manifold")
    surfaces = classify(
        Mesh.from_trimesh(cast, unit="m"),
        kind=ModelKind.PIECE,
        show_direction=UP,
    )
    return surfaces, float(cast.volume)
