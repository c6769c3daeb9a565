"""A measurement as text an estimator reads."""

from __future__ import annotations

from collections.abc import Callable

from takeoff.documents import MeasureDocument, MeasuredPieceRow
from takeoff.measure_documents import LayerRow, RangeRow, SurfaceRow
from takeoff.report.bid_words import trade_word
from takeoff.report.figures import System, written_area, written_length, written_volume
from takeoff.report.note_text import note_line
from takeoff.report.system_choice import system_of_unit
from takeoff.report.tables import plain_table


def measure_text(document: MeasureDocument, *, width: int = 0) -> str:
    """Write a measurement as text.

    Parameters
    ----------
    document : MeasureDocument
        The document.
    width : int, default 0
        Width of the terminal; 0 for any.

    Returns
    -------
    str
        The text, each piece in the system of its drawing, without a line feed at the end.

    Examples
    --------
    >>> measure_text({"schema": "takeoff.measure/1", "version": "0", "settings": {}, "notes": [],
    ...               "errors": [], "pieces": [], "skipped": []})
    ''
    """
    parts = [
        piece_text(piece, system=system_of_unit(piece["unit"]), width=width)
        for piece in document["pieces"]
    ]
    parts += [f"skipped: {row['count']} {row['what']}: {row['why']}" for row in document["skipped"]]
    parts += [note_line(row) for row in document["notes"]]
    parts += [f"REFUSED {row['where'] or row['file']}: {row['text']}" for row in document["errors"]]
    return "\n\n".join(parts)


def piece_text(piece: MeasuredPieceRow, *, system: System, width: int = 0) -> str:
    """Write one measured piece as text.

    Parameters
    ----------
    piece : MeasuredPieceRow
        The piece.
    system : System
        Units of the text.
    width : int, default 0
        Width of the terminal; 0 for any.

    Returns
    -------
    str
        Surfaces, totals, layers and notes.

    Examples
    --------
    >>> layers = {"face_coat": 0.0, "backer": 0.0}
    >>> piece = {"name": "top", "file": "top.stl", "sha256": "", "unit": "mm", "kind": "open",
    ...          "show_direction": [0.0, 0.0, 1.0], "direction_source": "told", "surfaces": [],
    ...          "openings": [], "min_radius_m": None, "bare_wall_m2": 0.0,
    ...          "area_m2": {"show_face": 0.5, "return": 0.0, "upright": 0.0, "back": 0.0},
    ...          "opening_wall_m2": 0.0, "undercut_m2": 0.0, "arris_m": 0.0,
    ...          "sharp_arris_m": 0.0, "rounded_arris_m": 0.0, "inside_corner_m": 0.0,
    ...          "sharp_inside_corner_m": 0.0, "rounded_inside_corner_m": 0.0,
    ...          "form_area_m2": 0.5, "layers": [],
    ...          "layer_volume_m3": layers, "flat_volume_m3": layers,
    ...          "volume_uncertainty_share": 0.0, "exact": None, "inner_form_m2": 0.0,
    ...          "filled_m3": 0.0, "walls": [], "solid_volume_m3": None, "notes": []}
    >>> print(piece_text(piece, system=System.METRIC).splitlines()[0])
    top (top.stl, open)
    """
    lines = [
        f"{piece['name']} ({piece['file']}, {piece['kind']})",
        _surface_table(piece, system, width),
        totals_line(piece, system),
    ]
    if piece["layers"]:
        lines.append(_layer_table(piece, system, width))
        lines += trust_lines(piece, system)
    lines += [note_line(row) for row in piece["notes"]]
    return "\n".join(lines)


def _surface_table(piece: MeasuredPieceRow, system: System, width: int) -> str:
    rows = [_surface_cells(surface, system) for surface in piece["surfaces"]]
    head = ["surface", "class", "area", "depth", "why"]
    return plain_table(head, rows, right=[2, 3], width=width)


def _surface_cells(surface: SurfaceRow, system: System) -> list[str]:
    name = surface["id"] + (f" ({surface['opening']})" if surface["opening"] else "")
    return [
        name,
        trade_word(surface["class"]),
        written_area(surface["area_m2"], system),
        written_length(surface["depth_m"], system) if surface["depth_m"] > 0.0 else "-",
        surface["why"],
    ]


