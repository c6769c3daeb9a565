"""What a person must see on a classified piece."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from takeoff.geometry.facets import facet_volumes_m3
from takeoff.notes import Note, NoteCode
from takeoff.piece.joining import joined
from takeoff.piece.rules import SurfaceRules
from takeoff.piece.settling import Settled
from takeoff.piece.surfaces import ModelKind, Opening, Surface, SurfaceClass
from takeoff.piece.zones import Reason, Zone

WALLS = (SurfaceClass.RETURN, SurfaceClass.UPRIGHT)


def doubts(
    settled: Settled,
    surfaces: Sequence[Surface],
    openings: Sequence[Opening],
    *,
    kind: ModelKind,
    rules: SurfaceRules = SurfaceRules(),
) -> tuple[Note, ...]:
    """Collect the doubts about a classified piece.

    Parameters
    ----------
    settled : Settled
        The surface, divided.
    surfaces : sequence of Surface
        Its surfaces.
    openings : sequence of Opening
        Its openings.
    kind : ModelKind
        What the drawing shows.
    rules : SurfaceRules, optional
        From where on a doubt is noted.

    Returns
    -------
    tuple of Note
        The doubts.

    Examples
    --------
    An edge of 100 mm is near the return limit:

    >>> import trimesh
    >>> from takeoff.geometry.mesh import Mesh
    >>> from takeoff.piece.flats import flats_of
    >>> from takeoff.piece.listing import list_surfaces
    >>> from takeoff.piece.settling import settle
    >>> box = flats_of(Mesh.from_trimesh(trimesh.creation.box((3.0, 2.0, 0.1)), unit="m"))
    >>> settled = settle(box, np.array([0.0, 0.0, 1.0]))
    >>> listed = list_surfaces(settled, kind=ModelKind.PIECE)
    >>> [note.code.value for note in doubts(settled, *listed, kind=ModelKind.PIECE)]
    ['near-return-limit']
    """
    return (
        *_near_limit(settled, surfaces, rules),
        *_undercut(surfaces),
        *_undecided(settled, rules),
        *_near_curve(settled, rules),
        *_hidden_bodies(settled),
        *_open_back(settled, surfaces, kind, rules),
        *_bare(openings, rules),
    )


def _listed(ids: Sequence[str]) -> str:
    """Name the first few surfaces, and say how many more there are."""
    first = ", ".join(ids[:6])
    return f"{first} and {len(ids) - 6} more" if len(ids) > 6 else first


def _near_limit(settled: Settled, surfaces: Sequence[Surface], rules: SurfaceRules) -> list[Note]:
    """Note walls whose depth lies close to the return limit."""
    limit_m = rules.return_limit_m
    parts = settled.parts
    near = np.abs(parts.mean_depth_m - limit_m) < rules.near_limit_share * limit_m
    near &= np.isin(parts.column, [list(SurfaceClass).index(wall) for wall in WALLS])
    area_m2 = float((parts.share * settled.flats.area_m2[parts.flat])[near].sum())
    if area_m2 <= rules.doubt_share * float(settled.flats.area_m2.sum()):
        return []
    margin_m = rules.near_limit_share * limit_m
    ids = [
        surface.id
        for surface in surfaces
        if surface.surface_class in WALLS and abs(surface.mean_depth_m - limit_m) < margin_m
    ]
    text = (
        f"walls of {area_m2:.3f} m² are within {rules.near_limit_share:.0%} of the return limit"
        f" of {limit_m * 1e3:g} mm; say whether they are returns or uprights by setting the limit"
    )
    return [Note(NoteCode.NEAR_RETURN_LIMIT, text, _listed(ids))]


def _undercut(surfaces: Sequence[Surface]) -> list[Note]:
    """Note returns and uprights that lean in."""
    leaning = [surface for surface in surfaces if surface.undercut_area_m2 > 0.0]
    if not leaning:
        return []
    area_m2 = sum(surface.undercut_area_m2 for surface in leaning)
    worst_deg = min(surface.draft_deg or 0.0 for surface in leaning)
    text = (
        f"{area_m2:.3f} m² of walls lean in, by up to {-worst_deg:.1f} degrees: the piece does "
        "not leave a form in one part"
    )
    return [Note(NoteCode.UNDERCUT, text, _listed([surface.id for surface in leaning]))]


def _undecided(settled: Settled, rules: SurfaceRules) -> list[Note]:
    """Note walls on which columns did not decide."""
    wall_m2 = float(settled.flats.area_m2[settled.zones.are(Zone.WALL)].sum())
    area_m2 = settled.walls.undecided_m2
    notes = []
    if area_m2 > rules.undecided_share * wall_m2 and area_m2 > rules.doubt_share * float(
        settled.flats.area_m2.sum()
    ):
        text = (
            f"{area_m2:.3f} m² of walls have no clear depth and are taken like the walls beside "
            "them; look at the surfaces"
        )
        notes.append(Note(NoteCode.UNDECIDED, text))
    return notes


def _near_curve(settled: Settled, rules: SurfaceRules) -> list[Note]:
    """Note curves whose radius lies close to where a curve becomes a show face."""
    curves = settled.curves
    limit_m = curves.limits_m(rules)
    near = np.abs(curves.radius_m - limit_m) < rules.near_curve_share * limit_m
    near &= curves.area_m2 > rules.doubt_share * float(settled.flats.area_m2.sum())
    notes = []
    for place in np.flatnonzero(near):
        shape = "convex" if curves.convex[place] else "concave"
        taken = "a curved show face" if curves.radius_m[place] > limit_m[place] else "an eased edge"
        text = (
            f"a {shape} curve of {curves.radius_m[place] * 1e3:.0f} mm radius and"
            f" {curves.area_m2[place]:.3f} m² is close to the limit of"
            f" {limit_m[place] * 1e3:g} mm; it is taken as {taken}, half of it would go the other"
            " way"
        )
        notes.append(Note(NoteCode.NEAR_CURVE_LIMIT, text))
    return notes


def _hidden_bodies(settled: Settled) -> list[Note]:
    """Note bodies whose every facing surface lies behind another body."""
    zones, flats = settled.zones, settled.flats
    hidden = zones.reason == Reason.HIDDEN
    if not hidden.any():
        return []
    body = joined(flats.count, flats.joints.left, flats.joints.right)
    count = int(body.max()) + 1
    seen = np.bincount(body[zones.are(Zone.FACING)], minlength=count) > 0
    behind = np.bincount(body[hidden], minlength=count) > 0
    lost = np.flatnonzero(behind & ~seen)
    outward = [number for number in lost if _volume_m3(settled, body == number) > 0.0]
    if not outward:
        return []
    text = (
        f"behind others along the show direction {len(outward)} of the bodies are wholly hidden "
        "and count as back; if they are pieces of their own, draw them side by side"
    )
    return [Note(NoteCode.HIDDEN_BODY, text)]


def _volume_m3(settled: Settled, chosen: NDArray[np.bool_]) -> float:
    """Signed volume of a closed body."""
    facet = chosen[settled.flats.of_facet]
    return float(facet_volumes_m3(settled.flats.mesh)[facet].sum())


def _open_back(
    settled: Settled, surfaces: Sequence[Surface], kind: ModelKind, rules: SurfaceRules
) -> list[Note]:
    """Note parts of an open surface that face away, or join nothing."""
    if kind is ModelKind.PIECE:
        return []
    total_m2 = float(settled.flats.area_m2.sum())
    back_m2 = sum(s.area_m2 for s in surfaces if s.surface_class is SurfaceClass.BACK)
    notes = []
    if back_m2 > rules.doubt_share * total_m2:
        text = (
            f"{back_m2 / total_m2:.0%} of an open surface counts as back, though an open surface"
            " shows what is cast; check the show direction"
        )
        ids = [s.id for s in surfaces if s.surface_class is SurfaceClass.BACK]
        notes.append(Note(NoteCode.UNDECIDED, text, _listed(ids)))
    loose = settled.parts.reason == Reason.LOOSE
    if loose.any():
        text = "walls that join no show face are classed by their own depth; join them in CAD"
        notes.append(Note(NoteCode.UNDECIDED, text))
    return notes


def _bare(openings: Sequence[Opening], rules: SurfaceRules) -> list[Note]:
    """Note openings too narrow to be coated."""
    return [
        Note(
            NoteCode.OPENING_BARE,
            f"opening {opening.id} is {opening.width_m * 1e3:.0f} mm wide, narrower than"
            f" {rules.narrow_opening_m * 1e3:g} mm: its wall is taken as bare",
            opening.id,
        )
        for opening in openings
        if opening.bare
    ]
