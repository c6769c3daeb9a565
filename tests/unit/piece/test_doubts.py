from dataclasses import replace

import numpy as np
import pytest

from takeoff.notes import NoteCode
from takeoff.piece.doubts import doubts
from takeoff.piece.flats import flats_of
from takeoff.piece.listing import list_surfaces
from takeoff.piece.settling import settle
from takeoff.piece.surfaces import ModelKind
from tests.unit.piece.pieces_made import BACK, UP, beside, box, moved, prism, told, without
from tests.unit.piece.test_curving import arc, bowl, eased_slab


def notes(mesh, **how):
    return {note.code: note for note in told(mesh, **how).notes}


def test_an_ordinary_piece_raises_no_doubt():
    assert notes(box((0, 0, 0), (1000, 600, 50))) == {}


@pytest.mark.parametrize(
    ("depth", "near"),
    [
        (90, False),
        (96.7, False),
        (96.9, True),
        (100, True),
        (101.6, True),
        (110, True),
        (110.1, True),
        (120, True),
        (123.1, True),
        (123.3, False),
        (150, False),
    ],
)
def test_walls_near_the_return_limit_are_noted(depth, near):
    found = notes(box((0, 0, 0), (1000, 600, depth)))
    assert (NoteCode.NEAR_RETURN_LIMIT in found) == near
    if near:
        letter = "R" if depth <= 110 else "U"
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
        curved, arris = "a curved show face", "a rounded arris"
        taken, other = (curved, arris) if radius > 60 else (arris, curved)
        text = found[NoteCode.NEAR_CURVE_LIMIT].text
        assert text.startswith(f"a convex curve of {radius} mm radius is close to the limit of 60 ")
        show_m2 = [0.9 - 1.5 * radius / 1000 + 1.5 * radius / 1000 * share for share in SHARES]
        first, second = show_m2 if radius > 60 else show_m2[::-1]
        assert figures(text, taken) == pytest.approx(first, abs=0.002)
        assert figures(text, f"as {other} it would be") == pytest.approx(second, abs=0.002)


# Of the arc over the radius: all of it to 86.5 degrees, and half of it.
SHARES = (np.radians(86.5), np.pi / 4)


def figures(text, lead):
    """Read the show face area that follows a lead."""
    return float(text.split(f"{lead}: show face ")[1].split()[0])


@pytest.mark.parametrize(("radius", "near"), [(250, False), (350, True), (450, True), (550, False)])
def test_bowls_near_the_limit_are_noted(radius, near):
    found = notes(bowl(radius, 0.42 * radius))
    assert (NoteCode.NEAR_CURVE_LIMIT in found) == near
    if near:
        text = found[NoteCode.NEAR_CURVE_LIMIT].text
        assert text.startswith("a concave curve of ")
        curved, side = figures(text, "a curved show face" + " it would be" * (radius < 400)), None
        side = figures(text, "the side of a basin" + " it would be" * (radius > 400))
        assert curved > 1.1 * side


def column(steps, radius=200):
    return prism(arc((0, 0), radius, -90, 90, steps), 2000)


@pytest.mark.parametrize(("steps", "lost"), [(6, 0.4), (8, 0.3), (12, 0.1)])
def test_chords_that_matter_are_noted(steps, lost):
    text = notes(column(steps), show=BACK)[NoteCode.CURVE_CHORDS].text
    assert text.startswith(f"curves are drawn in steps of up to {180 / steps:.1f} degrees")
    assert float(text.split("about ")[1].split()[0]) == pytest.approx(lost, abs=0.1)


def test_chords_that_do_not_matter_are_not():
    assert NoteCode.CURVE_CHORDS not in notes(column(32), show=BACK)
    assert NoteCode.CURVE_CHORDS not in notes(eased_slab(10, 3), show=BACK)


def test_a_curve_too_coarse_to_be_followed_is_noted():
    text = notes(column(5), show=BACK)[NoteCode.CURVE_CHORDS].text
    assert "turn by about 36 degrees from one to the next and are taken as planes" in text
    assert "now it is 1.7 % too small" in text
    octagon = prism(arc((0, 0), 200, -90, 90, 4), 2000)
    assert NoteCode.CURVE_CHORDS not in notes(octagon, show=BACK)


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
    listing = list_surfaces(settled, kind=ModelKind.PIECE)
    for area_m2, noted in ((0.006, False), (0.03, True)):
        walls = replace(settled.walls, undecided_m2=area_m2)
        found = doubts(replace(settled, walls=walls), listing, kind=ModelKind.PIECE)
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
