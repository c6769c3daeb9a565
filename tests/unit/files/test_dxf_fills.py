import pytest

from takeoff.errors import OutlineError, UnreadableError
from takeoff.notes import NoteCode
from tests.unit.files.dxf_reading import areas_mm2, codes, left_out, outer_mm, read
from tests.unit.files.dxf_text import block, fill, insert, line, polyline, rectangle

PANEL = (0, 0), (900, 0), (0, 600), (900, 600)  # crosswise, as they are stored
LENGTH, WIDTH, HEIGHT = 900, 600, 40


def quad(a, b, c, d, *more, layer="0"):
    """Write a SOLID from corners in turn."""
    return fill([a, b, d, c], *more, layer=layer)


def box():
    """Write the six faces of a box."""
    low = [(*corner, 0) for corner in rectangle(0, 0, LENGTH, WIDTH)]
    high = [(*corner, HEIGHT) for corner in rectangle(0, 0, LENGTH, WIDTH)]
    walls = [quad(low[k - 1], low[k], high[k], high[k - 1]) for k in range(4)]
    return "".join([quad(*low), quad(*high), *walls])


@pytest.mark.parametrize("kind", ["SOLID", "TRACE"])
def test_the_third_and_fourth_corner_are_stored_crosswise(tmp_path, kind):
    drawing = read(tmp_path, fill(PANEL, kind=kind))
    assert areas_mm2(drawing) == pytest.approx([540_000])
    assert outer_mm(drawing) == pytest.approx([3000])
    assert codes(drawing) == [NoteCode.HATCH_MEASURED]
    assert f"the boundary of a {kind} ({kind} at line" in drawing.notes[0].text


@pytest.mark.parametrize("corners", [PANEL[:3], (*PANEL[:3], PANEL[2])])
def test_a_triangle_has_three_corners_or_repeats_the_last(tmp_path, corners):
    assert areas_mm2(read(tmp_path, fill(corners))) == pytest.approx([270_000])


def test_a_fill_that_crosses_itself_is_refused(tmp_path):
    in_turn = rectangle(0, 0, 900, 600)
    with pytest.raises(OutlineError, match=r"crosses itself at \(450, 300\).*SOLID at line"):
        read(tmp_path, fill(in_turn))


@pytest.mark.parametrize("corners", [[(0, 0)] * 4, [(0, 0), (300, 100), (600, 200), (900, 300)]])
def test_a_fill_without_area_is_named(tmp_path, corners):
    with pytest.raises(OutlineError, match=r"it holds SOLID \(1\): has no area"):
        read(tmp_path, fill(corners))


def test_an_extrusion_that_faces_down_mirrors_a_fill(tmp_path):
    drawing = read(tmp_path, fill(PANEL, (210, 0), (220, 0), (230, -1)))
    assert areas_mm2(drawing) == pytest.approx([540_000])
    assert drawing.pieces[0].shape.outer[0].points_m[:, 0].max() <= 0.0


def test_a_fill_with_a_thickness_is_measured_in_plan(tmp_path):
    drawing = read(tmp_path, fill(PANEL, (39, -30)))
    assert areas_mm2(drawing) == pytest.approx([540_000])
    assert "up to 30 mm" in drawing.notes[1].text
    assert codes(drawing) == [NoteCode.HATCH_MEASURED, NoteCode.EDGE_DEPTH]


def test_fills_side_by_side_are_one_piece(tmp_path):
    drawing = read(tmp_path, fill(PANEL) + quad((900, 0), (1200, 0), (1200, 600), (900, 600)))
    assert areas_mm2(drawing) == pytest.approx([720_000])
    assert outer_mm(drawing) == pytest.approx([3600])
    assert len(drawing.pieces[0].shape.outer) == 4


def test_fills_about_an_opening_leave_it_open(tmp_path):
    bars = [(0, 0, 900, 100), (0, 500, 900, 100), (0, 0, 100, 600), (800, 0, 100, 600)]
    drawing = read(tmp_path, "".join(quad(*rectangle(*bar)) for bar in bars))
    assert areas_mm2(drawing) == pytest.approx([900 * 600 - 700 * 400])
    assert len(drawing.pieces[0].shape.holes) == 1


