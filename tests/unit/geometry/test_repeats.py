import numpy as np
import pytest

from takeoff.errors import OutlineError
from takeoff.geometry.arcs import run_lengths_m
from takeoff.geometry.outline_rules import OutlineRules
from takeoff.geometry.repeats import without_repeats
from tests.unit.geometry.strokes_drawn import sides, stroke

SQUARE = [(0, 0), (1, 0), (1, 1), (0, 1)]


def length_m(strokes):
    return sum(run_lengths_m(each.points_m, each.bulges).sum() for each in strokes)


def quarter(first, count=1):
    """Draw an arc of the unit circle over some quarters."""
    angles = np.pi / 2 * np.array([first, first + count])
    points = np.column_stack([np.cos(angles), np.sin(angles)])
    return stroke(points, bulges=[np.tan(np.pi / 8 * count)])


def test_nothing_is_dropped_from_a_clean_square():
    cleaned = without_repeats(sides(SQUARE))
    assert (len(cleaned.strokes), cleaned.repeats, cleaned.overlaps) == (4, 0, 0)


def test_no_strokes_give_none():
    assert without_repeats([]).strokes == ()


def test_lines_drawn_again_backwards_are_dropped():
    cleaned = without_repeats([*sides(SQUARE), *sides(SQUARE[::-1])])
    assert (len(cleaned.strokes), cleaned.repeats) == (4, 4)


def test_the_two_diagonals_of_a_square_are_no_repeats():
    cleaned = without_repeats([stroke([(0, 0), (1, 1)]), stroke([(0, 1), (1, 0)])])
    assert (len(cleaned.strokes), cleaned.repeats) == (2, 0)


def test_an_arc_and_its_chord_are_no_repeats():
    cleaned = without_repeats([quarter(0), stroke([(1, 0), (0, 1)])])
    assert (len(cleaned.strokes), cleaned.repeats) == (2, 0)


def test_lines_that_overlap_are_cut_at_each_others_ends():
    cleaned = without_repeats([stroke([(0, 0), (7, 0)]), stroke([(14, 0), (5, 0)])])
    assert cleaned.overlaps == 1
    assert length_m(cleaned.strokes) == pytest.approx(14.0)


def test_a_line_within_another_is_a_repeat():
    cleaned = without_repeats([stroke([(0, 0), (7, 0)]), stroke([(2, 0), (3, 0)])])
    assert (cleaned.repeats, cleaned.overlaps) == (1, 0)
    assert length_m(cleaned.strokes) == pytest.approx(7.0)


def test_lines_that_follow_one_another_are_left_alone():
    cleaned = without_repeats([stroke([(0, 0), (1, 0)]), stroke([(1, 0), (2, 0)])])
    assert (len(cleaned.strokes), cleaned.repeats, cleaned.overlaps) == (2, 0, 0)


def test_lines_side_by_side_are_left_alone():
    cleaned = without_repeats([stroke([(0, 0), (1, 0)]), stroke([(0, 0.001), (1, 0.001)])])
    assert len(cleaned.strokes) == 2


def test_fine_chords_are_not_taken_for_overlaps():
    turn = np.linspace(0, 2 * np.pi, 2001)
    points = np.column_stack([0.05 * np.cos(turn), 0.05 * np.sin(turn)])
    cleaned = without_repeats([stroke(points)])
    assert (len(cleaned.strokes), cleaned.repeats, cleaned.overlaps) == (2000, 0, 0)


def test_arcs_that_overlap_round_the_whole_circle_are_kept_once():
    arcs = [quarter(0, 2), quarter(1, 2), quarter(3, 1.5), quarter(3, 1)]
    cleaned = without_repeats(arcs)
    assert length_m(cleaned.strokes) == pytest.approx(2 * np.pi)


def test_arcs_of_one_circle_that_only_touch_are_left_alone():
    cleaned = without_repeats([quarter(0), quarter(1), quarter(2), quarter(3)])
    assert (len(cleaned.strokes), cleaned.repeats, cleaned.overlaps) == (4, 0, 0)


def test_an_arc_run_clockwise_repeats_the_same_run_counter_clockwise():
    back = stroke([(0, 1), (1, 0)], bulges=[-np.tan(np.pi / 8)])
    assert without_repeats([quarter(0), back]).repeats == 1


def test_curves_drawn_twice_are_dropped():
    points, bulges = [(0, 0), (1, 0.2), (2, 0)], [0.1, 0.2]
    there = stroke(points, bulges=bulges, curve=True)
    back = stroke(points[::-1], bulges=[-0.2, -0.1], curve=True)
    other = stroke(points, bulges=[-0.1, -0.2], curve=True)
    cleaned = without_repeats([there, back, other])
    assert (len(cleaned.strokes), cleaned.repeats) == (2, 1)


def test_thousands_of_equal_lines_are_one():
    cleaned = without_repeats(sides(SQUARE) * 3000)
    assert (len(cleaned.strokes), cleaned.repeats) == (4, 11_996)


@pytest.mark.parametrize(
    "drawn",
    [
        pytest.param([stroke([(k, 0), (k + 30, 0)]) for k in range(30)], id="lines"),
        pytest.param([quarter(k / 40) for k in range(30)], id="arcs"),
    ],
)
def test_more_on_one_another_than_can_be_compared_are_refused(drawn):
    assert without_repeats(drawn).overlaps > 0
    with pytest.raises(OutlineError, match="more than 200 pairs of lines or arcs lie on one"):
        without_repeats(drawn, rules=OutlineRules(alike_count=200))
