import re

import numpy as np
import pytest

from takeoff.errors import UnreadableError
from takeoff.geometry.outlines import bounds_m
from takeoff.notes import NoteCode
from tests.unit.files.dxf_reading import areas_mm2, codes, left_out, outer_mm, read
from tests.unit.files.dxf_text import block, circle, insert, line, lines, polyline, rectangle, tags

PANEL = polyline(rectangle(0, 0, 600, 400))


def arc(x, y, radius, start, end, *more):
    return tags((0, "ARC"), (8, "0"), (10, x), (20, y), (40, radius), (50, start), (51, end), *more)


def ellipse(major, ratio, *more, centre=(0.0, 0.0)):
    return tags(
        (0, "ELLIPSE"), (8, "0"), (10, centre[0]), (20, centre[1]), (30, 0.0),
        (11, major[0]), (21, major[1]), (31, 0.0), (40, ratio), *more,
    )  # fmt: skip


def spline(degree, knots, controls, *more, weights=(), through=()):
    points = [tag for x, y in controls for tag in ((10, x), (20, y), (30, 0.0))]
    points += [tag for x, y in through for tag in ((11, x), (21, y), (31, 0.0))]
    figures = [(40, knot) for knot in knots] + [(41, weight) for weight in weights]
    return tags((0, "SPLINE"), (8, "0"), (71, degree), *more, *figures, *points)


@pytest.mark.parametrize(
    ("start", "end", "turn"), [(0, 90, 90), (350, 10, 20), (270, 90, 180), (10, 290, 280)]
)
def test_an_arc_runs_counter_clockwise_from_start_to_end(tmp_path, start, end, turn):
    a, b = (np.radians(angle) for angle in (start, end))
    chord = line((100 * np.cos(a), 100 * np.sin(a)), (100 * np.cos(b), 100 * np.sin(b)))
    theta = np.radians(turn)
    drawing = read(tmp_path, arc(0, 0, 100, start, end) + chord)
    assert areas_mm2(drawing) == pytest.approx([100**2 / 2 * (theta - np.sin(theta))])


def test_an_arc_that_ends_where_it_starts_is_a_circle(tmp_path):
    assert areas_mm2(read(tmp_path, arc(5, 5, 100, 30, 390))) == pytest.approx([np.pi * 1e4])


@pytest.mark.parametrize("radius", [0, -5])
def test_a_circle_without_radius_is_left_out(tmp_path, radius):
    drawing = read(tmp_path, PANEL + circle(300, 200, radius))
    assert left_out(drawing) == {"CIRCLE": 1}


def test_a_circle_seen_from_below_lies_mirrored(tmp_path):
    drawing = read(tmp_path, circle(-300, 200, 100, (210, 0), (220, 0), (230, -1)))
    low_m, high_m = bounds_m(drawing.pieces[0].shape)
    assert (*low_m, *high_m) == pytest.approx((0.2, 0.1, 0.4, 0.3))


@pytest.mark.parametrize("below", [(), ((210, 0), (220, 0), (230, -1))])
def test_a_stretch_of_an_ellipse_runs_by_its_parameter(tmp_path, below):
    # from the end of the short axis to the end of the long one, closed over the centre
    short = (0, -50) if below else (0, 50)
    quarter = ellipse((100, 0), 0.5, (41, np.pi / 2), (42, 2 * np.pi), *below)
    drawing = read(tmp_path, quarter + line(short, (0, 0)) + line((0, 0), (100, 0)))
    assert areas_mm2(drawing) == pytest.approx([0.75 * np.pi * 100 * 50], rel=1e-5)


@pytest.mark.parametrize("params", [(), ((41, 0), (42, 6.283185307179586)), ((41, 1), (42, 1))])
def test_a_whole_ellipse_is_closed(tmp_path, params):
    drawing = read(tmp_path, ellipse((60, 80), 0.5, *params))
    assert areas_mm2(drawing) == pytest.approx([np.pi * 100 * 50], rel=1e-5)
    assert len(drawing.pieces[0].shape.outer) == 1


@pytest.mark.parametrize("drawn", [ellipse((0, 0), 0.5), ellipse((100, 0), 0)])
def test_an_ellipse_without_width_is_left_out(tmp_path, drawn):
    assert left_out(read(tmp_path, PANEL + drawn)) == {"ELLIPSE": 1}


