"""An outline with edge depths, folded up into the open surface that is cast.

The outline is the show face, seen from above (+Z); a wall of the given depth runs back from
each of its edges. The result takes the same way as any open surface.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from takeoff.errors import OutlineError, SurfaceError
from takeoff.geometry.mesh import Mesh
from takeoff.geometry.outline_rules import OutlineRules
from takeoff.geometry.outlines import Loop, Outline, bounds_m, flattened_side_m, narrowest_m
from takeoff.notes import Note, NoteCode
from takeoff.piece.rules import SurfaceRules

Points = NDArray[np.float64]


@dataclass(frozen=True, slots=True, eq=False)
class Folded:
    """An outline folded up, and what was decided on the way.

    Parameters
    ----------
    mesh : Mesh
        Show face at z = 0 facing up, walls below it.
    depth_m : mapping of str to float
        Depth of the wall at every edge; 0 is a bare edge. [m]
    notes : tuple of Note
        Openings left bare because they are narrow.
    """

    mesh: Mesh
    depth_m: Mapping[str, float]
    notes: tuple[Note, ...]


def fold(
    outline: Outline,
    *,
    edge_depth_m: float,
    depths_m: Mapping[str, float] | None = None,
    rules: SurfaceRules = SurfaceRules(),
    outline_rules: OutlineRules = OutlineRules(),
) -> Folded:
    """Fold an outline up into the surface that is cast.

    Parameters
    ----------
    outline : Outline
        The show face.
    edge_depth_m : float
        Depth of the wall at every edge that is not named; 0 for a flat slab. [m]
    depths_m : mapping of str to float, optional
        Depth at single edges by id, 0 for a bare edge. [m]
    rules : SurfaceRules, optional
        How narrow an opening is left bare.
    outline_rules : OutlineRules, optional
        How closely curves are followed.

    Returns
    -------
    Folded
        The mesh, the depth of each edge, notes.

    Raises
    ------
    SurfaceError
        If an edge named is not there, or a depth is negative.
    OutlineError
        If an opening runs along the outline or across it.

    Examples
    --------
    >>> from takeoff.geometry.outlines import rectangle
    >>> folded = fold(rectangle(2.0, 1.0), edge_depth_m=0.04, depths_m={"E3": 0.0})
    >>> folded.depth_m
    {'E1': 0.04, 'E2': 0.04, 'E3': 0.0, 'E4': 0.04}
    """
    named = dict(depths_m or {})
    loops = (outline.outer, *outline.holes)
    _refuse_wrong_depths(loops, edge_depth_m, named)
    notes: list[Note] = []
    depth_m: dict[str, float] = {}
    for loop in loops:
        usual_m = edge_depth_m
        if loop is not outline.outer and usual_m > 0.0:
            width_m = narrowest_m(loop, chord_m=outline_rules.chord_m)
            if width_m < rules.narrow_opening_m:
                usual_m = 0.0
                notes.append(_bare_note(loop, width_m, rules))
        depth_m.update({side.id: named.get(side.id, usual_m) for side in loop})
    notes += _deep_notes(outline, depth_m)
    rings = [_ring_of(loop, depth_m, outline_rules.chord_m) for loop in loops]
    return Folded(_mesh_of(rings), depth_m, tuple(notes))


def _refuse_wrong_depths(
    loops: Sequence[Loop], edge_depth_m: float, named: Mapping[str, float]
) -> None:
    known = [side.id for loop in loops for side in loop]
    for edge, depth_m in (("the edges", edge_depth_m), *named.items()):
        if not 0.0 <= depth_m < np.inf:
            raise SurfaceError(f"the depth of {edge} is {depth_m:g} m; give 0 or more")
    for edge in named:
        if edge not in known:
            raise SurfaceError(
                f"there is no edge {edge}; the outline has {known[0]} to {known[-1]}"
                " (takeoff check lists them with their lengths)"
            )


def _deep_notes(outline: Outline, depth_m: Mapping[str, float]) -> list[Note]:
    """Doubt depths greater than the outline itself: a slip of the unit, most likely."""
    low, high = bounds_m(outline)
    largest_m = max(top - bottom for bottom, top in zip(low, high, strict=True))
    deepest = max(depth_m, key=lambda edge: depth_m[edge])
    if depth_m[deepest] <= largest_m:
        return []
    text = (
        f"edge {deepest} is {depth_m[deepest]:g} m deep, more than the {largest_m:g} m that the "
        "outline measures; look at the unit of the depth"
    )
    return [Note(NoteCode.SIZE_ABSURD, text, where=deepest)]


def _bare_note(loop: Loop, width_m: float, rules: SurfaceRules) -> Note:
    return Note(
        NoteCode.OPENING_BARE,
        f"the opening at {loop[0].id} is {width_m * 1e3:.0f} mm wide, narrower than "
        f"{rules.narrow_opening_m * 1e3:.0f} mm: its wall is left bare; "
        f"give {loop[0].id} a depth to have it cast",
        where=loop[0].id,
    )


@dataclass(slots=True)
class _Ring:
    """One loop, flattened: its points, and the depth of the wall that starts at each."""

    points_m: Points
    depth_m: NDArray[np.float64]


def _ring_of(loop: Loop, depth_m: Mapping[str, float], chord_m: float) -> _Ring:
    points, depths = [], []
    for side in loop:
        run = flattened_side_m(side, chord_m=chord_m)[:-1]
        points.append(run)
        depths.append(np.full(len(run), depth_m[side.id]))
    return _Ring(np.concatenate(points), np.concatenate(depths))


@dataclass(slots=True)
class _Builder:
    """Points and triangles as they are put together."""

    points_m: list[tuple[float, float, float]] = field(default_factory=list)
    triangles: list[tuple[int, int, int]] = field(default_factory=list)

    def add(self, x_m: float, y_m: float, z_m: float) -> int:
        self.points_m.append((x_m, y_m, z_m))
        return len(self.points_m) - 1


def _mesh_of(rings: Sequence[_Ring]) -> Mesh:
    """Show face and walls over shared points."""
    builder = _Builder()
    tops = [[builder.add(x, y, 0.0) for x, y in ring.points_m] for ring in rings]
    _add_face(builder, rings, tops)
    for ring, top in zip(rings, tops, strict=True):
        _add_walls(builder, ring, top)
    return Mesh(
        np.array(builder.points_m, dtype=np.float64), np.array(builder.triangles, dtype=np.int32)
    )


def _add_face(builder: _Builder, rings: Sequence[_Ring], tops: Sequence[Sequence[int]]) -> None:
    """Triangulate the show face on the points of its loops and no others."""
    import shapely

    region = shapely.Polygon(rings[0].points_m, [ring.points_m for ring in rings[1:]])
    if not region.is_valid:
        raise OutlineError(
            f"an opening runs along the outline or across it ({shapely.is_valid_reason(region)}, "
            "in m); draw a notch as part of the outline, in one line"
        )
    number = {
        tuple(point): index
        for ring, top in zip(rings, tops, strict=True)
        for point, index in zip(ring.points_m.tolist(), top, strict=True)
    }
    for triangle in shapely.constrained_delaunay_triangles(region).geoms:
        ring = shapely.orient_polygons(triangle).exterior.coords
        a, b, c = (number[(x, y)] for x, y in list(ring)[:3])
        builder.triangles.append((a, b, c))


def _add_walls(builder: _Builder, ring: _Ring, top: Sequence[int]) -> None:
    """Hang a wall on every edge of a loop; neighbours share the points they both reach."""
    count = len(top)
    posts = []
    for here in range(count):
        reach = {float(ring.depth_m[here]), float(ring.depth_m[here - 1])} - {0.0}
        x, y = ring.points_m[here].tolist()
        post = [(0.0, top[here])]
        post += [(depth, builder.add(x, y, -depth)) for depth in sorted(reach)]
        posts.append(post)
    for here in range(count):
        depth = float(ring.depth_m[here])
        if depth > 0.0:
            near = [index for at, index in posts[here] if at <= depth]
            far = [index for at, index in posts[(here + 1) % count] if at <= depth]
            _add_wall(builder, near, far)


def _add_wall(builder: _Builder, near: Sequence[int], far: Sequence[int]) -> None:
    """Triangulate a wall between two posts, facing away from the loop's inside."""
    for step in range(1, len(near)):
        builder.triangles.append((near[step - 1], near[step], far[0]))
    for step in range(1, len(far)):
        builder.triangles.append((near[-1], far[step], far[step - 1]))
