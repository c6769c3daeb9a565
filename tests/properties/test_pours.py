"""What must hold of any pour: its rules are kept, nothing is lost, and no plan beats the bounds."""

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from takeoff.batching.checking import breaches_of
from takeoff.batching.cp_schedule import solver_installed
from takeoff.batching.planning import SearchRules, plan_pour
from takeoff.batching.pouring import plan_or_findings
from tests.unit.batching.pours_made import random_pour

GREEDY = SearchRules(solver=False)
SOLVER = SearchRules(solver=True)


def assert_sound(plan):
    """Hold a plan against its rules, and against arithmetic of its own."""
    assert breaches_of(plan) == ()
    assert plan.batch_bound <= plan.batch_count
    wanted_kg = math.fsum(coat.gross_kg for cast in plan.castings for coat in cast.coats)
    made_kg = spent_kg = 0.0
    for day in plan.days:
        assert day.bound_s <= day.makespan_s <= plan.shop.day.day_s
        for poured in day.batches:
            made_kg += poured.batch.mass_kg
            spent_kg += poured.batch.leftover_kg + poured.batch.mixer.residue_kg
    assert made_kg - spent_kg == pytest.approx(wanted_kg, rel=1e-9)


@given(st.integers(0, 100_000))
@settings(max_examples=40, deadline=None)
def test_a_plan_keeps_every_rule(seed):
    castings, shop = random_pour(seed)
    outcome = plan_or_findings(castings, shop, search=GREEDY)
    if outcome.plan is None:
        assert all(finding.fix for finding in outcome.findings)
        assert outcome.findings
    else:
        assert_sound(outcome.plan)


@pytest.mark.skipif(not solver_installed(), reason="ortools is not installed")
@given(st.integers(0, 100_000))
@settings(max_examples=8, deadline=None)
def test_the_solver_keeps_every_rule_and_needs_no_more_batches(seed):
    castings, shop = random_pour(seed, count=8)
    greedy = plan_pour(castings, shop, rules=GREEDY)
    solved = plan_pour(castings, shop, rules=SOLVER)
    if greedy is not None:
        assert_sound(solved)
        assert solved.batch_count <= greedy.batch_count


@pytest.mark.parametrize("seed", [7, 32, 113])
def test_pours_that_once_broke_a_rule_keep_it(seed):
    castings, shop = random_pour(seed)
    assert_sound(plan_pour(castings, shop, rules=GREEDY))
