"""A plan held against every rule, by code that shares nothing with what made it.

Only the types that hold castings, shop and plan are shared. Times are taken as they stand in the
plan and compared in seconds; nothing is rounded here.
"""

from __future__ import annotations

from collections.abc import Iterator

from takeoff.batching.checking_clock import clock_breaches
from takeoff.batching.checking_masses import mass_breaches
from takeoff.batching.checking_places import place_breaches
from takeoff.batching.checking_waits import wait_breaches
from takeoff.batching.plans import Plan
from takeoff.batching.pour_rules import Breach
from takeoff.errors import BatchError


def breaches_of(plan: Plan) -> tuple[Breach, ...]:
    """Give every rule that a plan breaks.

    Parameters
    ----------
    plan : Plan
        The plan.

    Returns
    -------
    tuple of Breach
        The breaches; empty for a plan that can be followed.

    Examples
    --------
    >>> from takeoff.batching.workshops import Workshop
    >>> breaches_of(Plan((), Workshop(()), (), batch_bound=0))
    ()
    """
    return tuple(_breaches(plan))


def _breaches(plan: Plan) -> Iterator[Breach]:
    yield from mass_breaches(plan)
    for day in plan.days:
        yield from clock_breaches(plan.shop, day)
        yield from wait_breaches(plan, day)
    yield from place_breaches(plan)


def checked(plan: Plan) -> Plan:
    """Give a plan that keeps every rule.

    Parameters
    ----------
    plan : Plan
        The plan.

    Returns
    -------
    Plan
        The same plan.

    Raises
    ------
    BatchError
        If it breaks a rule; all of them are listed.

    Examples
    --------
    >>> from takeoff.batching.workshops import Workshop
    >>> checked(Plan((), Workshop(()), (), batch_bound=0)).batch_count
    0
    """
    found = breaches_of(plan)
    if found:
        listed = "; ".join(f"{one.where}: {one.rule.value}: {one.text}" for one in found)
        raise BatchError(
            f"a fault in takeoff itself, please report it: the plan it made breaks {listed}"
        )
    return plan
