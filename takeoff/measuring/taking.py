"""Measure a drawing: read it, tell its surfaces apart, lay the layers on them."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from pathlib import Path

from takeoff.errors import (
    DirectionMissingError,
    LayerVolumeError,
    SurfaceError,
    TakeoffError,
    UnitMissingError,
)
from takeoff.files.drawing import Drawing, DrawnPiece
from takeoff.geometry.mesh import Mesh
from takeoff.geometry.outlines import Outline
from takeoff.measuring.measurement import MeasuredPiece, Measurement
from takeoff.measuring.reading import read_drawing
from takeoff.measuring.request import MeasureRequest
from takeoff.notes import Note, NoteCode
from takeoff.piece.classifying import classify
from takeoff.piece.directions import direction_missing, show_vector
from takeoff.piece.folding import fold
from takeoff.piece.layers import lay
from takeoff.piece.rules import SurfaceRules
from takeoff.piece.surfaces import ModelKind, Surfaces
from takeoff.units import length_m


def measure(
    path: str | Path,
    *,
    unit: str | None = None,
    kind: str | None = None,
    show: str | None = None,
    edge_depth: str | None = None,
    edges: Mapping[str, str] | None = None,
    return_limit: str | None = None,
    face_coat: str | None = None,
    backer: str | None = None,
    layers: tuple[str, ...] = (),
) -> Measurement:
    """Measure the pieces of one drawing.

    Parameters
    ----------
    path : str or Path
        An STL or DXF file.
    unit : str, optional
        Unit of the drawing; needed where the file does not declare it.
    kind : str, optional
        ``"piece"`` for a closed solid, ``"open"`` for the surface that is cast.
    show : str, optional
        Out of the finished show face: ``"up"``, ``"front"`` ... or ``"x,y,z"``.
    edge_depth : str, optional
        Depth of the walls round an outline, such as ``"40 mm"``; ``"0 mm"`` for a flat slab.
    edges : mapping of str to str, optional
        Depth at single edges of an outline.
    return_limit : str, optional
        Deepest wall still called a return.
    face_coat, backer : str, optional
        Thickness of the layers; left out, only areas are measured.
    layers : tuple of str, optional
        Drawing layers to take; all if empty.

    Returns
    -------
    Measurement
        Surfaces, areas and layer volumes.

    Raises
    ------
    QuantityError
        If a length cannot be read.
    DrawingError
        If the drawing cannot be used as it stands.
    SurfaceError
        If kind or direction is missing or does not fit the drawing.
    LayerVolumeError
        If the layers are too thick for the shape.

    Examples
    --------
    >>> measure("no-such-counter.stl", unit="mm")
    Traceback (most recent call last):
    takeoff.errors.UnreadableError: no-such-counter.stl: there is no such file
    """
    request = measure_request(
        unit=unit,
        kind=kind,
        show=show,
        edge_depth=edge_depth,
        edges=edges,
        return_limit=return_limit,
        face_coat=face_coat,
        backer=backer,
        layers=layers,
    )
    return measure_drawing(path, request)


def measure_request(
    *,
    unit: str | None = None,
    kind: str | None = None,
    show: str | None = None,
    edge_depth: str | None = None,
    edges: Mapping[str, str] | None = None,
    return_limit: str | None = None,
    face_coat: str | None = None,
    backer: str | None = None,
    layers: Sequence[str] = (),
) -> MeasureRequest:
    """Read what is asked of a drawing from written quantities.

    Parameters
    ----------
    unit, kind, show, edge_depth, edges, return_limit, face_coat, backer, layers
        As `measure` takes them.

    Returns
    -------
    MeasureRequest
        The same in SI.

    Raises
    ------
    QuantityError
        If a length cannot be read.
    LayerVolumeError
        If a layer has no thickness.

    Examples
    --------
    >>> measure_request(face_coat="3/16 in").face_coat_m
    0.0047625
    """
    rules = SurfaceRules()
    if return_limit is not None:
        rules = replace(rules, return_limit_m=length_m(return_limit))
    return MeasureRequest(
        unit=unit,
        kind=kind,
        show=show,
        edge_depth_m=None if edge_depth is None else length_m(edge_depth),
        edges_m={edge: length_m(depth) for edge, depth in (edges or {}).items()},
        face_coat_m=_thickness_m(face_coat),
        backer_m=_thickness_m(backer),
        layers=tuple(layers),
        rules=rules,
    )


def measure_drawing(path: str | Path, request: MeasureRequest) -> Measurement:
    """Measure the pieces of one drawing as requested.

    Parameters
    ----------
    path : str or Path
        An STL or DXF file.
    request : MeasureRequest
        What is asked of it.

    Returns
    -------
    Measurement
        Surfaces, areas and layer volumes.

    Raises
    ------
    TakeoffError
        If anything of it is refused; the place is in the error.

    Examples
    --------
    >>> measure_drawing("no-such.dxf", MeasureRequest())
    Traceback (most recent call last):
    takeoff.errors.UnreadableError: no-such.dxf: there is no such file
    """
    drawing = _read(path, request)
    pieces = []
    for piece in drawing.pieces:
        try:
            pieces.append(_measured(drawing, piece, request))
        except TakeoffError as error:
            several = len(drawing.pieces) > 1
            raise error.at(
                f"{drawing.path}: {piece.name}" if several else str(drawing.path)
            ) from None
    return Measurement(
        tuple(pieces), drawing.skipped, _notes_that_matter(drawing, pieces), request.settings()
    )


def _read(path: str | Path, request: MeasureRequest) -> Drawing:
    """Read a drawing in the unit told, else declared, else usual in the shop."""
    try:
        return read_drawing(path, unit=request.unit, layers=request.layers)
    except UnitMissingError:
        if request.usual_unit is None:
            raise
        return read_drawing(path, unit=request.usual_unit, layers=request.layers)


def _notes_that_matter(drawing: Drawing, pieces: Sequence[MeasuredPiece]) -> tuple[Note, ...]:
    """Leave out that a surface is not closed where it was told to be an open one."""
    told_open = all(piece.surfaces.kind is ModelKind.OPEN for piece in pieces)
    moot = {NoteCode.NOT_CLOSED} if told_open else set()
    return tuple(note for note in drawing.notes if note.code not in moot)


def _thickness_m(text: str | None) -> float:
    """Read a layer thickness; a layer of nothing is refused rather than left out."""
    if text is None:
        return 0.0
    thickness_m = length_m(text)
    if thickness_m <= 0.0:
        raise LayerVolumeError(f"a layer of {text} is no layer; leave it out to have none")
    return thickness_m


def _measured(drawing: Drawing, piece: DrawnPiece, request: MeasureRequest) -> MeasuredPiece:
    shape = piece.shape
    if isinstance(shape, Outline):
        kind, surfaces, folding_notes = _outline_surfaces(shape, request)
        solid_m3 = None
    else:
        _refuse_unsound(piece)
        kind, surfaces, folding_notes = _mesh_surfaces(shape, request, str(drawing.path))
        solid_m3 = _solid_m3(piece) if surfaces.kind is ModelKind.PIECE else None
    laid = lay(
        surfaces, face_coat_m=request.face_coat_m, backer_m=request.backer_m, solid_m3=solid_m3
    )
    return MeasuredPiece(
        name=piece.name,
        file=str(drawing.path),
        sha256=drawing.sha256,
        unit=drawing.unit,
        kind=kind,
        surfaces=surfaces,
        layers=laid,
        solid_m3=solid_m3,
        notes=(*folding_notes, *surfaces.notes, *laid.notes),
    )


def _mesh_surfaces(
    mesh: Mesh, request: MeasureRequest, where: str
) -> tuple[str, Surfaces, tuple[Note, ...]]:
    if request.edge_depth_m is not None or request.edges_m:
        raise SurfaceError("edge depths belong to outlines; the walls of a mesh are in the drawing")
    told = request.kind or request.usual_kind
    if told is None or request.show is None:
        kinds = None if told is None else _kind(told)
        raise direction_missing(mesh, kind=kinds, rules=request.rules, where=where)
    kind = _kind(told)
    direction = show_vector(request.show)
    surfaces = classify(mesh, kind=kind, show_direction=direction, rules=request.rules)
    return kind.value, surfaces, ()


def _outline_surfaces(
    outline: Outline, request: MeasureRequest
) -> tuple[str, Surfaces, tuple[Note, ...]]:
    if request.kind is not None:
        raise SurfaceError("an outline is its own kind of model; leave the kind out")
    if request.show not in {None, "up"}:
        raise SurfaceError("an outline is its show face seen from above; leave the direction out")
    if request.edge_depth_m is None:
        raise DirectionMissingError(
            "an outline does not say how deep its edges are; give --edge-depth 40mm "
            "(0mm for a flat slab), or edge_depth in the job file"
        )
    folded = fold(
        outline,
        edge_depth_m=request.edge_depth_m,
        depths_m=request.edges_m,
        rules=request.rules,
    )
    up = show_vector("up")
    surfaces = classify(folded.mesh, kind=ModelKind.OPEN, show_direction=up, rules=request.rules)
    return ModelKind.OUTLINE.value, surfaces, folded.notes


def _kind(text: str) -> ModelKind:
    known = {ModelKind.PIECE.value: ModelKind.PIECE, ModelKind.OPEN.value: ModelKind.OPEN}
    if text not in known:
        raise SurfaceError(f"{text!r} is no kind of model; give one of {', '.join(known)}")
    return known[text]


def _refuse_unsound(piece: DrawnPiece) -> None:
    """Refuse meshes whose two sides cannot be told apart."""
    report = piece.report
    if report is not None and not (report.consistent and report.oriented):
        raise SurfaceError(
            "neighbouring facets face opposite ways, so that show face and back cannot be told "
            "apart; make the normals consistent in CAD"
        )


def _solid_m3(piece: DrawnPiece) -> float | None:
    return None if piece.report is None else piece.report.volume_m3
