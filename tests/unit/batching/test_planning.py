from dataclasses import replace
from itertools import pairwise

import pytest

from takeoff.batching.checking import breaches_of
from takeoff.batching.cp_schedule import solver_installed
from takeoff.batching.demand import Casting, ClassMass, Coat
from takeoff.batching.mixers import Mixer
from takeoff.batching.placing_rules import DayRules
from takeoff.batching.planning import SearchRules, plan_pour
from takeoff.batching.plans import Method
from takeoff.batching.steps import FreshMix, Step
from takeoff.batching.turns import in_pouring_order
from takeoff.batching.workshops import Workshop
from tests.unit.batching.pours_made import (
    MIN_S,
    PAN,
    backer_step,
    face_mix,
    face_steps,
    panel,
    random_pour,
    twelve_panels,
)

GREEDY = SearchRules(solver=False)
needs_solver = pytest.mark.skipif(not solver_installed(), reason="ortools is not installed")


def test_twelve_panels_from_two_forms_take_six_days():
    castings, shop = twelve_panels()
    plan = plan_pour(castings, shop, rules=GREEDY)
    assert [day.number for day in plan.days] == [1, 2, 3, 4, 5, 6]
    assert breaches_of(plan) == ()


def test_forms_that_strip_fast_serve_twice_on_a_day():
    castings, shop = twelve_panels(day=DayRules(demould_s=3600.0, reset_s=600.0))
    plan = plan_pour(castings, shop, rules=GREEDY)
    assert len(plan.days) < 6
    assert breaches_of(plan) == ()


def test_forms_that_strip_slowly_leave_days_without_a_pour():
    castings, shop = twelve_panels(day=DayRules(demould_s=40.0 * 3600.0))
    plan = plan_pour(castings, shop, rules=GREEDY)
    numbers = [day.number for day in plan.days]
    assert len(numbers) == 6
    assert min(later - sooner for sooner, later in pairwise(numbers)) >= 2


def test_other_pieces_are_poured_while_forms_are_full():
    castings, shop = twelve_panels()
    bench = panel("bench", 1, 0.5, [coat.step for coat in castings[0].coats])
    plan = plan_pour([*castings, bench], shop, rules=GREEDY)
    first_day = {
        plan.castings[part.casting].piece
        for poured in plan.days[0].batches
        for part in poured.batch.parts
    }
    assert first_day == {"panel", "bench"}
    assert len(plan.days) == 6


def test_what_does_not_fit_the_first_day_is_poured_while_forms_are_used_again():
    castings, shop = twelve_panels()
    steps = [coat.step for coat in castings[0].coats]
    benches = [panel(f"bench {number}", 1, 2.0, steps) for number in range(12)]
    plan = plan_pour([*castings, *benches], shop, rules=GREEDY)
    assert breaches_of(plan) == ()
    assert len(plan.days) == 6


