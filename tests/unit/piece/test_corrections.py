import numpy as np
import pytest

from takeoff.errors import SurfaceError
from takeoff.notes import NoteCode
from takeoff.piece.classifying import classify
from takeoff.piece.corrections import read_corrections
from takeoff.piece.surfaces import ModelKind, SurfaceClass
from tests.unit.piece.pieces_made import BACK, UP, beside, box, moved, prism, shuffled, told, turned
from tests.unit.piece.test_openings import ring
from tests.unit.piece.test_walls import LEGS

SLAB = box((0, 0, 0), (2000, 600, 40))


def corrected(mesh, surfaces=None, openings=None, *, show=UP, kind=ModelKind.PIECE):
    return classify(
        mesh,
        kind=kind,
        show_direction=show,
        corrections=read_corrections(surfaces or {}, openings or {}),
    )


def test_a_corrected_surface_counts_as_told_and_keeps_its_id():
    plain, changed = told(SLAB), corrected(SLAB, {"R2": "back"})
    ids = [surface.id for surface in plain.surfaces]
    assert [surface.id for surface in changed.surfaces] == ids
    wall = changed.surfaces[ids.index("R2")]
    assert (wall.surface_class, wall.found_class, wall.corrected) == (
        SurfaceClass.BACK,
        SurfaceClass.RETURN,
        True,
    )
    assert wall.why == (
        "corrected by the job: back; found: wall 40 mm behind the show face, ends at the back: "
        "return"
    )
    moved_m2 = wall.area_m2
    assert changed.area_m2[SurfaceClass.RETURN] == pytest.approx(
        plain.area_m2[SurfaceClass.RETURN] - moved_m2
    )
    assert changed.area_m2[SurfaceClass.BACK] == pytest.approx(1.2 + moved_m2)
    assert changed.form_area_m2 == pytest.approx(plain.form_area_m2 - moved_m2)
    assert changed.arris_m < plain.arris_m
    assert (wall.depth_m, wall.draft_deg) == (0.0, None)
    back = list(SurfaceClass).index(SurfaceClass.BACK)
    assert (changed.shares[wall.facets, back] == 1.0).all()
    assert not any(surface.corrected for surface in plain.surfaces)


@pytest.mark.parametrize("way", [turned, shuffled])
def test_the_same_surface_is_meant_however_facets_are_ordered(way):
    mesh, show = way(prism(LEGS, 300), BACK)
    plain = corrected(prism(LEGS, 300), {"U2": "back", "R1": "upright"}, show=BACK)
    other = corrected(mesh, {"U2": "back", "R1": "upright"}, show=show)
    assert list(other.area_m2.values()) == pytest.approx(list(plain.area_m2.values()))


def test_part_of_a_flat_front_can_be_corrected():
    plain = told(prism(LEGS, 300), show=BACK)
    front = next(s for s in plain.surfaces if s.id == "R1")
    changed = corrected(prism(LEGS, 300), {"R1": "show face"}, show=BACK)
    gained_m2 = changed.area_m2[SurfaceClass.SHOW_FACE] - plain.area_m2[SurfaceClass.SHOW_FACE]
    assert gained_m2 == pytest.approx(front.area_m2)
    assert changed.area_m2[SurfaceClass.UPRIGHT] == pytest.approx(
        plain.area_m2[SurfaceClass.UPRIGHT]
    )


def test_a_back_can_be_told_to_be_cast():
    shell = prism([[0, 0], [600, 0], [600, 80], [0, 80]], 900)
    changed = corrected(shell, {"B1": "return"}, show=BACK)
    assert changed.form_area_m2 == pytest.approx(float(sum(told(shell).area_m2.values())))
    assert changed.surfaces[-1].draft_deg == pytest.approx(-90.0)


def test_a_correction_that_says_what_was_found_changes_nothing():
    changed = corrected(SLAB, {"R1": "return"})
    assert changed.area_m2 == told(SLAB).area_m2
    assert not any(surface.corrected for surface in changed.surfaces)


def test_what_is_corrected_is_in_doubt_no_longer():
    edge = box((0, 0, 0), (1000, 600, 100))
    near = {note.code for note in told(edge).notes}
    assert NoteCode.NEAR_RETURN_LIMIT in near
    changed = corrected(edge, {f"R{number}": "upright" for number in (1, 2, 3, 4)})
    assert changed.notes == ()
    assert changed.area_m2[SurfaceClass.UPRIGHT] == pytest.approx(0.32)


def test_an_unknown_surface_is_refused_with_all_that_are_there():
    with pytest.raises(SurfaceError, match="there is no R7 and no O1 to correct") as refused:
        corrected(SLAB, {"R7": "back"}, {"O1": "bare"})
    lines = refused.value.text.splitlines()[1:]
    assert [line.split()[0] for line in lines] == ["F1", "R1", "R2", "R3", "R4", "B1"]
    assert lines[1].endswith("0.08 m², wall 40 mm behind the show face, ends at the back: return")


def test_an_unknown_word_is_refused():
    with pytest.raises(SurfaceError, match="R1 cannot be 'edge'; give one of show_face, return"):
        read_corrections({"R1": "edge"}, {})
    with pytest.raises(SurfaceError, match="O1 cannot be 'open'; give one of bare, coated"):
        read_corrections({}, {"O1": "open"})


PIPE = beside(ring(17.5, 300, 40), moved(ring(90, 300, 40), (1000, 0, 0)))


def test_a_bare_opening_stays_in_its_class_but_is_neither_coated_nor_formed():
    surfaces = told(PIPE)
    wide, narrow = surfaces.openings
    assert (wide.bare, narrow.bare) == (False, True)
    assert surfaces.bare_wall_m2 == pytest.approx(narrow.wall_area_m2)
    assert surfaces.opening_wall_m2 == pytest.approx(wide.wall_area_m2 + narrow.wall_area_m2)
    cast_m2 = sum(surfaces.area_m2.values()) - surfaces.area_m2[SurfaceClass.BACK]
    assert surfaces.form_area_m2 == pytest.approx(cast_m2 - narrow.wall_area_m2)
    bare = surfaces.bare
    walls = [s.facets for s in surfaces.surfaces if s.opening == narrow.id]
    assert sorted(np.flatnonzero(bare)) == sorted(np.concatenate(walls))


def test_openings_can_be_told_coated_or_bare():
    plain = told(PIPE)
    changed = corrected(PIPE, openings={"O1": "bare", "O2": "coated"})
    assert [opening.bare for opening in changed.openings] == [True, False]
    assert changed.area_m2 == plain.area_m2
    wide, narrow = plain.openings
    assert changed.form_area_m2 - plain.form_area_m2 == pytest.approx(
        narrow.wall_area_m2 - wide.wall_area_m2
    )
    assert NoteCode.OPENING_BARE not in {note.code for note in changed.notes}
    around_m = 2 * np.pi * (0.09 - 0.0175)
    assert plain.arris_m - changed.arris_m == pytest.approx(around_m, rel=0.01)
