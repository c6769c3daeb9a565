import numpy as np
import pytest

from takeoff.errors import DirectionMissingError, ErrorKind, SurfaceError
from takeoff.geometry.mesh import Mesh
from takeoff.notes import NoteCode
from takeoff.piece.directions import show_vector
from takeoff.piece.finding import Source, find, readings_asked
from takeoff.piece.surfaces import ModelKind
from tests.unit.piece.pieces_made import areas_mm2, box, prism, without

SLAB = box((0, 0, 0), (2000, 600, 40))
ANGLE = prism([[0, 0], [400, 0], [400, 40], [40, 40], [40, 300], [0, 300]], 1000)
TRAY = without(box((0, 0, 0), (1830, 620, 45)), (0, 0, -1))


def pan(thick_mm=20):
    """A pan open at the bottom, as a closed body: 900 x 600 x 80."""
    outer, inner = box((0, 0, 0), (900, 600, 80)), np.array([[1, 1, 0], [1, 1, 1]], dtype=float)
    low = np.array([thick_mm, thick_mm, 0]) * inner[0]
    high = np.array([900 - thick_mm, 600 - thick_mm, 80 - thick_mm])
    hollow = without(box(low, high), (0, 0, -1))
    sides = without(outer, (0, 0, -1))
    points = np.concatenate([sides.points_m, hollow.points_m])
    corner = {tuple(np.round(p * 1000).astype(int).tolist()): n for n, p in enumerate(points)}
    plan = [(0, 0), (900, 0), (900, 600), (0, 600)]
    near = [(low[0], low[1]), (high[0], low[1]), (high[0], high[1]), (low[0], high[1])]
    outside = [corner[int(x), int(y), 0] for x, y in plan]
    inside = [corner[int(x), int(y), 0] for x, y in near]
    rim = [
        triangle
        for n in range(4)
        for triangle in (
            (outside[n], inside[n], outside[(n + 1) % 4]),
            (outside[(n + 1) % 4], inside[n], inside[(n + 1) % 4]),
        )
    ]
    turned = hollow.triangles[:, ::-1] + len(sides.points_m)
    triangles = np.concatenate([sides.triangles, turned, np.array(rim)])
    return Mesh(points, triangles.astype(np.int32))


def asked(mesh, **told):
    """What is asked where a mesh can be read in several ways: the head, and a line a reading."""
    with pytest.raises(DirectionMissingError) as caught:
        find(mesh, **told)
    assert caught.value.kind is ErrorKind.DIRECTION_MISSING
    head, *lines = caught.value.text.splitlines()
    return head, lines


def test_what_was_told_is_taken_without_a_word():
    found = find(ANGLE, kind=ModelKind.PIECE, show="0,0,-2")
    assert (found.kind, found.source, found.notes) == (ModelKind.PIECE, Source.TOLD, ())
    assert found.show_direction.tolist() == [0.0, 0.0, -1.0]


def test_a_plate_is_either_way_round():
    found = find(SLAB)
    assert (found.kind, found.source) == (ModelKind.PIECE, Source.FOUND)
    assert found.show_direction.tolist() == [0.0, 0.0, 1.0]
    [note] = found.notes
    assert note.code is NoteCode.DIRECTION_EITHER
    assert note.text == (
        "show side up, as piece: down would give the same show face, return and upright"
    )


def test_a_cube_is_not():
    head, lines = asked(box((0, 0, 0), (500, 500, 500)))
    assert "can be read in 6 ways" in head
    assert len(lines) == 6


def test_every_reading_is_listed_with_its_areas_and_what_to_paste():
    head, lines = asked(ANGLE)
    assert head.startswith("nobody told what is drawn and its show face, and the drawing can be")
    assert "any other direction as --show x,y,z:" in head
    for number, line in enumerate(lines, 1):
        name, *option = line.split(maxsplit=5)[:5]
        assert (name, option[:3]) == (f"S{number}", ["--kind", "piece", "--show"])
        areas = areas_mm2(ANGLE, show=show_vector(option[3]))
        show_face = float(line.split("show face ")[1].split()[0])
        assert show_face == pytest.approx(areas[0] / 1e6, abs=0.0006)


