"""The room that points take in plan does not hang on how they were drawn."""

from __future__ import annotations

import numpy as np
import pytest

from takeoff.geometry.plan_sizes import plan_sizes_m

UP = np.array([0.0, 0.0, 1.0])


def turned(points_m, angle_deg):
    angle = np.radians(angle_deg)
    turn = np.array(
        [[np.cos(angle), -np.sin(angle), 0], [np.sin(angle), np.cos(angle), 0], [0, 0, 1]]
    )
    return points_m @ turn.T


def plate(length_m, width_m):
    return np.array([(x, y, 0.0) for x in (0.0, length_m) for y in (0.0, width_m)])


@pytest.mark.parametrize("angle_deg", [0.0, 17.0, 45.0, 90.0, 123.4])
def test_a_plate_takes_its_own_size_however_it_is_turned(angle_deg):
    sizes_m = plan_sizes_m(turned(plate(3.0, 1.0), angle_deg), UP)
    assert sizes_m[0] == pytest.approx((3.0, 1.0))
    assert len({(round(a, 9), round(b, 9)) for a, b in sizes_m}) == 1


@pytest.mark.parametrize(
    ("direction", "size_m"),
    [((0, 0, 5), (3.0, 1.0)), ((0, 1, 0), (3.0, 0.5)), ((-1, 0, 0), (1.0, 0.5))],
)
def test_the_direction_decides_what_is_seen(direction, size_m):
    box_m = np.concatenate([plate(3.0, 1.0), plate(3.0, 1.0) + 0.5 * UP])
    assert plan_sizes_m(box_m, np.array(direction, dtype=float))[0] == pytest.approx(size_m)


# A right triangle with legs 3 and 4: along its legs 4 x 3; along its hypotenuse of 5 its height
# is 3 x 4 / 5 = 2.4.
def test_a_triangle_lies_along_its_legs_or_its_hypotenuse():
    triangle_m = np.array([(0.0, 0.0, 0.0), (3.0, 0.0, 0.0), (0.0, 4.0, 0.0)])
    assert plan_sizes_m(triangle_m, UP) == (
        pytest.approx((5.0, 2.4)),
        pytest.approx((4.0, 3.0)),
    )


def test_corners_inside_the_hull_do_not_count():
    inside_m = np.concatenate([plate(3.0, 1.0), [[1.5, 0.5, 0.2], [1.0, 0.2, 0.0]]])
    assert plan_sizes_m(inside_m, UP)[0] == pytest.approx((3.0, 1.0))


def test_what_is_seen_edge_on_has_no_width():
    assert plan_sizes_m(np.array([(0.0, 0.0, 0.0), (3.0, 4.0, 0.0)]), UP) == (
        pytest.approx((5.0, 0.0)),
    )
    assert plan_sizes_m(np.array([(1.0, 1.0, 0.0), (1.0, 1.0, 2.0)]), UP) == ((0.0, 0.0),)


# Every corner of a ring of 1 m radius lies on it; 4 n corners reach 2 m along an axis, and between
# the flats of the next side 2 cos(pi / 4 n) m.
@pytest.mark.parametrize("quarter", [1, 25, 1000])
def test_a_ring_of_chords_takes_its_flats(quarter):
    turn = np.arange(4 * quarter) * 2.0 * np.pi / (4 * quarter)
    ring_m = np.column_stack([np.cos(turn), np.sin(turn), 0.0 * turn])
    flats_m = 2.0 * np.cos(np.pi / (4 * quarter))
    for size_m in plan_sizes_m(ring_m, UP):
        assert size_m == pytest.approx((flats_m, flats_m), rel=1e-12)
