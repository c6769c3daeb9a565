import io
from dataclasses import replace

import ezdxf
import numpy as np
import pytest
import shapely
from ezdxf.tools.text import plain_text

import takeoff
from takeoff.piece.developing import patterns_of
from takeoff.piece.surfaces import SurfaceClass
from takeoff.report.figures import System
from takeoff.report.flat_pattern import OUTLINE_ONLY, dxf_text, pattern_dxf
from takeoff.report.pattern_layout import PiecePattern, laid_out, laid_out_on_a_page
from takeoff.report.pattern_picture import pattern_svg
from tests.unit.piece.pieces_made import BACK, mend_body, prism, told, turned_section
from tests.unit.piece.test_curving import arc
from tests.unit.piece.test_developing import RING, ROUNDED
from tests.unit.piece.test_walls import LEGS

DOME = [(0, 470), *arc((0, 0), 470, 0, 60, 20), *arc((0, 0), 500, 60, 0, 20)]
SURROUND = [
    (0, 0), (200, 0), (200, 760), (1000, 760), (1000, 0), (1200, 0), (1200, 1070), (0, 1070),
]  # fmt: skip
HOSTILE = "</svg><script>%%u \\P{\\H9;x} ^J =1+1 зал 大厅 🙂 \n 0\nSECTION"


def piece(name, surfaces):
    return PiecePattern(name, patterns_of(surfaces))


@pytest.fixture(scope="module")
def pieces():
    return [
        piece("counter", told(prism(LEGS, 300), show=BACK)),
        piece("rounded", told(prism(ROUNDED, 900), show=BACK)),
        piece("ring", told(mend_body(RING))),
        piece("dome", told(turned_section(DOME, 64))),
    ]


def read(drawn):
    document = ezdxf.read(io.StringIO(drawn.decode("utf-8")))
    assert not document.audit().errors
    return document


def loops(document, layer, per_metre):
    lines = document.modelspace().query(f'LWPOLYLINE[layer=="{layer}"]')
    assert all(line.closed for line in lines)
    return [np.array([point[:2] for point in line.get_points()]) / per_metre for line in lines]


def net_m2(found):
    """Area of outlines, those within others taken off."""
    polygons = sorted((shapely.Polygon(loop) for loop in found), key=lambda one: -one.area)
    area_m2 = 0.0
    for number, polygon in enumerate(polygons):
        inside = any(larger.contains(polygon) for larger in polygons[:number])
        area_m2 += -polygon.area if inside else polygon.area
    return area_m2


@pytest.mark.parametrize(
    ("system", "per_metre", "unit"), [(System.METRIC, 1000.0, 4), (System.US, 1 / 0.0254, 1)]
)
def test_the_areas_of_a_class_stand_on_its_layer(pieces, system, per_metre, unit):
    document = read(pattern_dxf(pieces, system=system))
    assert document.header["$INSUNITS"] == unit
    for surface_class in SurfaceClass:
        true = [
            one.area_m2
            for whole in pieces
            for one in whole.patterns
            if one.surface_class is surface_class and one.is_true()
        ]
        found = loops(document, surface_class.name, per_metre)
        assert net_m2(found) == pytest.approx(sum(true), rel=1e-6)
    assert len(loops(document, OUTLINE_ONLY, per_metre)) == 2


def test_the_program_reads_its_own_pattern_back(pieces, tmp_path):
    file = tmp_path / "pieces.dxf"
    file.write_bytes(pattern_dxf(pieces))
    for surface_class in SurfaceClass:
        document = takeoff.check(file, layers=[surface_class.name]).to_dict()
        [row] = document["files"]
        assert row["error"] is None
        assert row["unit"]["name"] == "mm"
        areas = sorted(one["area_m2"] for one in row["pieces"])
        true = [
            one.area_m2
            for whole in pieces
            for one in whole.patterns
            if one.surface_class is surface_class and one.is_true()
        ]
        assert areas == pytest.approx(sorted(true), rel=1e-6)


@pytest.mark.parametrize("system", list(System))
def test_nothing_lies_over_anything_else(pieces, system):
    layouts = laid_out(pieces, system=system)
    cells = [shapely.box(*cell.low_m, *cell.high_m) for one in layouts for cell in one.cells]
    titles = [
        shapely.box(*one.title_at_m, one.title_at_m[0] + 1.0, one.high_m[1]) for one in layouts
    ]
    assert not any(
        one.intersects(other)
        for number, one in enumerate([*cells, *titles])
        for other in [*cells, *titles][:number]
    )
    for layout in layouts:
        for cell in layout.cells:
            drawn = [shapely.Polygon(one.outer_m) for block in cell.blocks for one in block.sheets]
            assert all(shapely.box(*cell.low_m, *cell.high_m).covers(one) for one in drawn)


@pytest.mark.parametrize("system", list(System))
def test_words_in_a_file_are_of_one_height_whatever_the_sizes_of_its_pieces(pieces, system):
    small = piece("strip", told(prism([(0, 0), (90, 0), (90, 20), (0, 20)], 40), show=BACK))
    space = read(pattern_dxf([*pieces, small], system=system)).modelspace()
    titles = {one.dxf.height for one in space.query("TEXT") if one.dxf.text in {"strip", "dome"}}
    others = [one for one in space.query("TEXT") if one.dxf.text.startswith(("F1 ", "R1 "))]
    assert len(titles) == 1
    assert len({one.dxf.height for one in others}) == 1
    assert {one.override().get("dimtxt") for one in space.query("DIMENSION")} == {
        others[0].dxf.height
    }


