import pytest

from takeoff.errors import UnreadableError
from takeoff.notes import NoteCode
from tests.unit.files.dxf_reading import areas_mm2, codes, left_out, openings_mm, read
from tests.unit.files.dxf_text import polyline, rectangle, tags

PANEL = polyline(rectangle(0, 0, 600, 400))
DIAGONALS = ((-1, -1), (1, -1), (1, 1), (-1, 1))


def multiline(points, miters, offsets, *, flags=3, breaks=()):
    """Write an MLINE whose lines lie at these offsets along each miter."""
    body = []
    for (x, y), (across, up) in zip(points, miters, strict=True):
        body += [(11, x), (21, y), (31, 0), (12, 1), (22, 0), (32, 0)]
        body += [(13, across), (23, up), (33, 0)]
        for offset in offsets:
            body += [(74, 1 + len(breaks)), (41, offset), *((41, at) for at in breaks), (75, 0)]
    return tags(
        (0, "MLINE"), (8, "0"), (2, "WALL"), (40, 1.0), (70, 0), (71, flags), (72, len(points)),
        (73, len(offsets)), (10, 0), (20, 0), (30, 0), *body,
    )  # fmt: skip


def test_a_closed_twofold_multiline_is_a_ring(tmp_path):
    drawn = multiline(rectangle(0, 0, 600, 400), DIAGONALS, (0, 50))
    drawing = read(tmp_path, drawn)
    assert areas_mm2(drawing) == pytest.approx([700 * 500 - 600 * 400])
    assert openings_mm(drawing) == pytest.approx(2000)


@pytest.mark.parametrize(
    "drawn",
    [
        multiline(rectangle(0, 0, 600, 400), DIAGONALS, (0, 50), flags=1),
        multiline(rectangle(0, 0, 600, 400), DIAGONALS, (0, 25, 50)),
        multiline(rectangle(0, 0, 600, 400), DIAGONALS, (0, 50), breaks=(0, 100, 200)),
    ],
    ids=["open", "threefold", "broken"],
)
def test_a_multiline_whose_outline_cannot_be_told_is_left_out_and_doubted(tmp_path, drawn):
    drawing = read(tmp_path, PANEL + drawn)
    assert areas_mm2(drawing) == pytest.approx([240_000])
    assert left_out(drawing) == {"MLINE": 1}
    assert codes(drawing) == [NoteCode.SKIPPED]
    assert "explode it in CAD" in drawing.notes[0].text


def test_a_corner_without_all_its_coordinates_is_refused(tmp_path):
    drawn = multiline(rectangle(0, 0, 600, 400), DIAGONALS, (0, 50)).replace(" 23\n", " 29\n", 1)
    with pytest.raises(UnreadableError, match="MLINE at line 5 has a corner without all its"):
        read(tmp_path, drawn)
