"""Pours worked out by hand come out of both engines as they stand on paper."""

import math

import pytest

from takeoff.batching.cp_schedule import solver_installed
from takeoff.batching.planning import SearchRules
from takeoff.batching.pouring import plan_or_findings
from tests.unit.batching.hand_checked import CASES, MIN_S

GREEDY = SearchRules(solver=False)
SOLVER = SearchRules(solver=True)
needs_solver = pytest.mark.skipif(not solver_installed(), reason="ortools is not installed")
ENGINES = [
    pytest.param(GREEDY, id="greedy"),
    pytest.param(SOLVER, id="solver", marks=needs_solver),
]
POURED = [case for case in CASES if case.told.rule is None]
REFUSED = [case for case in CASES if case.told.rule is not None]


def poured_batches(plan):
    return [poured for day in plan.days for poured in day.batches]


@pytest.mark.parametrize("search", ENGINES)
@pytest.mark.parametrize("case", POURED, ids=lambda case: case.name)
def test_the_plan_is_that_of_the_hand(case, search):
    plan = plan_or_findings(case.castings(), case.shop(), search=search).plan
    batches = [poured.batch for poured in poured_batches(plan)]
    told = case.told
    assert sorted(batch.mass_kg for batch in batches) == pytest.approx(sorted(told.masses))
    leftover_kg = math.fsum(batch.leftover_kg for batch in batches)
    assert leftover_kg == pytest.approx(told.leftover, abs=1e-6)
    if told.makespan is not None:
        [day] = plan.days
        assert day.makespan_s == told.makespan * MIN_S
        assert day.proven
    if told.bound is not None:
        assert plan.batch_bound == told.bound
    if told.limited_by is not None:
        assert {batch.bound.value for batch in batches} == {told.limited_by}
    if told.mixer is not None:
        assert {batch.mixer.name for batch in batches} == {told.mixer}


@pytest.mark.parametrize("search", ENGINES)
@pytest.mark.parametrize(
    "case", [case for case in POURED if case.told.parts], ids=lambda case: case.name
)
def test_the_cuts_fall_where_the_hand_puts_them(case, search):
    plan = plan_or_findings(case.castings(), case.shop(), search=search).plan
    parts = tuple(
        tuple(
            (plan.castings[part.casting].piece, pytest.approx(part.gross_kg))
            for part in poured.batch.parts
        )
        for poured in poured_batches(plan)
    )
    assert parts == case.told.parts


@pytest.mark.parametrize("search", ENGINES)
@pytest.mark.parametrize("case", REFUSED, ids=lambda case: case.name)
def test_what_cannot_be_poured_is_told_with_its_fix(case, search):
    outcome = plan_or_findings(case.castings(), case.shop(), search=search)
    assert outcome.plan is None
    [finding] = outcome.findings
    assert finding.rule is case.told.rule
    assert case.told.fix in finding.fix
    assert finding.value_count > finding.limit_count


@pytest.mark.parametrize("case", POURED, ids=lambda case: case.name)
def test_the_solver_is_never_longer_than_the_greedy_clock(case):
    pytest.importorskip("ortools")
    greedy, solved = (
        plan_or_findings(case.castings(), case.shop(), search=search).plan
        for search in (GREEDY, SOLVER)
    )
    assert solved.days[0].makespan_s <= greedy.days[0].makespan_s
