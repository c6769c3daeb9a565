import pytest

from takeoff.errors import UnreadableError
from takeoff.geometry.outlines import bounds_m
from tests.unit.files.dxf_reading import areas_mm2, codes, openings_mm, read
from tests.unit.files.dxf_text import block, circle, insert, polyline, rectangle, tags

OVAL = tags((0, "ELLIPSE"), (8, "0"), (10, 40), (20, 0), (11, 20), (21, 0), (40, 0.5))
WIDE = polyline(rectangle(-20, 30, 40, 20), (43, 5), (39, 3))
NOTE = tags((0, "TEXT"), (8, "0"), (10, 0), (20, 0), (40, 2), (1, "A"))
BLOCKS = block("HOLES", circle(0, 0, 10) + OVAL + WIDE + NOTE)
PANEL = polyline(rectangle(-100, -100, 1200, 900))


@pytest.mark.parametrize("scale", [(), ((41, -1),), ((41, 2),)], ids=["plain", "mirror", "wide"])
def test_an_array_gives_what_its_cells_give_one_by_one(tmp_path, scale):
    array = insert("HOLES", 0, 0, *scale, (70, 3), (71, 2), (44, 200), (45, 150))
    single = "".join(
        insert("HOLES", 200 * column, 150 * row, *scale) for row in range(2) for column in range(3)
    )
    together = read(tmp_path, PANEL + array, blocks=BLOCKS)
    apart = read(tmp_path, PANEL + single, blocks=BLOCKS)
    assert areas_mm2(together) == pytest.approx(areas_mm2(apart))
    assert openings_mm(together) == pytest.approx(openings_mm(apart))
    assert bounds_m(together.pieces[0].shape) == bounds_m(apart.pieces[0].shape)
    assert [note.text for note in together.notes] == [note.text for note in apart.notes]
    assert together.skipped == apart.skipped
    assert codes(together)


def test_a_cell_further_out_than_the_earth_is_refused(tmp_path):
    array = insert("HOLES", 0, 0, (70, 2), (71, 1), (44, 1e20))
    with pytest.raises(UnreadableError, match="beyond 100000 km"):
        read(tmp_path, PANEL + array, blocks=BLOCKS)
