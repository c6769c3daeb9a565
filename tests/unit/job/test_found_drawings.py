import shutil
from pathlib import Path

import pytest

import takeoff
from takeoff.geometry.mesh import Mesh
from takeoff.job.found_drawings import found_in
from takeoff.measuring.reading import read_drawing
from takeoff.measuring.request import MeasureRequest
from tests.house.walking import ROOT

HALL = ROOT / "samples" / "ferry-hall"
DRAWINGS = ROOT / "tests" / "drawings"
COUNTER = HALL / "ticket-counter.stl"


def found(path, **told):
    return found_in(Path(path), "drawing", MeasureRequest(**told))


def only(path, **told):
    row = found(path, **told)
    assert row["error"] is None
    (piece,) = row["drawn"]
    return piece


def test_an_outline_has_its_edges_and_the_edges_of_each_opening():
    panel = only(HALL / "wall-panel.dxf")
    assert panel["asked"] == ["edge_depth"]
    assert panel["size_m"] == pytest.approx([1.2, 2.7])
    assert [(edge["id"], edge["side"]) for edge in panel["edges"][:4]] == [
        ("E1", "bottom"),
        ("E2", "right"),
        ("E3", "top"),
        ("E4", "left"),
    ]
    (window,) = panel["openings"]
    assert (window["edges"], window["bare"]) == (["E5", "E6", "E7", "E8"], False)
    assert window["size_m"] == pytest.approx([0.6, 0.9])


def test_a_narrow_opening_of_an_outline_is_bare():
    narrow = {
        tuple(one["edges"]): one["bare"]
        for one in only(DRAWINGS / "dxf" / "counter_sink_bulges.dxf")["openings"]
    }
    assert narrow
    for row, bare in narrow.items():
        measured = takeoff.measure(
            DRAWINGS / "dxf" / "counter_sink_bulges.dxf", edge_depth="40 mm"
        ).pieces[0]
        noted = any(note.where in row for note in measured.notes)
        assert bare is noted


def test_what_stands_out_is_found_and_comes_to_the_same_when_it_is_told():
    surround = HALL / "hearth-surround.stl"
    row = only(surround, unit="in")
    assert (row["kind"], row["show"], row["source"]) == ("piece", "front", "found")
    assert row["why"].startswith("show side front, as piece")
    told = takeoff.measure(surround, unit="in", kind=row["kind"], show=row["show"])
    walls_m2 = sum(wall["area_m2"] for wall in row["walls"])
    assert walls_m2 == pytest.approx(told.area_m2["return"] + told.area_m2["upright"])
    assert [wall["id"] for wall in row["walls"]] == [
        one.id for one in told.pieces[0].surfaces.surfaces if one.id[0] in "RU"
    ]


def test_what_can_be_read_in_several_ways_is_asked_about_with_areas():
    row = only(COUNTER, unit="mm")
    assert (row["asked"], row["kind"], row["show"]) == (["show"], None, None)
    for reading in row["readings"]:
        told = takeoff.measure(COUNTER, unit="mm", show=reading["id"]).area_m2
        assert reading["show_face_m2"] == pytest.approx(told["show_face"])
        assert reading["return_m2"] == pytest.approx(told["return"])
        assert reading["upright_m2"] == pytest.approx(told["upright"])


def test_of_a_told_direction_only_the_kind_is_asked():
    form = DRAWINGS / "pieces" / "form_island.stl"
    row = only(form, unit="mm", show="down")
    assert (row["asked"], row["show"]) == (["kind"], "down")
    assert {reading["kind"] for reading in row["readings"]} == {"piece", "form"}


def test_the_number_of_a_reading_is_written_as_what_it_stands_for():
    row = only(COUNTER, unit="mm", show="S1")
    assert (row["kind"], row["show"], row["source"]) == ("open", "up", "told")


def test_a_form_keeps_the_direction_from_its_opening_to_its_floor():
    form = DRAWINGS / "pieces" / "form_island.stl"
    row = only(form, unit="mm", kind="form", show="down")
    assert (row["kind"], row["show"], row["source"]) == ("form", "down", "told")


def test_a_slanted_direction_is_written_so_that_it_can_be_told(tmp_path):
    import numpy as np
    import trimesh

    slab = trimesh.creation.box((2000, 600, 40))
    slab.apply_transform(trimesh.transformations.rotation_matrix(0.4, np.array([1.0, 2.0, 0.5])))
    slab.export(tmp_path / "slanted.stl")
    row = only(tmp_path / "slanted.stl", unit="mm")
    assert row["show"].count(",") == 2
    told = takeoff.measure(tmp_path / "slanted.stl", unit="mm", kind=row["kind"], show=row["show"])
    assert told.area_m2["show_face"] == pytest.approx(1.2, rel=1e-5)
    assert told.area_m2["return"] == pytest.approx(5.2 * 0.04, rel=1e-5)