@pytest.mark.parametrize("tables", [3, 4, 5])
def test_tables_are_filled_every_day(tables):
    castings, shop = twelve_panels(forms={}, tables=tables)
    plan = plan_pour(castings, shop, rules=GREEDY)
    assert len(plan.days) == -(-12 // tables)


@pytest.mark.parametrize("search", [GREEDY, pytest.param(SearchRules(), marks=needs_solver)])
def test_one_person_nine_hours_two_forms_and_a_short_pot_life(search):
    """One person, a nine-hour day, two forms, 25 min of pot life: twelve panels on six days."""
    steps = (
        *face_steps(face_mix(pot_life=25.0)),
        backer_step(pot_life=25.0, min_wait_s=20.0 * MIN_S),
    )
    castings = [panel("panel", copy, 1.0, steps) for copy in range(1, 13)]
    shop = Workshop(
        (PAN,),
        hands=1,
        forms={"panel": 2},
        division_kg=0.01,
        day=DayRules(day_s=9.0 * 3600.0),
    )
    plan = plan_pour(castings, shop, rules=search)
    assert breaches_of(plan) == ()
    assert len(plan.days) == 6
    for day in plan.days:
        for poured in day.batches:
            # 25 min less 20 % in reserve, one minute of it carrying
            assert poured.place_end_s - poured.mix_end_s <= 20.0 * MIN_S
            assert poured.batch.step.workers == 1
            assert poured.brush_end_s <= 9.0 * 3600.0


def test_colours_stay_together():
    white, grey = (
        (*face_steps(face_mix(colour=colour)), backer_step()) for colour in ("white", "grey")
    )
    castings = [panel(f"piece {n}", 1, 0.5, (white, grey)[n % 2]) for n in range(6)]
    shop = Workshop((PAN,), hands=2)
    ordered = in_pouring_order(castings, shop)
    colours = [casting.coats[0].step.mix.colour for casting in ordered]
    assert colours == ["white"] * 3 + ["grey"] * 3
    plan = plan_pour(castings, shop, rules=GREEDY)
    assert breaches_of(plan) == ()


def test_two_mixers_alike_share_a_stream():
    step = Step("backer", FreshMix("b", 2000.0, 1800.0), rate_kg_s=0.25, workers=1)
    castings = [Casting("slab", 1, (Coat(step, (ClassMass("show_face", 500.0),)),))]
    one, two = (Workshop(mixers, hands=4) for mixers in ((PAN,), (PAN, replace(PAN, name="other"))))
    alone, shared = (plan_pour(castings, shop, rules=GREEDY) for shop in (one, two))
    assert {poured.batch.mixer.name for poured in shared.days[0].batches} == {"pan", "other"}
    assert shared.days[0].makespan_s < alone.days[0].makespan_s
    assert breaches_of(shared) == ()


def test_a_second_pass_shares_a_batch_with_the_first_pass_of_the_next_wave():
    # Four faces of two passes, 13.3 kg each, 59.7 kg to a batch: apart they take a batch for each
    # pass of each wave of two, four in all; a second pass and the next first pass go into one.
    first, second = face_steps(face_mix())
    steps = (first, replace(second, max_wait_s=20.0 * MIN_S))
    castings = [panel(f"piece {number}", 1, 4.0, steps) for number in range(1, 5)]
    shop = Workshop((Mixer("pan", 0.030, 0.3),), hands=2, division_kg=0.01)
    plan = plan_pour(castings, shop, rules=GREEDY)
    passes = [
        sorted(
            {
                plan.castings[part.casting].coats[part.coat].step.pass_number
                for part in poured.batch.parts
            }
        )
        for poured in plan.days[0].batches
    ]
    assert passes == [[1], [1, 2], [2]]
    assert breaches_of(plan) == ()


@needs_solver
def test_the_solver_shortens_the_day_and_says_so():
    castings, shop = random_pour(4, count=12)
    shop = replace(shop, hands=3, tables=None)
    greedy = plan_pour(castings, shop, rules=GREEDY)
    solved = plan_pour(castings, shop, rules=SearchRules(solver=True))
    assert greedy.method is Method.GREEDY
    assert solved.batch_count <= greedy.batch_count
    assert breaches_of(solved) == breaches_of(greedy) == ()


@pytest.mark.parametrize("search", [GREEDY, pytest.param(SearchRules(), marks=needs_solver)])
def test_the_same_plan_comes_out_on_every_run(search):
    castings, shop = random_pour(3)
    assert plan_pour(castings, shop, rules=search) == plan_pour(castings, shop, rules=search)


def test_more_days_than_there_are_leave_no_plan():
    castings, shop = twelve_panels(day_count=5)
    assert plan_pour(castings, shop, rules=GREEDY) is None


def test_a_small_mixer_kept_for_one_mix_is_used_for_it_alone():
    pail = Mixer("pail", 0.044, 0.1, suits=("face",))
    castings, shop = twelve_panels()
    plan = plan_pour(castings, replace(shop, mixers=(PAN, pail)), rules=GREEDY)
    mixers = {
        poured.batch.step.layer: poured.batch.mixer.name
        for day in plan.days
        for poured in day.batches
    }
    assert mixers == {"face_coat": "pail", "backer": "pan"}
