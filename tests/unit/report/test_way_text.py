import pytest

from takeoff.report.figures import System
from takeoff.report.way_text import ways_text


def way_row(**changes):
    row = {
        "surface": "U1",
        "depth_m": 0.2,
        "stands": False,
        "way": "dammed",
        "feasible": True,
        "why": "",
        "mix": "our-poured",
        "mix_told": True,
        "volume_m3": 0.0075,
        "backer_m3": 0.006,
        "inner_form_m2": 0.35,
        "mass_kg": 13.8,
        "head_m": 0.2,
        "batches": 1,
        "mixer": "pan",
        "hours_s": 1900.0,
        "material_money": "4.26",
        "labour_money": "19.01",
        "inner_form_money": "7.01",
        "money": "30.28",
    }
    return row | changes


def packed_row(**changes):
    told = {
        "way": "packed",
        "mix": "our-packed",
        "inner_form_m2": 0.0,
        "head_m": None,
        "mass_kg": 15.0,
        "money": "19.54",
    }
    return way_row(**(told | changes))


def table_of(text):
    return [line for line in text.splitlines() if line.startswith(("wall", "U", "R"))]


def test_ways_stand_side_by_side_with_their_figures():
    head, dammed, packed = table_of(ways_text([way_row(), packed_row()], currency="EUR"))
    assert [" ".join(line.split()) for line in (head, dammed, packed)] == [
        "wall depth way takes inner form batches hours material EUR in all EUR weight",
        "U1 200 mm dammed 7.5 L 0.35 m² 1 31 min 40 s 4.26 30.28 13.8 kg",
        "U1 200 mm packed 7.5 L - 1 31 min 40 s 4.26 19.54 15 kg",
    ]


def test_what_nobody_told_has_no_column():
    untold = {"batches": None, "hours_s": None, "material_money": None, "money": None}
    head, _ = table_of(ways_text([packed_row(**untold)]))
    assert head.split() == ["wall", "depth", "way", "takes", "weight"]


def test_a_way_that_is_not_feasible_shows_why_and_no_figures():
    rows = [packed_row(), way_row(feasible=False, why="the layers meet", money=None)]
    *_, line = table_of(ways_text(rows))
    assert line.endswith("not feasible: the layers meet")
    assert "7.5 L" not in line
    assert "13.8" not in line


def test_a_way_that_is_feasible_shows_what_to_mind():
    *_, line = table_of(ways_text([way_row(why="leans in by 6°")]))
    assert line.endswith("13.8 kg  leans in by 6°")


def test_ways_that_take_the_same_share_a_line_and_walls_that_are_alike_a_block():
    rows = [
        row | {"surface": wall}
        for wall in ("U1", "U2", "U3")
        for row in (way_row(), way_row(way="cored"), packed_row())
    ]
    rows[-1]["mass_kg"] = 16.0
    lines = [line.split("  ")[0] for line in table_of(ways_text(rows))]
    assert lines == ["wall", "U1, U2", "U1, U2", "U3", "U3"]
    assert "dammed, cored" in table_of(ways_text(rows))[1]


def test_head_is_called_no_formwork_design_where_something_is_poured():
    words = "not a formwork design; form and bracing by a competent person"
    assert words in ways_text([way_row(), packed_row()])
    assert words not in ways_text([packed_row()])
    assert words not in ways_text([way_row(feasible=False, why="no room"), packed_row()])


def test_the_mix_of_each_way_is_named_and_an_example_called_one():
    rows = [way_row(), way_row(way="cored"), packed_row(mix="backer-packed", mix_told=False)]
    last = ways_text(rows).splitlines()[-1]
    assert last == "dammed or cored with our-poured; packed with backer-packed as an example"


def test_the_text_can_be_in_customary_units():
    [_, line] = table_of(ways_text([way_row(depth_m=0.2032)], system=System.US))
    assert "8 in" in line
    assert "1.981 gal" in line
    assert "3.767 sq ft" in line


@pytest.mark.parametrize("width", [40, 59])
def test_on_a_narrow_terminal_each_way_is_a_block(width):
    text = ways_text([way_row(), packed_row()], width=width)
    assert "way: dammed" in text
    assert "way: packed" in text


def test_no_walls_give_no_text():
    assert ways_text([]) == ""
