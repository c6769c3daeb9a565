"""A mesh told apart into show face, returns, uprights and back."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from takeoff.errors import SurfaceError
from takeoff.geometry.mesh import Mesh
from takeoff.geometry.sums import dot, row_products, summed
from takeoff.notes import Note, NoteCode
from takeoff.piece.corrections import Corrections
from takeoff.piece.creasing import crease_lengths
from takeoff.piece.doubts import doubts
from takeoff.piece.flats import Flats, flats_of
from takeoff.piece.joining import joined
from takeoff.piece.judging import ClassColumn
from takeoff.piece.listing import Listing, list_surfaces
from takeoff.piece.noise import noise_of
from takeoff.piece.plan_axes import cosines_ratio
from takeoff.piece.radii import min_radius_m
from takeoff.piece.rules import SurfaceRules
from takeoff.piece.settling import Settled, settle
from takeoff.piece.smoothing import smooth_scan
from takeoff.piece.surfaces import ModelKind, SurfaceClass, Surfaces

FloatArray = NDArray[np.float64]


def classify(
    mesh: Mesh,
    *,
    kind: ModelKind,
    show_direction: FloatArray,
    corrections: Corrections = Corrections(),
    flats: Flats | None = None,
    rules: SurfaceRules = SurfaceRules(),
) -> Surfaces:
    """Tell the surfaces of a piece apart.

    Parameters
    ----------
    mesh : Mesh
        The mended mesh: welded, wound consistently, closed bodies outward.
    kind : ModelKind
        What it shows: a closed piece, or the open surface of what is cast.
    show_direction : ndarray of float, shape (3,)
        Unit vector out of the finished show face. [-]
    corrections : Corrections, optional
        What surfaces and openings are taken as, whatever was found.
    flats : Flats, optional
        Flats of the mesh, where they are known already.
    rules : SurfaceRules, optional
        The limits.

    Returns
    -------
    Surfaces
        Shares of every facet, surfaces, openings, areas, lengths, notes.

    Raises
    ------
    SurfaceError
        If the direction is no unit vector, a closed piece is open, no surface faces the show
        direction, the return limit is not above 0, a surface to correct is not there, or the
        mesh is a scan that is mostly noise.

    Notes
    -----
    A surface that faces the show direction is show face, one that faces away is back. What
    stands between is cut into columns: each is judged by what lies above and below it and by
    its depth. Everything is measured from the one show direction.

    Examples
    --------
    >>> import trimesh
    >>> slab = Mesh.from_trimesh(trimesh.creation.box((3000, 600, 40)), unit="mm")
    >>> told = classify(slab, kind=ModelKind.PIECE, show_direction=np.array([0.0, 0.0, 1.0]))
    >>> {name.value: round(area, 6) for name, area in told.area_m2.items()}
    {'show_face': 1.8, 'return': 0.288, 'upright': 0.0, 'back': 1.8}
    """
    direction = _unit(show_direction, rules)
    if not 0.0 < rules.return_limit_m < np.inf:
        raise SurfaceError(
            f"the return limit is {rules.return_limit_m:g} m; give a depth above 0, like 110 mm"
        )
    flats = flats_of(mesh, rules=rules) if flats is None else flats
    if kind is ModelKind.PIECE:
        refuse_open(flats)
    scanned: tuple[Note, ...] = ()
    if noise_of(flats).scan:
        smooth = smooth_scan(flats)
        flats, scanned = flats_of(smooth.mesh, rules=rules), (smooth.note,)
    settled, turned = _settled(flats, kind, direction, rules)
    listing = list_surfaces(settled, kind=kind, corrections=corrections, rules=rules)
    notes = (*scanned, *turned, *doubts(settled, listing, kind=kind, rules=rules))
    return _told(replace(settled, parts=listing.parts), listing, kind, notes, rules)


def _told(
    settled: Settled,
    listing: Listing,
    kind: ModelKind,
    notes: tuple[Note, ...],
    rules: SurfaceRules,
) -> Surfaces:
    """Put the result together from parts of their final classes."""
    flats = settled.flats
    shares = settled.parts.shares(flats.count)
    cast_share = np.where(listing.bare, 0.0, 1.0 - shares[:, ClassColumn.BACK])
    cast = cast_share >= 0.5
    openings = listing.openings
    return Surfaces(
        mesh=flats.mesh,
        show_direction=settled.zones.show_direction,
        kind=kind,
        rules=rules,
        shares=shares.take(flats.of_facet, axis=0),
        bare=listing.bare.take(flats.of_facet),
        surfaces=listing.surfaces,
        openings=openings,
        area_m2=_class_areas(flats, shares),
        opening_wall_m2=sum(opening.wall_area_m2 for opening in openings),
        bare_wall_m2=sum(opening.wall_area_m2 for opening in openings if opening.bare),
        form_area_m2=dot(flats.area_m2, cast_share),
        undercut_m2=sum(surface.undercut_area_m2 for surface in listing.surfaces),
        edge_lengths=crease_lengths(flats, settled.bends, cast, rules=rules),
        min_radius_m=min_radius_m(flats, cast, rules=rules),
        notes=notes,
    )


def class_areas_m2(
    flats: Flats,
    *,
    kind: ModelKind,
    show_direction: FloatArray,
    rules: SurfaceRules = SurfaceRules(),
) -> Mapping[SurfaceClass, float]:
    """Give the area of each class alone, for comparing directions.

    Parameters
    ----------
    flats : Flats
        Flats of the mended mesh; closed if it is a piece.
    kind : ModelKind
        What it shows.
    show_direction : ndarray of float, shape (3,)
        Unit vector out of the finished show face. [-]
    rules : SurfaceRules, optional
        The limits.

    Returns
    -------
    mapping of SurfaceClass to float
        Area of each class. [m²]

    Raises
    ------
    SurfaceError
        If no surface faces the show direction.

    Examples
    --------
    >>> import trimesh
    >>> box = flats_of(Mesh.from_trimesh(trimesh.creation.box((3.0, 2.0, 0.1)), unit="m"))
    >>> areas_m2 = class_areas_m2(
    ...     box, kind=ModelKind.PIECE, show_direction=np.array([1.0, 0.0, 0.0])
    ... )
    >>> round(areas_m2[SurfaceClass.UPRIGHT], 9)
    12.6
    """
    settled, _ = _settled(flats, kind, show_direction, rules)
    return _class_areas(settled.flats, settled.parts.shares(settled.flats.count))


def refuse_open(flats: Flats) -> None:
    """Refuse a closed piece that is open somewhere.

    Parameters
    ----------
    flats : Flats
        Flats of the mended mesh.

    Raises
    ------
    SurfaceError
        If an edge has only one facet.

    Examples
    --------
    >>> refuse_open(flats_of(Mesh(np.eye(3), np.array([[0, 1, 2]], dtype=np.int32))))
    Traceback (most recent call last):
    takeoff.errors.SurfaceError: the mesh has 3 open edges, the first at (1, 0, 0) m, so it is no \
