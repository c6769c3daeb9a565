import numpy as np
import pytest

from takeoff.geometry.chaining import Chain
from takeoff.geometry.patches import loops_about


def patch(*corners, source=0):
    points = np.array([*corners, corners[0]], dtype=float)
    count = len(corners)
    return Chain(points, np.zeros(count), np.full(count, -1, dtype=np.int32), (source,))


def tile(x, y, width=1.0, height=1.0, source=0):
    corners = (x, y), (x + width, y), (x + width, y + height), (x, y + height)
    return patch(*corners, source=source)


def area(loop):
    x, y = loop.points_m.T
    return abs(float(np.sum(x[:-1] * y[1:] - x[1:] * y[:-1]))) / 2.0


def test_patches_that_touch_are_one():
    [whole] = loops_about([tile(0, 0, source=3), tile(1, 0, source=5)])
    assert area(whole) == pytest.approx(2.0)
    assert whole.sources == (3, 5)


def test_what_patches_share_counts_once():
    [whole] = loops_about([tile(0, 0), tile(0.5, 0)])
    assert area(whole) == pytest.approx(1.5)


def test_patches_apart_stay_apart():
    loops = loops_about([tile(0, 0, source=0), tile(5, 0, source=1)])
    assert sorted(loop.sources for loop in loops) == [(0,), (1,)]


def test_patches_about_a_hole_leave_a_hole():
    sides = [tile(0, 0, 3, 1), tile(0, 2, 3, 1), tile(0, 0, 1, 3), tile(2, 0, 1, 3)]
    outer, hole = sorted(loops_about(sides), key=area, reverse=True)
    assert (area(outer), area(hole)) == (pytest.approx(9.0), pytest.approx(1.0))


def test_a_hairline_between_patches_is_no_gap():
    [whole] = loops_about([tile(0, 0), tile(1.0 + 1e-9, 0)])
    assert area(whole) == pytest.approx(2.0, rel=1e-6)


def test_a_patch_that_crosses_itself_is_given_back():
    crossed = patch((0, 0), (1, 0), (0, 1), (1, 1))
    assert loops_about([crossed]) == (crossed,)
