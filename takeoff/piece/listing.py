"""The list of surfaces and openings, numbered by falling area, and corrected by the job."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from functools import partial

import numpy as np
from numpy.typing import NDArray

from takeoff.geometry.sums import summed
from takeoff.piece.corrections import Corrections, refuse_unknown
from takeoff.piece.explaining import in_mm
from takeoff.piece.grouping import group_parts
from takeoff.piece.joining import lists_of
from takeoff.piece.judging import CAST_WALLS, ClassColumn
from takeoff.piece.keys import renumbered
from takeoff.piece.neighbours import main_surfaces, neighbours_m
from takeoff.piece.numbering import by_size
from takeoff.piece.openings import FoundOpenings, find_openings
from takeoff.piece.parts import Parts
from takeoff.piece.places import Places
from takeoff.piece.rules import SurfaceRules
from takeoff.piece.settling import Settled
from takeoff.piece.surface_measures import SurfaceMeasures, measure_surfaces
from takeoff.piece.surfaces import ModelKind, Opening, Surface, SurfaceClass
from takeoff.piece.wording import explain
from takeoff.piece.zones import Reason

FloatArray = NDArray[np.float64]
IntArray = NDArray[np.integer]
BoolArray = NDArray[np.bool_]

CLASSES = tuple(SurfaceClass)
WALLS = (SurfaceClass.RETURN, SurfaceClass.UPRIGHT)
LETTERS = {
    SurfaceClass.SHOW_FACE: "F",
    SurfaceClass.RETURN: "R",
    SurfaceClass.UPRIGHT: "U",
    SurfaceClass.BACK: "B",
}


@dataclass(frozen=True, slots=True, eq=False)
class Listing:
    """Surfaces and openings of a piece.

    Parameters
    ----------
    surfaces : tuple of Surface
        By class and falling area, equal ones by position.
    openings : tuple of Opening
        By falling area of their walls.
    parts : Parts
        The parts of all flats, of the classes that they are taken as.
    bare : ndarray of bool, shape (n,)
        Flats of the walls of bare openings.
    corrections : Corrections
        What the job takes otherwise.
    """

    surfaces: tuple[Surface, ...]
    openings: tuple[Opening, ...]
    parts: Parts
    bare: BoolArray
    corrections: Corrections


def list_surfaces(
    settled: Settled,
    *,
    kind: ModelKind,
    corrections: Corrections = Corrections(),
    rules: SurfaceRules = SurfaceRules(),
) -> Listing:
    """List the surfaces and openings of a piece.

    Parameters
    ----------
    settled : Settled
        The surface, divided.
    kind : ModelKind
        What the drawing shows, for the wording.
    corrections : Corrections, optional
        What the job takes otherwise; ids are those of what was found.
    rules : SurfaceRules, optional
        What is smooth, what is narrow.

    Returns
    -------
    Listing
        Surfaces and openings.

    Raises
    ------
    SurfaceError
        If a surface or opening to correct is not there.

    Examples
    --------
    >>> import trimesh
    >>> from takeoff.geometry.mesh import Mesh
    >>> from takeoff.piece.flats import flats_of
    >>> from takeoff.piece.settling import settle
    >>> box = flats_of(Mesh.from_trimesh(trimesh.creation.box((3.0, 2.0, 0.1)), unit="m"))
    >>> settled = settle(box, np.array([0.0, 0.0, 1.0]))
    >>> listing = list_surfaces(settled, kind=ModelKind.PIECE)
    >>> [surface.id for surface in listing.surfaces]
    ['F1', 'R1', 'R2', 'R3', 'R4', 'B1']
    >>> listing.surfaces[1].why
    'wall 100 mm behind the show face, ends at the back: return'
    """
    found = _found(settled, corrections, rules)
    surfaces = _surfaces(found, kind)
    openings = _openings(found, corrections, rules)
    refuse_unknown(corrections, _descriptions(surfaces, openings))
    bare_ids = {opening.id for opening in openings if opening.bare}
    bare = np.array([name in bare_ids for name in found.opening_ids], dtype=np.bool_)
    told = found.told[found.of_part]
    corrected = told != found.measures.column[found.of_part]
    return Listing(
        surfaces=surfaces,
        openings=openings,
        parts=replace(settled.parts, column=np.where(corrected, told, settled.parts.column)),
        bare=bare[found.of_flat],
        corrections=corrections,
    )


@dataclass(frozen=True, slots=True, eq=False)
class _Found:
    """Surfaces and openings as found, with their ids."""

    settled: Settled
    of_part: IntArray
    of_flat: IntArray
    measures: SurfaceMeasures
    facets: Sequence[IntArray]
    ids: Sequence[str]
    opening_ids: Sequence[str]
    openings: FoundOpenings
    opening_names: Sequence[str]
    told: IntArray


def _found(settled: Settled, corrections: Corrections, rules: SurfaceRules) -> _Found:
    """Gather the parts into surfaces, and number these and the openings."""
    openings = find_openings(settled, rules=rules)
    of_part = group_parts(settled, openings.of_flat, rules=rules)
    of_part = _pooled(settled, of_part, openings.of_flat, rules)
    measures = measure_surfaces(settled, of_part, openings.of_flat, rules=rules)
    of_flat = main_surfaces(settled, of_part)
    facets = lists_of(of_flat[settled.flats.of_facet], measures.count)
    places = Places(settled, measures, facets)
    ids = _numbered(measures, places, rules)
    names = _numbered_openings(measures, places, len(openings.width_m), rules)
    told = measures.column.copy()
    for place, name in enumerate(ids):
        if name in corrections.surfaces:
            told[place] = CLASSES.index(corrections.surfaces[name])
    return _Found(
        settled=settled,
        of_part=of_part,
        of_flat=of_flat,
        measures=measures,
        facets=facets,
        ids=ids,
        opening_ids=[names[at] if at >= 0 else "" for at in measures.opening.tolist()],
        openings=openings,
        opening_names=names,
        told=told,
    )


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
    if not small.any():
        return surface
    into = np.arange(len(total_m2))
    for one in ClassColumn:
        own = np.flatnonzero(column == one)
        if len(own):
            into[own[small[own]]] = own[np.argmax(total_m2[own])]
    return renumbered(into.take(surface))[0]


def _numbered(measures: SurfaceMeasures, places: Places, rules: SurfaceRules) -> list[str]:
    """Id of every surface: its class as found, numbered by falling area."""
    ids = [""] * measures.count
    for surface_class, column in zip(SurfaceClass, ClassColumn, strict=True):
        own = np.flatnonzero(measures.column == column)
        groups = [own[[entry]] for entry in range(len(own))]
        order = by_size(
            measures.area_m2[own],
            [partial(places.look_ratio, groups), partial(places.spot_ratio, groups)],
            rules=rules,
        )
        for number, place in enumerate(own[order].tolist(), 1):
            ids[place] = f"{LETTERS[surface_class]}{number}"
    return ids


def _numbered_openings(
    measures: SurfaceMeasures, places: Places, count: int, rules: SurfaceRules
) -> list[str]:
    """Id of every opening as found, numbered by falling area of its wall."""
    own = np.flatnonzero(measures.opening >= 0)
    at = measures.opening[own]
    area_m2 = summed(at, measures.area_m2[own], count)
    groups = [own[at == opening] for opening in range(count)]
    names = [""] * count
    order = by_size(
        area_m2,
        [partial(places.look_ratio, groups), partial(places.spot_ratio, groups)],
        rules=rules,
    )
    for number, place in enumerate(order.tolist(), 1):
        names[place] = f"O{number}"
    return names


def _surfaces(found: _Found, kind: ModelKind) -> tuple[Surface, ...]:
    """Every surface, explained, by class as found and number."""
    meets = neighbours_m(found.settled, found.of_part)
    rank = {letter: place for place, letter in enumerate(LETTERS.values())}
    order = sorted(range(len(found.ids)), key=lambda at: _sort_key(found.ids[at], rank))
    normals = _mean_normals(found.measures)
    return tuple(_surface(found, at, meets[at], normals[at], kind) for at in order)


def _sort_key(name: str, rank: Mapping[str, int]) -> tuple[int, int]:
    """Class and number of an id."""
    return rank[name[0]], int(name[1:])


def _surface(
    found: _Found, at: int, meets: Mapping[int, float], normal: FloatArray, kind: ModelKind
) -> Surface:
    """One surface, measured and explained."""
    measures = found.measures
    found_class, told_class = CLASSES[measures.column[at]], CLASSES[found.told[at]]
    wall = told_class in WALLS
    opening = found.opening_ids[at] or None
    depth_m, mean_depth_m = float(measures.depth_m[at]), float(measures.mean_depth_m[at])
    neighbours = sorted((found.ids[other], shared_m) for other, shared_m in meets.items())
    return Surface(
        id=found.ids[at],
        surface_class=told_class,
        found_class=found_class,
        area_m2=float(measures.area_m2[at]),
        depth_m=depth_m if wall else 0.0,
        mean_depth_m=mean_depth_m if wall else 0.0,
        draft_deg=float(measures.draft_deg[at]) if wall else None,
        undercut_area_m2=float(measures.undercut_m2[at]) if wall else 0.0,
        opening=opening,
        normal=normal,
        facets=found.facets[at],
        neighbours_m=dict(neighbours),
        explanation=explain(
            found_class,
            Reason(int(measures.reason[at])),
            depth_m=depth_m,
            mean_depth_m=mean_depth_m,
            opening=opening,
            kind=kind,
            told_class=None if told_class is found_class else told_class,
        ),
    )


def _mean_normals(measures: SurfaceMeasures) -> list[FloatArray]:
    """Mean unit normals, or zero where a surface runs round too far to have one."""
    length = np.sqrt(np.einsum("ij,ij->i", measures.normals, measures.normals))
    known = length > measures.area_m2 / 2.0
    unit = measures.normals / np.where(known, length, 1.0)[:, None]
    return list(np.where(known[:, None], unit, 0.0))


def _openings(found: _Found, corrections: Corrections, rules: SurfaceRules) -> tuple[Opening, ...]:
    """List the openings by number."""
    measures, count = found.measures, len(found.opening_names)
    own = np.flatnonzero(measures.opening >= 0)
    at = measures.opening[own]
    cast_m2 = np.where(np.isin(found.told[own], CAST_WALLS), measures.area_m2[own], 0.0)
    area_m2 = summed(at, cast_m2, count)
    deepest_m = np.zeros(count)
    np.maximum.at(deepest_m, at, measures.depth_m[own])
    listed = []
    for place, name in enumerate(found.opening_names):
        width_m = float(found.openings.width_m[place])
        listed.append(
            Opening(
                id=name,
                wall_area_m2=float(area_m2[place]),
                width_m=width_m,
                depth_m=float(deepest_m[place]),
                bare=corrections.bare.get(name, width_m < rules.narrow_opening_m),
            )
        )
    return tuple(sorted(listed, key=lambda opening: int(opening.id[1:])))


def _descriptions(
    surfaces: Sequence[Surface], openings: Sequence[Opening]
) -> list[tuple[str, str]]:
    """Id, area and reason of all there is."""
    rows = [(one.id, f"{one.area_m2:.4g} m², {one.why}") for one in surfaces]
    rows += [
        (one.id, f"opening, {one.wall_area_m2:.4g} m² of wall, {in_mm(one.width_m)} wide")
        for one in openings
    ]
    return rows
