import numpy as np
import pytest

from takeoff.geometry.nesting import Region
from takeoff.geometry.outlines import is_straight, side_length_m
from takeoff.geometry.sides import outline_of, sides_of
from tests.unit.geometry.strokes_drawn import loop, rectangle, ring

QUARTER = np.tan(np.pi / 8)


def cut(points, **drawn):
    return sides_of(loop(points, **drawn), counter_clockwise=True)


def rounded(width, height, radius):
    """Give a rounded rectangle as points and bulges."""
    w, h, r = width, height, radius
    points = [(r, 0), (w - r, 0), (w, r), (w, h - r), (w - r, h), (r, h), (0, h - r), (0, r)]
    return {"points": points, "bulges": [0, QUARTER] * 4}


@pytest.mark.parametrize("turned", range(4))
@pytest.mark.parametrize("backwards", [False, True])
def test_a_rectangle_has_four_sides_from_its_lowest_leftmost_corner(turned, backwards):
    corners = rectangle(1, 2, 2.4, 0.6)
    drawn = corners[turned:] + corners[:turned]
    sides = cut(drawn[::-1] if backwards else drawn)
    assert [side.id for side in sides] == ["E1", "E2", "E3", "E4"]
    assert [side.points_m[0].tolist() for side in sides] == [list(corner) for corner in corners]
    assert all(is_straight(side) for side in sides)


def test_a_hole_runs_clockwise():
    sides = sides_of(loop(rectangle(0, 0, 2, 1)), counter_clockwise=False, first_number=5)
    assert [side.id for side in sides] == ["E5", "E6", "E7", "E8"]
    assert sides[0].points_m.tolist() == [[0, 0], [0, 1]]


def test_points_on_a_straight_side_make_no_corner():
    sides = cut([(0, 0), (1, 0), (1.5, 0), (2, 0), (2, 1), (0, 1), (0, 0.5)])
    assert [len(side.points_m) for side in sides] == [2, 2, 2, 2]


def test_a_point_a_little_off_a_straight_side_makes_no_corner_but_stays():
    sides = cut([(0, 0), (1, 0.00003), (2, 0), (2, 1), (0, 1)])
    assert len(sides) == 4
    assert len(sides[0].points_m) == 3
    assert is_straight(sides[0])


def test_arcs_between_lines_are_sides():
    sides = cut(**rounded(2, 1, 0.1))
    assert len(sides) == 8
    assert [is_straight(side) for side in sides] == [True, False] * 4
    assert side_length_m(sides[1]) == pytest.approx(0.05 * np.pi)


def test_an_arc_in_two_parts_is_one_side():
    half = np.tan(np.pi / 16)
    middle = (2 - 0.1 + 0.1 * np.sin(np.pi / 4), 0.1 - 0.1 * np.cos(np.pi / 4))
    drawn = rounded(2, 1, 0.1)
    drawn["points"].insert(2, middle)
    drawn["bulges"][1:2] = [half, half]
    assert len(cut(**drawn)) == 8


def test_arcs_of_different_circles_are_sides_of_their_own():
    wave = cut([(0, 0), (1, 0), (2, 0), (2, 1), (0, 1)], bulges=[0.3, 0.2, 0, 0, 0])
    assert len(wave) == 5


@pytest.mark.parametrize("turn", [0.0, 0.4, 2.0])
@pytest.mark.parametrize("bulge", [1.0, -1.0])
def test_a_circle_is_one_side_from_its_lowest_point(turn, bulge):
    spoke = 0.5 * np.array([np.cos(turn), np.sin(turn)])
    [side] = cut([3 + spoke, 3 - spoke], bulges=[bulge, bulge])
    assert side.points_m[0] == pytest.approx([3.0, 2.5])
    assert side.points_m[-1] == pytest.approx([3.0, 2.5])
    assert side_length_m(side) == pytest.approx(np.pi)


def test_a_circle_in_three_arcs_is_one_side_from_its_lowest_point():
    [side] = cut(ring(3, 1.0), bulges=[np.tan(np.pi / 6)] * 3)
    assert side.points_m[0] == pytest.approx([0.0, -1.0])
    assert side_length_m(side) == pytest.approx(2 * np.pi)


@pytest.mark.parametrize(("count", "sides"), [(24, 1), (72, 1), (6, 6), (8, 8), (12, 12)])
def test_a_circle_of_short_chords_is_one_side_but_a_polygon_has_corners(count, sides):
    assert len(cut(ring(count, 0.5))) == sides


def test_a_fillet_of_short_chords_is_one_side():
    corners = [(1.9, 0.1, -90), (1.9, 0.9, 0), (0.1, 0.9, 90), (0.1, 0.1, 180)]
    points = [
        (x + 0.1 * np.cos(angle), y + 0.1 * np.sin(angle))
        for x, y, start in corners
        for angle in np.radians(start + np.linspace(0, 90, 10))
    ]
    sides = cut(points)
    assert len(sides) == 8
    assert sum(is_straight(side) for side in sides) == 4


def test_a_chamfer_is_a_side():
    assert len(cut([(0, 0), (1.9, 0), (2, 0.1), (2, 1), (0, 1)])) == 5


def test_the_stretches_of_one_curve_are_one_side():
    points = [(0, 0), (2, 0), (2, 1), (1, 1.2), (0, 1)]
    bulges, curves = [0, 0, 0.1, 0.1, 0], [-1, -1, 7, 7, -1]
    assert len(cut(points, bulges=bulges, curves=curves)) == 4


def test_a_kink_in_a_curve_is_a_corner():
    points = [(0, 0), (2, 0), (1, 1)]
    assert len(cut(points, curves=[3, 3, 3])) == 3


def test_a_drop_with_one_corner_is_one_side():
    points = [(0, 0), *[(x, y + 2) for x, y in ring(72, 1.0)[-12:] + ring(72, 1.0)[:49]]]
    sides = cut(points)
    assert sides[0].points_m[0].tolist() == [0, 0]


def test_sides_are_numbered_on_through_the_holes():
    loops = [loop(rectangle(0, 0, 3, 1)), loop([(1, 0.5), (1.2, 0.5)], bulges=[1, 1])]
    outline = outline_of([*loops, loop(rectangle(2, 0.2, 0.5, 0.5))], Region(0, (2, 1), 0))
    assert [side.id for side in outline.outer] == ["E1", "E2", "E3", "E4"]
    assert [[side.id for side in hole] for hole in outline.holes] == [
        ["E5", "E6", "E7", "E8"],
        ["E9"],
    ]