def test_the_height_of_a_low_strip_is_written_above_its_foot():
    low = piece("low", told(prism([(0, 0), (900, 0), (900, 20), (0, 20)], 40), show=BACK))
    space = read(pattern_dxf([low])).modelspace()
    outlines = [np.array(one.get_points())[:, 1] for one in space.query("LWPOLYLINE")]
    feet = {round(float(ys.min()), 6) for ys in outlines}
    upright = [one for one in space.query("DIMENSION") if one.dxf.angle == 90.0]
    assert len(upright) == len(outlines)
    for one in upright:
        [words] = [part for part in one.get_geometry_block() if part.dxftype() == "MTEXT"]
        reach = len(one.dxf.text) * 0.72 * words.dxf.char_height / 2.0
        foot = max(foot for foot in feet if foot < words.dxf.insert.y)
        assert words.dxf.rotation == 90.0
        assert words.dxf.insert.y - reach > foot - 1e-6


@pytest.mark.parametrize("system", list(System))
def test_a_piece_of_many_strips_is_laid_out_to_fit_a_page(pieces, system):
    strips = piece("surround", told(prism(SURROUND, 150), show=BACK))
    [plain] = laid_out([strips], system=system)
    paged = laid_out_on_a_page(strips, system=system)
    assert plain.tallness_ratio > 1.5
    assert paged.tallness_ratio <= 1.3
    many = PiecePattern("many", pieces[0].patterns * 4)
    [plain] = laid_out([many], system=system)
    assert laid_out_on_a_page(many, system=system).tallness_ratio < plain.tallness_ratio
    cells = [shapely.box(*cell.low_m, *cell.high_m) for cell in paged.cells]
    assert not any(
        one.intersects(other) for number, one in enumerate(cells) for other in cells[:number]
    )


def test_every_surface_is_named_with_its_area(pieces):
    document = read(pattern_dxf(pieces))
    texts = [text.dxf.text for text in document.modelspace().query('TEXT[layer=="TEXT"]')]
    for whole in pieces:
        assert whole.name in texts
        assert sum(text.startswith(("F", "R", "U", "B")) for text in texts) >= len(whole.patterns)
    assert texts.count("does not develop:") == 2
    assert "0.7528 m²" in texts
    openings = document.modelspace().query('TEXT[layer=="OPENING"]')
    assert {text.dxf.text for text in openings} == {"O1"}


def test_the_overall_size_is_dimensioned(pieces):
    document = read(pattern_dxf(pieces[:1]))
    dimensions = document.modelspace().query("DIMENSION")
    assert {one.dxf.layer for one in dimensions} == {"DIMENSIONS"}
    measured = {(round(one.get_measurement(), 6), one.dxf.text) for one in dimensions}
    assert (1000.0, "1000 mm") in measured
    assert (300.0, "300 mm") in measured


def test_beyond_the_first_sheets_of_a_piece_sizes_are_plain_words(pieces):
    ring = pieces[2]
    many = PiecePattern("many", ring.patterns * 20)
    space = read(pattern_dxf([many])).modelspace()
    written = [text.dxf.text for text in space.query('TEXT[layer=="DIMENSIONS"]')]
    assert len(space.query("DIMENSION")) == 120
    assert len(written) == 20
    assert "1000 mm x 1000 mm" in written


def test_the_same_pieces_give_the_same_bytes(pieces):
    before = ezdxf.options.write_fixed_meta_data_for_testing
    first = pattern_dxf(pieces)
    ezdxf.new("R2010")
    assert pattern_dxf(pieces) == first
    assert ezdxf.options.write_fixed_meta_data_for_testing == before
    assert pattern_svg(pieces[0]) == pattern_svg(pieces[0])


def test_a_hostile_name_is_only_a_name(pieces):
    hostile = replace(pieces[0], name=HOSTILE)
    document = read(pattern_dxf([hostile]))
    plain = read(pattern_dxf(pieces[:1]))
    assert len(document.modelspace()) == len(plain.modelspace()) + 1
    for text in document.modelspace().query("TEXT"):
        assert plain_text(text.dxf.text) == text.dxf.text
        assert not set(text.dxf.text) & set("\\^\n\r")
    assert "зал 大厅 🙂" in "".join(text.dxf.text for text in document.modelspace().query("TEXT"))


@pytest.mark.parametrize(
    ("text", "shown"),
    [
        ("50 % sand", "50 % sand"),
        ("a%%ub", "a% %ub"),
        ("a%%%b", "a% % %b"),
        ("\\U+0041", "/U+0041"),
        ("x^Jy", "x'Jy"),
        ("one\r\ntwo\x00three\u2028four", "one two three four"),
        ("\ud800", " "),
    ],
)
def test_commands_in_a_text_are_not_obeyed(text, shown):
    assert dxf_text(text) == shown
    assert plain_text(dxf_text(text)) == shown


def test_no_pieces_make_an_empty_drawing():
    assert len(read(pattern_dxf([])).modelspace()) == 0
