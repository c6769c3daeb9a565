"""A pour is planned while one waits for it; run with -m benchmark."""

import pytest

from takeoff.batching.cp_schedule import solver_installed
from tests.benchmarks.plans import made

pytestmark = pytest.mark.benchmark


@pytest.mark.parametrize("solver", [False, True] if solver_installed() else [False])
@pytest.mark.parametrize(("count", "most_s"), [(50, 10.0), (200, 60.0)])
def test_pours_of_many_pieces_are_planned_in_time(count, most_s, solver):
    plan = made(count, solver=solver)
    assert plan.wall_s < most_s
    assert plan.batches >= plan.bound
