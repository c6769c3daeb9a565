"""Layer volumes by slow methods that share nothing with the others: plans, half-spaces, hulls."""

from __future__ import annotations

from importlib.util import find_spec

import numpy as np
from numpy.typing import NDArray

from takeoff.geometry.exact_rules import ExactRules
from takeoff.geometry.facets import facet_volumes_m3
from takeoff.geometry.skin_edges import SkinEdges

FloatArray = NDArray[np.float64]
BoolArray = NDArray[np.bool_]


def plan_volume_m3(
    skin: SkinEdges,
    up_direction: FloatArray,
    depth_m: FloatArray,
    *,
    rules: ExactRules = ExactRules(),
) -> float | None:
    """Give the layers of a flat face with plumb walls of one depth all round, from its plan.

    Parameters
    ----------
    skin : SkinEdges
        Face and walls.
    up_direction : ndarray of float, shape (3,)
        Unit vector out of the face. [-]
    depth_m : ndarray of float, shape (k,)
        Depth of the layers behind each facet. [m]
    rules : ExactRules, optional
        What counts as flat and plumb.

    Returns
    -------
    float or None
        Their volume; None where the skin is not of this kind. [m³]

    Examples
    --------
    >>> import trimesh
    >>> from takeoff.geometry.mesh import Mesh
    >>> from takeoff.geometry.skin_edges import skin_edges
    >>> box = trimesh.creation.box((0.4, 0.3, 0.05))
    >>> box.update_faces(box.face_normals[:, 2] > -0.5)
    >>> tray = skin_edges(Mesh.from_trimesh(box, unit="m"))
    >>> volume_m3 = plan_volume_m3(tray, np.array([0.0, 0.0, 1.0]), np.full(10, 0.02))
    >>> round(volume_m3 / (0.4 * 0.3 * 0.05 - 0.36 * 0.26 * 0.03), 9)
    1.0
    """
    import shapely

    rise = skin.facets.normals @ up_direction
    face, wall = rise > 1.0 - rules.plumb_ratio, np.abs(rise) < rules.plumb_ratio
    height_m = skin.mesh.points_m[skin.mesh.triangles] @ up_direction
    if not face.any() or not (face | wall).all():
        return None
    top_m, foot_m = float(height_m.max()), float(height_m.min())
    if np.ptp(height_m[face]) > rules.flat_m or not _one_each(depth_m, face, wall):
        return None
    one, two = _across(up_direction)
    corners_m = skin.mesh.points_m[skin.mesh.triangles[face]]
    flat_m = np.stack([corners_m @ one, corners_m @ two], axis=-1)
    plan = shapely.union_all(shapely.polygons(flat_m), grid_size=rules.grid_m)
    deep_m = top_m - foot_m
    walls_m2 = float(skin.facets.area_m2[wall].sum())
    if abs(plan.length * deep_m - walls_m2) > rules.same_share * max(walls_m2, rules.grid_m):
        return None
    show_m = min(float(depth_m[face][0]), deep_m) if wall.any() else float(depth_m[face][0])
    wall_m = float(depth_m[wall][0]) if wall.any() else 0.0
    inner = plan.buffer(-wall_m, join_style="round", quad_segs=rules.quarter_count)
    return float(plan.area * show_m + (plan.area - inner.area) * max(deep_m - show_m, 0.0))


