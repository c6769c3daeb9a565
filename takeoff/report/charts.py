"""Pictures of figures as plain SVG: flat against true volume, and a pour day along the clock."""

from __future__ import annotations

import math
from collections.abc import Sequence
from xml.etree import ElementTree as Tree

from takeoff.documents import BidDocument, BidPieceRow
from takeoff.measure_documents import LayerVolumeRow
from takeoff.piece.layers import Layer
from takeoff.pour_documents import PouredBatchRow, PouredDayRow
from takeoff.report.bid_words import trade_word
from takeoff.report.figures import System, written_mass, written_volume
from takeoff.report.pour_clock import batch_clocks, clock_text
from takeoff.report.pour_words import placers_of
from takeoff.report.sheet_words import hands_words
from takeoff.report.svg_drawing import (
    DOTTED,
    FAINT,
    HATCHED,
    INK,
    LATE,
    PLAIN,
    QUIET,
    box,
    drawing,
    fitted,
    stroke,
    svg_text,
    write,
)

_FILL = {Layer.FACE_COAT: HATCHED, Layer.BACKER: PLAIN}
_BAR, _GAP, _ROW = 18, 4, 58
_TOP, _NAMES, _BARS, _FIGURES = 34, 240, 380, 280
_LANE, _DAY_NAMES, _DAY_BARS, _DAY_HANDS = 30, 190, 560, 330
_TICKS_S = (900.0, 1800.0, 3600.0, 7200.0, 14400.0)
_MOST_TICKS = 10
_LEAST_DIFFERENCE = 0.0005


def flat_true_svg(document: BidDocument, *, system: System = System.METRIC) -> str:
    """Draw area times thickness beside the true volume of each piece.

    Parameters
    ----------
    document : BidDocument
        A bid.
    system : System, optional
        Units of its figures.

    Returns
    -------
    str
        An SVG file: two bars a piece, the face coat hatched and the backer plain; empty where
        no layers are laid.

    Examples
    --------
    >>> from takeoff.errors import PriceError
    >>> from takeoff.job.result import refused_bid
    >>> flat_true_svg(refused_bid("hall.toml", PriceError("no price for sand")))
    ''
    """
    pieces = [piece for piece in document["pieces"] if _sum_m3(piece["layer_volume_m3"]) > 0.0]
    if not pieces:
        return ""
    most_m3 = max(
        max(_sum_m3(piece["layer_volume_m3"]), _sum_m3(piece["flat_volume_m3"])) for piece in pieces
    )
    about = "; ".join(f"{piece['name']}: {_difference(piece, system)}" for piece in pieces)
    root = drawing(
        _NAMES + _BARS + _FIGURES,
        _TOP + _ROW * len(pieces),
        title="area x thickness against true volume of each piece",
        about=about,
    )
    _legend(root, [("face coat", HATCHED), ("backer", PLAIN)], _NAMES)
    for number, piece in enumerate(pieces):
        top = _TOP + _ROW * number
        stroke(root, (0, top - 4), (_NAMES + _BARS + _FIGURES, top - 4), colour=FAINT)
        write(root, 0, top + 14, fitted(piece["name"], _NAMES - 50), bold=True)
        _bar(root, top, piece["flat_volume_m3"], ("flat", most_m3), system)
        _bar(root, top + _BAR + _GAP, piece["layer_volume_m3"], ("true", most_m3), system)
        write(root, _NAMES + _BARS + 100, top + 14, _verdict(piece), colour=LATE, bold=True)
    return svg_text(root)


def _bar(
    root: Tree.Element,
    top: float,
    volumes_m3: LayerVolumeRow,
    scale: tuple[str, float],
    system: System,
) -> None:
    """Draw one bar, a layer after the other, its name before and its sum behind it."""
    name, most_m3 = scale
    left = float(_NAMES)
    write(root, _NAMES - 8, top + 14, name, anchor="end", colour=QUIET)
    for layer, volume_m3 in zip(Layer, _each_m3(volumes_m3), strict=True):
        width = _BARS * volume_m3 / most_m3
        box(root, left, top, width, _BAR, _FILL[layer])
        left += width
    write(root, left + 8, top + 14, written_volume(_sum_m3(volumes_m3), system))


def _each_m3(volumes_m3: LayerVolumeRow) -> tuple[float, float]:
    return volumes_m3["face_coat"], volumes_m3["backer"]


def _sum_m3(volumes_m3: LayerVolumeRow) -> float:
    return sum(_each_m3(volumes_m3))


def _difference(piece: BidPieceRow, system: System) -> str:
    """Say both volumes in words."""
    flat = written_volume(_sum_m3(piece["flat_volume_m3"]), system)
    true = written_volume(_sum_m3(piece["layer_volume_m3"]), system)
    return f"area x thickness {flat}, true volume {true}, {_verdict(piece)}"


