"""The tables of one piece on the page of a bid: surfaces, openings, layers, portions, ways."""

from __future__ import annotations

from pathlib import PurePath

from takeoff.documents import BidPieceRow, MeasuredPieceRow
from takeoff.report.bid_words import trade_word
from takeoff.report.figures import written_length, written_volume
from takeoff.report.measure_text import totals_line, trust_lines, with_range
from takeoff.report.page_cells import (
    NOTHING,
    Cell,
    Column,
    Placed,
    Table,
    across,
    columns,
    words,
)
from takeoff.report.way_text import way_remarks, way_table


def tables_of_piece(piece: BidPieceRow, placed: Placed, currency: str) -> list[Table]:
    """Set up the tables of a piece.

    Parameters
    ----------
    piece : BidPieceRow
        The piece.
    placed : Placed
        The same piece, with its place in the document.
    currency : str
        Currency of the money.

    Returns
    -------
    list of Table
        Those that have rows: surfaces, openings, layers, portions and ways to cast its walls.

    Examples
    --------
    >>> piece = {"surfaces": [], "openings": [], "layers": [], "portions": [], "wall_ways": []}
    >>> tables_of_piece(piece, Placed(piece, "/pieces/0", None), "EUR")
    []
    """
    tables = measured_tables(piece, placed)
    if piece["portions"]:
        tables.append(_portions(placed))
    tables += _ways(piece, placed, currency)
    return tables


def measured_tables(piece: MeasuredPieceRow, placed: Placed) -> list[Table]:
    """Set up the tables of what was measured of a piece.

    Parameters
    ----------
    piece : MeasuredPieceRow
        The piece.
    placed : Placed
        The same piece, with its place in the document.

    Returns
    -------
    list of Table
        Those that have rows: surfaces, openings and layers.

    Examples
    --------
    >>> piece = {"surfaces": [], "openings": [], "layers": []}
    >>> measured_tables(piece, Placed(piece, "/pieces/0", None))
    []
    """
    tables = []
    if piece["surfaces"]:
        tables.append(_surfaces(piece, placed))
    if piece["openings"]:
        tables.append(_openings(placed))
    if piece["layers"]:
        tables.append(_layers(piece, placed))
    return tables


def source_words(piece: MeasuredPieceRow) -> str:
    """Say where a piece comes from, and how it was read.

    Parameters
    ----------
    piece : MeasuredPieceRow
        The piece.

    Returns
    -------
    str
        File, unit, kind, direction and the hash of the file.

    Examples
    --------
    >>> source_words({"file": "in/slab.stl", "unit": "mm", "kind": "open", "sha256": 64 * "a",
    ...               "direction_source": "told"})
    'slab.stl, unit mm, open, show direction told, SHA-256 aaaaaaaaaaaa'
    """
    return (
        f"{PurePath(piece['file']).name}, unit {piece['unit']}, {piece['kind']}, "
        f"show direction {piece['direction_source']}, SHA-256 {piece['sha256'][:12]}"
    )


def _surfaces(piece: MeasuredPieceRow, placed: Placed) -> Table:
    """List every surface with its class, and why."""
    rows = []
    for surface, row in zip(placed.parts("surfaces"), piece["surfaces"], strict=True):
        found = row["found_class"]
        corrected = f"found as {trade_word(found)}" if found != row["class"] else ""
        rows.append(
            (
                surface.cell("id"),
                Cell(trade_word(row["class"]), after=corrected, surface_class=row["class"]),
                surface.cell("area_m2"),
                surface.cell("depth_m") if row["depth_m"] > 0.0 else Cell(NOTHING),
                surface.cell("opening"),
                surface.cell("why"),
            )
        )
    foot = (across("cast against the form", 2), placed.cell("form_area_m2"), across("", 3))
    names = columns("surface, class, area, depth, opening, why", right="area, depth")
    said = (totals_line(piece, placed.system),)
    return Table("surfaces", names, tuple(rows), (foot,), said)


def _openings(placed: Placed) -> Table:
    """List every opening."""
    rows = tuple(
        (
            opening.cell("id"),
            opening.cell("wall_area_m2"),
            opening.cell("width_m"),
            opening.cell("depth_m"),
            Cell("bare" if opening.row["bare"] else "coated", f"{opening.at}/bare"),
        )
        for opening in placed.parts("openings")
    )
    names = columns("opening, wall, width, depth, its wall is", right="wall, width, depth")
    return Table("openings", names, rows)


def _layers(piece: MeasuredPieceRow, placed: Placed) -> Table:
    """Set the true volume of each layer on each class beside area times thickness."""
    system, rows = placed.system, []
    for layer, row in zip(placed.parts("layers"), piece["layers"], strict=True):
        thick = with_range(row["thickness_m"], row["thickness_range_m"], written_length, system)
        volume = with_range(row["volume_m3"], row["volume_range_m3"], written_volume, system)
        rows.append(
            (
                Cell(trade_word(row["layer"])),
                Cell(trade_word(row["class"]), surface_class=row["class"]),
                layer.cell("area_m2"),
                layer.cell("thickness_m", after=_behind(thick)),
                layer.cell("volume_m3", after=_behind(volume)),
                Cell(written_volume(row["area_m2"] * row["thickness_m"], system)),
            )
        )
    true_m3, flat_m3 = piece["layer_volume_m3"], piece["flat_volume_m3"]
    true, flat = placed.part("layer_volume_m3"), placed.part("flat_volume_m3")
    foot = tuple(
        (across(trade_word(layer), 4), true.cell(layer), flat.cell(layer))
        for layer in ("face_coat", "backer")
    )
    both = (
        across("both layers", 4),
        Cell(written_volume(true_m3["face_coat"] + true_m3["backer"], system)),
        Cell(written_volume(flat_m3["face_coat"] + flat_m3["backer"], system)),
    )
    right = "area, thickness, true volume, area x thickness"
    names = columns(f"layer, on, {right}", right=right)
    said = tuple(trust_lines(piece, system))
    return Table("layers, flat against true volume", names, tuple(rows), (*foot, both), said)


def _behind(text: str) -> str:
    """Give what stands behind a value with its range: the range."""
    return text.partition(" (")[2].removesuffix(")")


def _portions(placed: Placed) -> Table:
    """Say what of each mix goes on each class."""
    rows = tuple(
        (
            Cell(trade_word(str(one.row["portion"]))),
            Cell(
                trade_word(str(one.row["surface_class"])),
                surface_class=str(one.row["surface_class"]),
            ),
            one.cell("volume_m3"),
            one.cell("mass_kg"),
        )
        for one in placed.parts("portions")
    )
    names = columns("mix for, on, volume, weight", right="volume, weight")
    foot = ((across("one piece, wet", 3), placed.cell("wet_kg")),)
    return Table("fresh mix in one piece", names, rows, foot)


def _ways(piece: BidPieceRow, placed: Placed, currency: str) -> list[Table]:
    """Set the ways to cast walls side by side, where a poured backer does not stand."""
    rows = [row for row in piece["wall_ways"] if not row["stands"]]
    if not rows:
        return []
    head, right, lines = way_table(rows, system=placed.system, currency=currency)
    names = tuple(Column(name, number in right) for number, name in enumerate(head))
    chosen = dict.fromkeys(piece["ways"].values())
    said = [f"cast here: {', '.join(chosen)}"] if chosen else []
    return [
        Table(
            "ways to cast its walls",
            names,
            tuple(words(*line) for line in lines),
            remarks=(*said, *way_remarks(rows)),
            folded=True,
        )
    ]
