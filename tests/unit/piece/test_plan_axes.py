import numpy as np
import pytest

from takeoff.piece.plan_axes import across_m, axes_across


@pytest.mark.parametrize("direction", [(0, 0, 1), (0, 0, -1), (1, 0, 0), (0.6, 0.0, 0.8)])
def test_the_axes_are_square_and_right_handed(direction):
    direction = np.array(direction, dtype=float)
    u, v = axes_across(direction)
    frame = np.array([u, v, direction])
    assert frame @ frame.T == pytest.approx(np.eye(3))
    assert np.linalg.det(frame) == pytest.approx(1.0)


def test_coordinates_keep_distances_across_the_direction():
    points = np.array([[0.0, 0.0, 0.0], [3.0, 4.0, 9.0]])
    u, v = across_m(points, np.array([0.0, 0.0, 1.0]))
    assert np.hypot(*(np.array([u, v])[:, 1] - np.array([u, v])[:, 0])) == pytest.approx(5.0)