def _verdict(piece: BidPieceRow) -> str:
    """Say how wrong area times thickness is."""
    off = _sum_m3(piece["flat_volume_m3"]) / _sum_m3(piece["layer_volume_m3"]) - 1.0
    if abs(off) < _LEAST_DIFFERENCE:
        return "the same"
    return f"{abs(off) * 100.0:.1f} % too {'much' if off > 0.0 else 'little'}"


def pour_day_svg(day: PouredDayRow, *, system: System = System.METRIC) -> str:
    """Draw the batches of a day along the clock.

    Parameters
    ----------
    day : PouredDayRow
        The day.
    system : System, optional
        Units of its figures.

    Returns
    -------
    str
        An SVG file: a lane a batch, dark while it is mixed, hatched or plain while face coat or
        backer is placed, dotted while it is brushed, and a bar at the time by which it must be
        in the form.

    Examples
    --------
    >>> day = {"day": 1, "makespan_s": 0.0, "makespan_bound_s": 0.0, "proven": True,
    ...        "method": "greedy", "batches": []}
    >>> pour_day_svg(day)
    ''
    """
    batches = day["batches"]
    if not batches:
        return ""
    ends_s = (max(row["brush_end_s"], row["place_end_s"], row["use_by_s"]) for row in batches)
    tick_s, end_s = _ticks(max(ends_s))
    height = _TOP + _LANE * len(batches) + 34
    root = drawing(
        _DAY_NAMES + _DAY_BARS + _DAY_HANDS,
        height,
        title=f"batches of day {day['day']}",
        about="; ".join(_lane_words(row, system) for row in batches),
    )
    kinds = [("mix", INK), ("place face coat", HATCHED), ("place backer", PLAIN)]
    if any(row["brush_end_s"] > row["place_end_s"] for row in batches):
        kinds.append(("brush", DOTTED))
    _legend(root, [*kinds, ("use by", LATE)], _DAY_NAMES)
    bottom = _TOP + _LANE * len(batches)
    for number in range(round(end_s / tick_s) + 1):
        left = _DAY_NAMES + _DAY_BARS * number * tick_s / end_s
        stroke(root, (left, _TOP - 4), (left, bottom + 6), colour=FAINT)
        write(root, left, bottom + 20, clock_text(number * tick_s), anchor="middle", colour=QUIET)
    for number, row in enumerate(batches):
        _lane(root, _TOP + _LANE * number, row, end_s, system)
    return svg_text(root)


def _ticks(last_s: float) -> tuple[float, float]:
    """Give the step between ticks, and the first tick at or after the last time."""
    for step_s in _TICKS_S:
        if last_s / step_s <= _MOST_TICKS:
            break
    return step_s, max(1, math.ceil(last_s / step_s)) * step_s


def _lane(
    root: Tree.Element, top: float, row: PouredBatchRow, end_s: float, system: System
) -> None:
    """Draw one batch from mixing to its use-by."""

    def at(time_s: float) -> float:
        return _DAY_NAMES + _DAY_BARS * time_s / end_s

    height = _LANE - 10
    name = f"{row['id']} {trade_word(row['layer'])}"
    write(root, 0, top + 15, name, bold=True)
    mass = written_mass(row["mass_kg"], system)
    write(root, _DAY_NAMES - 10, top + 15, mass, anchor="end", colour=QUIET)
    middle = top + height / 2
    stroke(root, (at(row["mix_start_s"]), middle), (at(row["use_by_s"]), middle), colour=QUIET)
    spans = (
        (row["mix_start_s"], row["mix_end_s"], INK),
        (row["place_start_s"], row["place_end_s"], _FILL[Layer(row["layer"])]),
        (row["place_end_s"], row["brush_end_s"], DOTTED),
    )
    for start_s, until_s, fill in spans:
        if until_s > start_s:
            box(root, at(start_s), top, at(until_s) - at(start_s), height, fill)
    late = at(row["use_by_s"])
    stroke(root, (late, top - 3), (late, top + height + 3), colour=LATE, wide=4.0)
    left = _DAY_NAMES + _DAY_BARS + 12
    who = f"{hands_words([row['mixed_by']])} mixes, {placers_of(row)}"
    write(root, left, top + 15, fitted(who, _DAY_HANDS - 12), colour=QUIET)


def _lane_words(row: PouredBatchRow, system: System) -> str:
    """Say what a lane shows."""
    mix_at, place_at, use_by = batch_clocks(row)
    return (
        f"{row['id']}, {trade_word(row['layer'])}, {written_mass(row['mass_kg'], system)}: "
        f"mix at {mix_at}, place at {place_at}, use by {use_by}"
    )


def _legend(root: Tree.Element, kinds: Sequence[tuple[str, str]], left: float) -> None:
    """Say what the fills are."""
    for name, fill in kinds:
        if fill == LATE:
            stroke(root, (left + 11, 2), (left + 11, 20), colour=LATE, wide=4.0)
        else:
            box(root, left, 4, 22, 14, fill)
        write(root, left + 29, 16, name, colour=QUIET)
        left += 29 + 7.2 * len(name) + 24
