"""Points that are the same become one."""

import numpy as np
import pytest

from takeoff.geometry import welding
from takeoff.geometry.edges import edge_table
from takeoff.geometry.mesh import Mesh
from takeoff.geometry.welding import compacted, weld_exact, weld_near
from tests.unit.geometry.meshes_made import box, sheet, soup


def assert_welded(corners, points, number):
    """Every corner is its point, no point comes twice, and they rise in number."""
    assert np.array_equal(points[number], corners)
    assert len(np.unique(points, axis=0)) == len(points)
    first = np.unique(number, return_index=True)[1]
    assert (np.diff(first) > 0).all()


@pytest.mark.parametrize("kind", [np.float32, np.float64])
@pytest.mark.parametrize("count", [1, 2, 7, 100, 40_000])
def test_distinct_points_are_found(kind, count):
    random = np.random.default_rng(count)
    corners = random.integers(-9, 9, (count, 3)).astype(kind) / kind(7)
    assert_welded(corners, *weld_exact(corners))


def test_zero_and_minus_zero_are_the_same():
    corners = np.array([[0.0, 1.0, -0.0], [-0.0, 1.0, 0.0]], dtype=np.float32)
    points, number = weld_exact(corners)
    assert len(points) == 1
    assert number.tolist() == [0, 0]


def test_points_that_differ_in_the_last_digit_stay_apart():
    corners = np.array([[1.0, 2.0, 3.0], [1.0, 2.0, np.nextafter(3.0, 4.0)]])
    assert len(weld_exact(corners)[0]) == 2


@pytest.mark.parametrize("hashes", [1, 2, 5])
def test_collisions_of_hashes_are_repaired(monkeypatch, hashes):
    def few_hashes(corners, row_bits):
        rows = np.arange(len(corners), dtype=np.uint64)
        kind = np.abs(corners.sum(axis=1)).astype(np.uint64) % np.uint64(hashes)
        return kind << np.uint64(row_bits) | rows

    corners = np.random.default_rng(3).integers(0, 6, (500, 3)).astype(float)
    corners[::50] = -0.0
    monkeypatch.setattr(welding, "_words", few_hashes)
    points, number = weld_exact(corners)
    assert np.array_equal(points[number], corners)
    assert len(points) == len(np.unique(corners + 0.0, axis=0))


def test_points_on_open_edges_are_joined_within_a_length():
    drawn = soup(sheet(steps=3))
    random = np.random.default_rng(1)
    shaken = Mesh(
        drawn.points_m + random.uniform(-2e-7, 2e-7, drawn.points_m.shape), drawn.triangles
    )
    joined, count = weld_near(shaken, edge_table(shaken), within_m=1e-6)
    assert len(joined.points_m) == 16
    assert count == len(drawn.points_m) - 16
    assert len(edge_table(joined).open_facet) == 12


def test_points_farther_apart_stay():
    gaping = Mesh(
        np.array([[0, 0, 0], [1, 0, 0], [1, 1, 0], [0, 2e-6, 0], [1, 1 + 2e-6, 0], [0, 1, 0]]),
        np.array([[0, 1, 2], [3, 4, 5]], dtype=np.int32),
    )
    assert weld_near(gaping, edge_table(gaping), within_m=1e-6) == (gaping, 0)


def test_points_inside_a_closed_surface_are_never_joined():
    fine = box(high=(1.0, 1.0, 1e-9))
    assert weld_near(fine, edge_table(fine), within_m=1e-6) == (fine, 0)


def test_unused_points_are_dropped():
    mesh = box()
    loose = Mesh(
        np.concatenate([np.full((3, 3), 9.0), mesh.points_m]), mesh.triangles + np.int32(3)
    )
    assert np.array_equal(compacted(loose).points_m, mesh.points_m)
    assert compacted(mesh) is mesh
