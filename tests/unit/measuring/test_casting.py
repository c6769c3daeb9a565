import pytest
import trimesh

import takeoff
from takeoff.errors import DirectionMissingError, SurfaceError
from takeoff.facade.measuring_many import measure_all
from takeoff.measuring.picturing import no_pictures, piece_pictures, reading_pictures
from takeoff.measuring.request import MeasureRequest
from takeoff.measuring.taking import measure_drawing
from takeoff.notes import NoteCode
from takeoff.report.first_hits import pictures_can_be_drawn
from tests.drawings import readable

TOLD = {"unit": "mm", "kind": "form", "show": "down"}


@pytest.fixture
def form(tmp_path):
    """A form with two cavities of 600 x 500 and 300 x 500, both 80 deep, on disk in mm."""
    block = readable.block((0, 0, 0), (1200, 700, 150))
    pockets = [
        readable.block((100, 100, 70), (700, 600, 151)),
        readable.block((800, 100, 70), (1100, 600, 151)),
    ]
    path = tmp_path / "form.stl"
    readable.cut(block, *pockets).export(path)
    return path


@pytest.fixture
def pan(tmp_path):
    """A pan that may be a piece or a form, on disk in mm."""
    path = tmp_path / "pan.stl"
    readable.tray().export(path)
    return path


def test_each_cavity_of_a_form_is_a_piece_of_its_own(form):
    measured = takeoff.measure(form, **TOLD, face_coat="4 mm", backer="16 mm")
    assert [piece.name for piece in measured.pieces] == ["form-1", "form-2"]
    assert [piece.kind for piece in measured.pieces] == ["form", "form"]
    assert measured.area_m2["show_face"] == pytest.approx(0.9 * 0.5)
    assert measured.area_m2["return"] == pytest.approx((2 * 1.1 + 2 * 0.8) * 0.08)
    large = measured.pieces[0]
    whole_m3 = sum(row.volume_m3 for row in large.layers.rows)
    assert whole_m3 == pytest.approx(0.6 * 0.5 * 0.08 - 0.56 * 0.46 * 0.06)
    assert large.solid_m3 is None
    assert "ends at the rim of the form" in large.surfaces.surfaces[1].why
    assert "outside of the form, shared by its 2 cavities" in large.surfaces.surfaces[-1].why


def test_the_direction_of_a_form_is_found(form):
    measured = takeoff.measure(form, unit="mm", kind="form")
    for piece in measured.to_dict()["pieces"]:
        assert piece["show_direction"] == [0.0, 0.0, -1.0]
        assert piece["direction_source"] == "found"
        assert "direction-found" in [note["code"] for note in piece["notes"]]


@pytest.mark.parametrize("usual", ["piece", "form"])
def test_the_usual_kind_of_a_shop_settles_what_else_is_asked(pan, usual):
    with pytest.raises(DirectionMissingError, match="what is drawn and its show face"):
        measure_drawing(pan, MeasureRequest(unit="mm"))
    [piece] = measure_drawing(pan, MeasureRequest(unit="mm", usual_kind=usual)).pieces
    assert piece.kind == usual
    assert piece.surfaces.show_direction.tolist() == [0.0, 0.0, 1.0]


def test_a_direction_that_was_told_may_settle_the_kind(tmp_path):
    block = readable.cut(
        readable.eased(1400, 700, 80, 12), readable.block((18, 18, -1), (1382, 682, 62))
    )
    path = tmp_path / "tray.stl"
    block.export(path)
    [piece] = measure_drawing(path, MeasureRequest(unit="mm", show="up")).pieces
    [note] = [note for note in piece.notes if note.code is NoteCode.KIND_FOUND]
    assert note.text.startswith("read as piece: the far side is hollow, as behind returns")


def test_boards_that_do_not_meet_are_refused(tmp_path):
    parts = [
        readable.block((0, 0, 0), (1036, 636, 18)),
        readable.block((0, 0, 20), (18, 636, 68)),
        readable.block((1018, 0, 20), (1036, 636, 68)),
    ]
    path = tmp_path / "boards.stl"
    trimesh.util.concatenate(parts).export(path)
    with pytest.raises(SurfaceError, match=r"boards-1: the form has nothing hollow"):
        takeoff.measure(path, **TOLD)


def test_pictures_are_drawn_of_pieces_and_of_readings(pan, form):
    if not pictures_can_be_drawn():
        pytest.skip("needs the extra [report]")
    asked = MeasureRequest(unit="mm")
    both = measure_all([pan], asked, with_pictures=True)
    assert list(both.pictures) == ["pan-readings.png"]
    assert both.errors[0]["kind"] == "direction-missing"
    twice = measure_all([pan, pan], asked, with_pictures=True)
    assert list(twice.pictures) == ["pan-readings.png", "pan-readings-2.png"]
    assert reading_pictures(pan, MeasureRequest(unit="mm", kind="piece")) == {}
    told = MeasureRequest(unit="mm", kind="form")
    drawn = measure_all([form], told, with_pictures=True)
    assert list(drawn.pictures) == ["form-1.png", "form-2.png"]
    assert all(png.startswith(b"\x89PNG") for png in drawn.pictures.values())


def test_pieces_of_one_name_have_pictures_of_their_own(pan):
    if not pictures_can_be_drawn():
        pytest.skip("needs the extra [report]")
    [piece] = measure_drawing(pan, MeasureRequest(unit="mm", kind="piece")).pieces
    assert list(piece_pictures([piece, piece])) == ["pan.png", "pan-2.png"]


def test_without_the_extra_that_is_noted_and_nothing_is_drawn(pan, monkeypatch):
    monkeypatch.setattr("takeoff.report.first_hits.find_spec", lambda name: None)
    [note] = no_pictures()
    assert note.code is NoteCode.NO_PICTURE
    asked = measure_all([pan], MeasureRequest(unit="mm"), with_pictures=True)
    assert (dict(asked.pictures), asked.measurement.notes) == ({}, (note,))
