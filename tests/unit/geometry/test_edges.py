"""Which facets meet along which edges."""

import numpy as np
import pytest

from takeoff.geometry.edges import edge_table
from tests.unit.geometry.meshes_made import band, box, inverted, plate, sheet, without


@pytest.mark.parametrize("mesh", [box(), plate(), band(twists=2)])
def test_edges_run_in_the_winding_of_the_left_facet(mesh):
    table = edge_table(mesh)
    for facet, start, end in zip(table.left, table.start, table.end, strict=True):
        corners = mesh.triangles[facet].tolist()
        assert corners[(corners.index(start) + 1) % 3] == end
    for facet, start, end in zip(table.right, table.start, table.end, strict=True):
        assert {start, end} < set(mesh.triangles[facet].tolist())


def test_a_closed_solid_is_sound():
    table = edge_table(plate(holes=2))
    assert table.sound
    assert len(table.left) * 2 == plate(holes=2).triangles.size
    assert not table.same_way.any()


def test_open_edges_are_those_of_the_missing_facet():
    whole = box()
    table = edge_table(without(whole, [0]))
    edges = {frozenset(pair) for pair in zip(table.open_start, table.open_end, strict=True)}
    corners = whole.triangles[0].tolist()
    assert edges == {frozenset(pair) for pair in zip(corners, corners[1:] + corners[:1])}  # noqa: B905
    assert not table.sound


def test_a_turned_facet_runs_its_edges_the_same_way():
    table = edge_table(inverted(box(), [5]))
    assert table.same_way.sum() == 3
    touched = (table.left == 5) | (table.right == 5)
    assert np.array_equal(touched, table.same_way)
    assert not table.sound


def test_numbers_are_small_integers():
    table = edge_table(sheet(steps=3))
    arrays = (table.left, table.right, table.start, table.end, table.open_facet, table.open_start)
    assert {array.dtype for array in arrays} == {np.dtype(np.int32)}
