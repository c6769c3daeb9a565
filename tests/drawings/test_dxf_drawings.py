"""DXF files with the faults that exports have, against closed forms worked out beside them."""

from dataclasses import dataclass
from math import pi, sin, sqrt
from pathlib import Path

import numpy as np
import pytest

from takeoff.errors import ErrorKind, TakeoffError
from takeoff.files.dxf import read_dxf
from takeoff.geometry.outlines import (
    Outline,
    bounds_m,
    opening_perimeter_m,
    outline_area_m2,
    perimeter_m,
)
from takeoff.notes import NoteCode

FOLDER = Path(__file__).parent / "dxf"
INCH = 25.4


def rounded_area(width, height, radius):
    return width * height - (4 - pi) * radius**2


def rounded_length(width, height, radius):
    return 2 * (width + height) - 8 * radius + 2 * pi * radius


def ellipse_length(a, b):
    """Length of an ellipse by the arithmetic-geometric mean."""
    x, y = max(a, b), min(a, b)
    total, weight = (x * x - y * y) / 2, 1.0
    square = x * x
    while abs(x - y) > 1e-15 * a:
        x, y, gap = (x + y) / 2, sqrt(x * y), (x - y) / 2
        total += weight * gap * gap
        weight *= 2
    return 2 * pi * (square - total) / x


@dataclass(frozen=True)
class Case:
    """What a file holds, in millimetres."""

    file: str
    area: float
    outer: float
    openings: float = 0.0
    size: tuple[float, float] | None = None
    pieces: int = 1
    holes: int = 0
    unit: str | None = None
    layers: tuple[str, ...] = ()
    within: float = 1e-6
    notes: tuple[NoteCode, ...] = ()


