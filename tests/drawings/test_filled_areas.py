"""Drawings made of filled triangles and four-sided areas, against closed forms beside them."""

from math import cos, pi, radians, sin, sqrt, tan

import numpy as np
import pytest

from takeoff.errors import OutlineError
from takeoff.geometry.outlines import bounds_m
from takeoff.notes import NoteCode
from tests.unit.files.dxf_reading import areas_mm2, codes, openings_mm, outer_mm, read
from tests.unit.files.dxf_text import block, fill, insert, polyline, rectangle

TRAPEZE = (0, 0), (900, 0), (200, 400), (700, 400)  # stored crosswise: 900 and 500 wide, 400 high
TRAPEZE_AREA = (900 + 500) / 2 * 400
TRAPEZE_AROUND = 900 + 500 + 2 * sqrt(200**2 + 400**2)
DOWN = (210, 0), (220, 0), (230, -1)


def spoke(radius, number, count):
    angle = 2 * pi * number / count
    return radius * cos(angle), radius * sin(angle)


@pytest.mark.parametrize("kind", ["SOLID", "TRACE"])
@pytest.mark.parametrize("more", [(), DOWN, ((39, 25),), ((38, 7),)])
def test_a_trapeze(tmp_path, kind, more):
    drawing = read(tmp_path, fill(TRAPEZE, *more, kind=kind))
    assert areas_mm2(drawing) == pytest.approx([TRAPEZE_AREA])
    assert outer_mm(drawing) == pytest.approx([TRAPEZE_AROUND])


def test_an_octagon_of_triangles_about_its_middle(tmp_path):
    slices = [fill([(0, 0), spoke(500, k, 8), spoke(500, k + 1, 8)]) for k in range(8)]
    drawing = read(tmp_path, "".join(slices))
    assert areas_mm2(drawing) == pytest.approx([4 * 500**2 * sin(pi / 4)], rel=1e-5)
    assert outer_mm(drawing) == pytest.approx([16 * 500 * sin(pi / 8)], rel=1e-5)


def test_a_ring_of_twelve_has_an_opening(tmp_path):
    parts = [
        fill([spoke(500, k, 12), spoke(500, k + 1, 12), spoke(300, k, 12), spoke(300, k + 1, 12)])
        for k in range(12)
    ]
    drawing = read(tmp_path, "".join(parts))
    assert areas_mm2(drawing) == pytest.approx([6 * (500**2 - 300**2) * sin(pi / 6)], rel=1e-5)
    assert outer_mm(drawing) == pytest.approx([24 * 500 * sin(pi / 12)], rel=1e-5)
    assert openings_mm(drawing) == pytest.approx(24 * 300 * sin(pi / 12), rel=1e-5)


def test_a_mirrored_block_in_a_turned_and_stretched_one(tmp_path):
    blocks = block("IN", fill(TRAPEZE), base=(100, 50))
    blocks += block("OUT", insert("IN", 10, 20, (41, -1), (50, 25)))
    drawing = read(tmp_path, insert("OUT", 0, 0, (41, 2), (42, 3), (43, 0)), blocks=blocks)
    assert areas_mm2(drawing) == pytest.approx([6 * TRAPEZE_AREA], rel=1e-5)


def test_an_extrusion_downwards_turns_a_fill_to_the_other_side(tmp_path):
    [piece] = read(tmp_path, fill([(100, 0), (300, 0), (100, 50), (300, 50)], *DOWN)).pieces
    assert np.array(bounds_m(piece.shape)) == pytest.approx(np.array([[-0.3, 0], [-0.1, 0.05]]))


def test_a_tilted_plate_of_fills_in_space(tmp_path):
    """A plate 900 by 400, 30 thick, leaning by 35 degrees."""
    out, up = cos(radians(35)), sin(radians(35))
    low = [(x, y * out, y * up) for x, y in rectangle(0, 0, 900, 400)]
    high = [(x, y - 30 * up, z + 30 * out) for x, y, z in low]
    sides = [low, high, *([low[k - 1], low[k], high[k], high[k - 1]] for k in range(4))]
    [piece] = read(tmp_path, "".join(fill([a, b, d, c]) for a, b, c, d in sides)).pieces
    area = 2 * (900 * 400 + 900 * 30 + 400 * 30)
    assert piece.report.area_m2 == pytest.approx(area * 1e-6)
    assert piece.report.volume_m3 == pytest.approx(900 * 400 * 30e-9)


def test_an_open_ramp_of_triangles_in_space(tmp_path):
    drawing = read(tmp_path, fill([(0, 0, 0), (900, 0, 0), (0, 400, 300)]))
    assert drawing.pieces[0].report.area_m2 == pytest.approx(0.9 * 0.5 / 2)
    assert codes(drawing) == [NoteCode.NOT_CLOSED]


def test_a_skewed_fill_whose_sides_cross_is_refused_where_they_do(tmp_path):
    middle = 450 * tan(radians(30))
    crossed = [(0, 0), (900, 0), (900, 2 * middle), (0, 2 * middle)]
    with pytest.raises(OutlineError, match=r"crosses itself at \(450, 259\.8076\)"):
        read(tmp_path, fill(crossed))


def test_arrow_heads_beside_an_outline_change_nothing(tmp_path):
    heads = fill([(0, -50), (30, -45), (30, -55)]) + fill([(900, -50), (870, -45), (870, -55)])
    alone = polyline(rectangle(0, 0, 900, 400))
    assert areas_mm2(read(tmp_path, alone + heads)) == pytest.approx([360_000])
