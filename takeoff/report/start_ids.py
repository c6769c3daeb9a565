"""Edges, walls and openings of a started piece by id, as entries to take in where one differs."""

from __future__ import annotations

from collections.abc import Sequence

from takeoff.report.figures import System, written_area, written_length
from takeoff.report.toml_sheet import SheetLine, off, prose
from takeoff.start_documents import (
    StartedEdgeRow,
    StartedOpeningRow,
    StartedPieceRow,
    StartedWallRow,
)

_MOST_LISTED = 40


def id_lines(drawn: Sequence[StartedPieceRow], system: System) -> list[SheetLine]:
    """Give what of a drawing can be told by id, commented out.

    Parameters
    ----------
    drawn : sequence of StartedPieceRow
        The pieces of the drawing.
    system : System
        Which units to write.

    Returns
    -------
    list of SheetLine
        The lines; of a drawing of several pieces a hint alone, since each has an E1 of its own.

    Examples
    --------
    >>> id_lines([], System.METRIC)
    []
    """
    if len(drawn) > 1:
        return prose(
            "Edges, walls and openings are told by id where a drawing holds one piece alone; "
            "takeoff check lists edges, takeoff measure walls and openings of each piece."
        )
    lines: list[SheetLine] = []
    for piece in drawn:
        lines += _edge_lines(piece, system)
        lines += _opening_lines(piece["openings"], system)
        lines += _wall_lines(piece["walls"], system)
        if piece["edges"]:
            lines += prose(
                "Its walls have ids of their own, R1, U1 .., once their depth is told: takeoff "
                "measure lists them, and [piece.wall] takes lines like those of [backer] way."
            )
    return lines


def _edge_lines(piece: StartedPieceRow, system: System) -> list[SheetLine]:
    edges = piece["edges"]
    if not edges:
        return []
    outline_openings = [
        f"Opening {one['id']}, {_sides(one, system)}, is bounded by {', '.join(one['edges'])}: "
        + (
            "narrow, so bare unless its edges are told a depth."
            if one["bare"]
            else "its wall is cast unless its edges are told 0."
        )
        for one in piece["openings"]
    ]
    return [
        *prose(
            "An edge that is not as deep as edge_depth is told by its id, and 0 makes it bare. "
            "They run counter-clockwise from the lowest corner."
        ),
        *(line for text in outline_openings for line in prose(text)),
        off("[piece.edge]"),
        *(off(f"{edge['id']} = 0", _edge_words(edge, system)) for edge in edges[:_MOST_LISTED]),
        *_more(len(edges), "edges: takeoff check --json lists them all"),
    ]


def _sides(opening: StartedOpeningRow, system: System) -> str:
    return " x ".join(written_length(side_m, system) for side_m in opening["size_m"])


def _edge_words(edge: StartedEdgeRow, system: System) -> str:
    whose = "" if edge["opening"] is None else f"opening {edge['opening']}: "
    curved = ", curved" if edge["curved"] else ""
    return f"{whose}{edge['side']}, {written_length(edge['length_m'], system)}{curved}"


def _opening_lines(openings: Sequence[StartedOpeningRow], system: System) -> list[SheetLine]:
    """Give the openings of a mesh; those of an outline go by their edges."""
    of_mesh = [one for one in openings if one["depth_m"] is not None]
    if not of_mesh:
        return []
    return [
        *prose("The wall of an opening is coated or bare; as it stands here unless told."),
        off("[piece.opening]"),
        *(
            off(
                f'{one["id"]} = "{"bare" if one["bare"] else "coated"}"',
                f"{_sides(one, system)} wide, {written_length(one['depth_m'] or 0.0, system)} deep",
            )
            for one in of_mesh[:_MOST_LISTED]
        ),
        *_more(len(of_mesh), "openings: takeoff measure lists them all"),
    ]


def _wall_lines(walls: Sequence[StartedWallRow], system: System) -> list[SheetLine]:
    if not walls:
        return []
    return [
        *prose(
            "A poured backer stands on no wall deeper than the layers of the show face. One that "
            "is cast another way than [backer] says is told here: dammed, cored, filled, or with "
            "[wall_backer] packed or sprayed."
        ),
        off("[piece.wall]"),
        *(
            off(f'{wall["id"]} = "dammed"', _wall_words(wall, system))
            for wall in walls[:_MOST_LISTED]
        ),
        *_more(len(walls), "walls: takeoff measure lists them all"),
        *prose("A surface that was told apart wrongly: show_face, return, upright or back."),
        off("[piece.surface]"),
        off(f'{walls[0]["id"]} = "{walls[0]["what"]}"', "takeoff measure says why of each"),
    ]


def _wall_words(wall: StartedWallRow, system: System) -> str:
    whose = "" if wall["opening"] is None else f" of opening {wall['opening']}"
    depth, area = written_length(wall["depth_m"], system), written_area(wall["area_m2"], system)
    return f"{wall['what']}{whose}, {depth} deep, {area}"


def _more(count: int, what: str) -> list[SheetLine]:
    return prose(f"... and {count - _MOST_LISTED} more {what}.") if count > _MOST_LISTED else []
