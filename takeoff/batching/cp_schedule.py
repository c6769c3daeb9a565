"""The clock solved by constraint programming, where the solver is installed.

One worker and a limit counted in work done, never in time, so that the answer is the same on
every run.
"""

from __future__ import annotations

import importlib.util
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import combinations
from typing import TYPE_CHECKING

from takeoff.batching.clocks import Pour, Start

if TYPE_CHECKING:
    from ortools.sat.python import cp_model


@dataclass(frozen=True, slots=True)
class Solved:
    """What the solver found.

    Parameters
    ----------
    starts : tuple of Start or None
        When each task starts; None where it found nothing.
    bound_ticks : int
        No order of the tasks ends before.
    impossible : bool
        Whether it proved that there is no order at all.
    """

    starts: tuple[Start, ...] | None
    bound_ticks: int
    impossible: bool


def solver_installed() -> bool:
    """Tell whether the solver is installed.

    Returns
    -------
    bool
        Whether `solve` may be called.

    Examples
    --------
    >>> isinstance(solver_installed(), bool)
    True
    """
    return importlib.util.find_spec("ortools") is not None


def solve(
    pour: Pour,
    hint: Sequence[Start] | None = None,
    *,
    work_limit_ratio: float = 0.3,
    shorten: bool = True,
    most_tasks_count: int = 120,
) -> Solved:
    """Put the tasks of a pour on the clock, in the shortest day that the limit finds.

    Parameters
    ----------
    pour : Pour
        The tasks and what binds them.
    hint : sequence of Start, optional
        A plan to start from.
    work_limit_ratio : float, default 0.3
        Work that the solver may do, in its own deterministic unit. [-]
    shorten : bool, default True
        Whether to make the day short; otherwise any plan will do.
    most_tasks_count : int, default 120
        Nothing is searched for more tasks: the model grows with their square, and to build it
        alone then takes seconds.

    Returns
    -------
    Solved
        The plan, and a bound on all plans.

    Examples
    --------
    >>> from takeoff.batching.clocks import Task
    >>> task = Task("pan", ("b", ""), 12, 4, 9, 0, 48, workers=2)
    >>> pour = Pour((task,) * 3, (), hands=4, guns=None, haul_ticks=2, wash_ticks=20, day_ticks=960)
    >>> not solver_installed() or solve(pour).bound_ticks == 55
    True
    """
    if len(pour.tasks) > most_tasks_count:
        return Solved(None, 0, impossible=False)
    from ortools.sat.python import cp_model

    model = _Model(pour)
    if hint is not None:
        model.hint(hint)
    if shorten:
        model.model.minimize(model.end)
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 1
    solver.parameters.random_seed = 1
    solver.parameters.max_deterministic_time = work_limit_ratio
    status = solver.solve(model.model)
    starts = None
    if status in {cp_model.OPTIMAL, cp_model.FEASIBLE}:
        starts = tuple(
            Start(solver.value(mix), solver.value(place))
            for mix, place in zip(model.mixes, model.places, strict=True)
        )
    bound = round(solver.best_objective_bound) if shorten and starts is not None else 0
    return Solved(starts, bound, impossible=status == cp_model.INFEASIBLE)


class _Model:
    """The variables and rules of a pour, as the solver takes them."""

    def __init__(self, pour: Pour) -> None:
        from ortools.sat.python import cp_model

        self.pour = pour
        self.model = cp_model.CpModel()
        self.mixes = [self._start(task.mix_ticks, "mix") for task in pour.tasks]
        self.places = [self._start(task.busy_ticks, "place") for task in pour.tasks]
        self.end = self.model.new_int_var(0, pour.day_ticks, "end")
        self._own_rules()
        self._lag_rules()
        self._mixer_rules()
        self._hand_rules()

    def hint(self, starts: Sequence[Start]) -> None:
        """Start the search from a plan."""
        for mix, place, start in zip(self.mixes, self.places, starts, strict=True):
            self.model.add_hint(mix, start.mix)
            self.model.add_hint(place, start.place)

    def _start(self, lasting: int, name: str) -> cp_model.IntVar:
        return self.model.new_int_var(0, max(0, self.pour.day_ticks - lasting), name)

    def _own_rules(self) -> None:
        for task, mix, place in zip(self.pour.tasks, self.mixes, self.places, strict=True):
            mixed = mix + task.mix_ticks
            self.model.add(place >= mixed + self.pour.haul_ticks)
            self.model.add(place + task.place_ticks <= mixed + task.pot_ticks)
            self.model.add(place >= task.release)
            self.model.add(self.end >= place + task.busy_ticks)

    def _lag_rules(self) -> None:
        for lag in self.pour.lags:
            apart = self.places[lag.after] - self.places[lag.before]
            self.model.add(apart >= lag.least)
            if lag.most is not None:
                self.model.add(apart <= lag.most)

    def _mixer_rules(self) -> None:
        tasks = self.pour.tasks
        for one, other in combinations(range(len(tasks)), 2):
            if tasks[one].mixer != tasks[other].mixer:
                continue
            first = self.model.new_bool_var("first")
            for before, after, literal in ((one, other, first), (other, one, ~first)):
                gap = tasks[before].mix_ticks + self.pour.gap_ticks(tasks[before], tasks[after])
                rule = self.model.add(self.mixes[after] >= self.mixes[before] + gap)
                rule.only_enforce_if(literal)
        for mixer in sorted({task.mixer for task in tasks}):
            self.model.add_no_overlap(
                self.model.new_fixed_size_interval_var(
                    mix, task.mix_ticks + task.clean_ticks, "mixer"
                )
                for mix, task in zip(self.mixes, tasks, strict=True)
                if task.mixer == mixer
            )

    def _hand_rules(self) -> None:
        tasks = self.pour.tasks
        mixing = [
            self.model.new_fixed_size_interval_var(mix, task.mix_ticks, "mixing")
            for mix, task in zip(self.mixes, tasks, strict=True)
        ]
        placing = [
            self.model.new_fixed_size_interval_var(place, task.busy_ticks, "placing")
            for place, task in zip(self.places, tasks, strict=True)
        ]
        workers = [1] * len(tasks) + [task.workers for task in tasks]
        self.model.add_cumulative([*mixing, *placing], workers, self.pour.hands)
        if self.pour.guns is not None:
            spraying = [
                self.model.new_fixed_size_interval_var(place, task.place_ticks, "spraying")
                for place, task in zip(self.places, tasks, strict=True)
            ]
            self.model.add_cumulative(spraying, [task.guns for task in tasks], self.pour.guns)
