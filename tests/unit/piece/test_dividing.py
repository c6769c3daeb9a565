import numpy as np
import pytest
import trimesh

from takeoff.geometry.facets import facets_of
from takeoff.geometry.mesh import Mesh
from takeoff.piece.borders import border_on
from takeoff.piece.developing import patterns_of
from takeoff.piece.dividing import divide
from takeoff.piece.judging import ClassColumn
from takeoff.piece.slicing import sliced
from tests.unit.piece.pieces_made import BACK, MM, UP, mend_body, prism, subdivided, told
from tests.unit.piece.test_walls import LEGS

# Of a wall that grows from 50 to 250 mm deep over 2 m, the first 600 mm are 110 mm deep at most.
SLOPING = [(0, 0), (2000, 0), (2000, -50), (0, -250)]


def square(count):
    """A wall of 1 m by 1 m, looking along -y, its facets in strips."""
    x = np.linspace(0.0, 1.0, count + 1)
    points = [[one, 0.0, z] for one in x for z in (0.0, 1.0)]
    first = 2 * np.arange(count)
    rows = [[first, first + 2, first + 1], [first + 1, first + 2, first + 3]]
    triangles = np.concatenate([np.array(row).T for row in rows]).astype(np.int32)
    return Mesh(np.array(points), triangles)


@pytest.mark.parametrize("section", [LEGS, SLOPING], ids=["legs", "sloping"])
@pytest.mark.parametrize("drawn", [lambda mesh: mesh, lambda mesh: subdivided(mesh, BACK)[0]])
def test_each_facet_is_in_one_surface_and_no_area_is_lost(section, drawn):
    surfaces = told(drawn(prism(section, 300)), show=BACK)
    divided = divide(surfaces)
    area_m2 = facets_of(divided.mesh).area_m2
    held_m2 = np.bincount(divided.owner, area_m2)
    assert (divided.owner >= 0).all()
    assert held_m2 == pytest.approx([one.area_m2 for one in surfaces.surfaces], rel=1e-6)


def test_a_return_ends_where_the_wall_grows_deeper_than_the_limit():
    patterns = {one.id: one for one in patterns_of(told(prism(SLOPING, 300), show=BACK))}
    shallow = np.ptp(patterns["R1"].sheets[0].outer_m, axis=0) / MM
    assert shallow == pytest.approx([600, 110], abs=0.1)
    assert patterns["R1"].is_true()
    assert patterns["U1"].is_true()


def test_the_halves_of_a_chamfer_go_to_the_surfaces_they_border():
    points = [(x, y, z) for x in (0, 600) for y in (0, 400) for z in (0, 40)]
    points += [(x, y, 50) for x in (10, 590) for y in (10, 390)]
    slab = mend_body(trimesh.convex.convex_hull(np.array(points, dtype=float)))
    patterns = patterns_of(told(slab))
    assert [one.id for one in patterns if not one.is_true()] == []
    heights = [np.ptp(one.sheets[0].outer_m, axis=0).min() / MM for one in patterns[1:5]]
    assert heights == pytest.approx([40 + 0.5 * np.hypot(10, 10)] * 4, abs=0.2)


@pytest.mark.parametrize("count", [1, 4])
def test_lines_pass_where_the_areas_are(count):
    shares = np.tile([0.25, 0.0, 0.75, 0.0], (2 * count, 1))
    border = border_on(square(count), shares, UP)
    assert border.axis == pytest.approx([0.0, 0.0, 1.0])
    assert border.cuts_m == pytest.approx([0.75])
    assert border.columns.tolist() == [ClassColumn.UPRIGHT, ClassColumn.SHOW_FACE]


@pytest.mark.parametrize(
    "shares", [[0.0, 0.3, 0.3, 0.4], [0.2, 0.4, 0.3, 0.1], [0.0, 0.0, 0.5, 0.5]]
)
def test_no_line_is_drawn_between_classes_that_none_is_known_for(shares):
    assert border_on(square(2), np.tile(shares, (4, 1)), UP) is None


def test_in_a_basin_the_show_face_is_below_the_wall():
    shares = np.tile([0.25, 0.0, 0.75, 0.0], (4, 1))
    border = border_on(square(2), shares, UP, show_below=True)
    assert border.axis == pytest.approx([0.0, 0.0, -1.0])
    assert border.cuts_m == pytest.approx([-0.25])
    assert border.columns.tolist() == [ClassColumn.UPRIGHT, ClassColumn.SHOW_FACE]


def test_the_foot_of_a_trough_is_parted_the_right_way_up():
    trough = [(0, 0), (600, 0), (600, 200), (550, 200), (550, 70), (530, 50)]
    trough += [(70, 50), (50, 70), (50, 200), (0, 200)]
    patterns = {one.id: one for one in patterns_of(told(prism(trough, 900), show=BACK))}
    floor_mm = 460 + np.hypot(20, 20)
    assert patterns["F1"].is_true()
    assert sorted(np.ptp(patterns["F1"].sheets[0].outer_m, axis=0) / MM) == pytest.approx(
        [floor_mm, 900]
    )


def test_lines_through_corners_part_any_classes_that_the_facets_tell_of():
    shares = np.eye(4)[[1, 3, 3, 2, 1, 3, 3, 2]]
    border = border_on(square(4), shares, UP)
    assert border.axis == pytest.approx([1.0, 0.0, 0.0])
    assert border.cuts_m == pytest.approx([0.25, 0.75])
    assert border.columns.tolist() == [1, 3, 2]


def test_a_level_face_has_no_upright_lines():
    assert border_on(square(2), np.tile([0.0, 0.5, 0.5, 0.0], (4, 1)), BACK) is None


def test_slices_keep_the_area_and_share_their_points():
    wall = square(5)
    slices = sliced(wall, np.array([0.6, 0.0, 0.8]), np.array([0.3, 0.7]), within_m=1e-9)
    area_m2 = facets_of(slices.mesh).area_m2
    assert np.bincount(slices.source, area_m2) == pytest.approx(facets_of(wall).area_m2)
    assert len(np.unique(slices.mesh.points_m.round(9), axis=0)) == len(slices.mesh.points_m)
    along = (slices.mesh.points_m @ [0.6, 0.0, 0.8])[slices.mesh.triangles].mean(axis=1)
    assert (np.digitize(along, [0.3, 0.7]) == slices.band).all()
