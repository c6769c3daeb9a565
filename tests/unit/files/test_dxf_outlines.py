import re
from itertools import pairwise

import pytest

from takeoff.errors import OutlineError
from takeoff.notes import NoteCode
from tests.unit.files.dxf_reading import areas_mm2, codes, openings_mm, read
from tests.unit.files.dxf_text import block, circle, insert, line, lines, polyline, rectangle

CORNERS = rectangle(0, 0, 600, 400)
PANEL = polyline(CORNERS)


@pytest.mark.parametrize(
    ("entities", "says"),
    [
        (
            polyline([*CORNERS, (0, 3.5)], flags=0),
            "a gap of 3.5 mm between (0, 0) and (0, 3.5) (LWPOLYLINE at line 5, on layer 0); close",
        ),
        (
            lines(CORNERS) + line((0, 0), (600, 400)),
            "three or more lines meet at (0, 0) (the first of 2 such points)",
        ),
        (
            polyline([(0, 0), (600, 0), (0, 400), (600, 400)]),
            "crosses itself at (300, 200), or runs along itself there (LWPOLYLINE at line 5, on",
        ),
        (
            PANEL + polyline(rectangle(500, 100, 300, 50)),
            "cross at (600, 100) (LWPOLYLINE at line 5, on layer 0, and LWPOLYLINE at line 29, on",
        ),
        (
            line((0, 0), (600, 0)) + line((600, 0), (600, 400)) + line((600, 400), (1, 1)),
            "a gap of 1.4142 mm between (0, 0) and (1, 1)",
        ),
    ],
)
def test_a_refusal_names_the_point_and_the_entity(tmp_path, entities, says):
    with pytest.raises(OutlineError, match=re.escape(says)):
        read(tmp_path, entities)


def test_a_refusal_gives_coordinates_in_the_unit_of_the_drawing(tmp_path):
    bow_tie = polyline([(0, 0), (24, 0), (0, 10), (24, 10)])
    with pytest.raises(OutlineError, match=r"crosses itself at \(12, 5\)"):
        read(tmp_path, bow_tie, unit="in")


def test_a_refusal_advises_to_choose_a_layer_where_there_are_several(tmp_path):
    crossed = polyline(CORNERS, layer="TOP") + polyline(rectangle(500, 100, 300, 50), layer="NOTES")
    with pytest.raises(OutlineError, match=r"choose the layer .* --layer \(here: NOTES, TOP\)"):
        read(tmp_path, crossed)
    assert areas_mm2(read(tmp_path, crossed, asked=("TOP",))) == pytest.approx([240_000])


def test_a_refusal_inside_a_block_names_the_block(tmp_path):
    hook = block("TOP", polyline([*CORNERS, (0, 3.5)], flags=0))
    with pytest.raises(OutlineError, match="on layer 0, in block TOP"):
        read(tmp_path, insert("TOP", 0, 0), blocks=hook)


def test_several_gaps_are_counted_and_the_widest_is_given(tmp_path):
    corners = [*CORNERS, CORNERS[0]]
    short = "".join(
        line(a, (b[0] - 0.01 * (b[0] - a[0]), b[1] - 0.01 * (b[1] - a[1])))
        for a, b in pairwise(corners)
    )
    says = r"gap of 6 mm between \(594, 0\) and \(600, 0\) .*and 2 more\), the widest of 4 gaps"
    with pytest.raises(OutlineError, match=says):
        read(tmp_path, short + circle(300, 200, 50))


def test_a_closed_gap_is_noted_with_its_place(tmp_path):
    short = line((0.05, 0), (600, 0)) + lines(
        [(600, 0), (600, 400), (0, 400), (0, 0)], closed=False
    )
    drawing = read(tmp_path, short)
    assert codes(drawing) == [NoteCode.GAP_BRIDGED, NoteCode.MENDED]
    assert drawing.notes[0].text.startswith("gaps in outlines closed: 1, the widest 0.05 mm at (0")
    assert [(tally.what, tally.count) for tally in drawing.mended] == [("gaps closed", 1)]


def test_repeats_are_counted_by_their_kind(tmp_path):
    drawn = lines(CORNERS) * 2 + circle(300, 200, 50) * 2 + line((5, 5), (5, 5))
    drawing = read(tmp_path, drawn + line((100, 0), (300, 0)))
    assert areas_mm2(drawing) == pytest.approx([240_000 - 3.141592653589793 * 2500])
    assert {tally.what: tally.count for tally in drawing.mended} == {
        "repeated lines or arcs dropped": 5,
        "repeated outlines dropped": 1,
        "lines without length dropped": 1,
    }
    assert openings_mm(drawing) == pytest.approx(2 * 3.141592653589793 * 50)


def test_outlines_on_several_layers_are_noted_with_their_areas(tmp_path):
    drawing = read(
        tmp_path,
        polyline(CORNERS, layer="FRAME") + polyline(rectangle(50, 50, 100, 100), layer="TOP"),
    )
    [note] = drawing.notes
    assert note.code is NoteCode.LAYER_CHOICE
    assert "FRAME 0.24 m², TOP 0.01 m²" in note.text


def test_the_areas_of_layers_are_those_when_measured_alone(tmp_path):
    inside = polyline(rectangle(10, 10, 50, 50), layer="B") + polyline(CORNERS, layer="A")
    drawing = read(tmp_path, inside + polyline(rectangle(100, 10, 50, 50), layer="B"))
    assert "A 0.24 m², B 0.005 m²" in drawing.notes[0].text


def test_an_island_in_a_frame_is_doubted(tmp_path):
    frame = polyline(rectangle(-100, -100, 1000, 800))
    drawing = read(tmp_path, frame + PANEL + circle(300, 200, 80))
    assert [piece.shape.holes != () for piece in drawing.pieces] == [True, False]
    assert codes(drawing) == [NoteCode.LAYER_CHOICE]
    assert "sheet frame" in drawing.notes[0].text


def test_straight_open_lines_are_named_and_bent_ones_doubted(tmp_path):
    straight, bent = line((0, 200), (600, 200)), lines([(50, 50), (90, 50), (90, 90)], closed=False)
    drawing = read(tmp_path, PANEL + straight + bent)
    assert areas_mm2(drawing) == pytest.approx([240_000])
    assert sorted((tally.what, tally.count) for tally in drawing.skipped) == [
        ("LINE on layer 0", 1),
        ("LINE on layer 0", 2),
    ]
    [note] = drawing.notes
    assert "LINE on layer 0 (2): bent, but open" in note.text


def test_the_order_of_the_entities_changes_nothing(tmp_path):
    drawn = [*(line(a, b) for a, b in zip(CORNERS, [*CORNERS[1:], CORNERS[0]], strict=True))]
    drawn += [circle(100 + 100 * k, 200, 20 + k % 2) for k in range(4)]
    plain, turned = read(tmp_path, "".join(drawn)), read(tmp_path, "".join(drawn[::-1]))

    def corners(drawing):
        outline = drawing.pieces[0].shape
        sides = [*outline.outer, *(side for hole in outline.holes for side in hole)]
        return [(side.id, *side.points_m[0].round(9).tolist()) for side in sides]

    assert corners(plain) == corners(turned)
    assert areas_mm2(plain) == pytest.approx(areas_mm2(turned), rel=1e-12)
