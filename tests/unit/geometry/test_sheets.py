"""Flat sheets that lie on another."""

import numpy as np
import pytest

from takeoff.geometry.dropping import without_duplicates
from takeoff.geometry.edges import edge_table
from takeoff.geometry.mesh import Mesh
from takeoff.geometry.repairs import Defect, Repair
from takeoff.geometry.sheets import without_double_sheets
from takeoff.geometry.welding import compacted, weld_exact
from tests.unit.geometry.meshes_made import box, skewed, together, with_facets


def welded(mesh):
    points, number = weld_exact(mesh.points_m)
    return compacted(Mesh(points, number[mesh.triangles]))


@pytest.mark.parametrize("turn", [lambda mesh: mesh, skewed])
@pytest.mark.parametrize("again", [1, 2])
def test_a_face_drawn_again_goes_however_it_is_divided(turn, again):
    drawn = turn(with_facets(box(), [[5, 7, 6], [5, 6, 4]] * again))
    drawn, _ = without_duplicates(drawn)
    mesh, repairs = without_double_sheets(drawn, edge_table(drawn), within_m=1e-6)
    assert repairs == (Repair(Defect.DUPLICATE, 2),)
    assert edge_table(mesh).sound


@pytest.mark.parametrize("turn", [lambda mesh: mesh, skewed])
def test_solids_that_share_a_face_become_one(turn):
    pair = turn(welded(together(box(), box((1, 0, 0), (3, 1, 1)))))
    mesh, repairs = without_double_sheets(pair, edge_table(pair), within_m=1e-6)
    assert repairs == (Repair(Defect.TOUCHING, 4),)
    assert edge_table(mesh).sound


def test_caps_over_the_same_rim_that_are_not_flat_stay():
    rim = [[np.cos(a), np.sin(a), 0.0] for a in np.arange(6) * np.pi / 3]
    points = np.array([*rim, [0, 0, 1.0], [0, 0, -1.0], [0, 0, 0.0]])
    facets = (
        [[i, (i + 1) % 6, 6] for i in range(6)]
        + [[(i + 1) % 6, i, 7] for i in range(6)]
        + [[i, (i + 1) % 6, 8] for i in range(6)]
    )
    mesh = Mesh(points, np.array(facets, dtype=np.int32))
    assert without_double_sheets(mesh, edge_table(mesh), within_m=1e-6) == (mesh, ())


def test_a_sound_mesh_passes_as_it_is():
    mesh = box()
    assert without_double_sheets(mesh, edge_table(mesh), within_m=1e-6) == (mesh, ())
