"""Measure a drawing: read it, tell its surfaces apart, lay the layers on them."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from pathlib import Path
from typing import TypeAlias

from takeoff.errors import (
    DirectionMissingError,
    SurfaceError,
    TakeoffError,
    UnitMissingError,
)
from takeoff.files.drawing import Drawing, DrawnPiece
from takeoff.geometry.outlines import Outline
from takeoff.measuring.absurd_sizes import refuse_absurd
from takeoff.measuring.casting import Casting, mesh_castings
from takeoff.measuring.correcting import corrections_of
from takeoff.measuring.measurement import MeasuredPiece, Measurement
from takeoff.measuring.reading import read_drawing
from takeoff.measuring.request import MeasureRequest
from takeoff.notes import Note, NoteCode
from takeoff.piece.classifying import classify
from takeoff.piece.corrections import Corrections
from takeoff.piece.directions import show_vector
from takeoff.piece.exact_layers import ExactVolume, exact_volume
from takeoff.piece.finding import Source
from takeoff.piece.folding import fold
from takeoff.piece.laying import lay
from takeoff.piece.rules import SurfaceRules
from takeoff.piece.surfaces import ModelKind
from takeoff.piece.thickness import read_class_thickness
from takeoff.units import length_m

LayerTold: TypeAlias = str | Mapping[str, str] | None


def measure(
    path: str | Path,
    *,
    unit: str | None = None,
    kind: str | None = None,
    show: str | None = None,
    edge_depth: str | None = None,
    edges: Mapping[str, str] | None = None,
    return_limit: str | None = None,
    face_coat: LayerTold = None,
    backer: LayerTold = None,
    layers: tuple[str, ...] = (),
    surfaces: Mapping[str, str] | None = None,
    openings: Mapping[str, str] | None = None,
    sha256: str | None = None,
    exact: bool = False,
) -> Measurement:
    """Measure the pieces of one drawing.

    Parameters
    ----------
    path : str or Path
        An STL or DXF file.
    unit : str, optional
        Unit of the drawing; needed where the file does not declare it.
    kind : str, optional
        ``"piece"`` for a closed solid, ``"form"`` for what it is cast in, ``"open"`` for the
        surface that is cast; found if left out, where only one fits.
    show : str, optional
        Out of the finished show face, in the drawing: ``"up"``, ``"front"`` ..., ``"x,y,z"``, or
        the number of a reading, ``"S2"``. Of a form: from its opening to its floor. Found if
        left out, where one side stands out.
    edge_depth : str, optional
        Depth of the walls round an outline, such as ``"40 mm"``; ``"0 mm"`` for a flat slab.
    edges : mapping of str to str, optional
        Depth at single edges of an outline.
    return_limit : str, optional
        Deepest wall still called a return.
    face_coat, backer : str or mapping of str to str, optional
        Thickness of the layers, such as ``"4 mm"``, a range ``"3-4-5 mm"``, or one each for
        ``"show_face"``, ``"return"`` and ``"upright"``; the backer may be ``"fill"``. Left out,
        only areas are measured.
    layers : tuple of str, optional
        Drawing layers to take; all if empty.
    surfaces : mapping of str to str, optional
        What single surfaces are taken as, by id: ``{"R2": "back"}``.
    openings : mapping of str to str, optional
        ``"bare"`` or ``"coated"`` for single openings, by id.
    sha256 : str, optional
        Hash of the drawing that the ids were read off, or its first 12 signs or more; a changed
        drawing is then refused.
    exact : bool, default False
        Whether to check the layers by a slow, independent method too, where one applies.

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
        If kind or direction is missing or does not fit the drawing, or a correction does not.
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
    corrected = replace(
        request,
        surfaces=dict(surfaces or {}),
        openings=dict(openings or {}),
        sha256=sha256,
        exact=exact,
    )
    return measure_drawing(path, corrected)


