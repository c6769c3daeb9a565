import numpy as np
import pytest

from takeoff.geometry.arcs import (
    arc_centres_m,
    arc_middles_m,
    bulge_through,
    flattened_run_m,
    run_area_m2,
    run_bounds_m,
    run_lengths_m,
    segment_areas_m2,
    turns_deg,
)


def arc(start_deg, turn_deg, *, radius=2.0):
    """Give an arc about the origin as points and bulge."""
    angles = np.radians([start_deg, start_deg + turn_deg])
    points = radius * np.column_stack([np.cos(angles), np.sin(angles)])
    return points, np.array([np.tan(np.radians(turn_deg) / 4)])


@pytest.mark.parametrize("turn_deg", [-350.0, -180.0, -90.0, -1.0, -0.01, 0.01, 5.0, 90.0, 270.0])
def test_an_arc_is_that_of_its_circle(turn_deg):
    points, bulges = arc(17.0, turn_deg)
    turn = np.radians(turn_deg)
    assert turns_deg(bulges)[0] == pytest.approx(turn_deg)
    assert run_lengths_m(points, bulges)[0] == pytest.approx(2.0 * abs(turn))
    segment_m2 = 2.0 * (turn - np.sin(turn))
    assert segment_areas_m2(points, bulges)[0] == pytest.approx(segment_m2, rel=1e-6)
    assert arc_centres_m(points, bulges)[0] == pytest.approx([0.0, 0.0], abs=1e-6)
    middle = np.radians(17.0 + turn_deg / 2)
    expected = [2 * np.cos(middle), 2 * np.sin(middle)]
    assert arc_middles_m(points, bulges)[0] == pytest.approx(expected)


@pytest.mark.parametrize("bulge", [0.0199, 0.0201, -0.0199, -0.0201])
def test_the_segment_area_does_not_jump_where_the_series_takes_over(bulge):
    points = np.array([[0.0, 0.0], [1.0, 0.0]])
    theta = 4 * np.arctan(abs(bulge))
    radius = (1 + bulge**2) / (4 * abs(bulge))
    expected = np.sign(bulge) * radius**2 / 2 * (theta - np.sin(theta))
    assert segment_areas_m2(points, np.array([bulge]))[0] == pytest.approx(expected, rel=1e-9)


def test_the_area_of_a_far_away_run_is_exact():
    offset = np.array([4.1e6, 8.2e6])
    square = np.array([[0.0, 0.0], [1.0, 0.0], [1.0, 1.0], [0.0, 1.0], [0.0, 0.0]])
    assert run_area_m2(square + offset, np.zeros(4)) == pytest.approx(1.0, rel=1e-12)


def test_bounds_reach_as_far_as_the_arcs():
    low, high = run_bounds_m(*arc(-45.0, 270.0))
    assert low == pytest.approx([-2.0, -np.sqrt(2.0)])
    assert high == pytest.approx([2.0, 2.0])


def test_bounds_of_a_clockwise_arc_are_those_of_the_same_arc_run_back():
    points, bulges = arc(10.0, 200.0)
    there, back = run_bounds_m(points, bulges), run_bounds_m(points[::-1], -bulges[::-1])
    assert np.array(there) == pytest.approx(np.array(back))


def test_a_straight_run_is_flat_already():
    points = np.array([[0.0, 0.0], [1.0, 0.0], [1.0, 1.0]])
    assert flattened_run_m(points, np.zeros(2), chord_m=0.001) is points


@pytest.mark.parametrize("turn_deg", [30.0, -200.0, 359.0])
def test_chords_keep_within_the_distance_told(turn_deg):
    flat_m = flattened_run_m(*arc(5.0, turn_deg), chord_m=0.01)
    middles_m = (flat_m[1:] + flat_m[:-1]) / 2
    assert np.hypot(*flat_m.T) == pytest.approx(2.0)
    assert (2.0 - np.hypot(*middles_m.T)).max() <= 0.01 + 1e-12


def test_a_coarse_chord_never_skips_more_than_a_third_of_the_circle():
    flat_m = flattened_run_m(*arc(0.0, 350.0, radius=0.001), chord_m=0.01)
    assert len(flat_m) == 4


def test_three_points_on_a_line_have_no_bulge():
    start, middle, end = (np.array([[x, 2 * x]]) for x in (0.0, 1.0, 3.0))
    assert bulge_through(start, middle, end)[0] == 0.0


def test_a_bulge_through_three_points_is_that_of_the_arc():
    points, bulges = arc(40.0, -130.0)
    on_the_way = arc(40.0, -35.0)[0][1:]
    assert bulge_through(points[:1], on_the_way, points[1:])[0] == pytest.approx(bulges[0])
