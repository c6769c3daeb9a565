"""The plan of a pour: days, their batches on the clock, and how good the plan is."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from takeoff.batching.batches import Batch
from takeoff.batching.demand import Casting
from takeoff.batching.workshops import Workshop


class Method(StrEnum):
    """What made the clock of a plan."""

    GREEDY = "greedy"
    CONSTRAINT_PROGRAMMING = "constraint-programming"


@dataclass(frozen=True, slots=True)
class PouredBatch:
    """One batch on the clock, counted from the start of its day.

    Parameters
    ----------
    batch : Batch
        The batch.
    mix_start_s, mix_end_s : float
        When it is mixed. [s]
    place_start_s, place_end_s : float
        When it is placed. [s]
    brush_end_s : float
        When what it has finished is brushed. [s]
    use_by_s : float
        When it goes off. [s]
    """

    batch: Batch
    mix_start_s: float
    mix_end_s: float
    place_start_s: float
    place_end_s: float
    brush_end_s: float
    use_by_s: float


@dataclass(frozen=True, slots=True)
class PouredDay:
    """One day of a plan.

    Parameters
    ----------
    number : int
        Which day, from 1; days without a pour are left out.
    batches : tuple of PouredBatch
        Its batches, in the order they are mixed.
    makespan_s : float
        When the last is placed and brushed. [s]
    bound_s : float
        No order of these batches ends before. [s]
    method : Method
        What made its clock.
    """

    number: int
    batches: tuple[PouredBatch, ...]
    makespan_s: float
    bound_s: float
    method: Method

    @property
    def proven(self) -> bool:
        """Whether no order of these batches ends sooner."""
        return self.makespan_s <= self.bound_s


@dataclass(frozen=True, slots=True)
class Plan:
    """A whole plan.

    Parameters
    ----------
    castings : tuple of Casting
        What is cast, in the order of the plan.
    shop : Workshop
        What it is cast with.
    days : tuple of PouredDay
        The days.
    batch_bound : int
        No plan has fewer batches.
    """

    castings: tuple[Casting, ...]
    shop: Workshop
    days: tuple[PouredDay, ...]
    batch_bound: int

    @property
    def batch_count(self) -> int:
        """How many batches are mixed."""
        return sum(len(day.batches) for day in self.days)

    @property
    def proven(self) -> bool:
        """Whether no plan has fewer batches."""
        return self.batch_count <= self.batch_bound

    @property
    def method(self) -> Method:
        """What made the clocks: the solver, where it shortened any day."""
        made = {day.method for day in self.days}
        solved = Method.CONSTRAINT_PROGRAMMING in made
        return Method.CONSTRAINT_PROGRAMMING if solved else Method.GREEDY
