import numpy as np
import pytest

from takeoff.geometry.bearings import Bearing, bearing_of
from takeoff.geometry.outlines import Side, rectangle


def side(start, end, bulge=0.0):
    return Side("E1", np.array([start, end], dtype=float), np.array([bulge]))


def test_the_sides_of_a_rectangle_are_named_round_it():
    names = [bearing_of(each).value for each in rectangle(2.0, 1.0).outer]
    assert names == ["bottom", "right", "top", "left"]


@pytest.mark.parametrize(
    ("end", "bearing"),
    [
        ((1, 0.1), Bearing.BOTTOM),
        ((1, 0.3), Bearing.BOTTOM_RIGHT),
        ((1, 1), Bearing.BOTTOM_RIGHT),
        ((-1, 1), Bearing.TOP_RIGHT),
        ((-1, -1), Bearing.TOP_LEFT),
        ((1, -1), Bearing.BOTTOM_LEFT),
        ((0.1, -1), Bearing.LEFT),
        ((-1, -0.1), Bearing.TOP),
        ((-1, 0.0), Bearing.TOP),
    ],
)
def test_a_side_that_leans_little_keeps_its_name(end, bearing):
    assert bearing_of(side((0, 0), end)) is bearing


def test_an_opening_has_its_bottom_where_it_is_low():
    low = side((1, 0), (0, 0))  # an opening runs clockwise
    assert bearing_of(low, of_opening=True) is Bearing.BOTTOM
    assert bearing_of(low) is Bearing.TOP


@pytest.mark.parametrize("bulge", [1.0, 2.0, -1.0])
def test_an_arc_faces_the_way_its_chord_does(bulge):
    assert bearing_of(side((0, 0), (0, 1), bulge)) is Bearing.RIGHT


def test_a_circle_runs_all_round():
    points_m = np.array([[0.0, -1.0], [0.0, 1.0], [0.0, -1.0]])
    assert bearing_of(Side("E1", points_m, np.ones(2))) is Bearing.ALL_ROUND
