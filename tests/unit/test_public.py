"""Every public name at work, as a script of a shop would use it."""

import dataclasses

import pytest

import takeoff
from tests.house.walking import ROOT

SAMPLES = ROOT / "samples" / "ferry-hall"


def test_check_says_what_a_drawing_holds():
    checked = takeoff.check(SAMPLES / "wall-panel.dxf")
    assert isinstance(checked, takeoff.Check)
    assert not checked.refused


def test_measure_gives_areas_volumes_and_rows():
    measured = takeoff.measure(SAMPLES / "wall-panel.dxf", edge_depth="60 mm", backer="16 mm")
    assert isinstance(measured, takeoff.Measurement)
    assert measured.area_m2["show_face"] == pytest.approx(2.7)
    assert measured.layer_volume_m3["face_coat"] == 0.0
    assert {row["surface_class"] for row in measured.rows()} == {"show_face", "return"}
    assert "F1" in measured._repr_html_()


def test_a_mix_is_read_and_weighed():
    mix = takeoff.read_mix("backer-poured")
    assert isinstance(mix, takeoff.Mix)
    sheet = takeoff.weigh(mix, mass="25 kg", scale="10 g")
    assert isinstance(sheet, takeoff.WeighSheet)
    assert sheet.mass_kg == pytest.approx(25.0, abs=0.03)
    assert sheet.rows()[0]["ingredient"] == "water"
    assert "water" in sheet._repr_html_()


def test_a_bid_is_written(tmp_path):
    made = takeoff.bid(SAMPLES / "job.toml")
    assert isinstance(made, takeoff.Bid)
    written = {path.name for path in made.write(tmp_path)}
    assert {"bid.json", "materials.csv", "surfaces.csv", "batches.csv", "pieces.dxf"} <= written


def test_doubts_are_notes_with_codes():
    made = takeoff.bid(SAMPLES / "job.toml")
    assert all(isinstance(note, takeoff.Note) for note in made.notes)
    assert takeoff.NoteCode.UNIT_DECLARED in {note.code for note in made.notes}


def test_results_are_frozen():
    mix = takeoff.read_mix("backer-poured")
    with pytest.raises(dataclasses.FrozenInstanceError):
        mix.name = "mine"


def test_all_refusals_have_one_base():
    with pytest.raises(takeoff.TakeoffError, match="there is no such file"):
        takeoff.measure("no-such.stl", unit="mm")


def test_an_unknown_name_is_an_attribute_error():
    with pytest.raises(AttributeError, match="no attribute 'guess'"):
        takeoff.guess  # noqa: B018


def test_the_version_is_told():
    assert takeoff.__version__.count(".") == 2
