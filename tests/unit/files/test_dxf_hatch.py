import numpy as np
import pytest

from takeoff.errors import OutlineError, UnreadableError
from takeoff.notes import NoteCode
from tests.unit.files.dxf_reading import areas_mm2, codes, left_out, read
from tests.unit.files.dxf_text import polyline, rectangle, tags

PATTERN = ((75, 0), (76, 1), (98, 1), (10, 5), (20, 5))


def hatch(*paths, more=()):
    """Write a HATCH of boundary paths, each a tuple of tags."""
    body = [tag for path in paths for tag in path]
    head = (10, 0), (20, 0), (30, 0), (210, 0), (220, 0), (230, 1), (2, "SOLID"), (70, 1)
    return tags((0, "HATCH"), (8, "0"), *head, *more, (91, len(paths)), *body, *PATTERN)


def corners(points, *, flags=3):
    """Write a boundary of corners."""
    pairs = [tag for x, y, *b in points for tag in ((10, x), (20, y), *((42, v) for v in b))]
    return ((92, flags), (72, 1), (73, 1), (93, len(points)), *pairs, (97, 0))


def edges(*drawn, flags=1):
    """Write a boundary of edges."""
    return ((92, flags), (93, len(drawn)), *(tag for edge in drawn for tag in edge), (97, 0))


def straight(a, b):
    return ((72, 1), (10, a[0]), (20, a[1]), (11, b[0]), (21, b[1]))


def round_edge(x, y, radius, *, start, end, ccw):
    return ((72, 2), (10, x), (20, y), (40, radius), (50, start), (51, end), (73, ccw))


def oval(x, y, major, ratio, *, start, end, ccw):
    return (
        (72, 3), (10, x), (20, y), (11, major[0]), (21, major[1]),
        (40, ratio), (50, start), (51, end), (73, ccw),
    )  # fmt: skip


PANEL = corners(rectangle(0, 0, 600, 400))


def test_a_hatch_alone_is_measured_and_noted(tmp_path):
    drawing = read(tmp_path, hatch(PANEL, corners(rectangle(100, 100, 200, 100), flags=16 | 2)))
    assert areas_mm2(drawing) == pytest.approx([240_000 - 20_000])
    assert codes(drawing) == [NoteCode.HATCH_MEASURED]
    assert "HATCH at line 5" in drawing.notes[0].text


def test_a_hatch_beside_an_outline_is_left_out(tmp_path):
    drawing = read(tmp_path, polyline(rectangle(0, 0, 600, 400)) + hatch(PANEL, PANEL))
    assert areas_mm2(drawing) == pytest.approx([240_000])
    assert left_out(drawing) == {"HATCH": 1}
    assert drawing.notes == ()


def test_bulges_bound_a_hatch(tmp_path):
    drawing = read(tmp_path, hatch(corners([(0, 0, 1.0), (200, 0, 1.0)])))
    assert areas_mm2(drawing) == pytest.approx([np.pi * 1e4])


@pytest.mark.parametrize(
    ("side", "ccw", "angles"), [(1, 1, (270, 90)), (-1, 0, (90, 270)), (-1, 1, (90, 270))]
)
def test_arcs_bound_a_hatch_either_way_round(tmp_path, side, ccw, angles):
    path = edges(
        straight((0, 0), (600, 0)),
        round_edge(600, 200, 200, start=angles[0], end=angles[1], ccw=ccw),
        straight((600, 400), (0, 400)),
        straight((0, 400), (0, 0)),
    )
    expected = 240_000 + side * np.pi * 200**2 / 2
    assert areas_mm2(read(tmp_path, hatch(path))) == pytest.approx([expected])


def test_a_whole_circle_bounds_a_hatch(tmp_path):
    path = edges(round_edge(0, 0, 100, start=0, end=360, ccw=1))
    assert areas_mm2(read(tmp_path, hatch(path))) == pytest.approx([np.pi * 1e4])


def test_half_an_ellipse_bounds_a_hatch(tmp_path):
    path = edges(
        straight((0, 0), (600, 0)),
        straight((600, 0), (600, 400)),
        straight((600, 400), (0, 400)),
        oval(0, 200, (0, 200), 0.5, start=0, end=180, ccw=1),
    )
    drawing = read(tmp_path, hatch(path))
    assert areas_mm2(drawing) == pytest.approx([240_000 + np.pi * 200 * 100 / 2], rel=1e-5)
    assert len(drawing.pieces[0].shape.outer) == 4