def convex_volume_m3(
    solid: SkinEdges, depth_m: FloatArray, *, rules: ExactRules = ExactRules()
) -> float | None:
    """Give the layers in a convex solid: all of it less what lies behind every inner face.

    Parameters
    ----------
    solid : SkinEdges
        The closed surface.
    depth_m : ndarray of float, shape (k,)
        Depth of the layers behind each facet; 0 on what is not cast. [m]
    rules : ExactRules, optional
        What counts as convex.

    Returns
    -------
    float or None
        Their volume; None where the solid is not convex. [m³]

    Examples
    --------
    >>> import trimesh
    >>> from takeoff.geometry.mesh import Mesh
    >>> from takeoff.geometry.skin_edges import skin_edges
    >>> box = skin_edges(Mesh.from_trimesh(trimesh.creation.box((0.4, 0.3, 0.05)), unit="m"))
    >>> round(convex_volume_m3(box, np.full(12, 0.02)) / (0.006 - 0.36 * 0.26 * 0.01), 9)
    1.0
    """
    from scipy.optimize import linprog
    from scipy.spatial import ConvexHull, HalfspaceIntersection

    if not solid.edges.sound or (solid.turn_rad < -np.radians(rules.convex_deg)).any():
        return None
    mesh, facets = solid.mesh, solid.facets
    whole_m3 = float(facet_volumes_m3(mesh, facets).sum())
    middle_m = mesh.points_m.mean(axis=0)
    normals = facets.normals
    reach_m = np.einsum("ij,ij->i", mesh.points_m[mesh.triangles[:, 0]] - middle_m, normals)
    planes = np.unique(np.round(np.c_[normals, reach_m - depth_m], rules.digit_count), axis=0)
    # The largest ball between the inner faces: none, and the layers fill the solid.
    found = linprog(
        [0.0, 0.0, 0.0, -1.0],
        A_ub=np.c_[planes[:, :3], np.ones(len(planes))],
        b_ub=planes[:, 3],
        bounds=[(None, None)] * 3 + [(0.0, None)],
    )
    if not found.success or found.x[3] <= rules.flat_m:
        return whole_m3
    corners = HalfspaceIntersection(np.c_[planes[:, :3], -planes[:, 3]], found.x[:3]).intersections
    return whole_m3 - float(ConvexHull(corners).volume)


def hull_volume_m3(
    solid: SkinEdges, depth_m: FloatArray, *, rules: ExactRules = ExactRules()
) -> float | None:
    """Give the layers in a small solid: the union of all balls on its skin, cut to the solid.

    Parameters
    ----------
    solid : SkinEdges
        The closed surface.
    depth_m : ndarray of float, shape (k,)
        Depth of the layers behind each facet; 0 on what is not cast. [m]
    rules : ExactRules, optional
        How round the balls are, and how many facets are not too many.

    Returns
    -------
    float or None
        Their volume; None where the solid is too large, or manifold3d is not installed. [m³]

    Examples
    --------
    >>> import trimesh
    >>> from takeoff.geometry.mesh import Mesh
    >>> from takeoff.geometry.skin_edges import skin_edges
    >>> box = skin_edges(Mesh.from_trimesh(trimesh.creation.box((0.4, 0.3, 0.05)), unit="m"))
    >>> volume_m3 = hull_volume_m3(box, np.full(12, 0.02))
    >>> volume_m3 is None or abs(volume_m3 / (0.006 - 0.36 * 0.26 * 0.01) - 1.0) < 0.002
    True
    """
    cast = np.flatnonzero(depth_m > 0.0)
    if len(cast) > rules.facet_count or not solid.edges.sound or find_spec("manifold3d") is None:
        return None
    import manifold3d

    points_mm = solid.mesh.points_m * 1e3
    body = manifold3d.Manifold(
        manifold3d.Mesh(points_mm.astype(np.float32), solid.mesh.triangles.astype(np.uint32))
    )
    hulls = []
    for facet in cast.tolist():
        ball = manifold3d.Manifold.sphere(
            float(depth_m[facet]) * 1e3 / rules.support_ratio, rules.segment_count
        )
        corners = points_mm[solid.mesh.triangles[facet]]
        hulls.append(
            manifold3d.Manifold.batch_hull([ball.translate(tuple(c)) for c in corners.tolist()])
        )
    skin = manifold3d.Manifold.batch_boolean(hulls, manifold3d.OpType.Add)
    return float((body ^ skin).volume()) / 1e9


def _one_each(depth_m: FloatArray, face: BoolArray, wall: BoolArray) -> bool:
    """Whether the face and the walls each have one depth."""
    return all(not chosen.any() or np.ptp(depth_m[chosen]) == 0.0 for chosen in (face, wall))


def _across(up: FloatArray) -> tuple[FloatArray, FloatArray]:
    """Two unit vectors across a third."""
    aside = np.eye(3)[int(np.argmin(np.abs(up)))]
    one = np.cross(up, aside)
    one /= np.linalg.norm(one)
    return one, np.cross(up, one)