def test_a_rational_spline_is_a_circle(tmp_path):
    half = 0.5**0.5
    corners = [(1, 0), (1, 1), (0, 1), (-1, 1), (-1, 0), (-1, -1), (0, -1), (1, -1), (1, 0)]
    drawn = spline(
        2,
        [0, 0, 0, 1, 1, 2, 2, 3, 3, 4, 4, 4],
        [(100 * x, 100 * y) for x, y in corners],
        weights=[1, half] * 4 + [1],
    )
    drawing = read(tmp_path, drawn)
    assert areas_mm2(drawing) == pytest.approx([np.pi * 1e4], rel=1e-9)
    assert outer_mm(drawing) == pytest.approx([2 * np.pi * 100], rel=1e-9)


def test_a_spline_with_fit_points_only_runs_through_them(tmp_path):
    through = [(100, 0), (0, 100), (-100, 0), (0, -100)]
    drawing = read(tmp_path, spline(3, [], [], (70, 1), through=through))
    turn = np.linspace(0, 2 * np.pi, 17)
    rounder = [(100 * np.cos(t), 100 * np.sin(t)) for t in turn]
    closer = read(tmp_path, spline(3, [], [], (70, 1), through=rounder))
    assert areas_mm2(drawing) == pytest.approx([np.pi * 1e4], rel=0.05)
    assert areas_mm2(closer) == pytest.approx([np.pi * 1e4], rel=1e-3)


def test_a_spline_through_points_is_stretched_after_it_is_found(tmp_path):
    through = [(100, 0), (0, 100), (-100, 0), (0, -100)]
    drawn = spline(3, [], [], (70, 1), through=through)
    [plain] = areas_mm2(read(tmp_path, drawn))
    placed = insert("S", 0, 0, (41, 3))
    assert areas_mm2(read(tmp_path, placed, blocks=block("S", drawn))) == pytest.approx(
        [3 * plain], rel=1e-5
    )


def test_repeated_fit_points_and_told_directions_are_taken(tmp_path):
    up = ((12, 0), (22, 1), (32, 0), (13, 0), (23, -1), (33, 0))
    drawn = spline(3, [], [], *up, through=[(0, 0), (0, 0), (50, 50), (100, 0)])
    drawing = read(tmp_path, drawn + line((0, 0), (100, 0)))
    assert len(drawing.pieces[0].shape.outer) == 2


@pytest.mark.parametrize(
    ("drawn", "says"),
    [
        (spline(3, [0, 1], [(0, 0), (1, 0)]), "SPLINE at line 5, on layer 0: a spline of degree 3"),
        (spline(3, [], [], through=[(0, 0)]), "two or more points apart"),
        (arc(0, 0, "wide", 0, 90), "'wide' at group code 40"),
        (tags((0, "ARC"), (8, "0"), (10, 0), (20, 0), (40, 1)), "lacks group code 50"),
    ],
)
def test_a_curve_that_cannot_be_read_is_refused_with_its_line(tmp_path, drawn, says):
    with pytest.raises(UnreadableError, match=re.escape(says)):
        read(tmp_path, PANEL + drawn if "at line 5" not in says else drawn)


@pytest.mark.parametrize(
    "drawn",
    [
        line((0, 0, 0), (100, 0, 50)),
        circle(300, 200, 50, (210, 1), (220, 0), (230, 0)),
        ellipse((100, 0), 0.5, (210, 0), (220, 1), (230, 0)),
        arc(300, 200, 50, 0, 90, (210, 0), (220, 1), (230, 1)),
    ],
)
def test_what_does_not_lie_flat_is_left_out_and_named(tmp_path, drawn):
    drawing = read(tmp_path, PANEL + drawn)
    assert areas_mm2(drawing) == pytest.approx([240_000])
    [tally] = drawing.skipped
    assert "does not lie flat in the plan" in tally.why
    assert codes(drawing) == [NoteCode.SKIPPED]


def test_outlines_at_different_heights_are_measured_in_one_plan_and_noted(tmp_path):
    raised = lines([(x, y, 40) for x, y in rectangle(100, 100, 100, 100)])
    drawing = read(tmp_path, PANEL + raised)
    assert areas_mm2(drawing) == pytest.approx([230_000])
    assert codes(drawing) == [NoteCode.PLAN_ONLY]
    assert "from 0 mm to 40 mm" in drawing.notes[0].text


