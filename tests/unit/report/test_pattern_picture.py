import re
from dataclasses import replace
from xml.etree import ElementTree as Tree

import pytest
import shapely

from takeoff.report.figures import System
from takeoff.report.pattern_layout import PiecePattern
from takeoff.report.pattern_picture import pattern_svg
from tests.unit.piece.pieces_made import BACK, mend_body, prism, told
from tests.unit.piece.test_developing import RING
from tests.unit.piece.test_walls import LEGS
from tests.unit.report.test_flat_pattern import HOSTILE, piece

SVG = "{http://www.w3.org/2000/svg}"


def areas_px2(root):
    """Area of each path by its surface, holes taken off."""
    areas = {}
    for path in root.iter(f"{SVG}path"):
        loops = [
            shapely.Polygon([tuple(map(float, pair.split(","))) for pair in loop.split()])
            for loop in re.findall(r"M([^Z]*)Z", path.get("d"))
        ]
        whole = max(loops, key=lambda loop: loop.area)
        areas[path.get("data-surface")] = 2.0 * whole.area - sum(loop.area for loop in loops)
    return areas


@pytest.mark.parametrize("surfaces", [told(prism(LEGS, 300), show=BACK), told(mend_body(RING))])
def test_areas_in_the_picture_are_in_the_ratio_of_those_measured(surfaces):
    whole = piece("a", surfaces)
    found = areas_px2(Tree.fromstring(pattern_svg(whole)))
    scale = found["F1"] / whole.patterns[0].area_m2
    for pattern in whole.patterns:
        assert found[pattern.id] / scale == pytest.approx(pattern.area_m2, rel=0.01)


def test_all_that_is_drawn_lies_on_the_paper():
    root = Tree.fromstring(pattern_svg(piece("a", told(prism(LEGS, 300), show=BACK))))
    _, _, wide, high = map(float, root.get("viewBox").split())
    for element in root.iter(f"{SVG}path"):
        for pair in re.findall(r"[-\d.]+,[-\d.]+", element.get("d")):
            x, y = map(float, pair.split(","))
            assert 0 < x < wide
            assert 0 < y < high
    for element in root.iter(f"{SVG}text"):
        assert 0 < float(element.get("x")) < wide
        assert 0 < float(element.get("y")) < high


def test_classes_differ_by_more_than_colour():
    root = Tree.fromstring(pattern_svg(piece("a", told(prism(LEGS, 300), show=BACK))))
    dashes = {
        path.get("data-surface")[0]: path.get("stroke-dasharray")
        for path in root.iter(f"{SVG}path")
    }
    assert len(set(dashes.values())) == len(dashes) == 4


def test_a_hostile_name_stays_text():
    whole = replace(piece("a", told(prism(LEGS, 300), show=BACK)), name=HOSTILE)
    drawn = pattern_svg(whole)
    assert "<script" not in drawn
    assert drawn.count("</svg>") == 1
    assert Tree.fromstring(drawn).find(f"{SVG}title").text.endswith(HOSTILE)


def test_sizes_are_written_in_the_units_of_the_job():
    whole = piece("a", told(prism(LEGS, 300), show=BACK))
    assert ">1000 mm<" in pattern_svg(whole)
    assert ">3 ft 3 3/8 in<" in pattern_svg(whole, system=System.US)
    assert "mm" not in "".join(re.findall(r">([^<]*)<", pattern_svg(whole, system=System.US)))


def test_a_piece_without_surfaces_is_a_title():
    root = Tree.fromstring(pattern_svg(PiecePattern("bench", ())))
    assert [text.text for text in root.iter(f"{SVG}text")] == ["bench"]