@pytest.mark.parametrize(
    ("tags", "factor"),
    [
        (((41, -2), (42, 1.5), (50, 30)), 3.0),
        (((41, -1), (42, 1), (43, 0)), 1.0),
        (((210, 0), (220, 0), (230, -1)), 1.0),
    ],
)
def test_a_block_scales_and_mirrors_a_fill(tmp_path, tags, factor):
    drawing = read(tmp_path, insert("P", 500, 200, *tags), blocks=block("P", fill(PANEL)))
    assert areas_mm2(drawing) == pytest.approx([540_000 * factor])


def test_an_array_of_fills_is_as_many_pieces_as_stand_apart(tmp_path):
    panels = block("P", fill(PANEL))
    apart = read(tmp_path, insert("P", 0, 0, (70, 3), (44, 1000)), blocks=panels)
    assert areas_mm2(apart) == pytest.approx([540_000] * 3)
    touching = read(tmp_path, insert("P", 0, 0, (70, 3), (44, 900)), blocks=panels)
    assert areas_mm2(touching) == pytest.approx([540_000 * 3])


def test_beside_an_outline_a_fill_is_left_out(tmp_path):
    drawing = read(tmp_path, fill(PANEL) + polyline(rectangle(100, 100, 200, 100)))
    assert areas_mm2(drawing) == pytest.approx([20_000])
    assert left_out(drawing) == {"SOLID": 1}
    assert drawing.notes == ()


def test_an_arrow_head_at_an_open_line_is_no_piece(tmp_path):
    arrow = fill([(0, 0), (30, 5), (30, -5)])
    with pytest.raises(OutlineError, match=r"SOLID \(1\): a fill, no outline"):
        read(tmp_path, arrow + line((30, 0), (900, 0)))


def test_a_fill_of_two_corners_is_named(tmp_path):
    drawing = read(tmp_path, polyline(rectangle(0, 0, 200, 100)) + fill(PANEL[:2]))
    assert areas_mm2(drawing) == pytest.approx([20_000])
    assert drawing.notes[0].text == "left out: SOLID (1): has fewer than three corners"


def test_fills_on_several_layers_that_overlap_are_refused_naming_the_layers(tmp_path):
    both = fill(PANEL, layer="A") + quad(*rectangle(800, 0, 400, 600), layer="B")
    with pytest.raises(OutlineError, match=r"two outlines cross.*here: A, B"):
        read(tmp_path, both)
    assert areas_mm2(read(tmp_path, both, asked=("B",))) == pytest.approx([240_000])


def test_fills_in_space_are_the_faces_of_a_body(tmp_path):
    [piece] = read(tmp_path, box()).pieces
    area = 2 * (LENGTH * WIDTH + LENGTH * HEIGHT + WIDTH * HEIGHT)
    assert piece.report.area_m2 == pytest.approx(area * 1e-6)
    assert piece.report.volume_m3 == pytest.approx(LENGTH * WIDTH * HEIGHT * 1e-9)


def test_a_flat_fill_on_another_layer_is_no_face(tmp_path):
    drawing = read(tmp_path, box() + fill(PANEL, layer="MARKS"))
    assert drawing.pieces[0].report.volume_m3 == pytest.approx(LENGTH * WIDTH * HEIGHT * 1e-9)
    assert left_out(drawing) == {"SOLID": 1}


def test_a_thick_fill_in_space_is_named(tmp_path):
    drawing = read(tmp_path, box() + fill(PANEL, (39, 5)))
    assert left_out(drawing) == {"SOLID": 1}
    assert "stands for a body in space" in drawing.notes[-1].text
    upright = (210, 1), (220, 0), (230, 0), (39, 30)
    with pytest.raises(OutlineError, match="stands for a body in space"):
        read(tmp_path, fill(PANEL, *upright))


def test_a_fill_beyond_all_sense_is_refused(tmp_path):
    with pytest.raises(UnreadableError, match=r"SOLID at line .* beyond 100000 km"):
        read(tmp_path, fill([(1e13, 0), *PANEL[1:]]))


def test_fills_of_one_layer_over_those_of_another_are_refused(tmp_path):
    inlay = quad(*rectangle(100, 100, 200, 100), layer="INLAY")
    with pytest.raises(OutlineError, match=r"at \(200, 150\) several fills lie over one another"):
        read(tmp_path, fill(PANEL) + inlay)