closed piece; close it in CAD, or say --kind open if it is the open surface of what is cast
    """
    edges = flats.open_edges
    if not len(edges.flat):
        return
    at = ", ".join(f"{value:.4g}" for value in flats.mesh.points_m[edges.start[0]])
    raise SurfaceError(
        f"the mesh has {len(edges.flat)} open edges, the first at ({at}) m, so it is no closed "
        "piece; close it in CAD, or say --kind open if it is the open surface of what is cast"
    )


def _settled(
    flats: Flats, kind: ModelKind, direction: FloatArray, rules: SurfaceRules
) -> tuple[Settled, tuple[Note, ...]]:
    """Divide the surface, turned round where it is open and wound the other way."""
    turned: tuple[Note, ...] = ()
    if kind is not ModelKind.PIECE:
        flats, turned = _facing(flats, direction, rules)
    _refuse_no_face(flats, direction, rules)
    return settle(flats, direction, rules=rules), turned


def _unit(show_direction: FloatArray, rules: SurfaceRules) -> FloatArray:
    """Check that a direction is a unit vector."""
    direction = np.asarray(show_direction, dtype=np.float64)
    length = float(np.linalg.norm(direction)) if direction.shape == (3,) else np.nan
    if not abs(length - 1.0) < rules.unit_share:
        raise SurfaceError(
            f"the show direction {direction.tolist()} is no unit vector; give up, down, front,"
            " back, left, right, or x,y,z scaled to length 1"
        )
    return direction / length


def _facing(
    flats: Flats, direction: FloatArray, rules: SurfaceRules
) -> tuple[Flats, tuple[Note, ...]]:
    """Turn the sheets of an open surface whose normals point away from the show direction."""
    level_m2 = flats.area_m2 * cosines_ratio(flats.normals, direction)
    if not (level_m2 < 0.0).any():
        return flats, ()
    sheet = joined(flats.count, flats.joints.left, flats.joints.right)
    level_m2 = summed(sheet, level_m2, int(sheet.max()) + 1)
    turned = level_m2 < -rules.sliver_share * float(flats.area_m2.sum())
    if not turned.any():
        return flats, ()
    facet = turned[sheet][flats.of_facet]
    triangles = flats.mesh.triangles.copy()
    triangles[facet] = triangles[facet][:, ::-1]
    note = Note(
        NoteCode.INSIDE_OUT,
        f"{int(facet.sum())} facets of the open surface were wound with their back to the show"
        " direction and were turned round",
    )
    return flats_of(Mesh(flats.mesh.points_m, triangles), rules=rules), (note,)


def _refuse_no_face(flats: Flats, direction: FloatArray, rules: SurfaceRules) -> None:
    """Refuse a direction that nothing faces."""
    limit = np.cos(np.radians(rules.face_angle_deg + rules.tie_deg))
    facing_m2 = float(flats.area_m2[cosines_ratio(flats.normals, direction) >= limit].sum())
    if facing_m2 > rules.sliver_share * float(flats.area_m2.sum()):
        return
    raise SurfaceError(
        f"no surface faces the show direction {np.round(direction, 3).tolist()} within "
        f"{rules.face_angle_deg:g} degrees; tell the side that is seen when the piece is finished"
    )


def _class_areas(flats: Flats, shares: FloatArray) -> Mapping[SurfaceClass, float]:
    """Area of every class."""
    (area_m2,) = row_products(flats.area_m2[None], shares.T)
    return {
        surface_class: float(area)
        for surface_class, area in zip(SurfaceClass, area_m2, strict=True)
    }
