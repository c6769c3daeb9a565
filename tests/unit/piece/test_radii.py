import numpy as np
import pytest
import trimesh

from takeoff.geometry.mesh import Mesh
from takeoff.piece.surfaces import ModelKind
from tests.unit.piece.pieces_made import (
    BACK,
    MM,
    UP,
    box,
    prism,
    shuffled,
    subdivided,
    told,
    turned,
    turned_section,
)
from tests.unit.piece.scans_made import sheet
from tests.unit.piece.test_curving import arc, bowl, eased_slab


@pytest.mark.parametrize("steps", [6, 9, 24])
@pytest.mark.parametrize("radius", [3, 25, 100, 180])
def test_a_rounded_arris_has_its_radius(radius, steps):
    found_m = told(eased_slab(radius, steps), show=BACK).min_radius_m
    assert found_m == pytest.approx(radius * MM, rel=0.02)


@pytest.mark.parametrize("way", [turned, shuffled, subdivided])
def test_the_radius_does_not_depend_on_how_the_piece_is_drawn(way):
    mesh, show = way(eased_slab(10, 8), BACK)
    assert told(mesh, show=show).min_radius_m == pytest.approx(0.010, rel=0.02)


@pytest.mark.parametrize("radius", [5, 30])
def test_an_inside_corner_counts_too(radius):
    corner = arc((40 + radius, 40 + radius), radius, 180, 270, 8)
    angle = [[0, 0], [400, 0], [400, 40], *corner, [40, 300], [0, 300]]
    found_m = told(prism(angle, 1000), show=BACK).min_radius_m
    assert found_m == pytest.approx(radius * MM, rel=0.02)


def test_the_tightest_of_several_counts():
    left = arc((25, 175), 25, -90, 0, 12)
    right = arc((592, 192), 8, 0, 90, 8)
    section = [[0, 0], *left, *right, [600, 0]]
    assert told(prism(section, 900), show=BACK).min_radius_m == pytest.approx(0.008, rel=0.02)


def test_all_that_is_plane_and_sharp_has_none():
    assert told(box((0, 0, 0), (1000, 600, 50))).min_radius_m is None
    chamfer = [[0, 0], [600, 0], [600, 90], [590, 100], [0, 100]]
    assert told(prism(chamfer, 900), show=BACK).min_radius_m is None


@pytest.mark.parametrize("slope", [3, 12, 24])
def test_a_fold_between_planes_is_no_curve(slope):
    rise = 300 * np.tan(np.radians(slope))
    roof = prism([[0, 0], [600, 0], [600, 60], [300, 60 + rise], [0, 60]], 900)
    assert told(roof, show=BACK).min_radius_m is None
    pyramid = trimesh.creation.cone(0.5, 0.06, sections=4)
    mesh = Mesh(np.array(pyramid.vertices), np.array(pyramid.faces, dtype=np.int32))
    assert told(mesh).min_radius_m is None


def test_the_back_does_not_count():
    groove = arc((300, 0), 8, -90, 90, 12)
    slab = prism([[0, 0], *groove, [600, 0], [600, 60], [0, 60]], 900)
    assert told(slab, show=BACK).min_radius_m is None


def test_bowls_domes_and_saddles_have_theirs():
    assert told(bowl(350, 150), show=UP).min_radius_m == pytest.approx(0.35, rel=0.05)
    cap = arc((0, 0), 600, 0, 60, 40)
    dome = turned_section([[0, 300], *cap[::-1]])
    assert told(dome).min_radius_m == pytest.approx(0.6, rel=0.05)
    saddle = sheet(lambda x, y: ((x - 200) ** 2 - (y - 200) ** 2) / 3000, (400, 400), 10)
    assert told(saddle, kind=ModelKind.OPEN).min_radius_m == pytest.approx(1.5, rel=0.1)


def test_any_triangles_of_a_ball_have_its_radius():
    ball = trimesh.creation.icosphere(4, 0.5)
    mesh = Mesh(np.array(ball.vertices), np.array(ball.faces, dtype=np.int32))
    assert told(mesh).min_radius_m == pytest.approx(0.5, rel=0.05)
