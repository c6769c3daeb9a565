from random import Random

import pytest

from takeoff.batching.bounds import least_ticks
from takeoff.batching.clocks import Lag, Pour, Task
from takeoff.batching.dispatch import dispatch
from takeoff.batching.johnson import flow_ticks, johnson_order

pytest.importorskip("ortools")
from takeoff.batching.cp_schedule import solve


def flow_shop(first, second):
    """Give jobs that are mixed one after the other, and placed one after the other, any time on."""
    tasks = tuple(
        # The one gun keeps the second pair of hands from placing while the first does.
        Task("pan", ("mix", ""), mixed, 0, placed, 0, pot_ticks=500, workers=1, guns=1)
        for mixed, placed in zip(first, second, strict=True)
    )
    return Pour(tasks, (), hands=2, guns=1, haul_ticks=0, wash_ticks=0, day_ticks=500)


def test_the_textbook_flow_shop_ends_at_thirty():
    pour = flow_shop([5, 1, 9, 3, 10], [2, 6, 7, 8, 4])
    solved = solve(pour)
    assert pour.end_ticks(solved.starts) == solved.bound_ticks == 30


@pytest.mark.parametrize("seed", range(19))
def test_random_flow_shops_end_when_johnson_says(seed):
    random = Random(seed)
    count = random.randint(2, 5)
    first = [random.randint(1, 9) for _ in range(count)]
    second = [random.randint(1, 9) for _ in range(count)]
    pour = flow_shop(first, second)
    solved = solve(pour)
    shortest = flow_ticks(first, second, johnson_order(first, second))
    assert pour.end_ticks(solved.starts) == solved.bound_ticks == shortest
    assert least_ticks(pour) <= shortest
    greedy = dispatch(pour)
    assert pour.end_ticks(greedy) >= shortest


def keeps(pour, starts):
    """Check a plan tick by tick, without any of the code that made it."""
    for lag in pour.lags:
        apart = starts[lag.after].place - starts[lag.before].place
        assert apart >= lag.least
        assert lag.most is None or apart <= lag.most
    for tick in range(pour.day_ticks):
        hands = guns = 0
        for task, start in zip(pour.tasks, starts, strict=True):
            hands += start.mix <= tick < start.mix + task.mix_ticks
            hands += task.workers * (start.place <= tick < start.place + task.busy_ticks)
            guns += task.guns * (start.place <= tick < start.place + task.place_ticks)
        assert hands <= pour.hands
        assert pour.guns is None or guns <= pour.guns
    for one, task in enumerate(pour.tasks):
        mixed = starts[one].mix + task.mix_ticks
        assert starts[one].place >= max(task.release, mixed + pour.haul_ticks)
        assert starts[one].place + task.place_ticks <= mixed + task.pot_ticks
        for other in range(one):
            if pour.tasks[other].mixer == task.mixer:
                a, b = sorted((one, other), key=lambda number: starts[number].mix)
                gap = pour.tasks[a].mix_ticks + pour.gap_ticks(pour.tasks[a], pour.tasks[b])
                assert starts[b].mix - starts[a].mix >= gap


@pytest.mark.parametrize("seed", range(12))
def test_both_engines_keep_every_rule_and_the_bound(seed):
    random = Random(seed)
    tasks = tuple(
        Task(
            random.choice(["pan", "pail"]),
            ("mix", random.choice(["", "grey"])),
            random.randint(4, 12),
            random.randint(0, 4),
            random.randint(3, 20),
            random.choice([0, 0, 5]),
            pot_ticks=40,
            workers=random.randint(1, 2),
            guns=random.randint(0, 1),
            release=random.choice([0, 0, 30]),
        )
        for _ in range(6)
    )
    lags = (Lag(0, 1, 40, 120), Lag(2, 3, 30, None), Lag(3, 4, 20, 150))
    pour = Pour(tasks, lags, hands=3, guns=1, haul_ticks=2, wash_ticks=20, day_ticks=600)
    greedy = dispatch(pour)
    keeps(pour, greedy)
    solved = solve(pour, greedy, work_limit_ratio=1.0)
    keeps(pour, solved.starts)
    assert solved.bound_ticks <= pour.end_ticks(solved.starts) <= pour.end_ticks(greedy)
    assert least_ticks(pour) <= pour.end_ticks(solved.starts)


def test_the_same_plan_comes_out_on_every_run():
    pour = flow_shop([5, 1, 9, 3, 10, 4, 7], [2, 6, 7, 8, 4, 5, 3])
    assert solve(pour) == solve(pour)


def test_what_cannot_be_is_proven():
    task = Task("pan", ("mix", ""), 12, 4, 9, 0, 48, workers=1)
    pour = Pour((task,) * 2, (Lag(0, 1, 0, 5),), 1, None, 2, 20, day_ticks=600)
    assert solve(pour, shorten=False).impossible
    assert dispatch(pour) is None


def test_waiting_after_mixing_is_used_where_it_helps():
    # One person mixes twice, then places both within the pot life: never straight after mixing.
    task = Task("pan", ("mix", ""), 4, 0, 4, 0, pot_ticks=40, workers=1)
    pour = Pour((task,) * 2, (Lag(0, 1, 4, 4),), 1, None, 0, 0, day_ticks=100)
    solved = solve(pour)
    assert sorted(start.mix for start in solved.starts) == [0, 4]
    assert dispatch(pour) is None
    assert [start.place for start in solved.starts] == [8, 12]
