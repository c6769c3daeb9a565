import numpy as np
import pytest
import shapely
import trimesh

from takeoff.errors import SurfaceError
from takeoff.geometry.mending import mend
from takeoff.geometry.mesh import Mesh
from takeoff.notes import NoteCode
from takeoff.piece.classifying import classify
from takeoff.piece.rules import SurfaceRules
from takeoff.piece.surfaces import ModelKind, SurfaceClass
from tests.unit.piece.pieces_made import (
    BACK,
    MM,
    UP,
    areas_mm2,
    beside,
    box,
    moved,
    prism,
    shuffled,
    told,
    without,
)

SLAB = box((0, 0, 0), (2000, 600, 40))
TRAY = without(box((0, 0, 0), (1830, 620, 45)), (0, 0, -1))


def test_an_open_tray_has_the_areas_of_its_sides():
    surfaces = told(TRAY, kind=ModelKind.OPEN)
    assert surfaces.area_m2[SurfaceClass.SHOW_FACE] == pytest.approx(1.83 * 0.62)
    assert surfaces.area_m2[SurfaceClass.RETURN] == pytest.approx(2 * (1.83 + 0.62) * 0.045)
    assert surfaces.area_m2[SurfaceClass.BACK] == 0.0


def test_shares_follow_the_order_of_the_classes():
    surfaces = told(SLAB)
    normals_z = np.array([[0.0, 0.0, 1.0]])
    corners = surfaces.mesh.points_m[surfaces.mesh.triangles]
    facing = np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0]) @ normals_z[0]
    column = list(SurfaceClass).index(SurfaceClass.SHOW_FACE)
    assert (surfaces.shares[:, column] == (facing > 0)).all()


def test_the_settings_stay_with_the_result():
    surfaces = told(SLAB, return_limit_m=0.03)
    assert surfaces.rules.return_limit_m == 0.03
    assert (surfaces.kind, surfaces.show_direction.tolist()) == (ModelKind.PIECE, [0.0, 0.0, 1.0])
    assert surfaces.area_m2[SurfaceClass.UPRIGHT] == pytest.approx(2 * 2.6 * 0.04)


@pytest.mark.parametrize("kind", [ModelKind.OPEN, ModelKind.OUTLINE])
def test_an_open_surface_wound_the_other_way_is_turned_and_noted(kind):
    flipped = Mesh(TRAY.points_m, TRAY.triangles[:, ::-1])
    surfaces = told(flipped, kind=kind)
    assert surfaces.area_m2 == pytest.approx(told(TRAY, kind=kind).area_m2)
    assert surfaces.surfaces[0].normal == pytest.approx(UP)
    assert [note.code for note in surfaces.notes] == [NoteCode.INSIDE_OUT]
    assert surfaces.notes[0].text.startswith("10 facets of the open surface were wound")


def test_only_the_sheets_that_need_it_are_turned():
    both = beside(TRAY, moved(Mesh(TRAY.points_m, TRAY.triangles[:, ::-1]), (3000, 0, 0)))
    surfaces = told(both, kind=ModelKind.OPEN)
    assert surfaces.area_m2[SurfaceClass.SHOW_FACE] == pytest.approx(2 * 1.83 * 0.62)
    assert (surfaces.mesh.triangles[:10] == both.triangles[:10]).all()


@pytest.mark.parametrize("scale", [0.02, 1.0, 12.0])
def test_the_limits_are_lengths_not_shares(scale):
    mesh = Mesh(SLAB.points_m * scale, SLAB.triangles)
    depth_m = 0.04 * scale
    surfaces = told(mesh)
    walls = SurfaceClass.RETURN if depth_m <= 0.11 else SurfaceClass.UPRIGHT
    assert surfaces.area_m2[walls] == pytest.approx(2 * 2.6 * 0.04 * scale**2)


def test_the_same_mesh_gives_the_same_result():
    one, two = told(SLAB), told(SLAB)
    assert [s.id for s in one.surfaces] == [s.id for s in two.surfaces]
    assert (one.shares == two.shares).all()


