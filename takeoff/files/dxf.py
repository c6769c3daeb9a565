"""DXF drawings as outlines, or as meshes where they hold faces in space."""

from __future__ import annotations

import hashlib
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

import numpy as np

from takeoff.errors import LayerError, TakeoffError, UnreadableError
from takeoff.files.drawing import Drawing, DrawingUnit, DrawnLayer, DrawnPiece, Tally
from takeoff.files.drawing_unit import size_notes, unit_missing
from takeoff.files.dxf_cells import Cells
from takeoff.files.dxf_document import Document, document_of
from takeoff.files.dxf_fills import settle_fills
from takeoff.files.dxf_gathered import Gathered
from takeoff.files.dxf_outlines import outlines_in
from takeoff.files.dxf_pieces import meshes_by_layer, named_outlines
from takeoff.files.dxf_readers import read_entity
from takeoff.files.dxf_rules import DxfRules
from takeoff.files.dxf_tags import has_decimal_comma
from takeoff.files.dxf_telling import nothing_found, skipped_notes, style_notes, tallies_of
from takeoff.files.dxf_units import unit_in_force
from takeoff.files.dxf_walk import Walk
from takeoff.files.mesh_pieces import DrawnMesh, mesh_pieces
from takeoff.geometry.arcs import run_bounds_m
from takeoff.geometry.chaining import chained
from takeoff.geometry.outlines import Outline, bounds_m
from takeoff.notes import Note, NoteCode

_ASSUMED_METRES = 0.001  # only to find the extents of a drawing whose unit is not known


def read_dxf(
    path: Path,
    *,
    unit: str | None,
    layers: Sequence[str] = (),
    rules: DxfRules = DxfRules(),
) -> Drawing:
    """Read a DXF: closed outlines in model space, or the faces of meshes.

    Parameters
    ----------
    path : Path
        The file, in text or binary, R12 to the present version.
    unit : str or None
        Unit of its coordinates; None takes the one that the file declares.
    layers : sequence of str, default ()
        Layers to read; all that show where none is named.
    rules : DxfRules, optional
        Limits and tolerances.

    Returns
    -------
    Drawing
        Its pieces with what was mended or left out, and doubts.

    Raises
    ------
    QuantityError
        If the unit told is not a unit of length.
    UnitMissingError
        If no unit is told, and the file declares none.
    UnreadableError
        If the file cannot be read, is damaged, or is no DXF.
    LayerError
        If a layer asked for is not there, or holds nothing.
    OutlineError
        If an outline is open, branches, or crosses itself or another.
    MeshError
        If the faces in space cannot be made a mesh.

    Examples
    --------
    >>> read_dxf(Path("no-such.dxf"), unit="mm")
    Traceback (most recent call last):
    takeoff.errors.UnreadableError: no-such.dxf: there is no such file
    """
    path = Path(path)
    try:
        return _drawing(path, _bytes_of(path, rules), unit, tuple(layers), rules)
    except TakeoffError as fault:
        raise fault.at(str(path)) from None


def _bytes_of(path: Path, rules: DxfRules) -> bytes:
    """Read the whole file, unless it is too large."""
    if path.is_dir():
        raise UnreadableError("this is a folder; name a file in it")
    try:
        size = path.stat().st_size
        if size > rules.file_bytes:
            raise UnreadableError(
                f"the file has {size} bytes, more than the {rules.file_bytes} that are read; save "
                "the piece alone"
            )
        return path.read_bytes()
    except FileNotFoundError:
        raise UnreadableError("there is no such file") from None
    except (OSError, ValueError) as problem:
        raise UnreadableError(f"it cannot be opened: {problem}") from None


def _drawing(
    path: Path, data: bytes, told: str | None, layers: tuple[str, ...], rules: DxfRules
) -> Drawing:
    """Read the bytes of a DXF file."""
    where = str(path)
    document = document_of(data)
    unit, notes = unit_in_force(told, document.header, where=where)
    gathered, walk_notes = _gathered(document, unit, layers, rules, where)
    if not (gathered.strokes or gathered.hatches or gathered.faces):
        raise nothing_found(tallies_of(gathered), layers, where=where)
    if unit is None:
        raise unit_missing(_extents(gathered), where=where)
    found = _pieces(gathered, unit, path, rules)
    skipped = tuple(sorted((*tallies_of(gathered), *found.skipped), key=lambda t: (t.what, t.why)))
    if not found.pieces:
        raise nothing_found((*skipped, *found.mended), layers, where=where, doubts=found.notes)
    commas = _comma_tally(document)
    return Drawing(
        path,
        hashlib.sha256(data).hexdigest(),
        unit,
        found.pieces,
        skipped,
        (*commas, *found.mended),
        (
            *notes,
            *walk_notes,
            *found.notes,
            *_mended_notes(commas, where),
            *style_notes(gathered, unit, where=where),
            *skipped_notes(skipped, where=where),
        ),
        found.layers,
    )


@dataclass(frozen=True, slots=True, eq=False)
class _Found:
    """Pieces with what was put right, left out and doubted while they were made."""

    pieces: tuple[DrawnPiece, ...]
    mended: tuple[Tally, ...] = ()
    skipped: tuple[Tally, ...] = ()
    notes: tuple[Note, ...] = ()
    layers: tuple[DrawnLayer, ...] = ()


