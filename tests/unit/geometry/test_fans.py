"""Edges that three or more facets share."""

import numpy as np
import pytest

from takeoff.geometry.edges import edge_table
from takeoff.geometry.mesh import Mesh
from takeoff.geometry.welding import compacted, weld_exact
from tests.unit.geometry.meshes_made import box, hull_of_cells, skewed, together, with_facets


def welded(mesh):
    points, number = weld_exact(mesh.points_m)
    return compacted(Mesh(points, number[mesh.triangles]))


@pytest.mark.parametrize("turn", [lambda mesh: mesh, skewed])
def test_two_solids_that_touch_along_an_edge_stay_two(turn):
    pair = turn(welded(together(box(), box((1, 1, 0), (2, 2, 1)))))
    table = edge_table(pair)
    assert table.fans == 1
    assert table.fan_links == 2
    assert table.torn_links == 0
    assert ((table.left < 12) == (table.right < 12)).all()


def test_three_solids_around_an_edge_stay_three():
    wedge = np.array([[0, 0, 0], [1, 0, 0], [np.cos(0.9), np.sin(0.9), 0]])
    prism = np.concatenate([wedge, wedge + np.array([0, 0, 1])])
    facets = np.array(
        [
            *([0, 2, 1], [3, 4, 5], [0, 1, 4], [0, 4, 3]),
            *([1, 2, 5], [1, 5, 4], [2, 0, 3], [2, 3, 5]),
        ],
        dtype=np.int32,
    )
    solids = []
    for turn in (0.0, 2.0, 4.0):
        spin = np.array(
            [[np.cos(turn), np.sin(turn), 0], [-np.sin(turn), np.cos(turn), 0], [0, 0, 1]]
        )
        solids.append(Mesh(prism @ spin, facets))
    table = edge_table(welded(together(*solids)))
    assert table.fans == 1
    assert table.fan_links == 3
    assert np.array_equal(table.left // 8, table.right // 8)


def test_solids_that_touch_on_a_face_are_paired_across_their_own_material():
    table = edge_table(welded(together(box(), box((1, 0, 0), (2, 1, 1)))))
    assert table.fans in {4, 5}  # the rim, and the diagonal where they agree
    assert table.torn_links == 0
    assert ((table.left < 12) == (table.right < 12)).all()


def test_air_on_both_sides_of_an_edge_is_no_material():
    ring = hull_of_cells([(0, 0, 0), (1, 1, 0), (2, 0, 0), (1, -1, 0)])
    table = edge_table(ring)
    assert table.fans == 4
    normals = np.cross(
        ring.points_m[ring.triangles[:, 1]] - ring.points_m[ring.triangles[:, 0]],
        ring.points_m[ring.triangles[:, 2]] - ring.points_m[ring.triangles[:, 0]],
    )
    links = slice(len(table.left) - table.fan_links, None)
    middle = ring.points_m[ring.triangles].mean(axis=1)
    apart = middle[table.right[links]] - middle[table.left[links]]
    assert (np.einsum("ij,ij->i", normals[table.left[links]], apart) < 0.0).all()


def test_an_odd_facet_on_an_edge_is_linked_in_sequence():
    table = edge_table(with_facets(box(), [[0, 1, 7]]))
    assert table.fans == 2  # the edges 0-1 and 1-7
    assert table.torn_links == 4
    assert not table.sound
