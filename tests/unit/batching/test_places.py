from dataclasses import replace

import pytest

from takeoff.batching.demand import Casting
from takeoff.batching.places import Places, day_start_s, free_again_s
from takeoff.batching.placing_rules import DayRules
from takeoff.batching.turns import day_groups, in_pouring_order
from takeoff.batching.workshops import Workshop

HOUR_S = 3600.0
DAY = DayRules(day_s=8.0 * HOUR_S, demould_s=16.0 * HOUR_S, reset_s=0.5 * HOUR_S)


@pytest.mark.parametrize(
    ("cast_h", "free_h"),
    [
        pytest.param(2.0, 24.5, id="stripped at night, reset in the morning"),
        pytest.param(8.0, 24.5, id="stripped as the day begins"),
        pytest.param(9.0, 25.5, id="stripped an hour into the next day"),
        pytest.param(15.7, 48.5, id="stripped too late to be reset that day"),
    ],
)
def test_forms_are_stripped_and_reset_in_working_hours(cast_h, free_h):
    assert free_again_s(cast_h * HOUR_S, DAY, reset_s=DAY.reset_s) == free_h * HOUR_S


def test_a_form_stripped_within_the_day_serves_again_on_it():
    fast = replace(DAY, demould_s=2.0 * HOUR_S)
    assert free_again_s(1.0 * HOUR_S, fast, reset_s=fast.reset_s) == 3.5 * HOUR_S


def test_a_day_starts_a_night_and_a_day_after_the_one_before():
    assert day_start_s(3) - day_start_s(2) == 24.0 * HOUR_S


def test_the_place_that_is_free_first_is_taken():
    castings = [Casting("panel", copy, ()) for copy in (1, 2, 3)]
    places = Places(castings, Workshop((), forms={"panel": 2}, tables=2, day=DAY))
    assert places.taken_by([0, 1, 2]) is None
    taken = places.taken_by([0, 1])
    assert taken.free_s == (0.0, 0.0)
    places.leave(taken, [1.0 * HOUR_S, 12.0 * HOUR_S])
    later = places.taken_by([2])
    assert later.free_s == (24.5 * HOUR_S,)
    assert set(later.slots[0]) == {("panel", 0), ("", 0)}


def test_castings_are_grouped_by_the_forms_and_tables_of_a_day():
    castings = [Casting(piece, 1, ()) for piece in ("a", "a", "b", "a", "b", "b")]
    assert day_groups(castings, Workshop((), forms={"a": 2})) == (0, 0, 0, 1, 1, 1)
    assert day_groups(castings, Workshop((), tables=4)) == (0, 0, 0, 0, 1, 1)
    assert day_groups(castings, Workshop(())) == (0,) * 6


def test_the_order_of_the_shop_is_kept_where_forms_do_not_bind():
    castings = [Casting(piece, 1, ()) for piece in ("b", "a", "c", "a")]
    assert in_pouring_order(castings, Workshop((), forms={"a": 2})) == tuple(castings)
