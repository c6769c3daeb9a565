"""Areas, normals and volumes of facets."""

import numpy as np
import pytest

from takeoff.geometry.facets import bounds_m, facet_volumes_m3, facets_of
from takeoff.geometry.mesh import Mesh
from tests.unit.geometry.meshes_made import box, inverted, plate, sheet, skewed


def test_normals_of_a_box_point_outward():
    mesh = box((0, 0, 0), (3, 4, 5))
    facets = facets_of(mesh)
    middle = mesh.points_m[mesh.triangles].mean(axis=1) - mesh.points_m.mean(axis=0)
    assert (np.einsum("ij,ij->i", facets.normals, middle) > 0.0).all()
    assert facets.area_m2.sum() == pytest.approx(2 * (12 + 15 + 20), rel=1e-15)


def test_a_facet_without_area_has_no_normal():
    line = Mesh(np.array([[0, 0, 0], [1, 0, 0], [2, 0, 0]], dtype=float), np.array([[0, 1, 2]]))
    facets = facets_of(line)
    assert facets.area_m2.tolist() == [0.0]
    assert facets.normals.tolist() == [[0.0, 0.0, 0.0]]


@pytest.mark.parametrize("away_m", [0.0, 1e3, 1e6])
def test_volume_keeps_its_digits_far_from_the_origin(away_m):
    low = np.array([away_m, away_m, -away_m])
    mesh = box(low, low + np.array([2.0, 0.75, 0.03125]))
    assert facet_volumes_m3(mesh).sum() == pytest.approx(2.0 * 0.75 * 0.03125, rel=1e-9)


def test_volume_is_negative_inside_out():
    assert facet_volumes_m3(inverted(box())).sum() == pytest.approx(-1.0)


def test_volume_from_known_facets_is_the_same():
    mesh = skewed(plate())
    known = facet_volumes_m3(mesh, facets_of(mesh))
    assert np.array_equal(known, facet_volumes_m3(mesh))
    assert known.sum() == pytest.approx(8.0)


def test_blocks_do_not_show():
    mesh = sheet(width=3.0, depth=2.0, steps=120)  # more facets than a block has
    facets = facets_of(mesh)
    assert facets.area_m2.sum() == pytest.approx(6.0, rel=1e-12)
    assert np.array_equal(facets.normals, np.tile([0.0, 0.0, 1.0], (len(mesh.triangles), 1)))


def test_bounds_are_those_of_the_points():
    low, high = bounds_m(box((1, 2, 3), (4, 5, 6)))
    assert low.tolist() == [1, 2, 3]
    assert high.tolist() == [4, 5, 6]


@pytest.mark.parametrize("mesh", [box(), plate(holes=2), skewed(plate()), inverted(box())])
def test_what_all_facets_enclose_is_the_sum_over_them(mesh):
    facets = facets_of(mesh)
    assert facets.enclosed_m3 == pytest.approx(facet_volumes_m3(mesh).sum(), rel=1e-12)
    far = Mesh(mesh.points_m + 2.0**20, mesh.triangles)
    assert facets_of(far).enclosed_m3 == pytest.approx(facets.enclosed_m3, rel=1e-8)


@pytest.mark.parametrize("count", [1, 5, 256, 700, 20_000])
def test_bounds_are_those_of_all_points(count):
    points = np.random.default_rng(count).normal(size=(count, 3))
    low, high = bounds_m(Mesh(points, np.zeros((1, 3), dtype=np.int32)))
    assert np.array_equal(low, points.min(axis=0))
    assert np.array_equal(high, points.max(axis=0))
