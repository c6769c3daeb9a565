"""The rectangles round any points are those that trying every side of their hull gives."""

from __future__ import annotations

import numpy as np
import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st

from takeoff.geometry.plan_sizes import plan_sizes_m

steps = st.integers(-40, 40)
# On a grid, so that sides repeat, run parallel and meet square; and one off it.
grids = st.lists(st.tuples(steps, steps), min_size=3, max_size=30)


def tried(points_m):
    """Length and width along each side of the hull, by trying every corner."""
    corners_m = np.asarray(shapely.MultiPoint(points_m).convex_hull.exterior.coords)
    sizes_m = []
    for side_m in np.diff(corners_m, axis=0):
        along = side_m / np.hypot(*side_m)
        spans_m = np.ptp(corners_m @ np.column_stack([along, (-along[1], along[0])]), axis=0)
        sizes_m.append((spans_m.max(), spans_m.min()))
    return np.array(sizes_m)


@given(grids, st.tuples(steps, steps), st.floats(0.0, 360.0))
def test_every_side_is_tried(grid, nudged, angle_deg):
    points_m = np.array([*grid, (nudged[0] + 1e-7, nudged[1])], dtype=float)
    angle = np.radians(angle_deg)
    points_m @= np.array([[np.cos(angle), -np.sin(angle)], [np.sin(angle), np.cos(angle)]])
    if not isinstance(shapely.MultiPoint(points_m).convex_hull, shapely.Polygon):
        return
    expected_m = tried(points_m)
    sizes_m = plan_sizes_m(np.column_stack([points_m, 0.0 * points_m[:, 0]]), np.eye(3)[2])
    for size_m in sizes_m:
        assert np.abs(expected_m - size_m).max(axis=1).min() < 1e-6
    for one_m in expected_m:
        assert any(
            size_m[0] < one_m[0] + 1e-6 and size_m[1] < one_m[1] + 1e-6 for size_m in sizes_m
        )
    assert sizes_m[0][1] == pytest.approx(expected_m[:, 1].min(), abs=1e-6)
