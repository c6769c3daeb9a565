"""What each piece of a job weighs, with what to mind when it is cast and lifted."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from takeoff.files.order import Shop
from takeoff.files.order_parts import Portion
from takeoff.job.buoyancy import head_note, hold_down_note
from takeoff.job.cast_pieces import CastPiece
from takeoff.job.handling import PartKind, PartMass, PieceWeights, piece_weights
from takeoff.job.size_notes import lying_sizes_m, size_notes
from takeoff.job.way_rows import filling_notes
from takeoff.mix.mixes import Mix
from takeoff.mix.volumes import fresh_density_kg_m3
from takeoff.notes import Note
from takeoff.piece.surfaces import SurfaceClass
from takeoff.piece.ways import INNER_FORMS
from takeoff.report.figures import System


@dataclass(frozen=True, slots=True)
class WeighedPiece:
    """A piece with its weights.

    Parameters
    ----------
    weights : PieceWeights
        Wet, cured, as handled.
    notes : tuple of Note
        What to mind.
    """

    weights: PieceWeights
    notes: tuple[Note, ...]


def weighed_piece(
    piece: CastPiece, mixes: Mapping[Portion, Mix], shop: Shop, *, system: System = System.METRIC
) -> WeighedPiece:
    """Weigh one copy of a piece, and hold it against what the shop can hold and move.

    Parameters
    ----------
    piece : CastPiece
        A measured piece.
    mixes : mapping of Portion to Mix
        The mixes.
    shop : Shop
        Its limits.
    system : System, optional
        Which units the notes are written in.

    Returns
    -------
    WeighedPiece
        The weights and what to mind.

    Examples
    --------
    >>> from takeoff.batching.mixers import Mixer
    >>> shop = Shop((Mixer("pail", 0.018, 0.2),), 1, None, None, None, {})
    >>> weighed_piece(CastPiece("tile", 1, ()), {}, shop).weights.handling_kg
    0.0
    """
    ordered = piece.ordered
    weights = piece_weights(
        list(_parts(piece, mixes)),
        name=piece.name,
        turned=ordered is not None and ordered.turned,
        form_kg=None if ordered is None else ordered.form_kg,
        removed_kg=_removed_kg(piece, mixes),
        system=system,
    )
    notes = [*([weights.note] if weights.note else []), *weights.doubts]
    if piece.measured is not None:
        notes += size_notes(
            piece.name,
            sizes_m=lying_sizes_m(piece.measured.surfaces),
            handling_kg=weights.handling_kg,
            max_piece_m=shop.largest_m,
            max_kg=shop.largest_kg,
            system=system,
        )
    notes += _core_notes(piece, mixes, system)
    notes += _head_notes(piece, mixes, system)
    notes += _filling_notes(piece)
    return WeighedPiece(weights, tuple(notes))


def _parts(piece: CastPiece, mixes: Mapping[Portion, Mix]) -> Iterator[PartMass]:
    for one in piece.volumes:
        density_kg_m3 = fresh_density_kg_m3(mixes[one.portion])
        high_kg = one.high_m3 * density_kg_m3
        yield PartMass(PartKind.MIX, one.volume_m3 * density_kg_m3, one.centroid_m, high_kg)
    if piece.ordered is None:
        return
    for core in piece.ordered.cores:
        yield PartMass(PartKind.CORE, core.volume_m3 * core.density_kg_m3 * core.count)
    for item in piece.ordered.items:
        yield PartMass(PartKind.ITEM, item.mass_kg * item.count)


def _removed_kg(piece: CastPiece, mixes: Mapping[Portion, Mix]) -> float:
    """Mass that finishing takes off the show face."""
    if piece.ordered is None or piece.measured is None or not piece.ordered.removed_m:
        return 0.0
    show_m2 = piece.measured.surfaces.area_m2[SurfaceClass.SHOW_FACE]
    return show_m2 * piece.ordered.removed_m * fresh_density_kg_m3(mixes[Portion.FACE_COAT])


def _core_notes(piece: CastPiece, mixes: Mapping[Portion, Mix], system: System) -> Iterator[Note]:
    for core in () if piece.ordered is None else piece.ordered.cores:
        note = hold_down_note(
            core.name,
            volume_m3=core.volume_m3,
            density_kg_m3=core.density_kg_m3,
            mix_kg_m3=fresh_density_kg_m3(mixes[Portion.BACKER]),
            count=core.count,
            where=piece.name,
            system=system,
        )
        if note is not None:
            yield note


def _filling_notes(piece: CastPiece) -> Iterator[Note]:
    """Say that several walls are filled once."""
    filled = [row for row in piece.way_rows if piece.ways.get(row.surface) is row.way]
    if piece.measured is not None:
        yield from filling_notes(piece.measured, filled)


def _head_notes(piece: CastPiece, mixes: Mapping[Portion, Mix], system: System) -> Iterator[Note]:
    """Say how high fresh mix stands behind the highest inner form of an upright."""
    if piece.measured is None:
        return
    depths_m = {
        surface.id: surface.depth_m
        for surface in piece.measured.surfaces.surfaces
        if surface.surface_class is SurfaceClass.UPRIGHT
        and piece.ways.get(surface.id) in INNER_FORMS
    }
    if depths_m:
        wall = max(depths_m, key=lambda one: depths_m[one])
        density_kg_m3 = fresh_density_kg_m3(mixes[Portion.BACKER])
        yield head_note(wall, depths_m[wall], density_kg_m3, where=piece.name, system=system)
