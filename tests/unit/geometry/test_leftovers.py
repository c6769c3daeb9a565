import numpy as np
import pytest

from takeoff.geometry.leftovers import judged
from tests.unit.geometry.strokes_drawn import loop, open_chain, rectangle, ring

PANEL = loop(rectangle(0, 0, 2.4, 0.6))
SINK = loop(rectangle(1.0, 0.2, 0.4, 0.2))


def test_nothing_open_gives_nothing():
    left = judged([], [PANEL])
    assert (left.gaps, left.repeats, left.marks) == ((), (), ())


def test_a_straight_line_is_a_mark():
    left = judged([open_chain([(0, 0.3), (2.4, 0.3)])], [PANEL])
    assert (len(left.marks), left.gaps, left.repeats) == (1, (), ())


def test_a_line_on_the_edge_of_a_loop_is_a_repeat():
    left = judged([open_chain([(0.2, 0), (1.8, 0)])], [PANEL])
    assert len(left.repeats) == 1


def test_a_line_from_edge_to_edge_is_no_repeat():
    left = judged([open_chain([(0, 0), (2.4, 0.6)])], [PANEL])
    assert (left.repeats, len(left.marks)) == ((), 1)


def test_the_gap_is_given_with_its_ends():
    hook = open_chain([(0, 0), (1, 0), (1, 0.4), (0, 0.4), (0, 0.0035)], sources=(4,))
    [gap] = judged([hook], []).gaps
    assert gap.width_m == pytest.approx(0.0035)
    assert gap.ends_m.tolist() == [[0.0, 0.0], [0.0, 0.0035]]
    assert gap.sources == (4,)


def test_a_chain_about_a_loop_is_an_outline_however_wide_its_gap():
    three_sides = open_chain([(2.4, 0), (2.4, 0.6), (0, 0.6), (0, 0)])
    assert [gap.width_m for gap in judged([three_sides], [SINK]).gaps] == [2.4]
    assert judged([three_sides], []).gaps == ()


def test_lines_that_all_but_meet_are_one_open_outline():
    corners = np.array(rectangle(0, 0, 2.4, 0.6))
    short = [
        open_chain([a + 0.01 * (b - a), b - 0.01 * (b - a)], sources=(k,))
        for k, (a, b) in enumerate(zip(corners, np.roll(corners, -1, axis=0), strict=True))
    ]
    left = judged(short, [SINK])
    assert len(left.gaps) == 4
    assert left.gaps[0].sources == (0, 1, 2, 3)
    assert left.marks == ()


def test_two_lines_side_by_side_are_marks():
    groove = [open_chain([(x, 0.1), (x, 0.5)]) for x in (1.0, 1.01)]
    assert len(judged(groove, [PANEL]).marks) == 2


def test_crossed_centre_lines_are_marks():
    cross = [open_chain([(1.0, 0.3), (1.4, 0.3)]), open_chain([(1.2, 0.1), (1.2, 0.5)])]
    assert len(judged(cross, [PANEL, SINK]).marks) == 2


def test_a_wide_open_arc_is_a_mark():
    quarter = open_chain([(1, 0), (0, 1)], bulges=[np.tan(np.pi / 8)])
    assert len(judged([quarter], [PANEL]).marks) == 1


def test_most_of_a_circle_is_an_open_outline():
    assert len(judged([open_chain(ring(40, 0.3)[:-3])], [PANEL]).gaps) == 1
