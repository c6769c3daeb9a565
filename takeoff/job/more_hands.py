"""What one more pair of hands would save."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

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
    As many place each step as before; the one more mixes, or places another step. The greedy
    clock makes both plans; where it has none, the solver does, if it is installed.

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
    larger = replace(shop, hands=shop.hands + 1)
    for search in (SearchRules(solver=False), SearchRules()):
        now, then = (plan_pour(castings, one, rules=search) for one in (shop, larger))
        if now is not None and then is not None:
            return MoreHands(
                hands=larger.hands,
                days=len(then.days),
                pouring_s=_pouring_s(then),
                saved_days=len(now.days) - len(then.days),
                saved_s=_pouring_s(now) - _pouring_s(then),
            )
    return None


def _pouring_s(plan: Plan) -> float:
    return sum(day.makespan_s for day in plan.days)
