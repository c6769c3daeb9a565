"""The optional library gives the same points in the same order."""

import sys

import numpy as np
import pytest

from takeoff.geometry import remapping
from takeoff.geometry.remapping import first_rows, remapped_corners
from takeoff.geometry.welding import weld_exact


def corners_of(kind):
    """Facets over points of a grid, each three times, zeros of both signs among them."""
    random = np.random.default_rng(5)
    corners = random.integers(-4, 5, (1000, 9)).astype(kind) / kind(3)
    corners[(corners == 0.0) & (random.random(corners.shape) < 0.5)] = kind(-0.0)
    return corners.repeat(3, axis=0).reshape(-1, 3)


@pytest.mark.parametrize("kind", [np.float32, np.float64])
@pytest.mark.parametrize("minus", [False, True])
def test_the_library_agrees_with_the_sort(monkeypatch, kind, minus):
    pytest.importorskip("meshoptimizer")
    corners = corners_of(kind) if minus else np.abs(corners_of(kind))
    expected = weld_exact(corners)
    monkeypatch.setattr(remapping, "_FEWEST", 0)
    found = weld_exact(corners)
    assert np.array_equal(found[1], expected[1])
    assert np.array_equal(found[0], expected[0])


@pytest.mark.parametrize("minus", [False, True])
def test_the_points_of_a_library_are_taken_over(monkeypatch, minus):
    asked = []

    class Library:
        """Numbers rows as the real one does."""

        @staticmethod
        def generate_vertex_remap(number, *others):
            seen, rows = {}, others[2]
            asked.append(len(rows))
            for row, point in enumerate(map(bytes, rows)):
                number[row] = seen.setdefault(point, len(seen))

    corners = corners_of(np.float32) if minus else np.abs(corners_of(np.float32))
    expected = weld_exact(corners)
    monkeypatch.setattr(remapping, "_FEWEST", 0)
    monkeypatch.setitem(sys.modules, "meshoptimizer", Library)
    found = weld_exact(corners)
    assert len(asked) == 1
    assert np.array_equal(found[1], expected[1])
    assert np.array_equal(found[0], expected[0])


def test_corners_in_no_order_are_left_to_the_sort(monkeypatch):
    class Library:
        """Must not be asked."""

    monkeypatch.setattr(remapping, "_FEWEST", 0)
    monkeypatch.setitem(sys.modules, "meshoptimizer", Library)
    corners = np.random.default_rng(7).permutation(corners_of(np.float64))
    points, number = weld_exact(corners)
    assert np.array_equal(points[number], corners)


def test_without_the_library_nothing_is_remapped(monkeypatch):
    monkeypatch.setattr(remapping, "_FEWEST", 0)
    monkeypatch.setitem(sys.modules, "meshoptimizer", None)
    assert remapped_corners(corners_of(np.float32)) is None


def test_first_rows_across_blocks():
    number = np.concatenate([np.arange(40_000), np.arange(40_000), [40_000]]).astype(np.int32)
    assert np.array_equal(first_rows(number), [*range(40_000), 80_000])
