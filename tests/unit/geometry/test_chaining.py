import random

import numpy as np
import pytest

from takeoff.geometry.arcs import run_area_m2
from takeoff.geometry.chaining import chained, scaled_rules
from takeoff.geometry.outline_rules import OutlineRules
from tests.unit.geometry.strokes_drawn import rectangle, sides, stroke

PANEL = rectangle(0, 0, 2.4, 0.6)


def area_m2(loop):
    return abs(run_area_m2(loop.points_m, loop.bulges))


def test_nothing_gives_nothing():
    assert chained([]).loops == ()


def test_lines_in_any_order_and_direction_make_one_loop():
    drawn = sides(PANEL)
    drawn[1] = stroke(drawn[1].points_m[::-1], source=1)
    random.Random(3).shuffle(drawn)
    found = chained(drawn)
    assert [area_m2(loop) for loop in found.loops] == pytest.approx([2.4 * 0.6])
    assert found.loops[0].sources == (0, 1, 2, 3)
    assert (found.gaps, found.open_chains, found.branches_m) == (0, (), ())


def test_an_arc_run_backwards_keeps_its_side():
    half = stroke([(0, 1), (0, -1)], bulges=[1.0])  # the left half of a circle, downwards
    found = chained([stroke([(0, 1), (0, -1)]), half])
    assert area_m2(found.loops[0]) == pytest.approx(np.pi / 2)


def test_a_small_gap_is_closed_and_told():
    short = sides(PANEL)
    short[0] = stroke([(0.00003, 0), (2.4, 0)])
    found = chained(short)
    assert found.gaps == 1
    assert found.largest_gap_m == pytest.approx(0.00003)
    assert found.gap_at_m == pytest.approx([0.0, 0.0], abs=0.0001)
    assert area_m2(found.loops[0]) == pytest.approx(2.4 * 0.6, rel=1e-4)


def test_a_wide_gap_is_left_open():
    short = sides(PANEL)
    short[0] = stroke([(0.0035, 0), (2.4, 0)])
    found = chained(short)
    assert found.loops == ()
    assert len(found.open_chains) == 1


def test_a_polyline_that_nearly_ends_where_it_starts_is_closed():
    found = chained([stroke([*PANEL, (0.0, 0.0001)])])
    assert (len(found.loops), found.gaps) == (1, 1)


def test_fine_chords_are_not_pulled_together():
    turn = np.linspace(0, 2 * np.pi, 4001)
    points = np.column_stack([0.05 * np.cos(turn), 0.05 * np.sin(turn)])  # chords of 0.08 mm
    drawn = [stroke(points[k : k + 2], source=k) for k in range(4000)]
    found = chained(drawn)
    assert found.gaps == 0
    assert area_m2(found.loops[0]) == pytest.approx(np.pi * 0.05**2, rel=1e-5)
    assert len(found.loops[0].bulges) == 4000


def test_a_stray_line_at_a_corner_is_told_apart_from_the_loop():
    found = chained([*sides(PANEL), stroke([(0, 0), (-1, -1)], source=9)])
    assert area_m2(found.loops[0]) == pytest.approx(2.4 * 0.6)
    assert found.open_chains[0].sources == (9,)


def test_a_line_across_the_corners_is_a_branch():
    found = chained([*sides(PANEL), stroke([(0, 0), (2.4, 0.6)])])
    assert [point.tolist() for point in found.branches_m] == [[0.0, 0.0], [2.4, 0.6]]
    assert found.loops == ()


def test_a_star_of_lines_is_open_chains_only():
    found = chained([stroke([(0, 0), end]) for end in ((1, 0), (0, 1), (-1, -1))])
    assert (len(found.open_chains), found.branches_m) == (3, ())


def test_strokes_without_length_are_counted():
    found = chained([*sides(PANEL), stroke([(0, 0), (0, 0)])])
    assert (len(found.loops), found.empty) == (1, 1)


def test_a_closed_curve_keeps_its_number():
    ring = stroke([(1, 0), (-1, 0), (1, 0)], bulges=[1, 1], curve=True)
    half = stroke([(5, 0), (6, 0.5), (7, 0)], bulges=[0.1, 0.1], curve=True)
    found = chained([ring, half, stroke([(7, 0), (5, 0)])])
    assert found.loops[0].curves.tolist() == [0, 0]
    mixed = found.loops[1].curves
    assert sorted(mixed.tolist())[0] == -1
    assert len(set(mixed[mixed >= 0].tolist())) == 1


def test_the_gap_that_is_closed_shrinks_with_the_drawing():
    small = [stroke(0.01 * np.array(each.points_m)) for each in sides(PANEL)]
    assert scaled_rules(small, OutlineRules()).join_m == pytest.approx(
        0.001 * 0.01 * np.hypot(2.4, 0.6)
    )
    assert scaled_rules(sides(PANEL), OutlineRules()).join_m == OutlineRules().join_m