CASES = [
    Case(
        "counter_sink_bulges.dxf",
        rounded_area(2438.4, 635, 12.7) - rounded_area(560, 410, 20),
        rounded_length(2438.4, 635, 12.7),
        rounded_length(560, 410, 20),
        (2438.4, 635),
        holes=1,
    ),
    Case("obround_clockwise_bulge.dxf", 1200 * 300 + pi * 150**2, 2400 + 300 * pi, 0, (1500, 300)),
    Case(
        "closed_flag_missing_and_129.dxf",
        1650 * 640 - 500 * 300,
        2 * (1650 + 640),
        1600,
        (1650, 640),
        holes=1,
    ),
    Case(  # the gaps of 0.03 mm are beside the rounded rectangle: 0.03 x 600 of 1.1e6 mm2
        "line_arc_gaps.dxf",
        rounded_area(1829, 600, 50),
        rounded_length(1829, 600, 50),
        0,
        (1829, 600),
        within=2e-5,
        notes=(NoteCode.GAP_BRIDGED,),
    ),
    Case(
        "duplicate_lines.dxf",
        1400 * 520 - pi * 60**2,
        2 * 1920,
        2 * pi * 60,
        (1400, 520),
        holes=1,
        notes=(NoteCode.MENDED,),
    ),
    Case(
        "full_ellipse.dxf",
        pi * 900 * 450 - pi * 200 * 100,
        ellipse_length(900, 450),
        ellipse_length(200, 100),
        (1800, 900),
        holes=1,
        within=2e-6,
    ),
    Case(
        "half_ellipse_and_line.dxf",
        pi * 700 * 260 / 2,
        ellipse_length(700, 260) / 2 + 1400,
        0,
        (1400, 260),
        within=2e-6,
    ),
    Case("rational_spline_circle.dxf", pi * 400**2, 2 * pi * 400, 0, (800, 800)),
    Case(
        "nested_mirrored_insert.dxf",
        2000 * 600 + 900 * 900 - rounded_area(560, 410, 30),
        2 * (2000 + 1500),
        rounded_length(560, 410, 30),
        holes=1,
    ),
    Case(
        "nonuniform_insert_circle.dxf",
        pi * 800 * 300,
        ellipse_length(800, 300),
        within=2e-6,
    ),
    Case(
        "ocs_negative_extrusion_arc.dxf",
        1200 * 600 + pi * 300**2 / 2,
        3000 + pi * 300,
        0,
        (1500, 600),
    ),
    Case(
        "insunits_inch.dxf",
        (96 * 25.5 - pi * 0.75**2) * INCH**2,
        2 * (96 + 25.5) * INCH,
        2 * pi * 0.75 * INCH,
        (96 * INCH, 25.5 * INCH),
        holes=1,
        notes=(NoteCode.UNIT_DECLARED,),
    ),
    Case("r12_no_units.dxf", 1200 * 450, 3300, 0, (1200, 450), unit="mm"),
    Case(
        "insunits_says_inch_drawn_in_mm.dxf",
        2438.4 * 635,
        2 * (2438.4 + 635),
        0,
        (2438.4, 635),
        unit="mm",
        notes=(NoteCode.UNIT_DISAGREES,),
    ),
    Case("paper_space_clutter.dxf", 1900 * 650, 5100, 0, (1900, 650)),
    Case(
        "frozen_and_off_layers.dxf",
        2100 * 640 - 400 * 400,
        2 * (2100 + 640),
        1600,
        (2100, 640),
        holes=1,
        notes=(NoteCode.SKIPPED,),
    ),
    Case(
        "hatch_same_boundary.dxf",
        1300 * 480 - 300 * 200,
        2 * (1300 + 480),
        1000,
        (1300, 480),
        holes=1,
    ),
    Case(
        "dimension_text_defpoints.dxf",
        1700 * 610 - pi * 180**2,
        2 * (1700 + 610),
        2 * pi * 180,
        (1700, 610),
        holes=1,
    ),
    Case(
        "r12_polyline_bulge.dxf",
        rounded_area(1000, 500, 100) - pi * 80**2,
        rounded_length(1000, 500, 100),
        2 * pi * 80,
        (1000, 500),
        holes=1,
        unit="mm",
    ),
    Case("cp1252_layer.dxf", 1234 * 567, 2 * (1234 + 567), 0, (1234, 567), layers=("KÜCHE_ß",)),
    Case(
        "nested_islands.dxf",
        2000 * 1000 - 1600 * 600 + 500 * 300 - 200 * 100,
        6000 + 1600,
        4400 + 600,
        (2000, 1000),
        pieces=2,
        holes=2,
        notes=(NoteCode.LAYER_CHOICE,),
    ),
    Case(
        "spline_fit_polyline.dxf",
        32 / 2 * 300**2 * sin(2 * pi / 32),
        2 * 32 * 300 * sin(pi / 32),
        0,
        (600, 600),
        unit="mm",
        notes=(NoteCode.CURVE_CHORDS,),
    ),
    Case(
        "polyline_width.dxf",
        1500 * 550,
        2 * (1500 + 550),
        0,
        (1500, 550),
        notes=(NoteCode.CENTRE_LINE,),
    ),
    Case(
        "sheet_frame_in_model_space.dxf",
        2438.4 * 635 - pi * 22**2,
        2 * (2438.4 + 635),
        2 * pi * 22,
        (2438.4, 635),
        holes=1,
        layers=("COUNTER",),
    ),
    Case(  # the bulges are written with six decimals
        "comma_decimals.dxf",
        rounded_area(1480.75, 612.5, 150.6),
        rounded_length(1480.75, 612.5, 150.6),
        0,
        (1480.75, 612.5),
        unit="mm",
        notes=(NoteCode.MENDED,),
    ),
    Case(
        "insunits_zero.dxf",
        (72 * 30.25 - pi * 2.25**2) * INCH**2,
        2 * (72 + 30.25) * INCH,
        2 * pi * 2.25 * INCH,
        (72 * INCH, 30.25 * INCH),
        holes=1,
        unit="in",
    ),
    Case(
        "insert_array_zscale_zero.dxf",
        1440 * 360 - 4 * pi * 20**2,
        2 * (1440 + 360),
        4 * 2 * pi * 20,
        (1440, 360),
        holes=4,
    ),
    Case(
        "proxy_entity.dxf",
        1980 * 660 - 600 * 400,
        2 * (1980 + 660),
        2000,
        (1980, 660),
        holes=1,
        notes=(NoteCode.SKIPPED,),
    ),
    Case(
        "hatch_only.dxf",
        1500 * 480 - 400 * 250,
        2 * (1500 + 480),
        1300,
        (1500, 480),
        holes=1,
        notes=(NoteCode.HATCH_MEASURED,),
    ),
]


def drawn(case):
    return read_dxf(FOLDER / case.file, unit=case.unit, layers=case.layers)


