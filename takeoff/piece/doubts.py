"""What a person must see on a classified piece."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from takeoff.geometry.facets import facet_volumes_m3
from takeoff.notes import Note, NoteCode
from takeoff.piece.curve_doubts import curve_doubts
from takeoff.piece.joining import joined
from takeoff.piece.listing import WALLS, Listing
from takeoff.piece.rules import SurfaceRules
from takeoff.piece.settling import Settled
from takeoff.piece.surfaces import ModelKind, Opening, Surface, SurfaceClass
from takeoff.piece.zones import Reason, Zone


def doubts(
    settled: Settled,
    listing: Listing,
    *,
    kind: ModelKind,
    rules: SurfaceRules = SurfaceRules(),
) -> tuple[Note, ...]:
    """Collect the doubts about a classified piece.

    Parameters
    ----------
    settled : Settled
        The surface, divided.
    listing : Listing
        Its surfaces and openings; what the job corrected is in doubt no longer.
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
    >>> listing = list_surfaces(settled, kind=ModelKind.PIECE)
    >>> [note.code.value for note in doubts(settled, listing, kind=ModelKind.PIECE)]
    ['near-return-limit']
    """
    told = listing.corrections
    surfaces = [one for one in listing.surfaces if one.id not in told.surfaces]
    return (
        *_near_limit(settled, surfaces, rules),
        *_undercut(listing.surfaces),
        *_undecided(settled, rules),
        *curve_doubts(settled, rules=rules),
        *_hidden_bodies(settled),
        *_open_back(settled, surfaces, kind, rules),
        *_bare([one for one in listing.openings if one.id not in told.bare], rules),
    )


def _listed(ids: Sequence[str]) -> str:
    """Name the first few surfaces, and say how many more there are."""
    first = ", ".join(ids[:6])
    return f"{first} and {len(ids) - 6} more" if len(ids) > 6 else first


def _near_limit(settled: Settled, surfaces: Sequence[Surface], rules: SurfaceRules) -> list[Note]:
    """Note walls whose depth lies close to the return limit."""
    limit_m = rules.return_limit_m
    margin_m = rules.near_limit_share * limit_m
    walls = [one for one in surfaces if one.surface_class in WALLS]
    near = [one for one in walls if abs(one.mean_depth_m - limit_m) < margin_m]
    area_m2 = sum(one.area_m2 for one in near)
    if area_m2 <= rules.doubt_share * float(settled.flats.area_m2.sum()):
        return []
    ids = [one.id for one in near]
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