def test_a_reading_can_be_chosen_by_its_number_whether_the_kind_is_told_or_not():
    _, lines = asked(ANGLE)
    for number, line in enumerate(lines, 1):
        word = line.split()[4]
        for kind in (None, ModelKind.PIECE):
            found = find(ANGLE, kind=kind, show=f"S{number}")
            assert found.show_direction == pytest.approx(show_vector(word), abs=1e-6)
            assert (found.kind, found.source) == (ModelKind.PIECE, Source.TOLD)
            [note] = found.notes
            assert note.code is NoteCode.DIRECTION_FOUND
            assert note.text == f"S{number} is {word}, as piece"


def test_the_readings_are_those_that_are_asked_about():
    _, lines = asked(ANGLE)
    assert [reading.id for reading in readings_asked(ANGLE)] == [line.split()[0] for line in lines]


def test_a_number_that_is_not_listed_is_refused():
    with pytest.raises(SurfaceError, match=r"there is no reading S9: the mesh has 6; leave --show"):
        find(ANGLE, show="S9")


def test_a_pan_may_be_a_form_unless_it_is_told_to_be_a_piece():
    head, lines = asked(pan())
    assert "what is drawn and its show face" in head
    assert [line.split()[1:5] for line in lines[:2]] == [
        ["--kind", "piece", "--show", "up"],
        ["--kind", "form", "--show", "up"],
    ]
    assert "for it: the far side is hollow, as behind returns" in lines[0]
    found = find(pan(), kind=ModelKind.PIECE)
    assert found.show_direction.tolist() == [0.0, 0.0, 1.0]
    assert (
        found.notes[0].text == "show side up, as piece: the far side is hollow, as behind returns"
    )
    form = find(pan(), kind=ModelKind.FORM)
    assert (form.kind, form.show_direction.tolist()) == (ModelKind.FORM, [0.0, 0.0, 1.0])


def test_numbers_stay_the_same_when_the_kind_is_told():
    with pytest.raises(SurfaceError, match="S2 reads the mesh as form, not as piece; say --kind"):
        find(pan(), kind=ModelKind.PIECE, show="S2")
    assert find(pan(), kind=ModelKind.FORM, show="S2").kind is ModelKind.FORM


def test_only_the_kind_is_asked_where_the_direction_is_told():
    head, lines = asked(pan(), show="up")
    assert head == "nobody told what is drawn, and it may be either; paste one of these:"
    assert [line.split()[:2] for line in lines] == [["--kind", "piece"], ["--kind", "form"]]
    found = find(pan(), show="down")
    assert (found.kind, found.source, found.notes) == (ModelKind.PIECE, Source.TOLD, ())
    assert find(TRAY, show="down").kind is ModelKind.OPEN


def test_an_open_tray_shows_the_side_its_rim_lies_behind():
    found = find(TRAY)
    assert (found.kind, found.show_direction.tolist()) == (ModelKind.OPEN, [0.0, 0.0, 1.0])
    assert found.notes[0].text.startswith("show side up, as open: its walls and its rim lie behind")


def test_an_open_tray_wound_the_other_way_is_asked_about_where_layers_are_laid():
    flipped = Mesh(TRAY.points_m, np.ascontiguousarray(TRAY.triangles[:, ::-1]))
    assert find(flipped).notes[0].code is NoteCode.DIRECTION_EITHER
    head, _ = asked(flipped, layers_m=0.02)
    assert "can be read in 2 ways" in head


def test_a_closed_piece_with_a_hole_is_no_open_surface():
    holed = Mesh(SLAB.points_m, SLAB.triangles[1:])
    with pytest.raises(SurfaceError, match="3 open edges"):
        find(holed, kind=ModelKind.PIECE)
    head, _ = asked(holed)
    assert "--show x,y,z" in head


@pytest.mark.parametrize("kind", [ModelKind.PIECE, ModelKind.FORM])
def test_an_open_mesh_is_no_closed_kind(kind):
    with pytest.raises(SurfaceError, match="4 open edges"):
        find(TRAY, kind=kind)


def test_a_closed_mesh_is_no_open_surface():
    with pytest.raises(SurfaceError, match="the mesh is closed, so it is no open surface"):
        find(SLAB, kind=ModelKind.OPEN)


def test_a_form_without_a_cavity_is_refused_with_what_to_do():
    with pytest.raises(DirectionMissingError, match=r"no cavity of the form opens.*--kind open"):
        find(SLAB, kind=ModelKind.FORM)
