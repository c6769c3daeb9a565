"""Patches and bodies."""

import numpy as np

from takeoff.geometry.dihedrals import are_smooth
from takeoff.geometry.edges import edge_table
from takeoff.geometry.facets import facets_of
from takeoff.geometry.parts import parts_of
from tests.unit.geometry.meshes_made import box, plate, sheet, together


def parts(mesh):
    edges = edge_table(mesh)
    smooth = are_smooth(facets_of(mesh), edges, smooth_deg=20.0)
    return parts_of(len(mesh.triangles), edges, smooth)


def test_a_box_has_six_patches_and_is_one_body():
    found = parts(box())
    assert (found.patch_count, found.body_count) == (6, 1)
    assert found.patch.tolist() == np.repeat(range(6), 2).tolist()


def test_bodies_are_told_apart():
    found = parts(together(box(), sheet(), box((5, 0, 0), (6, 1, 1))))
    assert (found.patch_count, found.body_count) == (13, 3)
    assert found.body.tolist() == [0] * 12 + [1] * 2 + [2] * 12


def test_walls_of_openings_are_patches():
    assert parts(plate(holes=2)).patch_count == 2 + 4 + 2 * 4
