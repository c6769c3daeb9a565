import numpy as np
import pytest

from takeoff.geometry.mesh import Mesh
from takeoff.piece.flats import flats_of, regathered
from takeoff.piece.rules import SurfaceRules
from tests.unit.piece.pieces_made import UP, box, prism, subdivided, without


def test_a_box_has_six_flats_however_finely_it_is_drawn():
    fine, _ = subdivided(box((0, 0, 0), (300, 200, 50)), UP)
    flats = flats_of(fine)
    assert len(fine.triangles) == 12 * 16
    assert sorted(flats.area_m2.round(9)) == [0.01, 0.01, 0.015, 0.015, 0.06, 0.06]
    assert flats.evenness_ratio == pytest.approx(np.ones(6))


def test_joints_lie_between_flats_only():
    fine, _ = subdivided(box((0, 0, 0), (300, 200, 50)), UP)
    joints = flats_of(fine).joints
    assert joints.length_m.sum() == pytest.approx(4 * (0.3 + 0.2 + 0.05))
    assert joints.turn_deg == pytest.approx(np.full(len(joints.turn_deg), 90.0))
    assert (joints.left != joints.right).all()


def test_open_edges_belong_to_the_flat_they_end():
    tray = without(box((0, 0, 0), (300, 200, 50)), (0, 0, -1))
    flats = flats_of(tray)
    assert flats.count == 5
    assert len(flats.open_edges.flat) == 4
    assert sorted(flats.normals[flats.open_edges.flat, 2]) == [0.0, 0.0, 0.0, 0.0]


def test_a_finely_divided_curve_is_no_flat():
    angle = np.radians(np.linspace(0.0, 2.0, 200))
    arc = np.column_stack([3000 * np.sin(angle), 3000 * np.cos(angle)])
    bowed = prism(np.vstack([arc, [[arc[-1, 0], 2900], [0, 2900]]]), 500)
    flats = flats_of(bowed, rules=SurfaceRules(flat_deg=0.03))
    top = flats.normals[:, 1] > 0.9
    assert top.sum() > 190


def test_a_flat_whose_facets_differ_by_less_stays_one():
    angle = np.radians(np.linspace(0.0, 0.4, 40))
    arc = np.column_stack([3000 * np.sin(angle), 3000 * np.cos(angle)])
    bowed = prism(np.vstack([arc, [[arc[-1, 0], 2900], [0, 2900]]]), 500)
    flats = flats_of(bowed, rules=SurfaceRules(flat_deg=0.03))
    assert (flats.normals[:, 1] > 0.9).sum() == 1


def test_regathered_flats_know_where_they_came_from():
    slab = box((0, 0, 0), (300, 200, 50))
    flats = flats_of(slab)
    new, former = regathered(flats, np.arange(12))
    assert new.count == 12
    assert new.normals == pytest.approx(flats.normals[former])
    assert len(new.joints.left) == 18


def test_widths_are_those_of_strips():
    slab = box((0, 0, 0), (3000, 2000, 50))
    flats = flats_of(slab)
    end = np.abs(flats.normals[:, 0]) > 0.5
    width_m = flats.widths_m(end)
    assert width_m[end] == pytest.approx([2 * 2 * 0.05 / 4.1] * 2)
    assert np.isinf(width_m[~end]).all()


def test_one_facet_is_a_flat():
    assert flats_of(Mesh(np.eye(3), np.array([[0, 1, 2]], dtype=np.int32))).count == 1


@pytest.mark.parametrize(("off_m", "count"), [(5e-8, 1), (1e-4, 2)])
def test_a_facet_as_low_as_rounding_belongs_to_the_flat_beside_it(off_m, count):
    points = [[0.0, 0.0, 0.0], [1.0, 0.0, 0.0], [0.5, 1.0, 0.0], [0.5, -off_m, off_m]]
    mesh = Mesh(np.array(points), np.array([[0, 1, 2], [1, 0, 3]], dtype=np.int32))
    assert flats_of(mesh).count == count
