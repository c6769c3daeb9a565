import numpy as np
import pytest

from takeoff.geometry.crossings import loop_shapes
from tests.unit.geometry.strokes_drawn import loop, rectangle


def shape_of(drawn):
    """Give the shape of one loop."""
    return loop_shapes([drawn])[0]


def crossing(points, **drawn):
    return shape_of(loop(points, **drawn)).crossing_m


def test_a_sound_loop_gives_its_polygon():
    shape = shape_of(loop(rectangle(4e6, 8e6, 2.0, 1.0)))
    assert shape.crossing_m is None
    assert shape.polygon.area == pytest.approx(2.0)
    assert shape.polygon.bounds == pytest.approx((4e6, 8e6, 4e6 + 2, 8e6 + 1))


def test_arcs_are_followed():
    circle = shape_of(loop([(1, 0), (-1, 0)], bulges=[1, 1]))
    assert circle.polygon.area == pytest.approx(np.pi, rel=1e-3)


def test_a_bow_tie_crosses_itself():
    assert crossing([(0, 0), (1, 0), (0, 0.6), (1, 0.6)]) == pytest.approx([0.5, 0.3])


def test_a_bow_tie_with_a_corner_at_its_crossing_is_seen():
    points = [(0, 0), (1, 1), (2, 2), (2, 0), (1, 1), (0, 2)]
    assert crossing(points) == pytest.approx([1.0, 1.0])


def test_arcs_that_cross_are_seen():
    # a square whose top side bulges down through its bottom side
    found = crossing([(0, 0), (1, 0), (1, 0.2), (0, 0.2)], bulges=[0, 0, -1, 0])
    assert found[1] == pytest.approx(0.0, abs=1e-3)


def test_a_loop_that_only_touches_itself_is_sound():
    points = [(0, 0), (1, 0), (1, 1), (2, 1), (2, 2), (1, 2), (1, 1), (0, 1)]
    shape = shape_of(loop(points))
    assert shape.crossing_m is None
    assert shape.polygon.area == pytest.approx(2.0)


@pytest.mark.parametrize(
    "points",
    [
        rectangle(0, 0, 2, 1) * 2,  # drawn twice
        [(0, 0), (2, 0), (3, 0), (2, 0), (2, 1), (0, 1)],  # a spike
        [*rectangle(0, 0, 3, 3), (0, 0), (1, 1), (1, 2), (2, 2), (2, 1), (1, 1)],  # a slit
    ],
)
def test_a_loop_that_runs_along_itself_is_refused(points):
    assert crossing(points) is not None


@pytest.mark.parametrize("points", [[(0, 0), (1, 1)], [(0, 0), (1, 0), (2, 0)]])
def test_a_loop_without_area_has_an_empty_polygon(points):
    shape = shape_of(loop(points))
    assert shape.crossing_m is None
    assert shape.polygon.area == 0.0
