"""The outline of a surface that does not develop, as it is seen square on."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import NDArray

from takeoff.geometry.components import component_labels
from takeoff.geometry.edges import edge_table
from takeoff.geometry.facets import facets_of
from takeoff.geometry.mesh import Mesh
from takeoff.geometry.umbrellas import umbrellas_of
from takeoff.piece.pattern_rules import PatternRules
from takeoff.piece.plane_axes import plane_axes
from takeoff.piece.sheets import Hole, Sheet, commonest, loop_area_m2, loops_along, straightened_m

if TYPE_CHECKING:
    import shapely

FloatArray = NDArray[np.float64]


def projected(
    mesh: Mesh,
    show_direction: FloatArray,
    opening_at: Sequence[str | None],
    *,
    rules: PatternRules = PatternRules(),
) -> tuple[Sheet, ...]:
    """Give the outlines of a surface as it is seen along its mean normal.

    Parameters
    ----------
    mesh : Mesh
        The surface.
    show_direction : ndarray of float, shape (3,)
        Where it is seen from if it runs round so far that it has no mean normal. [-]
    opening_at : sequence of str or None
        Opening whose wall each point is on.
    rules : PatternRules, optional
        What is too small to be drawn.

    Returns
    -------
    tuple of Sheet
        The largest first; empty where the surface has no outline from there.

    Notes
    -----
    Facets that face the eye and those that do not are each bounded by lines; only the areas
    within these are united, never single facets.

    Examples
    --------
    >>> import trimesh
    >>> ball = Mesh.from_trimesh(trimesh.creation.icosphere(4, 0.5), unit="m")
    >>> [disc] = projected(ball, np.array([0.0, 0.0, 1.0]), [None] * 3000)
    >>> round(disc.area_m2, 2)
    0.78
    """
    import shapely

    facets = facets_of(mesh)
    normal = facets.area_m2 @ facets.normals
    length_m2, whole_m2 = float(np.linalg.norm(normal)), float(facets.area_m2.sum())
    seen_from = normal / length_m2 if length_m2 > rules.facing_share * whole_m2 else show_direction
    axes = plane_axes(seen_from[None, :], show_direction)[0]
    plane_m = mesh.points_m @ axes.T
    facing = facets.normals @ seen_from
    towards = mesh.triangles[facing > rules.edge_on_share]
    away = mesh.triangles[facing < -rules.edge_on_share][:, ::-1]
    regions = [
        region
        for seen in (towards, away)
        for region in _regions(Mesh(mesh.points_m, seen), plane_m, rules.speck_share * whole_m2)
    ]
    union = shapely.make_valid(shapely.unary_union(regions))
    named = {
        tuple(plane_m[at].tolist()): name
        for at, name in enumerate(opening_at[: len(plane_m)])
        if name
    }
    sheets = [
        _sheet(polygon, named, rules)
        for polygon in shapely.get_parts(union).tolist()
        if polygon.geom_type == "Polygon" and polygon.area > rules.speck_share * whole_m2
    ]
    return tuple(sorted(sheets, key=lambda sheet: -sheet.area_m2))


def _regions(mesh: Mesh, plane_m: FloatArray, least_m2: float) -> list[shapely.Geometry]:
    """Areas that facets cover which face one way, where they hang together."""
    import shapely

    if not len(mesh.triangles):
        return []
    umbrella = umbrellas_of(mesh, edge_table(mesh))
    source = np.empty(int(umbrella.max()) + 1, dtype=np.int64)
    source[umbrella] = mesh.triangles.ravel()
    apart = Mesh(mesh.points_m[source], umbrella.reshape(-1, 3))
    edges = edge_table(apart)
    patch = component_labels(len(apart.triangles), edges.left, edges.right)
    patch_at = np.empty(len(source), dtype=np.int64)
    patch_at[apart.triangles] = patch[:, None]
    rims: dict[int, list[shapely.Geometry]] = {}
    gaps: dict[int, list[shapely.Geometry]] = {}
    for loop in loops_along(edges.open_start, edges.open_end) or ():
        loop_m = plane_m[source[loop]]
        area_m2 = loop_area_m2(loop_m)
        if abs(area_m2) > least_m2:
            within = shapely.make_valid(shapely.Polygon(loop_m))
            (rims if area_m2 > 0.0 else gaps).setdefault(int(patch_at[loop[0]]), []).append(within)
    return [
        shapely.difference(shapely.unary_union(found), shapely.unary_union(gaps.get(number, [])))
        for number, found in rims.items()
    ]


def _sheet(
    polygon: shapely.Polygon,
    named: Mapping[tuple[float, ...], str],
    rules: PatternRules,
) -> Sheet:
    """Make a sheet of a polygon."""
    import shapely

    whole = shapely.orient_polygons(polygon)
    outer_m, *inner_m = (
        shapely.get_coordinates(ring)[:-1] for ring in (whole.exterior, *whole.interiors)
    )
    holes = (
        Hole(
            straightened_m(hole_m, rules=rules),
            commonest([named.get(tuple(point_m)) for point_m in hole_m.tolist()]),
        )
        for hole_m in inner_m
    )
    return Sheet(straightened_m(outer_m, rules=rules), tuple(holes))
