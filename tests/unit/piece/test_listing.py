import numpy as np
import pytest

from takeoff.piece.numbering import by_size
from takeoff.piece.surfaces import ModelKind, SurfaceClass
from takeoff.piece.wording import WORDS, explain
from takeoff.piece.zones import Reason
from tests.unit.piece.pieces_made import (
    BACK,
    UP,
    beside,
    box,
    moved,
    prism,
    shuffled,
    subdivided,
    told,
    turned,
    turned_section,
    without,
)
from tests.unit.piece.test_curving import arc, eased_slab
from tests.unit.piece.test_walls import LEGS, WEDGE


def rows(surfaces):
    return [(s.id, round(s.area_m2, 6)) for s in surfaces.surfaces]


def test_a_coplanar_front_is_several_surfaces():
    surfaces = told(prism(LEGS, 300), show=BACK)
    assert rows(surfaces) == [
        ("F1", 0.3),
        ("R1", 0.0368),
        ("R2", 0.0368),
        ("U1", 0.18),
        ("U2", 0.18),
        *[(f"U{number}", 0.024) for number in (3, 4, 5, 6)],
        ("B1", 0.276),
        ("B2", 0.168),
        ("B3", 0.168),
        ("B4", 0.012),
        ("B5", 0.012),
    ]


@pytest.mark.parametrize("way", [turned, shuffled, subdivided])
def test_the_numbers_do_not_depend_on_how_the_piece_is_drawn(way):
    mesh, show = way(prism(LEGS, 300), BACK)
    assert rows(told(mesh, show=show)) == rows(told(prism(LEGS, 300), show=BACK))


def test_equal_surfaces_keep_their_places_when_triangles_are_reordered():
    mesh, show = shuffled(prism(LEGS, 300), BACK)
    plain, other = told(prism(LEGS, 300), show=BACK), told(mesh, show=show)
    for one, same in zip(plain.surfaces, other.surfaces, strict=True):
        assert same.normal == pytest.approx(one.normal, abs=1e-9)


def test_a_round_slab_has_one_return_all_round():
    disc = turned_section([[0, 0], [300, 0], [300, 50], [0, 50]])
    surfaces = told(disc)
    assert [s.id for s in surfaces.surfaces] == ["F1", "R1", "B1"]
    assert surfaces.surfaces[1].normal.tolist() == [0.0, 0.0, 0.0]


def test_an_eased_arris_belongs_to_the_surfaces_it_joins():
    surfaces = told(eased_slab(10, 8), show=BACK)
    assert [s.surface_class for s in surfaces.surfaces].count(SurfaceClass.SHOW_FACE) == 1
    chamfer = [[0, 0], [600, 0], [600, 90], [590, 100], [0, 100]]
    surfaces = told(prism(chamfer, 1500), show=BACK)
    assert [s.id for s in surfaces.surfaces] == ["F1", "R1", "R2", "R3", "R4", "B1"]


def test_a_show_face_with_relief_is_one_surface():
    section = [[0, 0], [600, 0], [600, 60]]
    for left in (500, 300, 100):
        section += [[left, 60], [left, 45], [left - 20, 45], [left - 20, 60]]
    surfaces = told(prism([*section, [0, 60]], 900), show=BACK)
    faces = [s for s in surfaces.surfaces if s.surface_class is SurfaceClass.SHOW_FACE]
    assert [face.area_m2 for face in faces] == [pytest.approx(0.9 * (0.6 + 6 * 0.015))]


def test_two_slopes_are_two_show_faces():
    surfaces = told(prism([[0, 0], [600, 0], [600, 60], [300, 260], [0, 60]], 900), show=BACK)
    assert [s.id for s in surfaces.surfaces][:3] == ["F1", "F2", "R1"]


def test_depth_and_draft_are_those_of_the_wall():
    surfaces = told(prism(WEDGE, 500), show=BACK).surfaces
    high = max(surfaces, key=lambda s: s.depth_m)
    assert high.depth_m == pytest.approx(0.16)
    side = next(s for s in surfaces if s.id == "R1")
    assert side.depth_m == pytest.approx(0.110, abs=2e-6)
    assert side.mean_depth_m == pytest.approx(
        (0.06**2 + 0.06 * 0.11 + 0.11**2) / 3 / 0.085, rel=1e-4
    )
    assert side.draft_deg == pytest.approx(0.0)
    assert surfaces[0].draft_deg is None
    assert surfaces[0].depth_m == 0.0