def test_a_spline_bounds_a_hatch(tmp_path):
    half = 0.5**0.5
    points = [(100, 0), (100, 100), (0, 100), (-100, 100), (-100, 0)]
    controls = [
        tag
        for (x, y), weight in zip(points, [1, half, 1, half, 1], strict=True)
        for tag in ((10, x), (20, y), (42, weight))
    ]
    knots = [(40, knot) for knot in (0, 0, 0, 1, 1, 2, 2, 2)]
    curved = ((72, 4), (94, 2), (73, 1), (74, 0), (95, 8), (96, 5), *knots, *controls, (97, 0))
    drawing = read(tmp_path, hatch(edges(curved, straight((-100, 0), (100, 0)))))
    assert areas_mm2(drawing) == pytest.approx([np.pi * 1e4 / 2], rel=1e-9)


def test_a_box_about_a_text_bounds_nothing(tmp_path):
    drawing = read(tmp_path, hatch(PANEL, corners(rectangle(100, 100, 50, 10), flags=8 | 2)))
    assert areas_mm2(drawing) == pytest.approx([240_000])


def test_a_boundary_that_does_not_close_is_named(tmp_path):
    path = edges(straight((0, 0), (600, 0)), straight((600, 0), (600, 400)))
    with pytest.raises(OutlineError, match=r"HATCH \(1\): has a boundary that does not close"):
        read(tmp_path, hatch(path))


@pytest.mark.parametrize(
    ("path", "says"),
    [
        (edges(((72, 9), (10, 0), (20, 0))), "boundary edge of an unknown kind"),
        (edges(oval(0, 0, (1, 0), 0, start=0, end=90, ccw=1)), "an ellipse has no width"),
        (edges(straight((0, 0), ("x", 0))), "'x' at group code 11"),
    ],
)
def test_a_boundary_that_cannot_be_read_is_refused(tmp_path, path, says):
    with pytest.raises(UnreadableError, match=says):
        read(tmp_path, hatch(path))


def test_the_loops_of_an_mpolygon_are_outlines(tmp_path):
    paths = [*PANEL, *corners(rectangle(100, 100, 200, 100), flags=16 | 2)]
    head = (70, 1), (10, 0), (20, 0), (30, 0), (210, 0), (220, 0), (230, 1), (2, ""), (71, 0)
    drawn = tags((0, "MPOLYGON"), (8, "0"), *head, (91, 2), *paths, (76, 1), (11, 30), (21, 0))
    drawing = read(tmp_path, drawn + polyline(rectangle(0, 900, 10, 10)))
    assert areas_mm2(drawing) == pytest.approx([240_000 - 20_000, 100])
    assert drawing.pieces[0].shape.outer[0].points_m[0].tolist() == pytest.approx([0.03, 0])
    assert NoteCode.HATCH_MEASURED not in codes(drawing)


def test_an_mpolygon_drawn_over_its_outline_counts_once(tmp_path):
    head = (10, 0), (20, 0), (30, 0), (210, 0), (220, 0), (230, 1)
    drawn = tags((0, "MPOLYGON"), (8, "0"), *head, (91, 1), *PANEL, (76, 1))
    drawing = read(tmp_path, drawn + polyline(rectangle(0, 0, 600, 400)))
    assert areas_mm2(drawing) == pytest.approx([240_000])


@pytest.mark.parametrize("inner", [(100, 100, 200, 100), (0, 0, 300, 400)])
def test_hatches_over_one_another_are_refused(tmp_path, inner):
    inlay = corners(rectangle(*inner))
    with pytest.raises(OutlineError, match=r"fills lie over one another \(HATCH at line 5"):
        read(tmp_path, hatch(PANEL) + hatch(inlay))


def test_a_hatch_that_fills_the_opening_of_another_is_refused(tmp_path):
    opening = corners(rectangle(100, 100, 200, 100), flags=16 | 2)
    with pytest.raises(OutlineError, match="an opening cannot be told from an inlay"):
        read(tmp_path, hatch(PANEL, opening) + hatch(opening))


def test_two_hatches_of_one_boundary_are_one_piece(tmp_path):
    assert areas_mm2(read(tmp_path, hatch(PANEL) * 2)) == pytest.approx([240_000])


def test_hatches_apart_or_side_by_side_are_pieces(tmp_path):
    for x in (600, 900):
        beside = hatch(corners(rectangle(x, 0, 600, 400)))
        assert areas_mm2(read(tmp_path, hatch(PANEL) + beside)) == pytest.approx([240_000] * 2)


def test_a_hatch_inside_the_opening_of_another_is_a_piece(tmp_path):
    opening = corners(rectangle(100, 100, 400, 200), flags=16 | 2)
    island = hatch(corners(rectangle(150, 150, 100, 50)))
    drawing = read(tmp_path, hatch(PANEL, opening) + island)
    assert areas_mm2(drawing) == pytest.approx([240_000 - 80_000, 5_000])
