import random

import pytest

from takeoff.geometry.nesting import Region, nested
from takeoff.geometry.outline_rules import OutlineRules
from tests.unit.geometry.strokes_drawn import loop, rectangle, ring


def regions(*outlines):
    return nested([loop(points) for points in outlines]).regions


def test_no_loops_give_no_regions():
    assert nested([]).regions == ()


def test_a_loop_in_another_is_its_hole():
    assert regions(rectangle(0.2, 0.2, 0.5, 0.5), rectangle(0, 0, 2, 1)) == (Region(1, (0,), 0),)


def test_islands_in_holes_are_regions_of_their_own():
    found = regions(
        rectangle(0, 0, 2, 1),
        rectangle(0.2, 0.2, 1.6, 0.6),
        rectangle(0.5, 0.35, 0.5, 0.3),
        rectangle(0.65, 0.45, 0.2, 0.1),
    )
    assert found == (Region(0, (1,), 0), Region(2, (3,), 2))


def test_holes_are_listed_largest_first_then_lowest():
    found = regions(
        rectangle(0, 0, 3, 1),
        rectangle(2.0, 0.5, 0.2, 0.2),
        rectangle(0.1, 0.1, 0.2, 0.2),
        rectangle(1.0, 0.1, 0.5, 0.5),
    )
    assert found[0].holes == (3, 2, 1)


def test_the_order_of_the_loops_changes_nothing():
    outlines = [rectangle(0, 0, 3, 1), *(rectangle(0.1 + k, 0.1, 0.2, 0.2) for k in range(3))]
    shuffled = list(range(4))
    random.Random(5).shuffle(shuffled)
    [plain] = regions(*outlines)
    [other] = regions(*(outlines[k] for k in shuffled))
    assert [shuffled[k] for k in (other.outer, *other.holes)] == [plain.outer, *plain.holes]


def test_a_loop_drawn_twice_counts_once():
    found = nested([loop(rectangle(0, 0, 2, 1)), loop(ring(64, 0.2, centre=(1, 0.5)))] * 2)
    assert found.regions == (Region(0, (1,), 0),)
    assert found.repeats == (2, 3)


@pytest.mark.parametrize("shift", [0.0, 0.0001])
def test_loops_side_by_side_may_touch(shift):
    found = nested([loop(rectangle(0, 0, 1, 1)), loop(rectangle(1 - shift, 0, 0.5, 1))])
    assert found.regions == (Region(0, (), 0), Region(1, (), 0))


def test_a_hole_may_touch_the_edge():
    assert regions(rectangle(0, 0, 2, 1), rectangle(0.5, 0, 0.5, 0.5)) == (Region(0, (1,), 0),)


def test_loops_that_cross_are_named_with_the_point():
    found = nested([loop(rectangle(0, 0, 2, 1)), loop(rectangle(1.5, 0.5, 1, 0.2))])
    assert found.regions == ()
    [crossing] = found.crossings
    assert crossing.loops == (0, 1)
    assert crossing.at_m == pytest.approx([2.0, 0.5])


def test_a_loop_that_crosses_itself_is_named():
    found = nested([loop(rectangle(0, 0, 2, 1)), loop([(0, 0), (1, 1), (1, 0), (0, 1)])])
    assert [crossing.loops for crossing in found.crossings] == [(1,)]


def test_loops_without_area_are_dropped():
    found = nested([loop(rectangle(0, 0, 2, 1)), loop([(0, 0), (1, 0)])])
    assert found.empty == (1,)
    assert len(found.regions) == 1


def test_an_overlap_in_one_corner_is_a_crossing_however_long_the_edges_are():
    found = nested([loop(rectangle(0, 0, 2, 1)), loop(rectangle(1.995, 0.98, 1, 1))])
    assert [crossing.loops for crossing in found.crossings] == [(0, 1)]


def test_the_order_of_size_does_not_hide_a_thin_ring():
    found = nested([loop(ring(64, 0.5)), loop(ring(64, 0.499))])
    assert found.regions == (Region(0, (1,), 0),)


def test_loops_equal_to_the_last_digit_are_dropped_without_comparing_them():
    square = loop(rectangle(0, 0, 2, 1))
    found = nested([square] * 3000, rules=OutlineRules(pairs_count=1))
    assert len(found.repeats) == 2999
    assert len(found.regions) == 1