def totals_line(piece: MeasuredPieceRow, system: System) -> str:
    """Say what areas and edges a piece has in all.

    Parameters
    ----------
    piece : MeasuredPieceRow
        The piece.
    system : System
        Units of the text.

    Returns
    -------
    str
        Areas by class, cast area, arrises, inside corners and what is odd.

    Examples
    --------
    >>> piece = {"area_m2": {"show_face": 0.5, "return": 0.0, "upright": 0.0, "back": 0.0},
    ...          "form_area_m2": 0.5, "arris_m": 0.0, "rounded_arris_m": 0.0,
    ...          "inside_corner_m": 0.0, "rounded_inside_corner_m": 0.0, "min_radius_m": None,
    ...          "undercut_m2": 0.0, "opening_wall_m2": 0.0, "bare_wall_m2": 0.0}
    >>> totals_line(piece, System.METRIC).split("; ")[:2]
    ['show face 0.5 m²', 'returns 0 m²']
    """
    area = piece["area_m2"]
    parts = [
        f"show face {written_area(area['show_face'], system)}",
        f"returns {written_area(area['return'], system)}",
        f"uprights {written_area(area['upright'], system)}",
        f"cast against the form {written_area(piece['form_area_m2'], system)}",
        f"arris {_edge_length(piece['arris_m'], piece['rounded_arris_m'], system)}",
        "inside corners "
        + _edge_length(piece["inside_corner_m"], piece["rounded_inside_corner_m"], system),
    ]
    if piece["min_radius_m"] is not None:
        parts.append(f"tightest radius {written_length(piece['min_radius_m'], system)}")
    if piece["undercut_m2"] > 0.0:
        parts.append(f"leaning in {written_area(piece['undercut_m2'], system)}")
    if piece["opening_wall_m2"] > 0.0:
        walls = written_area(piece["opening_wall_m2"], system)
        parts.append(f"of this, walls of openings {walls}")
    if piece["bare_wall_m2"] > 0.0:
        parts.append(f"bare and not cast {written_area(piece['bare_wall_m2'], system)}")
    return "; ".join(parts)


def _edge_length(length_m: float, rounded_m: float, system: System) -> str:
    """Write a length of edges, and how much of it is rounded."""
    text = written_length(length_m, system)
    return text if rounded_m == 0.0 else f"{text} ({written_length(rounded_m, system)} rounded)"


def _layer_table(piece: MeasuredPieceRow, system: System, width: int) -> str:
    rows = [_layer_cells(row, system) for row in piece["layers"]]
    true, flat = piece["layer_volume_m3"], piece["flat_volume_m3"]
    total_m3 = true["face_coat"] + true["backer"]
    flat_m3 = flat["face_coat"] + flat["backer"]
    rows.append(
        [
            "both layers",
            "",
            "",
            "",
            written_volume(total_m3, system),
            written_volume(flat_m3, system),
        ]
    )
    head = ["layer", "on", "area", "thickness", "true volume", "area x thickness"]
    return plain_table(head, rows, right=[2, 3, 4, 5], width=width)


def with_range(
    value: float,
    ends: RangeRow | None,
    written: Callable[[float, System], str],
    system: System,
) -> str:
    """Write a value, and the range that it may come out in.

    Parameters
    ----------
    value : float
        The value, in SI.
    ends : RangeRow or None
        Its least and most; None where there is no range.
    written : callable
        Writes a value in a system of units.
    system : System
        The system.

    Returns
    -------
    str
        The value, and its ends in brackets.

    Examples
    --------
    >>> ends = {"low": 0.003, "aimed": 0.004, "high": 0.005}
    >>> with_range(0.004, ends, written_length, System.METRIC)
    '4 mm (3 mm to 5 mm)'
    """
    if ends is None:
        return written(value, system)
    low, high = written(ends["low"], system), written(ends["high"], system)
    return f"{written(value, system)} ({low} to {high})"


def trust_lines(piece: MeasuredPieceRow, system: System) -> list[str]:
    """Say how far the volume may be off, what walls take, and what an exact method gives.

    Parameters
    ----------
    piece : MeasuredPieceRow
        The piece.
    system : System
        Units of the text.

    Returns
    -------
    list of str
        The sentences; empty where there is nothing to say.

    Examples
    --------
    >>> piece = {"layer_volume_m3": {"face_coat": 0.002, "backer": 0.008},
    ...          "volume_uncertainty_share": 0.001, "inner_form_m2": 0.0, "exact": None}
    >>> trust_lines(piece, System.METRIC)
    ['both layers within 0.1 % (0.01 L)']
    """
    lines = []
    volumes = piece["layer_volume_m3"]
    total_m3 = volumes["face_coat"] + volumes["backer"]
    if piece["volume_uncertainty_share"] > 0.0:
        share = piece["volume_uncertainty_share"]
        lines.append(
            f"both layers within {share * 100.0:.2g} % ({written_volume(share * total_m3, system)})"
        )
    if piece["inner_form_m2"] > 0.0:
        lines.append(
            f"inner face of the backer on returns and uprights "
            f"{written_area(piece['inner_form_m2'], system)}"
        )
    exact = piece["exact"]
    if exact is not None:
        off = (total_m3 / exact["volume_m3"] - 1.0) * 100.0
        lines.append(
            f"exact check, {exact['method']}: {written_volume(exact['volume_m3'], system)}, "
            f"{off:+.3f} %"
        )
    return lines


def _layer_cells(row: LayerRow, system: System) -> list[str]:
    return [
        trade_word(row["layer"]),
        trade_word(row["class"]),
        written_area(row["area_m2"], system),
        with_range(row["thickness_m"], row["thickness_range_m"], written_length, system),
        with_range(row["volume_m3"], row["volume_range_m3"], written_volume, system),
        written_volume(row["area_m2"] * row["thickness_m"], system),
    ]