def measure_request(
    *,
    unit: str | None = None,
    kind: str | None = None,
    show: str | None = None,
    edge_depth: str | None = None,
    edges: Mapping[str, str] | None = None,
    return_limit: str | None = None,
    face_coat: LayerTold = None,
    backer: LayerTold = None,
    backer_return: str | None = None,
    backer_upright: str | None = None,
    layers: Sequence[str] = (),
) -> MeasureRequest:
    """Read what is asked of a drawing from written quantities.

    Parameters
    ----------
    unit, kind, show, edge_depth, edges, return_limit, face_coat, backer, layers
        As `measure` takes them.
    backer_return, backer_upright : str, optional
        Thickness of the backer on returns and uprights, where it differs.

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
        face_coat=read_class_thickness(face_coat),
        backer=read_class_thickness(backer, on_return=backer_return, upright=backer_upright),
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
    drawing = read_asked(path, request)
    if request.priced:
        refuse_absurd(drawing)
    try:
        corrections = corrections_of(drawing, request)
    except TakeoffError as error:
        raise error.at(str(drawing.path)) from None
    pieces = []
    for piece in drawing.pieces:
        try:
            pieces += _measured(drawing, piece, request, corrections)
        except TakeoffError as error:
            several = len(drawing.pieces) > 1
            raise error.at(
                f"{drawing.path}: {piece.name}" if several else str(drawing.path)
            ) from None
    return Measurement(
        tuple(pieces), drawing.skipped, _notes_that_matter(drawing, pieces), request.settings()
    )


def read_asked(path: str | Path, request: MeasureRequest) -> Drawing:
    """Read a drawing in the unit told, else declared, else usual in the shop.

    Parameters
    ----------
    path : str or Path
        The file.
    request : MeasureRequest
        What is asked of it.

    Returns
    -------
    Drawing
        Its pieces in metres.

    Raises
    ------
    DrawingError
        If it cannot be used as it stands.

    Examples
    --------
    >>> read_asked("no-such.stl", MeasureRequest(unit="mm"))
    Traceback (most recent call last):
    takeoff.errors.UnreadableError: no-such.stl: there is no such file
    """
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


def _measured(
    drawing: Drawing, piece: DrawnPiece, request: MeasureRequest, corrections: Corrections
) -> list[MeasuredPiece]:
    """Measure all that is cast after one piece of a drawing: several only in a form."""
    shape = piece.shape
    if isinstance(shape, Outline):
        castings: tuple[Casting, ...] = (_outline_casting(shape, request),)
    else:
        refuse_unsound(piece)
        castings = mesh_castings(shape, request, corrections, mended=piece.mended)
    measured = []
    for number, cast in enumerate(castings, 1):
        solid_m3 = _solid_m3(piece) if cast.kind is ModelKind.PIECE else None
        laid = lay(
            cast.surfaces,
            face_coat=request.face_coat,
            backer=request.backer,
            solid_m3=solid_m3,
        )
        exact, exact_notes = _exact(cast, request) if laid.rows else (None, ())
        measured.append(
            MeasuredPiece(
                name=piece.name if len(castings) == 1 else f"{piece.name}-{number}",
                file=str(drawing.path),
                sha256=drawing.sha256,
                unit=drawing.unit,
                kind=cast.kind.value,
                surfaces=cast.surfaces,
                layers=laid,
                solid_m3=solid_m3,
                notes=(*cast.notes, *cast.surfaces.notes, *laid.notes, *exact_notes),
                direction_source=cast.source,
                exact=exact,
            )
        )
    return measured


def _exact(cast: Casting, request: MeasureRequest) -> tuple[ExactVolume | None, tuple[Note, ...]]:
    """Check the layers by another method, where that is asked for."""
    if not request.exact or request.backer.fill:
        return None, ()
    return exact_volume(cast.surfaces, face_coat=request.face_coat, backer=request.backer)


def _outline_casting(outline: Outline, request: MeasureRequest) -> Casting:
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
    return Casting(ModelKind.OUTLINE, surfaces, Source.TOLD, folded.notes)


def refuse_unsound(piece: DrawnPiece) -> None:
    """Refuse meshes whose two sides cannot be told apart.

    Parameters
    ----------
    piece : DrawnPiece
        A piece of a drawing.

    Raises
    ------
    SurfaceError
        If neighbouring facets face opposite ways.

    Examples
    --------
    >>> from takeoff.geometry.outlines import rectangle
    >>> refuse_unsound(DrawnPiece("top", rectangle(2.0, 1.0)))
    """
    report = piece.report
    if report is not None and not (report.consistent and report.oriented):
        raise SurfaceError(
            "neighbouring facets face opposite ways, so that show face and back cannot be told "
            "apart; make the normals consistent in CAD"
        )


def _solid_m3(piece: DrawnPiece) -> float | None:
    return None if piece.report is None else piece.report.volume_m3
