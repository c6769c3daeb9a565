"""STL files with the faults that exports have, against closed forms worked out beside them."""

from dataclasses import dataclass
from pathlib import Path

import numpy as np
import pytest

from takeoff.errors import ErrorKind, TakeoffError
from takeoff.files.stl import read_stl
from takeoff.notes import NoteCode

FOLDER = Path(__file__).parent / "stl"
INCH = 25.4


def box_area(length, width, height):
    return 2 * (length * width + length * height + width * height)


def plate_area(length, width, height, hole_length, hole_width):
    """Surface of a plate with a rectangular hole right through it."""
    face = length * width - hole_length * hole_width
    rims = 2 * (length + width) + 2 * (hole_length + hole_width)
    return 2 * face + rims * height


@dataclass(frozen=True)
class Case:
    """What a file holds, in millimetres."""

    file: str
    area: float
    volume: float | None
    size: tuple[float, float, float]
    holes: int = 0
    names: tuple[str, ...] = ()
    unit: str = "mm"
    within: float = 1e-6
    size_within: float = 1e-3
    notes: tuple[NoteCode, ...] = ()
    mended: tuple[tuple[str, int], ...] = ()


CASES = [
    Case(  # a binary file whose header begins with the word that opens one in text
        "binary_solid_header.stl",
        plate_area(2438.4, 635, 25, 560, 410),
        (2438.4 * 635 - 560 * 410) * 25,
        (2438.4, 635, 25),
        holes=1,
    ),
    Case(  # the two bytes after each facet are set
        "binary_colour_attributes.stl",
        box_area(600, 400, 40),
        600 * 400 * 40,
        (600, 400, 40),
    ),
    Case(
        "binary_trailing_bytes.stl",
        box_area(900, 460, 30),
        900 * 460 * 30,
        (900, 460, 30),
        notes=(NoteCode.TRAILING_BYTES,),
    ),
    Case(
        "text_upper_case.stl",
        box_area(1200, 300, 20),
        1200 * 300 * 20,
        (1200, 300, 20),
        names=("PANEL 5",),
    ),
    Case(
        "text_no_endsolid.stl",
        box_area(750, 450, 32),
        750 * 450 * 32,
        (750, 450, 32),
        names=("hearth",),
        notes=(NoteCode.MENDED,),
    ),
    Case(  # a mark of UTF-8, blank lines, tabs, and a name with the words of a facet in it
        "text_bom_crlf_name.stl",
        box_area(1524, 38.1, 304.8),
        1524 * 38.1 * 304.8,
        (1524, 38.1, 304.8),
        names=("Küche – 300K facet normal 2",),
    ),
    Case(
        "text_two_solids.stl",
        box_area(1000, 600, 30) + box_area(500, 600, 30),
        1500 * 600 * 30,
        (1700, 600, 30),
        names=("TopA", "TopB"),
    ),
    Case(
        "text_comma_decimal.stl",
        box_area(1219.2, 609.6, 19.05),
        1219.2 * 609.6 * 19.05,
        (1219.2, 609.6, 19.05),
        names=("komma",),
        notes=(NoteCode.MENDED,),
        mended=(("files with decimal commas read", 1),),
    ),
    Case(  # every corner is off by up to 0.00008 mm: 2e-6 of the thickness of 40 mm
        "unwelded_jitter.stl",
        plate_area(1800, 620, 40, 450, 320),
        (1800 * 620 - 450 * 320) * 40,
        (1800, 620, 40),
        holes=1,
        names=("jitter",),
        within=4e-6,
        notes=(NoteCode.MENDED,),
        mended=(("points joined across hairline gaps", 80),),
    ),
    Case(
        "flipped_facets.stl",
        plate_area(1500, 500, 30, 300, 250),
        (1500 * 500 - 300 * 250) * 30,
        (1500, 500, 30),
        holes=1,
        notes=(NoteCode.WINDING,),
        mended=(("facets wound against their neighbours turned", 5),),
    ),
    Case(
        "inside_out.stl",
        box_area(1100, 330, 60),
        1100 * 330 * 60,
        (1100, 330, 60),
        notes=(NoteCode.INSIDE_OUT,),
        mended=(("facets of inside-out bodies turned", 12),),
    ),
    Case(
        "zero_area_facets.stl",
        box_area(800, 500, 25),
        800 * 500 * 25,
        (800, 500, 25),
        names=("degen",),
        notes=(NoteCode.MENDED,),
        mended=(("facets without area dropped", 4),),
    ),
    Case(  # two facets of the top come two and three times
        "duplicate_facets.stl",
        box_area(700, 420, 35),
        700 * 420 * 35,
        (700, 420, 35),
        notes=(NoteCode.MENDED,),
        mended=(("duplicate facets dropped", 3),),
    ),
    Case(
        "open_shell.stl",
        box_area(1300, 560, 45) - 560 * 45,
        None,
        (1300, 560, 45),
        notes=(NoteCode.NOT_CLOSED,),
    ),
    Case(
        "inches_no_unit.stl",
        box_area(96 * INCH, 25 * INCH, 1.5 * INCH),
        96 * 25 * 1.5 * INCH**3,
        (96 * INCH, 25 * INCH, 1.5 * INCH),
        names=("counter_in",),
        unit="in",
    ),
    Case(
        "metres_no_unit.stl",
        box_area(2438.4, 635, 38.1),
        2438.4 * 635 * 38.1,
        (2438.4, 635, 38.1),
        unit="m",
    ),
    Case(  # 800 m from the origin, with all digits
        "text_far_offset.stl",
        plate_area(2000, 700, 30, 600, 400),
        (2000 * 700 - 600 * 400) * 30,
        (2000, 700, 30),
        holes=1,
        names=("site grid",),
        within=1e-7,
    ),
    Case(  # the same in single precision: every coordinate is rounded to a step of 1/16 mm
        "binary_far_offset.stl",
        box_area(3000.02, 12.02, 1200.05),
        3000.02 * 12.02 * 1200.05,
        (3000.02, 12.02, 1200.05),
        within=1 / 16 / 12.02,
        size_within=1 / 16,
        notes=(NoteCode.COARSE_COORDINATES,),
    ),
    Case(  # two bodies that share a face of 600 x 40
        "internal_partition.stl",
        box_area(1500, 600, 40),
        1500 * 600 * 40,
        (1500, 600, 40),
        notes=(NoteCode.MENDED,),
        mended=(("facets of shared faces between touching bodies dropped", 4),),
    ),
]


