"""The list of surfaces and openings, numbered by falling area."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import partial

import numpy as np
from numpy.typing import NDArray

from takeoff.geometry.facets import bounds_m
from takeoff.geometry.sums import summed
from takeoff.piece.grouping import group_parts
from takeoff.piece.joining import lists_of
from takeoff.piece.judging import CAST_WALLS, ClassColumn
from takeoff.piece.numbering import by_size
from takeoff.piece.openings import FoundOpenings, find_openings
from takeoff.piece.rules import SurfaceRules
from takeoff.piece.settling import Settled
from takeoff.piece.surfaces import ModelKind, Opening, Surface, SurfaceClass
from takeoff.piece.wording import why
from takeoff.piece.zones import Reason

FloatArray = NDArray[np.float64]
IntArray = NDArray[np.integer]
BoolArray = NDArray[np.bool_]

LETTERS = {
    SurfaceClass.SHOW_FACE: "F",
    SurfaceClass.RETURN: "R",
    SurfaceClass.UPRIGHT: "U",
    SurfaceClass.BACK: "B",
}


@dataclass(frozen=True, slots=True, eq=False)
class _Sums:
    """What the parts of every surface add up to; one entry a surface."""

    column: IntArray
    opening: IntArray
    area_m2: FloatArray
    depth_m: FloatArray
    mean_depth_m: FloatArray
    draft_deg: FloatArray
    undercut_m2: FloatArray
    normals: FloatArray
    reason: IntArray


def list_surfaces(
    settled: Settled, *, kind: ModelKind, rules: SurfaceRules = SurfaceRules()
) -> tuple[tuple[Surface, ...], tuple[Opening, ...]]:
    """List the surfaces and openings of a piece.

    Parameters
    ----------
    settled : Settled
        The surface, divided.
    kind : ModelKind
        What the drawing shows, for the wording.
    rules : SurfaceRules, optional
        What is smooth, what is narrow.

    Returns
    -------
    tuple of tuple of Surface and tuple of Opening
        Surfaces by class and falling area, openings by falling area; equal ones by position.

    Examples
    --------
    >>> import trimesh
    >>> from takeoff.geometry.mesh import Mesh
    >>> from takeoff.piece.flats import flats_of
    >>> from takeoff.piece.settling import settle
    >>> box = flats_of(Mesh.from_trimesh(trimesh.creation.box((3.0, 2.0, 0.1)), unit="m"))
    >>> settled = settle(box, np.array([0.0, 0.0, 1.0]))
    >>> surfaces, openings = list_surfaces(settled, kind=ModelKind.PIECE)
    >>> [surface.id for surface in surfaces]
    ['F1', 'R1', 'R2', 'R3', 'R4', 'B1']
    >>> surfaces[1].why
    'wall 100 mm behind the show face, ends at the back: return'
    """
    found = find_openings(settled, rules=rules)
    surface = group_parts(settled, found.of_flat, rules=rules)
    surface = _pooled(settled, surface, found.of_flat, rules)
    sums = _sums_of(settled, surface, found.of_flat, rules)
    facets = _facets(settled, surface, len(sums.area_m2))
    openings, names = _openings(settled, sums, facets, found, rules)
    listed: list[Surface] = []
    for column in ClassColumn:
        own = np.flatnonzero(sums.column == column)
        order = by_size(
            sums.area_m2[own],
            partial(_places, settled, sums, facets, [own[[entry]] for entry in range(len(own))]),
            rules=rules,
        )
        for number, place in enumerate(own[order], 1):
            listed.append(
                _surface(
                    sums,
                    int(place),
                    number=number,
                    facets=facets[place],
                    names=names,
                    kind=kind,
                )
            )
    return tuple(listed), openings


def _pooled(
    settled: Settled, surface: IntArray, opening: IntArray, rules: SurfaceRules
) -> IntArray:
    """Put slivers of one class with the largest surface of that class, openings left out."""
    parts = settled.parts
    area_m2 = parts.share * settled.flats.area_m2[parts.flat]
    total_m2 = summed(surface, area_m2, int(surface.max()) + 1)
    small = total_m2 < rules.sliver_share * total_m2.sum()
    column = np.zeros(len(total_m2), dtype=np.int64)
    column[surface] = parts.column
    small[surface[opening[parts.flat] >= 0]] = False
    into = np.arange(len(total_m2))
    for one in ClassColumn:
        own = np.flatnonzero(column == one)
        if len(own):
            into[own[small[own]]] = own[np.argmax(total_m2[own])]
    _, pooled = np.unique(into[surface], return_inverse=True)
    return pooled


def _sums_of(settled: Settled, surface: IntArray, opening: IntArray, rules: SurfaceRules) -> _Sums:
    """Add up the parts of every surface."""
    parts, flats = settled.parts, settled.flats
    count = int(surface.max()) + 1
    area_m2 = parts.share * flats.area_m2[parts.flat]
    total_m2 = summed(surface, area_m2, count)
    deepest_m = np.zeros(count)
    np.maximum.at(deepest_m, surface, parts.depth_m)
    known_m2 = summed(surface, area_m2 * (parts.depth_m > 0.0), count)
    depth_m3 = summed(surface, area_m2 * parts.mean_depth_m, count)
    wall = np.isin(parts.column, CAST_WALLS)
    draft_deg = 90.0 - settled.zones.tilt_deg[parts.flat]
    plain = ~_eased_foot(settled, rules)[parts.flat]
    plain &= parts.reason != Reason.SHELL_EDGE
    leaning_m2 = np.where(wall & plain & (draft_deg < -rules.undercut_deg), area_m2, 0.0)
    column, of_opening = np.zeros(count, dtype=np.int64), np.zeros(count, dtype=np.int64)
    column[surface] = parts.column
    of_opening[surface] = np.where(wall, opening[parts.flat], -1)
    cell = surface * len(Reason) + parts.reason
    by_reason_m2 = summed(cell, area_m2, count * len(Reason))
    return _Sums(
        column=column,
        opening=of_opening,
        area_m2=total_m2,
        depth_m=np.where(column == ClassColumn.SHOW_FACE, 0.0, deepest_m),
        mean_depth_m=depth_m3 / np.where(known_m2 > 0.0, known_m2, 1.0),
        draft_deg=_worst_deg(surface, draft_deg, np.where(plain, area_m2, 0.0), rules),
        undercut_m2=summed(surface, leaning_m2, count),
        normals=_sums(surface, area_m2[:, None] * flats.normals[parts.flat], count),
        reason=by_reason_m2.reshape(count, -1).argmax(axis=1),
    )


def _eased_foot(settled: Settled, rules: SurfaceRules) -> BoolArray:
    """Tell the flats of arrises eased towards the back: no undercut, though they lean in."""
    tight = settled.bends.radius_m < rules.blend_radius_m
    eased: BoolArray = tight & (settled.bends.bend_m > 0.0) & (settled.zones.tilt_deg > 90.0)
    return eased


def _worst_deg(
    surface: IntArray, draft_deg: FloatArray, area_m2: FloatArray, rules: SurfaceRules
) -> FloatArray:
    """Least draft of each surface over all but its slivers."""
    count = int(surface.max()) + 1
    kept = area_m2 > rules.sliver_share * area_m2.sum()
    big = np.zeros(count, dtype=np.bool_)
    big[surface[kept]] = True
    kept |= ~big[surface]
    worst = np.full(count, np.inf)
    np.minimum.at(worst, surface[kept], draft_deg[kept])
    return worst


def _sums(group: IntArray, rows: FloatArray, count: int) -> FloatArray:
    """Add up rows of three by group."""
    return np.column_stack([summed(group, rows[:, axis], count) for axis in range(3)])


def _places(
    settled: Settled,
    sums: _Sums,
    facets: Sequence[IntArray],
    groups: Sequence[IntArray],
    chosen: IntArray,
) -> IntArray:
    """Tell where groups of surfaces are: which way they look, then roughly their centre."""
    flats = settled.flats
    low_m, high_m = bounds_m(flats.mesh)
    size_m = float(np.linalg.norm(high_m - low_m))
    places = np.zeros((len(chosen), 6))
    for place, group in enumerate(chosen):
        normal = sums.normals[groups[group]].sum(axis=0)
        places[place, :3] = normal / float(sums.area_m2[groups[group]].sum())
        own = np.concatenate([facets[surface] for surface in groups[group]])
        if len(own):
            corners_m = flats.mesh.points_m[flats.mesh.triangles[own]]
            middles_m = (corners_m[:, 0] + corners_m[:, 1] + corners_m[:, 2]) / 3.0
            centre_m = np.average(middles_m, axis=0, weights=flats.facets.area_m2[own])
            places[place, 3:] = (centre_m - low_m) / size_m
    return np.rint(places * 20.0).astype(np.int64)


def _facets(settled: Settled, surface: IntArray, count: int) -> list[IntArray]:
    """Facets of each surface: those most of which it holds."""
    parts, flats = settled.parts, settled.flats
    order = np.lexsort((parts.share, parts.flat))
    main = np.zeros(flats.count, dtype=np.int64)
    main[parts.flat[order]] = surface[order]
    return lists_of(main[flats.of_facet], count)


def _openings(
    settled: Settled,
    sums: _Sums,
    facets: Sequence[IntArray],
    found: FoundOpenings,
    rules: SurfaceRules,
) -> tuple[tuple[Opening, ...], list[str]]:
    """List the openings by falling area, with the id of each as found."""
    count = len(found.width_m)
    own = np.flatnonzero(sums.opening >= 0)
    at = sums.opening[own]
    area_m2 = summed(at, sums.area_m2[own], count)
    deepest_m = np.zeros(count)
    np.maximum.at(deepest_m, at, sums.depth_m[own])
    groups = [own[at == opening] for opening in range(count)]
    order = by_size(area_m2, partial(_places, settled, sums, facets, groups), rules=rules)
    names = [""] * count
    listed = []
    for number, place in enumerate(order, 1):
        width_m = float(found.width_m[place])
        names[place] = f"O{number}"
        listed.append(
            Opening(
                id=names[place],
                wall_area_m2=float(area_m2[place]),
                width_m=width_m,
                depth_m=float(deepest_m[place]),
                bare=width_m < rules.narrow_opening_m,
            )
        )
    return tuple(listed), names


def _surface(
    sums: _Sums,
    place: int,
    *,
    number: int,
    facets: IntArray,
    names: Sequence[str],
    kind: ModelKind,
) -> Surface:
    """One surface, numbered and explained."""
    surface_class = list(SurfaceClass)[sums.column[place]]
    wall = sums.column[place] in CAST_WALLS
    opening = names[sums.opening[place]] if sums.opening[place] >= 0 else None
    length = float(np.linalg.norm(sums.normals[place]))
    mean = length > sums.area_m2[place] / 2.0
    depth_m = float(sums.depth_m[place]) if wall else 0.0
    mean_depth_m = float(sums.mean_depth_m[place]) if wall else 0.0
    return Surface(
        id=f"{LETTERS[surface_class]}{number}",
        surface_class=surface_class,
        area_m2=float(sums.area_m2[place]),
        depth_m=depth_m,
        mean_depth_m=mean_depth_m,
        draft_deg=float(sums.draft_deg[place]) if wall else None,
        undercut_area_m2=float(sums.undercut_m2[place]),
        opening=opening,
        normal=sums.normals[place] / length if mean else np.zeros(3),
        facets=facets,
        why=why(
            surface_class,
            Reason(int(sums.reason[place])),
            depth_m=depth_m,
            mean_depth_m=mean_depth_m,
            opening=opening,
            kind=kind,
        ),
    )
