"""A pour planned and checked, or the reasons why it cannot be."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from takeoff.batching.cases import Case
from takeoff.batching.checking import checked
from takeoff.batching.demand import Casting
from takeoff.batching.findings import plain_obstacles
from takeoff.batching.planning import SearchRules, plan_pour
from takeoff.batching.plans import Plan
from takeoff.batching.pour_rules import Finding
from takeoff.batching.reasons import reasons
from takeoff.batching.workshops import Workshop


@dataclass(frozen=True, slots=True)
class Outcome:
    """A plan, or why there is none.

    Parameters
    ----------
    plan : Plan or None
        The plan, held against every rule.
    findings : tuple of Finding
        Why there is none, and what would do.
    """

    plan: Plan | None
    findings: tuple[Finding, ...] = ()


def plan_or_findings(
    castings: Sequence[Casting], shop: Workshop, *, search: SearchRules = SearchRules()
) -> Outcome:
    """Plan a pour and hold the plan against every rule, or say why there is none.

    Parameters
    ----------
    castings : sequence of Casting
        What is cast, in the order the shop wants it.
    shop : Workshop
        What there is for the pour.
    search : SearchRules, optional
        How long and with what to search.

    Returns
    -------
    Outcome
        One of the two.

    Raises
    ------
    BatchError
        If the plan breaks a rule: a fault in the package.

    Examples
    --------
    >>> from takeoff.batching.demand import ClassMass, Coat
    >>> from takeoff.batching.mixers import Mixer
    >>> from takeoff.batching.steps import FreshMix, Step
    >>> step = Step("backer", FreshMix("b", 2000.0, pot_life_s=1800.0), rate_kg_s=0.1)
    >>> bench = Casting("bench", 1, (Coat(step, (ClassMass("show_face", 60.0),)),))
    >>> plan_or_findings([bench], Workshop((Mixer("pan", 0.05, 0.0),))).plan.batch_count
    1
    """
    case = Case(tuple(castings), shop)
    if not plain_obstacles(case):
        plan = plan_pour(castings, shop, rules=search)
        if plan is not None:
            return Outcome(checked(plan))
    return Outcome(None, reasons(case, search=search))
