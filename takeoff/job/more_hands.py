"""What one more pair of hands would save."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from takeoff.batching.cases import Case, with_hands
from takeoff.batching.demand import Casting
from takeoff.batching.planning import SearchRules, plan_pour
from takeoff.batching.plans import Plan
from takeoff.batching.workshops import Workshop


@dataclass(frozen=True, slots=True)
class MoreHands:
    """A plan with one more pair of hands, beside the plan as it is.

    Parameters
    ----------
    hands : int
        How many that makes.
    days, pouring_s : int and float
        Days it takes, and the time from start to end of each, added up. [s]
    saved_days, saved_s : int and float
        What it saves of both; below 0 where it takes longer. [s]
    """

    hands: int
    days: int
    pouring_s: float
    saved_days: int
    saved_s: float


def one_more(castings: Sequence[Casting], shop: Workshop) -> MoreHands | None:
    """Plan with the hands there are and with one more, both in the same way.

    Parameters
    ----------
    castings : sequence of Casting
        What is cast.
    shop : Workshop
        What there is for the pour.

    Returns
    -------
    MoreHands or None
        What it saves; None where there is no plan to compare.

    Notes
    -----
    Where nobody told how many place a layer, one more does, as in the plan of a shop that has
    them. The greedy clock makes both plans; where it has none, the solver fits the waves, if it is
    installed. No day is shortened: that would double the time of a plan.

    Examples
    --------
    >>> from takeoff.batching.demand import ClassMass, Coat
    >>> from takeoff.batching.mixers import Mixer
    >>> from takeoff.batching.steps import FreshMix, Step
    >>> step = Step("backer", FreshMix("b", 2000.0, pot_life_s=1800.0), rate_kg_s=0.1)
    >>> benches = [Casting("bench", n, (Coat(step, (ClassMass("show_face", 90.0),)),))
    ...            for n in (1, 2)]
    >>> one_more(benches, Workshop((Mixer("pan", 0.05, 0.0),))).saved_s
    840.0
    """
    now_case = Case(tuple(castings), shop)
    then_case = with_hands(shop.hands + 1)(now_case)
    for search in (SearchRules(solver=False), SearchRules(day_work_ratio=0.0)):
        now, then = (
            plan_pour(case.castings, case.shop, rules=search) for case in (now_case, then_case)
        )
        if now is not None and then is not None:
            return MoreHands(
                hands=then_case.shop.hands,
                days=len(then.days),
                pouring_s=_pouring_s(then),
                saved_days=len(now.days) - len(then.days),
                saved_s=_pouring_s(now) - _pouring_s(then),
            )
    return None


def _pouring_s(plan: Plan) -> float:
    return sum(day.makespan_s for day in plan.days)
