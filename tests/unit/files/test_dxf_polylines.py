import numpy as np
import pytest

from takeoff.errors import UnreadableError
from takeoff.files.dxf import read_dxf
from takeoff.notes import NoteCode
from tests.unit.files.dxf_reading import areas_mm2, codes, left_out, outer_mm, read
from tests.unit.files.dxf_text import (
    block,
    dxf,
    insert,
    lines,
    polyline,
    rectangle,
    saved,
    tags,
)

PANEL = rectangle(0, 0, 600, 400)


def old_polyline(points, *more, flags=1, vertex=()):
    """Write a POLYLINE; a point is x, y and perhaps z."""
    body = "".join(
        tags((0, "VERTEX"), (8, "0"), (10, x), (20, y), (30, z[0] if z else 0.0), *vertex)
        for x, y, *z in points
    )
    head = tags((0, "POLYLINE"), (8, "0"), (66, 1), (70, flags), *more)
    return head + body + tags((0, "SEQEND"), (8, "0"))


@pytest.mark.parametrize("flags", [0, 128])
def test_an_open_flag_is_no_gap_where_the_ends_meet(tmp_path, flags):
    drawing = read(tmp_path, polyline([*PANEL, PANEL[0]], flags=flags))
    assert areas_mm2(drawing) == pytest.approx([240_000])
    assert drawing.notes == ()


@pytest.mark.parametrize("flags", [1, 129])
def test_the_closed_flag_is_one_bit_of_several(tmp_path, flags):
    assert areas_mm2(read(tmp_path, polyline(PANEL, flags=flags))) == pytest.approx([240_000])


@pytest.mark.parametrize("bulge", [1.0, -1.0])
def test_the_side_of_a_bulge_follows_its_sign(tmp_path, bulge):
    points = [(0, 0), (600, 0, bulge), (600, 400), (0, 400)]
    expected = 240_000 + bulge * np.pi * 200**2 / 2
    assert areas_mm2(read(tmp_path, polyline(points))) == pytest.approx([expected])


def test_mirroring_keeps_the_side_of_a_bulge(tmp_path):
    drawn = polyline([(0, 0), (600, 0, 0.5), (600, 400), (0, 400)])
    [plain] = areas_mm2(read(tmp_path, drawn))
    mirrored = insert("P", 0, 0, (41, -1), (50, 33))
    assert areas_mm2(read(tmp_path, mirrored, blocks=block("P", drawn))) == pytest.approx([plain])


def test_a_polyline_with_arcs_may_be_stretched(tmp_path):
    drawn = polyline([(0, 0), (600, 0, 1.0), (600, 400), (0, 400)])
    stretched = insert("P", 10, 20, (41, 2), (42, 0.5))
    drawing = read(tmp_path, stretched, blocks=block("P", drawn))
    assert areas_mm2(drawing) == pytest.approx([240_000 + np.pi * 200**2 / 2], rel=1e-5)
    assert len(drawing.pieces[0].shape.outer) == 4


def test_a_width_is_noted_and_the_centre_line_measured(tmp_path):
    drawing = read(tmp_path, polyline(PANEL, (43, 25)))
    assert areas_mm2(drawing) == pytest.approx([240_000])
    assert codes(drawing) == [NoteCode.CENTRE_LINE]
    assert "up to 25 mm wide" in drawing.notes[0].text


@pytest.mark.parametrize("points", [[(5, 5)], []])
def test_a_polyline_of_less_than_two_corners_is_left_out(tmp_path, points):
    drawing = read(tmp_path, lines(PANEL) + polyline(points) + old_polyline(points, flags=9))
    assert left_out(drawing) == {"LWPOLYLINE": 1, "POLYLINE": 1}


def test_an_old_polyline_is_read_with_its_width(tmp_path):
    drawing = read(tmp_path, old_polyline(PANEL, (40, 3), (41, 3)))
    assert areas_mm2(drawing) == pytest.approx([240_000])
    assert codes(drawing) == [NoteCode.CENTRE_LINE]


def test_a_curve_fit_polyline_is_measured_by_its_arcs(tmp_path):
    quarter = np.tan(np.pi / 8)
    points = [(100, 0), (0, 100), (-100, 0), (0, -100)]
    drawn = old_polyline(points, flags=3, vertex=((42, quarter), (70, 1)))
    assert areas_mm2(read(tmp_path, drawn)) == pytest.approx([np.pi * 1e4])


def test_corners_that_only_steer_a_fitted_spline_are_left_out(tmp_path):
    turn = 2 * np.pi * np.arange(64) / 64
    fitted = "".join(
        tags((0, "VERTEX"), (10, 100 * np.cos(t)), (20, 100 * np.sin(t)), (70, 8)) for t in turn
    )
    frame = "".join(
        tags((0, "VERTEX"), (10, x), (20, y), (70, 16)) for x, y in rectangle(-150, -150, 300, 300)
    )
    head = tags((0, "POLYLINE"), (8, "0"), (70, 5), (75, 6))
    drawing = read(tmp_path, head + frame + fitted + tags((0, "SEQEND")))
    assert areas_mm2(drawing) == pytest.approx([32 * 1e4 * np.sin(np.pi / 32)])
    assert codes(drawing) == [NoteCode.CURVE_CHORDS]


def test_a_fine_fitted_spline_is_not_doubted(tmp_path):
    turn = 2 * np.pi * np.arange(400) / 400
    points = [(100 * np.cos(t), 100 * np.sin(t)) for t in turn]
    assert read(tmp_path, old_polyline(points, flags=5, vertex=((70, 8),))).notes == ()


def test_a_polyline_in_space_counts_where_it_lies_flat(tmp_path):
    flat = [(x, y, 40) for x, y in PANEL]
    tilted = [(x, y, x) for x, y in rectangle(700, 0, 100, 100)]
    drawing = read(tmp_path, old_polyline(flat, flags=9) + old_polyline(tilted, flags=9))
    assert outer_mm(drawing) == pytest.approx([2000])
    assert left_out(drawing) == {"POLYLINE": 1}


def test_a_polyline_seen_from_below_lies_mirrored(tmp_path):
    # mirrored left to right: the bulge that points right as written points left as drawn
    points = [(0, 0), (600, 0, 0.5), (600, 400), (0, 400)]
    below = polyline(points, (210, 0), (220, 0), (230, -1))
    outline = read(tmp_path, below).pieces[0].shape
    [reach_m] = [side.points_m[:, 0].min() for side in outline.outer if side.bulges.any()]
    assert reach_m == pytest.approx(-0.6)


def test_corners_that_went_missing_are_noticed(tmp_path):
    text = dxf(polyline(PANEL)).replace(tags((10, 600), (20, 400)), "")
    with pytest.raises(UnreadableError, match="says it has 4 corners, and has 3"):
        read_dxf(saved(tmp_path, text), unit="mm")


def test_an_old_corner_without_coordinates_is_refused(tmp_path):
    text = dxf(old_polyline(PANEL)).replace(tags((10, 600), (20, 400), (30, 0.0)), "")
    with pytest.raises(UnreadableError, match="VERTEX at line 33 lacks group code 10"):
        read_dxf(saved(tmp_path, text), unit="mm")
