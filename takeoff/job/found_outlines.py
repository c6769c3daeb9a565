"""What is found in an outline: its edges by id, and its openings with the edges round them."""

from __future__ import annotations

from takeoff.files.drawing import DrawnPiece
from takeoff.geometry.bearings import bearing_of
from takeoff.geometry.outline_rules import OutlineRules
from takeoff.geometry.outlines import (
    Loop,
    Outline,
    bounds_m,
    is_straight,
    narrowest_m,
    side_length_m,
)
from takeoff.piece.rules import SurfaceRules
from takeoff.piece.surfaces import ModelKind
from takeoff.start_documents import StartedEdgeRow, StartedOpeningRow, StartedPieceRow


def outline_row(piece: DrawnPiece, outline: Outline) -> StartedPieceRow:
    """Give an outline as a row.

    Parameters
    ----------
    piece : DrawnPiece
        The piece of the drawing.
    outline : Outline
        Its shape.

    Returns
    -------
    StartedPieceRow
        Size, edges and openings.

    Examples
    --------
    >>> from takeoff.geometry.outlines import rectangle
    >>> row = outline_row(DrawnPiece("top", rectangle(2.0, 1.0)), rectangle(2.0, 1.0))
    >>> [(edge["id"], edge["side"]) for edge in row["edges"]][:2]
    [('E1', 'bottom'), ('E2', 'right')]
    """
    return StartedPieceRow(
        name=piece.name,
        drawn_as="outline",
        size_m=_size_m(outline.outer),
        kind=ModelKind.OUTLINE.value,
        show=None,
        source=None,
        asked=["edge_depth"],
        why="",
        edges=[
            StartedEdgeRow(
                id=side.id,
                side=bearing_of(side, of_opening=number > 0).value,
                length_m=side_length_m(side),
                curved=not is_straight(side),
                opening=number or None,
            )
            for number, loop in enumerate((outline.outer, *outline.holes))
            for side in loop
        ],
        openings=[_opening_row(number, hole) for number, hole in enumerate(outline.holes, 1)],
        walls=[],
        readings=[],
    )


def _size_m(loop: Loop) -> list[float]:
    low, high = bounds_m(Outline(loop, ()))
    return [top - bottom for bottom, top in zip(low, high, strict=True)]


def _opening_row(number: int, hole: Loop) -> StartedOpeningRow:
    width_m = narrowest_m(hole, chord_m=OutlineRules().chord_m)
    return StartedOpeningRow(
        id=str(number),
        size_m=_size_m(hole),
        depth_m=None,
        bare=width_m < SurfaceRules().narrow_opening_m,
        edges=[side.id for side in hole],
    )
