import re
from pathlib import Path

import pytest

from takeoff.job.found_drawings import found_in
from takeoff.measuring.request import MeasureRequest
from takeoff.report.figures import System
from takeoff.report.start_ids import id_lines
from takeoff.report.start_job import job_lines
from takeoff.report.start_piece import drawn_text, piece_lines
from takeoff.report.toml_sheet import sheet_text
from tests.house.walking import ROOT

HALL = ROOT / "samples" / "ferry-hall"
DRAWINGS = ROOT / "tests" / "drawings"


def text_of(path, **told):
    row = found_in(Path(path), "drawing", MeasureRequest(**told))
    return sheet_text(piece_lines(row))


def test_every_edge_of_an_outline_can_be_made_bare():
    text = text_of(HALL / "wall-panel.dxf")
    assert 'edge_depth = "?"' in text
    assert "\n#[piece.edge]\n#E1 = 0  # bottom, 1200 mm\n#E2 = 0  # right, 2700 mm\n" in text
    assert "\n#E5 = 0  # opening 1: left, 900 mm\n" in text
    assert "# Opening 1, 600 mm x 900 mm, is bounded by E5, E6, E7, E8: its wall is cast" in text


def test_walls_and_openings_of_a_mesh_stand_by_id():
    text = text_of(HALL / "ticket-counter.stl", unit="mm", kind="open", show="up")
    assert '\n#[piece.opening]\n#O1 = "coated"  # 380 mm wide, 40 mm deep\n' in text
    assert '\n#U1 = "dammed"  # upright, 860 mm deep, 0.559 m²\n' in text
    assert '\n#R3 = "dammed"  # return of opening O1, 40 mm deep, 0.02 m²\n' in text


def test_readings_stand_above_the_line_that_asks_for_one():
    lines = text_of(HALL / "ticket-counter.stl", unit="mm").splitlines()
    at = next(number for number, line in enumerate(lines) if line.startswith('show = "?"'))
    assert lines[at - 6].startswith("#   S1  open, up: show face 1.37 m², return 0.1908 m², up")
    assert lines[at - 1].startswith("#   S6  open, down: ")


def test_a_kind_alone_is_asked_beside_the_direction_that_was_told():
    text = text_of(DRAWINGS / "pieces" / "form_island.stl", unit="mm", show="down")
    assert 'kind = "?"' in text
    assert '\nshow = "down"\n' in text


def test_a_kind_that_was_told_stands_beside_the_direction_that_is_asked():
    text = text_of(HALL / "ticket-counter.stl", unit="mm", kind="open")
    assert re.search(r'^kind = "open" +# as told$', text, re.MULTILINE)
    assert '\nshow = "?" ' in text


def test_sizes_stand_above_the_line_that_asks_for_the_unit():
    head, asked, _ = text_of(HALL / "hearth-surround.stl").partition('\nunit = "?" ')
    assert asked
    told = " ".join(head.split("\n# "))
    assert "1.219 x 0.1524 x 1.067 m (in); 14.63 x 1.829 x 12.8 m (ft)" in told
    assert "m (mm)" not in told


def test_a_size_that_is_absurd_is_noted():
    assert "# Note: 0.048 x 0.006 x 0.042 m overall is absurd" in text_of(
        HALL / "hearth-surround.stl", unit="mm"
    )


@pytest.mark.parametrize(
    ("name", "told", "words"),
    [
        ("wall-panel.dxf", {}, "unit mm (declared), outline 1200 mm x 2700 mm, 8 edges, 1 opening"),
        (
            "hearth-surround.stl",
            dict(unit="in"),
            "unit in (told), mesh 4 ft x 6 in x 3 ft 6 in, piece, show side front (found)",
        ),
        ("ticket-counter.stl", {}, "its unit is not told, mesh, 6 ways to read it"),
    ],
)
def test_what_was_found_is_said_in_a_line(name, told, words):
    found = drawn_text(found_in(HALL / name, name, MeasureRequest(**told)))
    assert found.startswith(words)


def test_of_many_edges_the_first_are_listed_and_the_rest_counted():
    row = found_in(HALL / "wall-panel.dxf", "panel.dxf", MeasureRequest())
    (piece,) = row["drawn"]
    many = {**piece, "edges": [{**piece["edges"][0], "id": f"E{n}"} for n in range(1, 53)]}
    text = sheet_text(id_lines([many], System.METRIC))
    assert "\n#E40 = 0 " in text
    assert "\n#E41 = 0 " not in text
    assert "# ... and 12 more edges: takeoff check --json lists them all." in text


def test_a_way_is_asked_for_only_where_there_may_be_walls():
    row = found_in(HALL / "hearth-surround.stl", "s.stl", MeasureRequest(unit="in"))
    flat = {**row, "drawn": [{**row["drawn"][0], "walls": []}]}
    told = dict(name="hall", shop="shop.toml", face_coat="a", backer="b", mixes=[])
    assert '\nway = "?" ' in sheet_text(job_lines([row], **told))
    assert '\n#way = "dammed" ' in sheet_text(job_lines([flat], **told))