@pytest.mark.parametrize("case", CASES, ids=[case.file for case in CASES])
def test_areas_and_lengths_are_those_of_the_closed_form(case):
    outlines = [piece.shape for piece in drawn(case).pieces]
    area_m2 = sum(outline_area_m2(outline) for outline in outlines)
    outer_m = sum(perimeter_m(outline) for outline in outlines)
    openings_m = sum(opening_perimeter_m(outline) for outline in outlines)
    assert all(isinstance(outline, Outline) for outline in outlines)
    assert area_m2 * 1e6 == pytest.approx(case.area, rel=case.within)
    assert outer_m * 1e3 == pytest.approx(case.outer, rel=case.within)
    assert openings_m * 1e3 == pytest.approx(case.openings, rel=case.within)


@pytest.mark.parametrize("case", CASES, ids=[case.file for case in CASES])
def test_pieces_openings_and_size_are_those_drawn(case):
    outlines = [piece.shape for piece in drawn(case).pieces]
    assert len(outlines) == case.pieces
    assert sum(len(outline.holes) for outline in outlines) == case.holes
    if case.size:
        lows_m, highs_m = zip(*(bounds_m(outline) for outline in outlines), strict=True)
        size_m = np.max(highs_m, axis=0) - np.min(lows_m, axis=0)
        assert size_m * 1e3 == pytest.approx(case.size, abs=1e-3)


@pytest.mark.parametrize("case", [case for case in CASES if case.notes], ids=lambda case: case.file)
def test_what_a_person_must_see_is_noted(case):
    assert set(case.notes) <= {note.code for note in drawn(case).notes}


@pytest.mark.parametrize(
    ("file", "kind", "says"),
    [
        (
            "open_outline_gap.dxf",
            ErrorKind.OUTLINE,
            r"gap of 3\.5 mm between \(0, 0\) and \(0, 3\.5\)",
        ),
        ("self_crossing.dxf", ErrorKind.OUTLINE, r"crosses itself at \(500, 300\)"),
        ("acis_only.dxf", ErrorKind.OUTLINE, r"3DSOLID \(1\): an ACIS body.*REGION.*explode"),
        ("acis_dropped_by_export.dxf", ErrorKind.OUTLINE, "explode a REGION to polylines"),
    ],
)
def test_what_cannot_be_measured_is_refused_with_the_place(file, kind, says):
    with pytest.raises(TakeoffError, match=says) as refusal:
        read_dxf(FOLDER / file, unit=None)
    assert refusal.value.kind is kind
    assert refusal.value.where.endswith(file)


@pytest.mark.parametrize(
    "file",
    ["r12_no_units.dxf", "r12_polyline_bulge.dxf", "comma_decimals.dxf", "insunits_zero.dxf"],
)
def test_a_unit_that_is_not_stated_is_asked_for(file):
    with pytest.raises(TakeoffError, match=r"does not say its unit.*--unit") as refusal:
        read_dxf(FOLDER / file, unit=None)
    assert refusal.value.kind is ErrorKind.UNIT_MISSING


def test_a_unit_that_makes_the_piece_absurd_is_doubted():
    notes = read_dxf(FOLDER / "insunits_says_inch_drawn_in_mm.dxf", unit=None).notes
    told = {note.code: note.text for note in notes}
    assert "2.438 m in mm" in told[NoteCode.SIZE_ABSURD]
    assert "$MEASUREMENT = 1 says metric" in told[NoteCode.UNIT_DISAGREES]


def test_a_sheet_frame_on_its_own_layer_is_named_with_the_areas():
    drawing = read_dxf(FOLDER / "sheet_frame_in_model_space.dxf", unit=None)
    [note] = [note for note in drawing.notes if note.code is NoteCode.LAYER_CHOICE]
    assert "0 3.6 m²" in note.text
    assert "COUNTER 1.547 m²" in note.text


def test_faces_in_space_are_a_mesh_and_no_flat_outline():
    [piece] = read_dxf(FOLDER / "polyface_negative_index.dxf", unit="mm").pieces
    assert piece.report.area_m2 == pytest.approx(2 * (0.9 * 0.3 + 0.9 * 0.04 + 0.3 * 0.04))
    assert piece.report.volume_m3 == pytest.approx(0.9 * 0.3 * 0.04)
