import numpy as np
import pytest

from takeoff.geometry.outlines import (
    Outline,
    Side,
    bounds_m,
    flattened_loop_m,
    flattened_side_m,
    is_straight,
    loop_area_m2,
    narrowest_m,
    opening_perimeter_m,
    outline_area_m2,
    perimeter_m,
    rectangle,
    side_length_m,
    within_outline,
)


def circle(x, y, radius, *, name="E5"):
    """Draw a round hole as one side."""
    points_m = np.array([[x, y - radius], [x, y + radius], [x, y - radius]])
    return (Side(name, points_m, np.array([-1.0, -1.0])),)


PANEL = Outline(rectangle(2.4, 0.6).outer, (circle(1.2, 0.3, 0.15),))


def test_areas_are_net_of_the_holes():
    assert outline_area_m2(PANEL) == pytest.approx(2.4 * 0.6 - np.pi * 0.15**2)
    assert loop_area_m2(PANEL.holes[0]) == pytest.approx(np.pi * 0.15**2)


def test_perimeters_are_told_apart():
    assert perimeter_m(PANEL) == pytest.approx(6.0)
    assert opening_perimeter_m(PANEL) == pytest.approx(2 * np.pi * 0.15)
    assert opening_perimeter_m(rectangle(1.0, 1.0)) == 0.0


def test_bounds_reach_as_far_as_the_arcs():
    disc = Outline(circle(1.0, 2.0, 0.5), ())
    assert bounds_m(disc) == (pytest.approx((0.5, 1.5)), pytest.approx((1.5, 2.5)))


def test_a_side_is_as_long_as_its_arcs():
    assert side_length_m(PANEL.holes[0][0]) == pytest.approx(2 * np.pi * 0.15)


def test_flattened_points_lie_on_the_arc():
    flat_m = flattened_side_m(PANEL.holes[0][0], chord_m=0.001)
    assert np.hypot(*(flat_m - [1.2, 0.3]).T) == pytest.approx(0.15)
    assert len(flattened_loop_m(PANEL.holes[0], chord_m=0.001)) == len(flat_m) - 1


@pytest.mark.parametrize("turn_deg", [0.0, 30.0, 45.0])
def test_the_narrowest_width_does_not_depend_on_the_direction(turn_deg):
    turn = np.radians(turn_deg)
    matrix = np.array([[np.cos(turn), -np.sin(turn)], [np.sin(turn), np.cos(turn)]])
    loop = tuple(
        Side(side.id, side.points_m @ matrix.T, side.bulges) for side in rectangle(0.4, 0.06).outer
    )
    assert narrowest_m(loop, chord_m=0.001) == pytest.approx(0.06)


def test_the_narrowest_width_of_a_circle_is_its_diameter():
    assert narrowest_m(PANEL.holes[0], chord_m=1e-5) == pytest.approx(0.3, rel=1e-3)


@pytest.mark.parametrize(
    ("points", "bulges", "straight"),
    [
        ([[0, 0], [1, 0]], [0], True),
        ([[0, 0], [0.5, 0.0001], [1, 0]], [0, 0], True),
        ([[0, 0], [0.5, 0.01], [1, 0]], [0, 0], False),
        ([[0, 0], [1, 0]], [0.1], False),
        ([[0, 0], [1, 0], [1, 1], [0, 0]], [0, 0, 0], False),
    ],
)
def test_a_side_is_straight_where_it_keeps_to_its_chord(points, bulges, straight):
    side = Side("E1", np.array(points, dtype=float), np.array(bulges, dtype=float))
    assert is_straight(side) is straight


def test_points_in_a_hole_are_not_within():
    points_m = np.array([[0.1, 0.1], [1.2, 0.3], [-1.0, 0.3]])
    assert within_outline(PANEL, points_m, chord_m=0.001).tolist() == [True, False, False]
