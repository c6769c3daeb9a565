import pytest

from takeoff.facade.checking import check
from takeoff.report.check_text import check_text
from tests.unit.files.dxf_text import circle, dxf, line, lines, polyline, rectangle, saved, tags

MM = ((9, "$INSUNITS"), (70, 4))


def checked(folder, entities, **options):
    header = options.pop("header", MM)
    path = saved(folder, dxf(entities, header=header), "top.dxf")
    document = check(path, **options).to_dict()
    return document["files"][0], check_text(document)


def test_edges_stand_in_a_table_with_their_side_and_place(tmp_path):
    drawn = polyline([(10, 0), (610, 0), (610, 300, 0.41421356), (510, 400), (10, 400)])
    row, text = checked(tmp_path, drawn + circle(200, 200, 50))
    said = [" ".join(part.split()) for part in text.splitlines()]
    assert "E1 bottom 600 mm (10, 0) (610, 0)" in said
    assert "E3 top right, curved 157.1 mm (610, 300) (510, 400)" in said
    assert "E6 opening 1: all round, curved 314.2 mm (200, 150) (200, 150)" in said
    edge = row["pieces"][0]["edges"][2]
    assert (edge["side"], edge["curved"], edge["opening"]) == ("top right", True, None)
    assert edge["start_m"] == [0.61, 0.3]
    assert row["pieces"][0]["edges"][5]["opening"] == 1


def test_points_are_written_in_the_unit_of_the_drawing(tmp_path):
    drawn = polyline(rectangle(0, 0, 96, 25.5))
    _, text = checked(tmp_path, drawn, header=((9, "$INSUNITS"), (70, 1)))
    assert "(96, 0)" in text
    assert "(96, 25.5)" in text


def test_a_perforated_panel_does_not_fill_the_screen(tmp_path):
    holes = "".join(circle(20 * k, 50, 5) for k in range(1, 60))
    _, text = checked(tmp_path, polyline(rectangle(0, 0, 1200, 100)) + holes)
    assert "... and 23 more edges of top: --json lists them all" in text
    assert len(text.splitlines()) < 50


def test_layers_are_listed_where_there_are_several(tmp_path):
    drawn = polyline(rectangle(0, 0, 600, 400)) + polyline(rectangle(-50, -50, 700, 500), layer="A")
    row, text = checked(tmp_path, drawn)
    told = [(each["layer"], each["outlines"], each["pieces"]) for each in row["layers"]]
    assert told == [("0", 1, 1), ("A", 1, 1)]
    assert [each["area_m2"] for each in row["layers"]] == pytest.approx([0.24, 0.35])
    assert "layer measured alone" in text
    assert "layer measured alone" not in checked(tmp_path, drawn, layers=["A"])[1]


def test_what_is_noted_is_said_once(tmp_path):
    drawn = lines(rectangle(0, 0, 600, 400)) + line((0, 0), (600, 0))
    _, text = checked(tmp_path, drawn + tags((0, "REGION"), (8, "0")))
    assert text.count("REGION") == 1
    assert text.count("repeated lines or arcs dropped") == 1
    assert "top.dxf: left out" not in text


def test_pieces_as_absurdly_small_are_doubted_once(tmp_path):
    drawn = polyline(rectangle(0, 0, 20, 10)) + polyline(rectangle(50, 0, 30, 10))
    _, text = checked(tmp_path, drawn)
    assert text.count("overall") == 1
    assert "note: top-1: 0.03 x 0.01 m overall, the largest of 2 pieces as absurd" in text