def test_without_a_unit_the_sizes_that_make_sense_are_given():
    unit = found(HALL / "hearth-surround.stl")["unit"]
    assert (unit["name"], unit["source"]) == (None, "asked")
    assert [row["unit"] for row in unit["sizes"]] == ["cm", "in", "ft"]
    sizes_m = {row["unit"]: row["size_m"] for row in unit["sizes"]}
    assert sizes_m["in"] == pytest.approx([1.2192, 0.1524, 1.0668])


def test_without_a_unit_what_is_the_same_in_every_unit_is_found_all_the_same():
    row = only(HALL / "hearth-surround.stl")
    assert (row["kind"], row["show"], row["walls"], row["size_m"]) == ("piece", "front", [], [])


def test_without_a_unit_readings_are_asked_about_without_areas():
    row = only(COUNTER)
    assert [one["id"] for one in row["readings"]] == [f"S{number}" for number in range(1, 7)]
    assert {one["show_face_m2"] for one in row["readings"]} == {None}


def test_a_drawing_that_differs_by_unit_waits_for_it(tmp_path, monkeypatch):
    from takeoff.job import found_drawings

    sides = iter(["up", "front", "left"])
    rows = found_drawings.mesh_rows

    def told_apart(piece, mesh, request):
        (row,) = rows(piece, mesh, request)
        return [{**row, "show": next(sides)}]

    monkeypatch.setattr(found_drawings, "mesh_rows", told_apart)
    row = only(HALL / "hearth-surround.stl")
    assert (row["kind"], row["show"], row["why"]) == (None, None, "is found once the unit is told")


def test_a_drawing_without_a_unit_that_cannot_be_read_asks_for_the_unit_first():
    error = found(DRAWINGS / "stl" / "overlapping_bodies.stl")["error"]
    assert error["kind"] == "unit-missing"
    told = found(DRAWINGS / "stl" / "overlapping_bodies.stl", unit="mm")["error"]
    assert (told["kind"], "bodies overlap" in told["text"]) == ("mesh", True)


def test_several_pieces_of_one_drawing_are_all_named():
    row = found(DRAWINGS / "pieces" / "two_pieces.stl", unit="mm")
    assert [piece["name"] for piece in row["drawn"]] == ["two_pieces-1", "two_pieces-2"]
    assert row["name"] == "two_pieces"


def test_a_fault_of_one_piece_of_several_names_it():
    error = found(DRAWINGS / "pieces" / "two_pieces.stl", unit="mm", kind="open")["error"]
    assert (error["kind"], error["text"].split(":")[0]) == ("surface", "two_pieces-1")


def test_outlines_and_meshes_in_one_drawing_are_no_one_piece(monkeypatch):
    from dataclasses import replace

    from takeoff.job import found_drawings

    def both(path, request):
        panel = read_drawing(HALL / "wall-panel.dxf", unit="mm")
        mesh = read_drawing(COUNTER, unit="mm").pieces[0]
        return replace(panel, pieces=(*panel.pieces, replace(mesh, layer="TOP")))

    monkeypatch.setattr(found_drawings, "read_asked", both)
    error = found(HALL / "wall-panel.dxf")["error"]
    assert "holds outlines and meshes" in error["text"]
    assert error["text"].endswith("TOP")


def test_what_was_left_out_or_doubted_is_told():
    row = found(HALL / "wall-panel.dxf")
    assert row["doubts"] == ["1 TEXT left out: annotation, no outline"]


def test_a_name_that_no_file_of_ours_can_hold_is_refused(tmp_path):
    shutil.copy(COUNTER, tmp_path / "bad-\udcff.stl")
    error = found(tmp_path / "bad-\udcff.stl", unit="mm")["error"]
    assert "its name is not UTF-8" in error["text"]


def test_a_drawing_too_large_to_be_read_is_left_out(monkeypatch):
    from takeoff.job import found_drawings

    def too_large(path, request):
        raise MemoryError

    monkeypatch.setattr(found_drawings, "read_asked", too_large)
    assert "too large to be read" in found(COUNTER, unit="mm")["error"]["text"]


def test_a_mesh_knows_no_edges_by_id():
    assert isinstance(takeoff.examine(COUNTER, unit="mm").pieces[0].mesh, Mesh)
    assert only(COUNTER, unit="mm", kind="open", show="up")["edges"] == []
