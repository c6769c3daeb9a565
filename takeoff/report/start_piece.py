"""One drawing of a started job as the lines of its ``[[piece]]``."""

from __future__ import annotations

from collections.abc import Sequence

from takeoff.errors import QuantityError
from takeoff.report.figures import System, written_area, written_length
from takeoff.report.start_ids import id_lines
from takeoff.report.system_choice import system_of_unit
from takeoff.report.toml_sheet import SheetLine, entry, off, prose, toml_text
from takeoff.start_documents import (
    EDIT_MARK,
    StartedDrawingRow,
    StartedPieceRow,
    StartedReadingRow,
    StartedUnitRow,
)
from takeoff.units import metres_per_unit

_HASH_SIGNS = 12
_NAMES_SHOWN = 20


def piece_lines(row: StartedDrawingRow) -> list[SheetLine]:
    """Give a drawing as the lines of its ``[[piece]]``, or of the reason why it has none.

    Parameters
    ----------
    row : StartedDrawingRow
        What was found in it.

    Returns
    -------
    list of SheetLine
        The lines.

    Examples
    --------
    >>> from takeoff.start_documents import StartErrorRow
    >>> gone = StartedDrawingRow(file="a.stl", drawing="a.stl", name="a", sha256=None, unit=None,
    ...     drawn=[], doubts=[], error=StartErrorRow(kind="mesh", text="it holds no facets"))
    >>> [line.comment for line in piece_lines(gone)]
    ['a.stl is left out: it holds no facets']
    """
    error, unit = row["error"], row["unit"]
    if error is not None or unit is None:
        return prose(f"{row['file']} is left out" + (f": {error['text']}" if error else ""))
    system = system_of_unit(unit["name"])
    return [
        *prose(f"{row['file']}: {drawn_text(row)}"),
        *(line for doubt in row["doubts"] for line in prose(f"Note: {doubt}")),
        *_pieces_named(row, system),
        SheetLine("[[piece]]"),
        entry("name", row["name"]),
        entry("drawing", row["drawing"]),
        entry(
            "sha256",
            (row["sha256"] or "")[:_HASH_SIGNS],
            "ids told below are read off this drawing; with another they are refused",
        ),
        *_unit_lines(unit),
        *_shown_lines(row["drawn"], system),
        *_depth_lines(row["drawn"]),
        *_count_lines(row),
        *id_lines(row["drawn"], system),
    ]


def drawn_text(row: StartedDrawingRow) -> str:
    """Say in a few words what a drawing holds.

    Parameters
    ----------
    row : StartedDrawingRow
        What was found in it.

    Returns
    -------
    str
        Unit, size, and what was found of a single piece; of several their number.

    Examples
    --------
    >>> from takeoff.start_documents import StartedUnitRow
    >>> unit = StartedUnitRow(name="mm", source="told", passed_over=None, sizes=[])
    >>> drawn_text(StartedDrawingRow(file="a.dxf", drawing="a.dxf", name="a", sha256="", unit=unit,
    ...     drawn=[], doubts=[], error=None))
    'unit mm (told), 0 pieces'
    """
    unit, drawn = row["unit"], row["drawn"]
    if unit is None or unit["name"] is None:
        of_unit, system = "its unit is not told", System.METRIC
    else:
        of_unit, system = _unit_words(unit), system_of_unit(unit["name"])
    if len(drawn) != 1:
        return f"{of_unit}, {len(drawn)} pieces"
    return f"{of_unit}, {_piece_text(drawn[0], system)}"


def _unit_words(unit: StartedUnitRow) -> str:
    over = _passed_over(unit)
    return f"unit {unit['name']} ({unit['source']}{f'; {over}' if over else ''})"


def _passed_over(unit: StartedUnitRow) -> str:
    """Say which unit was told and is not taken, and how to overrule the drawing."""
    told = unit["passed_over"]
    if told is None:
        return ""
    instead = f"to overrule the drawing, write unit = {toml_text(told)}"
    return f"{told} was told and is not taken; {instead}"


def size_text(size_m: Sequence[float], system: System) -> str:
    """Write a size as its sides.

    Parameters
    ----------
    size_m : sequence of float
        The sides. [m]
    system : System
        Which units to write.

    Returns
    -------
    str
        The sides with their units.

    Examples
    --------
    >>> size_text([1.2, 2.7], System.METRIC)
    '1200 mm x 2700 mm'
    """
    return " x ".join(written_length(side_m, system) for side_m in size_m)


def _piece_text(piece: StartedPieceRow, system: System) -> str:
    size = f" {size_text(piece['size_m'], system)}" if piece["size_m"] else ""
    words = [f"{piece['drawn_as']}{size}"]
    if piece["source"] in {"found", "told"}:
        words.append(f"{piece['kind']}, show side {piece['show']} ({piece['source']})")
    if piece["source"] == "asked":
        words.append(f"{len(piece['readings'])} ways to read it")
    for what, rows in (("edge", piece["edges"]), ("opening", piece["openings"])):
        words += [_counted(len(rows), what)] if rows else []
    walls = [wall["what"] for wall in piece["walls"]]
    words += [_counted(walls.count(what), what) for what in dict.fromkeys(walls)]
    return ", ".join(words)


def _counted(number: int, what: str) -> str:
    return f"{number} {what}" + ("" if number == 1 else "s")