@pytest.mark.parametrize("direction", [(0, 0, 0), (0, 0, 2), (1, 1, 0), (np.nan, 0, 1), (0, 1)])
def test_what_is_no_unit_vector_is_refused(direction):
    with pytest.raises(SurfaceError, match="is no unit vector; give up, down, front, back"):
        classify(SLAB, kind=ModelKind.PIECE, show_direction=np.array(direction, dtype=float))


@pytest.mark.parametrize("limit_m", [0.0, -0.1, np.inf, np.nan])
def test_a_return_limit_that_is_none_is_refused(limit_m):
    with pytest.raises(SurfaceError, match=r"the return limit is .* m; give a depth above 0"):
        told(SLAB, return_limit_m=limit_m)


def test_a_closed_piece_that_is_open_is_refused_with_the_place():
    with pytest.raises(SurfaceError, match=r"4 open edges, the first at \(.*\) m.*--kind open"):
        told(TRAY)


def test_a_direction_that_nothing_faces_is_refused():
    roof = prism([[0, 0], [600, 0], [300, 520]], 900)
    with pytest.raises(
        SurfaceError, match=r"no surface faces the show direction \[0.0, 1.0, 0.0\]"
    ):
        told(roof, show=np.array([0.0, 1.0, 0.0]))


def test_triangle_order_does_not_change_the_shares_of_a_facet():
    mesh, _ = shuffled(SLAB, UP)
    one, two = told(SLAB), told(mesh)
    assert np.sort(one.shares, axis=0) == pytest.approx(np.sort(two.shares, axis=0))


def test_every_rule_has_its_reason():
    text = SurfaceRules.__doc__ or ""
    for name in SurfaceRules.__dataclass_fields__:
        assert name in text


def fluted(steps):
    """Section of a slab with round flutes 10 mm deep, and the length of its show face."""
    angle = np.radians(np.linspace(-30.0, -150.0, steps + 1))
    flute = np.column_stack([20.0 * np.cos(angle), 70.0 + 20.0 * np.sin(angle)])
    top = np.concatenate([np.add(flute, [30.0 + 60.0 * at, 0.0]) for at in reversed(range(10))])
    outline = np.concatenate([[[0.0, 0.0], [600.0, 0.0], [600.0, 60.0]], top, [[0.0, 60.0]]])
    return outline, np.hypot(*np.diff(outline[2:], axis=0).T).sum()


@pytest.mark.parametrize("steps", [12, 60, 240])
def test_round_flutes_are_show_face_and_their_ends_return_however_fine(steps):
    outline, show_mm = fluted(steps)
    section_mm2 = shapely.Polygon(outline).area
    found_mm2 = areas_mm2(mend(prism(outline, 900.0)).mesh, show=BACK)
    expected_mm2 = [show_mm * 900.0, 2.0 * (section_mm2 + 60.0 * 900.0), 0.0, 600.0 * 900.0]
    assert found_mm2 == pytest.approx(expected_mm2, abs=300.0)


@pytest.mark.parametrize("seed", range(3))
def test_slivers_turned_by_single_precision_do_not_cut_a_wall_in_two(seed):
    outline, show_mm = fluted(240)
    random = np.random.default_rng(seed)
    turn = trimesh.transformations.random_rotation_matrix(random.random(3))[:3, :3]
    drawn = prism(outline, 900.0)
    points_m = drawn.points_m @ turn.T + random.uniform(-3.0, 3.0, 3)
    rounded_m = (points_m / MM).astype(np.float32).astype(np.float64) * MM
    found_mm2 = areas_mm2(mend(Mesh(rounded_m, drawn.triangles)).mesh, show=turn @ BACK)
    return_mm2 = 2.0 * (shapely.Polygon(outline).area + 60.0 * 900.0)
    assert found_mm2 == pytest.approx([show_mm * 900.0, return_mm2, 0.0, 540e3], abs=300.0)
