"""Turns and lengths of edges."""

import numpy as np
import pytest

from takeoff.geometry.dihedrals import are_smooth, edge_lengths_m, lengths_m, turns_deg
from takeoff.geometry.edges import edge_table
from takeoff.geometry.facets import facets_of
from takeoff.geometry.mesh import Mesh
from tests.unit.geometry.meshes_made import box, hull_of_cells, inverted, skewed


def turns_of(mesh):
    return turns_deg(mesh, facets_of(mesh), edge_table(mesh))


@pytest.mark.parametrize("turn", [lambda mesh: mesh, skewed])
def test_an_arris_turns_out_and_an_inside_corner_in(turn):
    angle = turn(hull_of_cells([(0, 0), (1, 0), (1, 1)]))
    turns = turns_of(angle).round(6)
    lengths = edge_lengths_m(angle, edge_table(angle))
    assert set(turns.tolist()) == {-90.0, 0.0, 90.0}
    assert lengths[turns == -90.0].sum() == pytest.approx(1.0)
    assert lengths[turns == 90.0].sum() == pytest.approx(2 * 8 + 5)


@pytest.mark.parametrize("degrees", [1e-4, 0.5, 30.0, 89.9, 150.0, 179.0])
@pytest.mark.parametrize("sign", [1, -1])
def test_any_turn_is_measured(degrees, sign):
    angle = np.radians(degrees) * sign
    points = [[0, 0, 0], [0, 1, 0], [-1, 0, 0], [np.cos(angle), 0, -np.sin(angle)]]
    roof = Mesh(np.array(points), np.array([[0, 1, 2], [1, 0, 3]], dtype=np.int32))
    assert turns_of(roof).tolist() == pytest.approx([sign * degrees], rel=1e-9)


def test_facets_with_equal_normals_do_not_turn_but_against_each_other_they_do():
    square = np.array([[0.0, 0.0, 0.0], [1.0, 0.0, 0.0], [1.0, 1.0, 0.0], [0.0, 1.0, 0.0]])
    flat = Mesh(square, np.array([[0, 1, 2], [0, 2, 3]], dtype=np.int32))
    folded = Mesh(square, np.array([[0, 1, 2], [0, 2, 1]], dtype=np.int32))
    assert turns_of(flat).tolist() == [0.0]
    assert np.abs(turns_of(folded)).tolist() == pytest.approx([180.0] * 3)


def test_points_are_measured_in_pairs():
    corner = Mesh(np.eye(3) * 2.0, np.array([[0, 1, 2]], dtype=np.int32))
    lengths = lengths_m(corner, np.array([0, 1]), np.array([2, 1]))
    assert lengths.tolist() == pytest.approx([8.0**0.5, 0.0])


def test_a_facet_wound_the_other_way_does_not_change_the_turn():
    mesh = box()
    assert (
        np.abs(turns_of(inverted(mesh, [4]))).round(9).tolist() == turns_of(mesh).round(9).tolist()
    )


@pytest.mark.parametrize(("smooth_deg", "count"), [(20.0, 6), (91.0, 18)])
def test_smooth_edges_turn_less(smooth_deg, count):
    for mesh in (box(), inverted(box(), [4, 7])):
        smooth = are_smooth(facets_of(mesh), edge_table(mesh), smooth_deg=smooth_deg)
        assert smooth.sum() == count
