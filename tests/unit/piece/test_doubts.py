from dataclasses import replace

import pytest

from takeoff.notes import NoteCode
from takeoff.piece.doubts import doubts
from takeoff.piece.flats import flats_of
from takeoff.piece.listing import list_surfaces
from takeoff.piece.settling import settle
from takeoff.piece.surfaces import ModelKind
from tests.unit.piece.pieces_made import BACK, UP, beside, box, moved, prism, told, without
from tests.unit.piece.test_curving import arc, eased_slab


def notes(mesh, **how):
    return {note.code: note for note in told(mesh, **how).notes}


def test_an_ordinary_piece_raises_no_doubt():
    assert notes(box((0, 0, 0), (1000, 600, 50))) == {}


@pytest.mark.parametrize(("depth", "near"), [(90, False), (100, True), (120, True), (150, False)])
def test_walls_near_the_return_limit_are_noted(depth, near):
    found = notes(box((0, 0, 0), (1000, 600, depth)))
    assert (NoteCode.NEAR_RETURN_LIMIT in found) == near
    if near:
        letter = "R" if depth < 110 else "U"
        note = found[NoteCode.NEAR_RETURN_LIMIT]
        assert note.where == ", ".join(f"{letter}{number}" for number in (1, 2, 3, 4))
        assert note.text.startswith(f"walls of {3.2 * depth / 1000:.3f} m² are within 12% of")


def test_undercuts_are_noted_with_their_worst():
    note = notes(prism([[30, 0], [590, 0], [600, 80], [0, 80]], 900), show=BACK)[NoteCode.UNDERCUT]
    assert note.text.startswith("0.149 m² of walls lean in, by up to 20.6 degrees")
    assert note.where == "R1, R2"


@pytest.mark.parametrize(("radius", "near"), [(30, False), (50, True), (70, True), (90, False)])
def test_curves_near_the_limit_are_noted(radius, near):
    found = notes(eased_slab(radius, 24), show=BACK)
    assert (NoteCode.NEAR_CURVE_LIMIT in found) == near
    if near:
        taken = "a curved show face" if radius > 60 else "an eased edge"
        assert f"a convex curve of {radius} mm radius" in found[NoteCode.NEAR_CURVE_LIMIT].text
        assert f"it is taken as {taken}" in found[NoteCode.NEAR_CURVE_LIMIT].text


def test_a_body_behind_another_is_noted():
    slab = box((0, 0, 0), (400, 300, 50))
    found = notes(beside(slab, moved(slab, (0, 0, -200))))
    assert found[NoteCode.HIDDEN_BODY].text.startswith(
        "behind others along the show direction 1 of the bodies"
    )
    assert NoteCode.HIDDEN_BODY not in notes(beside(slab, moved(slab, (500, 0, -200))))


def test_a_hollow_inside_is_no_body():
    inside = box((50, 50, 10), (350, 250, 40))
    hollow = beside(
        box((0, 0, 0), (400, 300, 50)), type(inside)(inside.points_m, inside.triangles[:, ::-1])
    )
    found = told(hollow)
    assert NoteCode.HIDDEN_BODY not in {note.code for note in found.notes}
    assert found.area_m2["show_face"] == pytest.approx(0.12)


def test_an_open_surface_that_faces_away_is_noted():
    section = [[0, 0], [600, 0], [600, 60], [0, 60]]
    channel = without(prism(section, 900), (0, 0, 1))
    note = notes(channel, show=BACK, kind=ModelKind.OPEN)[NoteCode.UNDECIDED]
    assert note.text.startswith("44% of an open surface counts as back")
    assert note.where == "B1"


def test_walls_of_an_open_surface_that_join_nothing_are_noted():
    wall = without(box((0, 0, 0), (400, 20, 80)), (0, 0, -1))
    for way in ((0, 0, 1), (1, 0, 0), (-1, 0, 0), (0, 1, 0)):
        wall = without(wall, way)
    top = without(box((0, 0, 0), (400, 300, 10)), (0, 0, -1))
    surfaces = told(beside(top, moved(wall, (0, -10, -100))), kind=ModelKind.OPEN)
    texts = [note.text for note in surfaces.notes]
    assert "walls that join no show face are classed by their own depth; join them in CAD" in texts
    loose = [
        s for s in surfaces.surfaces if s.why == "wall 80 mm deep that joins no show face: return"
    ]
    assert [s.area_m2 for s in loose] == [pytest.approx(0.4 * 0.08)]


def test_walls_without_a_clear_depth_are_noted():
    settled = settle(flats_of(box((0, 0, 0), (1000, 600, 50))), UP)
    listed = list_surfaces(settled, kind=ModelKind.PIECE)
    for area_m2, noted in ((0.006, False), (0.03, True)):
        walls = replace(settled.walls, undecided_m2=area_m2)
        found = doubts(replace(settled, walls=walls), *listed, kind=ModelKind.PIECE)
        assert [note.code for note in found] == [NoteCode.UNDECIDED] * noted
        if noted:
            assert found[0].text.startswith("0.030 m² of walls have no clear depth")


def test_no_note_names_a_hundred_surfaces():
    sections = [[0, 0], [3000, 0], [3000, 105]]
    for left in range(2900, 0, -100):
        sections += [[left, 105], [left, 50], [left - 50, 50], [left - 50, 105]]
    note = notes(prism([*sections, [0, 105]], 100), show=BACK)[NoteCode.NEAR_RETURN_LIMIT]
    assert len(note.where) < 60


def test_a_vault_is_no_undercut():
    half = prism([*arc((0, 0), 400, 80, -80, 48), *arc((0, 0), 375, -80, 80, 48)], 800)
    assert NoteCode.UNDERCUT not in notes(half, show=BACK)
