"""Facets around a point."""

import numpy as np

from takeoff.geometry.edges import edge_table
from takeoff.geometry.mesh import Mesh
from takeoff.geometry.umbrellas import corners_at, umbrellas_of
from takeoff.geometry.welding import compacted, weld_exact
from tests.unit.geometry.meshes_made import box, plate, together


def test_each_point_of_a_sound_solid_is_one_umbrella():
    mesh = plate()
    label = umbrellas_of(mesh, edge_table(mesh))
    pairs = set(zip(mesh.triangles.reshape(-1).tolist(), label.tolist(), strict=True))
    assert len(pairs) == len(mesh.points_m)
    assert label.max() + 1 == len(mesh.points_m)


def test_solids_that_touch_at_a_corner_have_two_umbrellas_there():
    points, number = weld_exact(together(box(), box((1, 1, 1), (2, 2, 2))).points_m)
    pair = together(box(), box((1, 1, 1), (2, 2, 2)))
    mesh = compacted(Mesh(points, number[pair.triangles]))
    assert len(mesh.points_m) == 15
    assert umbrellas_of(mesh, edge_table(mesh)).max() + 1 == 16


def test_a_corner_is_found_by_its_point():
    mesh = box()
    facets = np.arange(12, dtype=np.int32)
    for place in range(3):
        found = corners_at(mesh, facets, mesh.triangles[:, place])
        assert found.tolist() == [3 * facet + place for facet in range(12)]