def _gathered(
    document: Document,
    unit: DrawingUnit | None,
    layers: tuple[str, ...],
    rules: DxfRules,
    where: str,
) -> tuple[Gathered, tuple[Note, ...]]:
    """Walk through model space and read what shows."""
    chosen = frozenset(layer.casefold() for layer in layers)
    walk = Walk(document, chosen, rules)
    factor = unit.metres_per_unit if unit else _ASSUMED_METRES
    gathered = Gathered(factor, document.codec, rules, walk.skipped)
    cells = Cells(gathered, read_entity)
    for here in walk.placed():
        cells.take(here)
    settle_fills(gathered)
    _refuse_unknown_layers(layers, document, walk)
    notes = [
        Note(
            NoteCode.LAYER_CHOICE,
            f"layer {layer} is {walk.why_hidden(layer)} in the drawing; it is measured since it "
            "was asked for",
            where,
        )
        for layer in sorted(walk.asked_hidden)
    ]
    return gathered, tuple(notes)


def _refuse_unknown_layers(layers: tuple[str, ...], document: Document, walk: Walk) -> None:
    """Refuse layers that the drawing does not have, naming those that it has."""
    drawn = {layer.casefold(): layer for layer in walk.layers_met}
    known = {**{key: state.name for key, state in document.layers.items()}, **drawn}
    unknown = [layer for layer in layers if layer.casefold() not in known]
    if unknown:
        here = ", ".join(sorted(drawn.values())) or "none that holds anything"
        raise LayerError(
            f"the drawing has no layer {', '.join(unknown)}; entities lie on these: {here}"
        )


def _pieces(gathered: Gathered, unit: DrawingUnit, path: Path, rules: DxfRules) -> _Found:
    """Make pieces: meshes where there are faces in space, else outlines."""
    where = str(path)
    if gathered.faces:
        return _of_faces(gathered, unit, path, rules, where)
    found = outlines_in(gathered, unit, where=where)
    pieces = named_outlines(found.outlines, gathered.texts, path.stem, rules=rules)
    notes = [*found.notes, *_mended_notes(found.mended, where)]
    extents_m = {
        piece.name: np.subtract(*bounds_m(piece.shape)[::-1]).tolist()
        for piece in pieces
        if isinstance(piece.shape, Outline)
    }
    notes += size_notes(extents_m, unit, where=where)
    return _Found(pieces, found.mended, found.skipped, tuple(notes), found.layers)


def _of_faces(
    gathered: Gathered, unit: DrawingUnit, path: Path, rules: DxfRules, where: str
) -> _Found:
    """Make pieces of the faces of each layer."""
    loops = chained(gathered.strokes, rules=rules.outlines).loops
    if loops:
        flat = sorted({gathered.sources[s].layer for loop in loops for s in loop.sources})
        solid = sorted({drawn.layer for drawn in gathered.faces})
        raise LayerError(
            f"the drawing holds faces in space (layer {', '.join(solid)}) and closed outlines "
            f"(layer {', '.join(flat)}); choose the layer of the piece with --layer, or remove "
            "the others",
            where=where,
        )
    meshes = [
        DrawnMesh("", mesh, layer=layer) for layer, mesh in meshes_by_layer(gathered.faces).items()
    ]
    made = mesh_pieces(meshes, unit, stem=path.stem, where=where, rules=rules.meshes)
    lines = Counter(gathered.sources[stroke.source].kind for stroke in gathered.strokes)
    skipped = tuple(
        Tally(kind, count, "a line beside faces in space") for kind, count in sorted(lines.items())
    )
    return _Found(made.pieces, made.mended, skipped, made.notes, _mesh_layers(made.pieces))


def _mesh_layers(pieces: Sequence[DrawnPiece]) -> tuple[DrawnLayer, ...]:
    """Add up the pieces of each layer."""
    areas_m2: dict[str, list[float]] = {}
    for piece in pieces:
        if piece.report is not None:
            areas_m2.setdefault(piece.layer or "", []).append(piece.report.area_m2)
    return tuple(
        DrawnLayer(layer, 0, len(areas_m2[layer]), sum(areas_m2[layer]))
        for layer in sorted(areas_m2)
    )


def _extents(gathered: Gathered) -> tuple[float, ...]:
    """Give the overall sizes of what was gathered, in the unit of the drawing."""
    if gathered.faces:
        points_m = np.concatenate([drawn.points_m for drawn in gathered.faces])
        sizes_m = np.ptp(points_m, axis=0)
    else:
        runs = [(stroke.points_m, stroke.bulges) for stroke in gathered.strokes]
        runs += [(loop.points_m, loop.bulges) for loop in gathered.hatches]
        lows_m, highs_m = zip(*(run_bounds_m(*run) for run in runs), strict=True)
        sizes_m = np.max(highs_m, axis=0) - np.min(lows_m, axis=0)
    return tuple(float(size_m) / gathered.metres_per_unit for size_m in sizes_m)


def _comma_tally(document: Document) -> tuple[Tally, ...]:
    """Count the numbers written with a decimal comma."""
    held = [entity for block in document.blocks.values() for entity in block.entities]
    count = sum(
        has_decimal_comma(value)
        for entity in (*document.entities, *held)
        for record in (entity.record, *entity.parts)
        for code, value in record.tags
        if 10 <= code < 60
    )
    return (Tally("numbers with a decimal comma read", count),) if count else ()


def _mended_notes(mended: Sequence[Tally], where: str) -> tuple[Note, ...]:
    """Say in one note what was put right."""
    if not mended:
        return ()
    told = ", ".join(f"{tally.count} {tally.what}" for tally in mended)
    return (Note(NoteCode.MENDED, f"put right: {told}", where),)
