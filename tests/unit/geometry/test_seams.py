"""Facets split where corners of others lie on their edges."""

import numpy as np
import pytest

from takeoff.geometry import seams
from takeoff.geometry.edges import edge_table
from takeoff.geometry.facets import facets_of
from takeoff.geometry.mesh import Mesh
from takeoff.geometry.repairs import Defect, Repair
from takeoff.geometry.seams import split_seams
from takeoff.geometry.welding import compacted, weld_exact
from tests.unit.geometry.meshes_made import TOP, box, sheet, skewed, together, without


def welded(mesh):
    points, number = weld_exact(mesh.points_m)
    return compacted(Mesh(points, number[mesh.triangles]))


def box_with_fine_lid(steps):
    """A box whose top is divided finer than its walls."""
    lid = sheet(steps=steps)
    lid = Mesh(lid.points_m + np.array([0, 0, 1]), lid.triangles)
    return welded(together(without(box(), TOP), lid))


@pytest.mark.parametrize("steps", [2, 3, 10])
@pytest.mark.parametrize("turn", [lambda mesh: mesh, skewed])
def test_a_wall_under_a_finer_lid_is_split_and_closed(steps, turn):
    gaping = turn(box_with_fine_lid(steps))
    assert len(edge_table(gaping).open_facet) == 4 * (steps + 1)
    mesh, repairs = split_seams(gaping, edge_table(gaping), within_m=1e-6)
    assert edge_table(mesh).sound
    assert repairs == (Repair(Defect.SEAM, 4),)
    assert len(mesh.points_m) == len(gaping.points_m)
    assert facets_of(mesh).area_m2.sum() == pytest.approx(6.0, rel=1e-12)


def test_a_facet_is_split_along_all_its_sides():
    points = np.array(
        [[0, 0, 0], [4, 0, 0], [0, 4, 0], [2, 0, 0], [2, 2, 0], [0, 2, 0]], dtype=float
    )
    beyond = np.array([[1, -1, 0], [3, -1, 0], [3, 3, 0], [-1, 1, 0], [-1, 3, 0], [2.5, 2.5, 1]])
    facets = [[0, 1, 2], [3, 0, 6], [1, 3, 7], [4, 1, 8], [2, 4, 11], [5, 2, 10], [0, 5, 9]]
    mesh = Mesh(np.concatenate([points, beyond]), np.array(facets, dtype=np.int32))
    split, repairs = split_seams(mesh, edge_table(mesh), within_m=1e-6)
    assert repairs[0].count == 3
    assert facets_of(split).area_m2.sum() == pytest.approx(facets_of(mesh).area_m2.sum())
    assert len(edge_table(split).left) == 6 + 3


def test_a_corner_that_merely_touches_splits_nothing():
    points = np.array([[0, 0, 0], [2, 0, 0], [1, 1, 0], [1, 0, 0], [0.5, -1, 0], [1.5, -1, 0]])
    mesh = Mesh(points, np.array([[0, 1, 2], [3, 4, 5]], dtype=np.int32))
    assert split_seams(mesh, edge_table(mesh), within_m=1e-6) == (mesh, ())


def test_a_closed_mesh_passes_as_it_is():
    mesh = box()
    assert split_seams(mesh, edge_table(mesh), within_m=1e-6) == (mesh, ())


def test_open_edges_without_end_are_not_followed(monkeypatch):
    monkeypatch.setattr(seams, "_MOST_NEIGHBOURS", 3)
    gaping = box_with_fine_lid(2)
    assert split_seams(gaping, edge_table(gaping), within_m=1e-6) == (gaping, ())


def test_a_corner_off_the_edge_splits_nothing():
    gaping = box_with_fine_lid(2)
    gaping.points_m[(gaping.points_m[:, 0] == 0.5) & (gaping.points_m[:, 1] == 0.0), 1] = -1e-4
    mesh, _ = split_seams(gaping, edge_table(gaping), within_m=1e-6)
    assert len(edge_table(mesh).open_facet) == 3
