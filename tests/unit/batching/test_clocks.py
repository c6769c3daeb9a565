"""Waits and joints as lags between batches, worked out by hand: half-minute ticks, no reserve."""

from dataclasses import replace

import pytest

from takeoff.batching.batches import make_batches
from takeoff.batching.clocks import Lag, pour_of
from takeoff.batching.demand import Casting, ClassMass, Coat
from takeoff.batching.mixers import Mixer
from takeoff.batching.placing_rules import PlacingRules
from takeoff.batching.workshops import Workshop
from tests.unit.batching.pours_made import MIN_S, PAN, backer_step, face_mix

RULES = PlacingRules(window_reserve_share=0.0)
FACE = replace(backer_step(), layer="face_coat", mix=face_mix(), min_wait_s=0.0, max_wait_s=None)


def lags_of(castings, shop):
    batches = make_batches(castings, [range(len(castings))], shop)
    return pour_of(castings, batches, shop).lags


def slab(name, *coats):
    return Casting(name, 1, tuple(Coat(step, (ClassMass("show_face", kg),)) for step, kg in coats))


def test_a_cover_waits_and_does_not_wait_too_long():
    # Face 20 kg in 4 min, backer 30 kg in 6 min, both at 5 kg/min.
    [lag] = lags_of([slab("a", (FACE, 20.0), (backer_step(), 30.0))], Workshop((PAN,), rules=RULES))
    # At least 4 + 20 min from start to start. At most 90 min at the first spot; at the last spot,
    # 6 min into the backer and 4 into the face, 90 - 6 + 4 = 88 min.
    assert lag == Lag(0, 1, least=48, most=176)


def test_the_reserve_is_taken_of_the_longest_wait_alone():
    shop = Workshop((PAN,), rules=replace(RULES, window_reserve_share=0.2))
    [lag] = lags_of([slab("a", (FACE, 20.0), (backer_step(), 30.0))], shop)
    assert lag == Lag(0, 1, least=48, most=140)


def test_a_piece_late_in_a_batch_is_reached_late():
    shop = Workshop((PAN,), rules=RULES)
    castings = [slab("a", (FACE, 20.0)), slab("b", (FACE, 20.0), (backer_step(), 10.0))]
    [lag] = lags_of(castings, shop)
    # Both faces in one batch of 8 min, b from minute 4 to 8; its backer of 2 min comes 20 min after
    # that, at most 90 min after minute 4, and at most 90 min after minute 8 at its end.
    assert lag == Lag(0, 1, least=56, most=188)


def test_what_is_brushed_is_covered_only_then():
    brushed = replace(FACE, brush_s=30.0 * MIN_S)
    [lag] = lags_of(
        [slab("a", (brushed, 20.0), (backer_step(), 30.0))], Workshop((PAN,), rules=RULES)
    )
    assert lag.least == 68


def test_the_joint_between_two_batches_stays_wet():
    shop = Workshop((Mixer("pail", 0.030, 0.0),), rules=RULES)
    [lag] = lags_of([slab("a", (backer_step(), 100.0))], shop)
    # Two batches of 50 kg, 10 min each: the second starts 10 to 20 min after the first.
    assert lag == Lag(0, 1, least=20, most=40)


@pytest.mark.parametrize(("release", "expected"), [({}, 0), ({0: 12}, 12), ({1: 12}, 0)])
def test_a_form_that_is_not_free_holds_its_first_batch(release, expected):
    castings = [slab("a", (FACE, 20.0))]
    batches = make_batches(castings, [[0]], Workshop((PAN,)))
    pour = pour_of(castings, batches, Workshop((PAN,)), releases=release)
    assert pour.tasks[0].release == expected


def test_guns_bind_only_where_they_are_counted():
    sprayed = replace(FACE, gun_count=1)
    castings = [slab("a", (sprayed, 20.0))]
    for guns, taken in ((None, 0), (1, 1)):
        shop = Workshop((PAN,), guns=guns)
        assert pour_of(castings, make_batches(castings, [[0]], shop), shop).tasks[0].guns == taken