@pytest.mark.parametrize("case", CASES, ids=[case.file for case in CASES])
def test_measured_as_the_closed_form_says(case):
    drawing = read_stl(FOLDER / case.file, unit=case.unit)
    reports = [piece.report for piece in drawing.pieces]
    area_m2 = sum(report.area_m2 for report in reports)
    assert area_m2 * 1e6 == pytest.approx(case.area, rel=case.within)
    volumes_m3 = [report.volume_m3 for report in reports]
    if case.volume is None:
        assert volumes_m3 == [None]
    else:
        assert sum(volumes_m3) * 1e9 == pytest.approx(case.volume, rel=case.within)
    bounds_m = np.array([report.bounds_m for report in reports])
    size = 1e3 * (bounds_m[:, 1].max(axis=0) - bounds_m[:, 0].min(axis=0))
    assert size.tolist() == pytest.approx(case.size, abs=case.size_within)


@pytest.mark.parametrize("case", CASES, ids=[case.file for case in CASES])
def test_what_was_odd_is_said(case):
    drawing = read_stl(FOLDER / case.file, unit=case.unit)
    names = case.names or (Path(case.file).stem,)
    assert tuple(piece.name for piece in drawing.pieces) == names
    assert tuple(note.code for note in drawing.notes) == case.notes
    assert tuple((tally.what, tally.count) for tally in drawing.mended) == case.mended
    assert sum(piece.report.through_holes for piece in drawing.pieces) == case.holes
    assert all(piece.report.closed for piece in drawing.pieces) == (case.volume is not None)


REFUSED = [
    ("binary_truncated.stl", ErrorKind.UNREADABLE, "declares 32 facets.*1057 bytes.*hold 19"),
    ("nan_vertex.stl", ErrorKind.MESH, "facet 8 is not a finite number"),
    ("overlapping_bodies.stl", ErrorKind.MESH, r"bodies overlap.*near \(950, 300, 20\) mm"),
    ("empty.stl", ErrorKind.MESH, "there are no facets"),
    ("text_four_vertices.stl", ErrorKind.UNREADABLE, ":7: facet 1 has more than three vertices"),
]


@pytest.mark.parametrize(("file", "kind", "words"), REFUSED, ids=[row[0] for row in REFUSED])
def test_what_cannot_be_right_is_refused(file, kind, words):
    with pytest.raises(TakeoffError, match=words) as refusal:
        read_stl(FOLDER / file, unit="mm")
    assert refusal.value.kind is kind
    assert file in refusal.value.where


@pytest.mark.parametrize("file", ["inches_no_unit.stl", "metres_no_unit.stl"])
def test_a_file_without_a_unit_is_refused_with_the_sizes_it_would_have(file):
    with pytest.raises(TakeoffError, match=r"2\.438 x 0\.635 x 0\.0381 m if it is in") as refusal:
        read_stl(FOLDER / file, unit=None)
    assert refusal.value.kind is ErrorKind.UNIT_MISSING


def test_every_drawing_of_the_folder_is_tried():
    tried = {case.file for case in CASES} | {file for file, _, _ in REFUSED}
    assert tried == {path.name for path in FOLDER.glob("*.stl")}
