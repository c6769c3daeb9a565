import pytest

from takeoff.files.dxf import read_dxf
from takeoff.files.dxf_set_aside import CLIPPED, TEXT_FRAME
from takeoff.notes import NoteCode
from tests.unit.files.dxf_reading import areas_mm2, codes, left_out
from tests.unit.files.dxf_text import block, circle, dxf, insert, polyline, rectangle, saved, tags

PANEL = polyline(rectangle(0, 0, 600, 400))
BORDER = (
    (1001, "ACAD"), (1000, "ACAD_MTEXT_TEXT_BORDERS_BEGIN"), (1070, 5), (1005, "9F"),
    (1000, "ACAD_MTEXT_TEXT_BORDERS_END"), (1005, "77"),
)  # fmt: skip


def with_objects(text, *objects):
    """Put an OBJECTS section before the end of a file."""
    held = tags((0, "SECTION"), (2, "OBJECTS"), *objects, (0, "ENDSEC"))
    return text.replace(tags((0, "EOF")), held + tags((0, "EOF")))


def test_the_frame_of_a_text_is_no_outline(tmp_path):
    said = tags((0, "MTEXT"), (8, "0"), (10, 900), (20, 0), (40, 20), (1, "Top"), *BORDER)
    framed = polyline(rectangle(900, 0, 200, 100), (5, "9f"))
    other = polyline(rectangle(900, 500, 100, 100), (5, "77"))
    drawing = read_dxf(saved(tmp_path, dxf(PANEL + said + framed + other)), unit="mm")
    assert areas_mm2(drawing) == pytest.approx([240_000, 10_000])
    assert {tally.what: tally.why for tally in drawing.skipped}["LWPOLYLINE"] == TEXT_FRAME
    assert drawing.notes == ()


@pytest.mark.parametrize(("switched", "clipped"), [((71, 1), True), ((71, 0), False)])
def test_a_clipped_block_reference_is_left_out_and_doubted(tmp_path, switched, clipped):
    blocks = block("HOLE", circle(0, 0, 10))
    text = with_objects(
        dxf(PANEL + insert("HOLE", 300, 200, (5, "2A")), blocks=blocks),
        (0, "DICTIONARY"), (5, "30"), (330, "2A"), (3, "ACAD_FILTER"), (360, "31"),
        (0, "DICTIONARY"), (5, "31"), (330, "30"), (3, "SPATIAL"), (360, "32"),
        (0, "SPATIAL_FILTER"), (5, "32"), (102, "{ACAD_REACTORS"), (330, "31"), (102, "}"),
        (330, "31"), (70, 2), (10, 0), (20, 0), (10, 5), (20, 5), switched,
    )  # fmt: skip
    drawing = read_dxf(saved(tmp_path, text), unit="mm")
    assert (len(drawing.pieces[0].shape.holes) == 0) is clipped
    assert left_out(drawing) == ({"INSERT": 1} if clipped else {})
    assert codes(drawing) == ([NoteCode.SKIPPED] if clipped else [])
    assert all(CLIPPED in note.text for note in drawing.notes)


def test_filters_that_own_each_other_do_no_harm(tmp_path):
    text = with_objects(
        dxf(PANEL), (0, "DICTIONARY"), (5, "30"), (330, "31"),
        (0, "DICTIONARY"), (5, "31"), (330, "30"), (0, "SPATIAL_FILTER"), (5, "32"), (330, "31"),
    )  # fmt: skip
    assert areas_mm2(read_dxf(saved(tmp_path, text), unit="mm")) == pytest.approx([240_000])
