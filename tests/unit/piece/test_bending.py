import numpy as np
import pytest
import trimesh

from takeoff.geometry.mesh import Mesh
from takeoff.piece.bending import bends_of, tightest_radii_m
from takeoff.piece.flats import flats_of
from tests.unit.piece.pieces_made import UP, box, subdivided, without


def tube(radius_m, sections=48):
    body = trimesh.creation.cylinder(radius_m, 0.5, sections=sections)
    mesh = Mesh(np.array(body.vertices), np.array(body.faces, dtype=np.int32))
    return without(without(mesh, (0, 0, 1)), (0, 0, -1))


@pytest.mark.parametrize("radius_m", [0.01, 0.3, 12.0])
def test_a_tube_bends_by_its_radius(radius_m):
    flats = flats_of(tube(radius_m))
    bends = bends_of(flats)
    assert bends.radius_m == pytest.approx(np.full(48, radius_m), rel=2e-3)
    assert (bends.bend_m > 0.0).all()
    assert tightest_radii_m(flats, bends, 2 * radius_m) == pytest.approx(bends.radius_m, rel=1e-6)


def test_the_inside_of_a_tube_bends_the_other_way():
    outside = tube(0.3)
    inside = Mesh(outside.points_m, outside.triangles[:, ::-1])
    assert (bends_of(flats_of(inside)).bend_m < 0.0).all()


def test_a_ball_bends_twice_as_much_but_its_tightest_radius_is_its_own():
    ball = trimesh.creation.icosphere(5, 0.2)
    flats = flats_of(Mesh(np.array(ball.vertices), np.array(ball.faces, dtype=np.int32)))
    bends = bends_of(flats)
    assert np.median(bends.radius_m) == pytest.approx(0.1, rel=0.02)
    assert np.median(tightest_radii_m(flats, bends, 1.0)) == pytest.approx(0.2, rel=0.1)


def test_sharp_edges_are_no_bend():
    bends = bends_of(flats_of(box((0, 0, 0), (300, 200, 50))))
    assert np.isinf(bends.radius_m).all()
    assert not bends.smooth.any()


def test_the_facets_do_not_matter():
    coarse = bends_of(flats_of(tube(0.3)))
    fine = bends_of(flats_of(subdivided(tube(0.3), UP)[0]))
    assert fine.radius_m == pytest.approx(coarse.radius_m, rel=1e-6)


def test_only_the_radii_asked_for_are_found():
    flats = flats_of(tube(0.3))
    assert np.isinf(tightest_radii_m(flats, bends_of(flats), 0.2)).all()