def test_a_thickness_is_noted_and_not_read(tmp_path):
    drawing = read(tmp_path, polyline(rectangle(0, 0, 600, 400), (39, -40)))
    assert codes(drawing) == [NoteCode.EDGE_DEPTH]
    assert "up to 40 mm" in drawing.notes[0].text


def test_a_coordinate_further_out_than_the_earth_is_refused(tmp_path):
    with pytest.raises(UnreadableError, match="a coordinate beyond 100000 km"):
        read(tmp_path, line((0, 0), (1e12, 0)))


def test_a_site_grid_costs_nothing(tmp_path):
    far = polyline([(x + 4.1e8, y + 8.1e8) for x, y in rectangle(0, 0, 600, 400)])
    assert areas_mm2(read(tmp_path, far)) == pytest.approx([240_000], rel=1e-9)


@pytest.mark.parametrize("bulge", [1e9, -1e300])
def test_a_bulge_beyond_all_sense_is_refused(tmp_path, bulge):
    points = [(0, 0), (600, 0, bulge), (600, 400), (0, 400)]
    with pytest.raises(UnreadableError, match=r"LWPOLYLINE at line 5.*(a bulge of|is no number)"):
        read(tmp_path, polyline(points))


@pytest.mark.parametrize("bulge", [1e-9, 1e-30, 1e-300])
def test_an_arc_that_rises_by_nothing_is_a_line(tmp_path, bulge):
    drawing = read(tmp_path, polyline([(0, 0), (600, 0, bulge), (600, 400), (0, 400)]))
    assert areas_mm2(drawing) == pytest.approx([240_000])
    assert not any(side.bulges.any() for side in drawing.pieces[0].shape.outer)


def test_a_circle_as_large_as_a_country_takes_no_more_memory_than_another(tmp_path):
    drawing = read(tmp_path, circle(0, 0, 1e9))
    assert areas_mm2(drawing) == pytest.approx([np.pi * 1e18])
    assert codes(drawing) == [NoteCode.SIZE_ABSURD]


def test_figures_beyond_all_sense_are_no_numbers(tmp_path):
    with pytest.raises(UnreadableError, match="'1e200' at group code 12 is no number"):
        read(tmp_path, spline(3, [], [], (12, "1e200"), (22, 0), through=[(0, 0), (1, 1)]))


def test_an_ellipse_too_small_to_see_does_no_harm(tmp_path):
    drawing = read(tmp_path, PANEL + ellipse((1e-200, 0), 0.5))
    assert areas_mm2(drawing) == pytest.approx([240_000])


@pytest.mark.parametrize("end", [6.28318530718, 6.2831853, 6.2832])
def test_a_full_turn_written_to_a_few_digits_is_a_whole_ellipse(tmp_path, end):
    drawing = read(tmp_path, ellipse((0, -200), 0.5, (41, 0.0), (42, end)))
    assert areas_mm2(drawing) == pytest.approx([np.pi * 200 * 100], rel=2e-4)


def test_a_full_turn_written_to_a_few_digits_is_a_whole_circle(tmp_path):
    drawing = read(tmp_path, arc(0, 0, 100, 45, 405.0000001))
    assert areas_mm2(drawing) == pytest.approx([np.pi * 1e4])


def test_an_arc_of_next_to_nothing_is_no_circle(tmp_path):
    drawing = read(tmp_path, PANEL + arc(300, 200, 100, 45, 45.0000001))
    assert areas_mm2(drawing) == pytest.approx([240_000])


def test_corners_made_of_repeated_control_points_do_not_stop_a_spline(tmp_path):
    corners = [(0, 0), (300, 0), (300, 200), (0, 200), (0, 0)]
    controls = [corner for corner in corners for _ in range(4)]
    knots = [0, 0, 0, *range(len(controls) - 2), *[len(controls) - 3] * 3]
    drawing = read(tmp_path, spline(3, knots, controls))
    assert areas_mm2(drawing) == pytest.approx([60_000], rel=1e-5)


@pytest.mark.parametrize("size", [1.0, 0.01])
def test_a_small_curve_is_followed_as_closely_as_a_large_one(tmp_path, size):
    curves = ellipse((200 * size, 0), 0.5, centre=(0, 500 * size))
    drawing = read(tmp_path, curves + polyline(rectangle(0, 0, 200 * size, 100 * size)))
    drawn = [np.pi * 2e4 * size**2, 2e4 * size**2]
    assert areas_mm2(drawing) == pytest.approx(drawn, rel=1e-5)
