"""Corrections by id, taken only for the drawing that they were made on."""

from __future__ import annotations

from takeoff.errors import SurfaceError
from takeoff.files.drawing import Drawing
from takeoff.geometry.outlines import Outline
from takeoff.measuring.request import MeasureRequest
from takeoff.piece.corrections import Corrections, read_corrections
from takeoff.piece.directions import reading_number

SHORTEST = 12
"""Fewest signs of a hash that tell two drawings apart for sure."""
_MOST_NAMED = 6


def corrections_of(drawing: Drawing, request: MeasureRequest) -> Corrections:
    """Give the corrections asked of a drawing, if it is still the one they were made on.

    Parameters
    ----------
    drawing : Drawing
        The drawing as read.
    request : MeasureRequest
        What is asked of it.

    Returns
    -------
    Corrections
        The corrections, none where none were asked.

    Raises
    ------
    SurfaceError
        If ids are used and the drawing is another one than before, or is not said to be the
        same; if it holds several pieces, or is an outline, which ids of surfaces do not fit.

    Examples
    --------
    >>> from takeoff.files.drawing import DrawingUnit
    >>> drawing = Drawing("top.stl", "91ab" * 16, DrawingUnit("mm", 0.001, "told"), (), (), (), ())
    >>> corrections_of(drawing, MeasureRequest(surfaces={"R1": "back"}, sha256="91ab91ab91ab"))
    Corrections(surfaces={'R1': <SurfaceClass.BACK: 'back'>}, bare={})
    """
    named = (*request.surfaces, *request.openings, *request.edges_m, *request.ids)
    if request.show is not None and reading_number(request.show) is not None:
        named = (*named, request.show)
    if named and (request.sha256 is not None or request.sha256_needed):
        _refuse_another(drawing, request, named)
    corrections = read_corrections(request.surfaces, request.openings)
    if corrections and len(drawing.pieces) > 1:
        raise SurfaceError(
            f"the drawing holds {len(drawing.pieces)} pieces, each with a {named[0]} of its own; "
            "draw the piece to correct by itself"
        )
    if corrections and any(isinstance(piece.shape, Outline) for piece in drawing.pieces):
        raise SurfaceError(
            f"{named[0]} cannot be corrected: the walls of an outline are what its edges are told "
            "to be; give an edge its depth instead, like E3 = 0"
        )
    return corrections


def _refuse_another(drawing: Drawing, request: MeasureRequest, ids: tuple[str, ...]) -> None:
    """Refuse ids that were read off another drawing."""
    named = ", ".join(ids[:_MOST_NAMED])
    line = f'sha256 = "{drawing.sha256[:SHORTEST]}"'
    told = request.sha256
    if told is None:
        raise SurfaceError(
            f"{named} {'is' if len(ids) == 1 else 'are'} read off a drawing; add this line to its "
            f"[[piece]], above its tables, so that a changed drawing is refused:\n{line}"
        )
    if len(told) < SHORTEST or not drawing.sha256.startswith(told.lower()):
        raise SurfaceError(
            f"the drawing is not the one whose {named} were told (sha256 {told}); measure it, look "
            f"whether the ids still fit, then write:\n{line}"
        )
