"""The ways to read an open surface: its rim lies behind the show face."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from takeoff.piece.axes import Axis
from takeoff.piece.bending import bends_of
from takeoff.piece.evidence import Sign
from takeoff.piece.flats import Flats
from takeoff.piece.plan_axes import cosines_ratio
from takeoff.piece.reading import Reading, reading_of
from takeoff.piece.reading_rules import ReadingRules
from takeoff.piece.surfaces import ModelKind

FloatArray = NDArray[np.float64]

_BEHIND = Sign(1.5, "its walls and its rim lie behind it")
_OUT = Sign(1.0, "its facets are wound to look out of it")
_TWO = Sign(-2.0, "its rim is not along one plane: there may be two faces")


def is_open(flats: Flats, *, rules: ReadingRules = ReadingRules()) -> bool:
    """Tell whether a mesh is an open surface, not a closed one with a hole.

    Parameters
    ----------
    flats : Flats
        The mesh.
    rules : ReadingRules, optional
        How long the rim of an open surface is.

    Returns
    -------
    bool
        True where the open edges are long.

    Examples
    --------
    >>> import trimesh
    >>> from takeoff.geometry.mesh import Mesh
    >>> from takeoff.piece.flats import flats_of
    >>> box = trimesh.creation.box((1.0, 2.0, 3.0))
    >>> is_open(flats_of(Mesh.from_trimesh(box, unit="m")))
    False
    """
    length_m = float(_edge_lengths_m(flats).sum())
    return length_m > rules.open_edge_share * float(np.sqrt(flats.area_m2.sum()))


def open_readings(
    flats: Flats, axes: Sequence[Axis], *, rules: ReadingRules = ReadingRules()
) -> list[Reading]:
    """Read an open surface from both its sides.

    Parameters
    ----------
    flats : Flats
        The surface.
    axes : sequence of Axis
        Its axes.
    rules : ReadingRules, optional
        How far behind a rim lies.

    Returns
    -------
    list of Reading
        Both ways along the mean direction of the surface, and along the axes of other faces.

    Notes
    -----
    Where the facets are wound the other way round, the rim alone speaks, which is not enough: the
    surface may be that of a basin, seen from inside.

    Examples
    --------
    >>> import trimesh
    >>> from takeoff.geometry.mesh import Mesh
    >>> from takeoff.piece.flats import flats_of
    >>> tray = trimesh.creation.box((1.0, 2.0, 0.05))
    >>> tray.update_faces(tray.face_normals[:, 2] > -0.5)
    >>> flats = flats_of(Mesh.from_trimesh(tray, unit="m"))
    >>> best, other = open_readings(flats, ())
    >>> best.show_direction.tolist(), other.show_direction.tolist()
    ([0.0, 0.0, 1.0], [0.0, 0.0, -1.0])
    >>> [sign.words for sign in best.signs]
    ['its walls and its rim lie behind it', 'its facets are wound to look out of it']
    """
    vector_m2 = flats.area_m2 @ flats.normals
    size_m2 = float(np.linalg.norm(vector_m2))
    if size_m2 < rules.open_face_share * float(flats.area_m2.sum()):
        return _of_axes(axes, np.zeros(3), rules)
    mean = vector_m2 / size_m2
    face = _face(mean, axes, rules)
    if face is None:
        return _of_axes(axes, mean, rules)
    behind = _rim_behind_ratio(flats, face) if _has_walls(flats, face, rules) else 0.0
    found = []
    for way in (1.0, -1.0):
        signs = [_BEHIND] if way * behind > rules.rim_behind_share else []
        if way > 0.0:
            signs.append(_OUT)
        found.append(reading_of(ModelKind.OPEN, way * face, tuple(signs), rules=rules))
    return found


def _of_axes(axes: Sequence[Axis], mean: FloatArray, rules: ReadingRules) -> list[Reading]:
    """Read a surface of several faces along each of its axes, from both sides."""
    return [
        reading_of(
            ModelKind.OPEN,
            way * axis.direction,
            (_TWO, _OUT) if float(way * axis.direction @ mean) > 0.5 else (_TWO,),
            rules=rules,
        )
        for axis in axes
        for way in (1.0, -1.0)
    ]


def _edge_lengths_m(flats: Flats) -> FloatArray:
    """Lengths of the open edges."""
    edges, points_m = flats.open_edges, flats.mesh.points_m
    lengths_m: FloatArray = np.linalg.norm(points_m[edges.end] - points_m[edges.start], axis=1)
    return lengths_m


def _face(mean: FloatArray, axes: Sequence[Axis], rules: ReadingRules) -> FloatArray | None:
    """Find the face of the mean direction; None where the surface has several."""
    near = np.cos(np.radians(rules.even_deg))
    for axis in axes:
        cosine = float(axis.direction @ mean)
        if axis.flat and abs(cosine) > near:
            return axis.direction if cosine > 0.0 else -axis.direction
    return None if any(axis.flat for axis in axes) else mean


def _has_walls(flats: Flats, face: FloatArray, rules: ReadingRules) -> bool:
    """Whether walls meet the face at an arris; the steep sides of a wide curve are none."""
    bends = bends_of(flats)
    wide = bends.radius_m > rules.wide_radius_m
    joints = flats.joints
    curve = flats.regions(
        np.ones(flats.count, dtype=np.bool_),
        bends.smooth & wide[joints.left] & wide[joints.right],
    )
    tilt_deg = np.degrees(np.arccos(np.clip(np.abs(cosines_ratio(flats.normals, face)), 0.0, 1.0)))
    of_face = np.zeros(flats.count, dtype=np.bool_)
    of_face[curve[tilt_deg < 90.0 - 2.0 * rules.wall_deg]] = True
    wall = (tilt_deg > 90.0 - rules.wall_deg) & ~of_face[curve]
    return float(flats.area_m2[wall].sum()) > rules.wall_share * float(flats.area_m2.sum())


def _rim_behind_ratio(flats: Flats, face: FloatArray) -> float:
    """How far the middle of the rim lies behind the middle of the surface, over its extent."""
    heights_m = flats.mesh.points_m @ face
    edges, mesh = flats.open_edges, flats.mesh
    lengths_m = _edge_lengths_m(flats)
    rim_m = float((heights_m[edges.start] + heights_m[edges.end]) @ lengths_m) / 2.0
    rim_m /= float(lengths_m.sum())
    area_m2 = flats.facets.area_m2
    middle_m = float(heights_m[mesh.triangles].mean(axis=1) @ area_m2) / float(area_m2.sum())
    extent_m = float(np.ptp(heights_m))
    return (middle_m - rim_m) / extent_m if extent_m > 0.0 else 0.0