def _pieces_named(row: StartedDrawingRow, system: System) -> list[SheetLine]:
    names = [
        piece["name"] + (f" ({size_text(piece['size_m'], system)})" if piece["size_m"] else "")
        for piece in row["drawn"]
    ]
    if len(names) == 1:
        return []
    listed = ", ".join(names[:_NAMES_SHOWN])
    more = f" and {len(names) - _NAMES_SHOWN} more" if len(names) > _NAMES_SHOWN else ""
    return prose(f"It holds {len(names)} pieces, each of them cast: {listed}{more}")


def _unit_lines(unit: StartedUnitRow) -> list[SheetLine]:
    name = unit["name"]
    if name is None:
        sizes = "; ".join(
            f"{' x '.join(f'{side_m:.4g}' for side_m in row['size_m'])} m ({row['unit']})"
            for row in unit["sizes"]
        )
        return [
            *prose(
                f"The drawing does not say its unit; it would measure {sizes}. Started again with "
                "--unit, into another folder or without these two files, it lists what else was "
                "found: edges, openings, walls."
            ),
            entry("unit", EDIT_MARK, "mm, cm, m, in or ft", asks="the unit of the drawing"),
        ]
    if unit["source"] == "told":
        return [entry("unit", name, "as told")]
    over = _passed_over(unit)
    noted = prose(f"The drawing declares its unit, {name}; {over}") if over else []
    try:
        metres_per_unit(name)
    except QuantityError:
        return noted or prose(f"Its unit, {name}, stands in the drawing itself.")
    return [*noted, entry("unit", name, "as the drawing itself declares")]


def _shown_lines(drawn: Sequence[StartedPieceRow], system: System) -> list[SheetLine]:
    """Give kind and show direction of the meshes: one line each where all of them agree."""
    meshes = [piece for piece in drawn if piece["drawn_as"] == "mesh"]
    asked = [piece for piece in meshes if piece["source"] == "asked"]
    if asked:
        return _asking_lines(asked, system)
    if not meshes:
        return []
    first = meshes[0]
    kind, show = first["kind"], first["show"]
    alike = all((piece["kind"], piece["show"]) == (kind, show) for piece in meshes)
    if not alike or kind is None or show is None:
        told = "; ".join(f"{piece['name']}: {_found_words(piece)}" for piece in meshes)
        return prose(f"Kind and show direction are left out, and found by themselves: {told}")
    said = f"{first['source']}: {first['why']}" if first["why"] else str(first["source"])
    return [
        entry("kind", kind, "piece, form (it is cast in) or open (the surface that is cast)"),
        entry("show", show, said),
    ]


def _found_words(piece: StartedPieceRow) -> str:
    return f"{piece['kind']}, {piece['show']}" if piece["kind"] else piece["why"]


def _asking_lines(asked: Sequence[StartedPieceRow], system: System) -> list[SheetLine]:
    """Give the readings of every mesh that is asked about, and the line to edit."""
    lines: list[SheetLine] = []
    for piece in asked:
        lines += prose(
            f"{piece['name']}: {piece['why']}:" if len(asked) > 1 else f"{piece['why']}:"
        )
        lines += [_reading_line(reading, system) for reading in piece["readings"]]
    kinds = {piece["kind"] for piece in asked}
    told = next(iter(kinds)) if len(kinds) == 1 else None
    if any("kind" in piece["asked"] for piece in asked):
        text = "piece, form (it is cast in) or open (the surface that is cast)"
        show = asked[0]["show"] or ""
        return [*lines, entry("kind", EDIT_MARK, text, asks=_ASKS_KIND), entry("show", show)]
    told_kind = [] if told is None else [entry("kind", told, "as told")]
    text = "S1, S2 .. of the above, or up, down, front, back, left, right or x,y,z"
    lines += [*told_kind, entry("show", EDIT_MARK, text, asks=_ASKS_SHOW)]
    if told is None:
        kind = asked[0]["readings"][0]["kind"] if asked[0]["readings"] else "piece"
        lines.append(off(f'kind = "{kind}"', "piece, form or open; tell it beside a direction"))
    return lines


_ASKS_KIND = "what the drawing shows"
_ASKS_SHOW = "which side is the show face; the ways to read it stand above"


def _reading_line(reading: StartedReadingRow, system: System) -> SheetLine:
    areas = (
        ("show face", reading["show_face_m2"]),
        ("return", reading["return_m2"]),
        ("upright", reading["upright_m2"]),
    )
    known = ", ".join(
        f"{what} {written_area(area_m2, system)}" for what, area_m2 in areas if area_m2 is not None
    )
    number = f"{reading['id'] or '-'}  {reading['kind']}, {reading['show']}"
    return SheetLine(comment=f"  {number}" + (f": {known}" if known else ""))


def _depth_lines(drawn: Sequence[StartedPieceRow]) -> list[SheetLine]:
    if not any("edge_depth" in piece["asked"] for piece in drawn):
        return []
    text = 'how far the walls run behind the show face: like "40 mm", or "0 mm" for a flat slab'
    return [entry("edge_depth", EDIT_MARK, text, asks="how deep the edges of the outline are")]


def _count_lines(row: StartedDrawingRow) -> list[SheetLine]:
    layer = off('layer = ["0"]', "drawing layers to take; all unless told")
    return [
        SheetLine("count = 1", "how many are cast"),
        off("forms = 1", "how many forms there are of it; as many as are cast unless told"),
        off('return_limit = "110 mm"', "deepest wall still called a return; 110 mm unless told"),
        *([layer] if row["file"].lower().endswith(".dxf") else []),
        off("turned = true", "turned over in its form; not unless told"),
        off('form_mass = "60 kg"', "mass of the form, where it is turned in it; none unless told"),
    ]