@pytest.mark.parametrize("inset", [-20, 20])
def test_a_leaning_wall_has_its_draft_and_undercut(inset):
    surfaces = told(prism([[inset, 0], [600 - inset, 0], [600, 80], [0, 80]], 900), show=BACK)
    leaning = [s for s in surfaces.surfaces if s.draft_deg and abs(s.draft_deg) > 1]
    slant = np.degrees(np.arctan(inset / 80))
    assert [s.draft_deg for s in leaning] == pytest.approx([-slant, -slant])
    area = 2 * 0.9 * np.hypot(0.08, 0.02)
    assert surfaces.undercut_m2 == pytest.approx(area if inset > 0 else 0.0)


def test_an_arris_eased_towards_the_back_is_no_undercut():
    round_ = [*arc((590, 10), 10, 180, 90, 12)]
    surfaces = told(prism([[0, 0], *round_, [600, 80], [0, 80]], 900), show=BACK)
    assert surfaces.undercut_m2 == 0.0
    assert max(s.depth_m for s in surfaces.surfaces) == pytest.approx(0.08, rel=0.01)


def test_normals_point_out_of_the_finished_surface():
    surfaces = told(box((0, 0, 0), (1000, 600, 50)))
    for surface in surfaces.surfaces:
        assert np.linalg.norm(surface.normal) == pytest.approx(1.0)
    assert surfaces.surfaces[0].normal == pytest.approx(UP)


def test_bodies_side_by_side_are_listed_together():
    slab = box((0, 0, 0), (400, 300, 50))
    surfaces = told(beside(slab, moved(slab, (500, 0, 0))))
    assert [s.id for s in surfaces.surfaces][:3] == ["F1", "F2", "R1"]
    assert surfaces.surfaces[0].normal == pytest.approx(surfaces.surfaces[1].normal)


def test_equal_areas_are_ordered_by_place_and_rounding_changes_nothing():
    area = np.array([2.0, 1.0 + 1e-9, 1.0, 1.0 - 1e-9])
    where = np.array([[0, 0], [7, 0], [5 + 1e-9, 1], [5 + 2e-9, 0]]) / 10.0
    assert by_size(area, [lambda chosen: where[chosen]]).tolist() == [0, 3, 2, 1]
    assert by_size(np.empty(0), [lambda chosen: where[chosen]]).tolist() == []


def test_every_reason_has_its_words():
    assert set(WORDS) == set(Reason)


BEHIND = "behind the show face, ends at the back"
STEP = [[0, 0], [600, 0], [600, 60], [400, 60], [400, 160], [0, 160]]

# Why a surface of a piece is what it is.
SECTIONS = [
    ([[0, 0], [600, 0], [600, 45], [0, 45]], f"wall 45 mm {BEHIND}: return"),
    ([[0, 0], [600, 0], [600, 300], [0, 300]], f"wall 300 mm {BEHIND}: upright"),
    (STEP, "wall 100 mm deep between two show faces: return"),
    (LEGS, "wall that no show face borders: back"),
    (LEGS, "faces away from the show direction: back"),
    (LEGS, "faces the show direction: show face"),
    (arc((0, 0), 300, 90, -90, 48), "curved face, wider than an eased arris: show face"),
    (WEDGE, f"wall up to 110 mm (87.5 mm on average) {BEHIND}: return"),
]


@pytest.mark.parametrize(("section", "sentence"), SECTIONS)
def test_every_surface_says_why(section, sentence):
    surfaces = told(prism(section, 900), show=BACK)
    assert sentence in [surface.why for surface in surfaces.surfaces]


def test_an_open_surface_ends_at_its_edges():
    tray = without(box((0, 0, 0), (1000, 600, 50)), (0, 0, -1))
    surfaces = told(tray, kind=ModelKind.OPEN)
    assert surfaces.surfaces[1].why == (
        "wall 50 mm behind the show face, ends at an open edge: return"
    )


def test_a_mean_depth_is_given_where_it_differs():
    how = {"opening": None, "kind": ModelKind.PIECE, "depth_m": 0.1016}
    one = explain(SurfaceClass.RETURN, Reason.EDGE, mean_depth_m=0.1016, **how).text()
    two = explain(SurfaceClass.RETURN, Reason.EDGE, mean_depth_m=0.05, **how).text()
    assert one == "wall 101.6 mm behind the show face, ends at the back: return"
    assert two.startswith("wall up to 101.6 mm (50 mm on average) behind")
