"""The least change that would make a pour possible, one thing changed at a time."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace

from takeoff.batching.batches import make_batches
from takeoff.batching.clocks import pour_of
from takeoff.batching.cp_schedule import solve
from takeoff.batching.demand import Casting, Coat
from takeoff.batching.dispatch import dispatch
from takeoff.batching.findings import plain_findings
from takeoff.batching.planning import SearchRules, plan_pour
from takeoff.batching.pour_rules import Finding, Measure, Rule
from takeoff.batching.steps import Step
from takeoff.batching.workshops import Workshop
from takeoff.errors import BatchError


@dataclass(frozen=True, slots=True)
class _Case:
    """One casting with a day for itself."""

    casting: Casting
    shop: Workshop

    def with_steps(self, change: Callable[[Step], Step]) -> _Case:
        """Change every step of the casting."""
        coats = tuple(Coat(change(coat.step), coat.masses) for coat in self.casting.coats)
        return replace(self, casting=replace(self.casting, coats=coats))


@dataclass(frozen=True, slots=True)
class RemedyRules:
    """How far a change is tried.

    Parameters
    ----------
    more_hands_count : int, default 5
        So many more pairs of hands: a shop of more than six is not asked to hire.
    largest_ratio : float, default 4.0
        A time or a mixer is made larger up to so many times. [-]
    halvings_count : int, default 6
        How often the range between what fails and what does is halved.
    """

    more_hands_count: int = 5
    largest_ratio: float = 4.0
    halvings_count: int = 6


@dataclass(frozen=True, slots=True)
class _Remedy:
    """One thing that may be changed: by a factor that grows, or shrinks towards 0."""

    rule: Rule
    measure: Measure
    words: str
    now: Callable[[_Case], float | None]
    changed: Callable[[_Case, float], _Case]
    grows: bool = True


def remedies(
    casting: Casting,
    shop: Workshop,
    *,
    search: SearchRules = SearchRules(),
    rules: RemedyRules = RemedyRules(),
) -> tuple[Finding, ...]:
    """Give single changes that would make one casting possible, each the least of its kind.

    Parameters
    ----------
    casting : Casting
        A casting that cannot be poured, even alone on a day.
    shop : Workshop
        What there is for the pour.
    search : SearchRules, optional
        With what to search.
    rules : RemedyRules, optional
        How far to go.

    Returns
    -------
    tuple of Finding
        A finding for each change that does; one that says so where none does.

    Examples
    --------
    >>> from takeoff.batching.demand import ClassMass
    >>> from takeoff.batching.mixers import Mixer
    >>> from takeoff.batching.placing_rules import DayRules
    >>> from takeoff.batching.steps import FreshMix
    >>> step = Step("backer", FreshMix("b", 2000.0, pot_life_s=1800.0), rate_kg_s=0.1)
    >>> bench = Casting("bench", 1, (Coat(step, (ClassMass("show_face", 60.0),)),))
    >>> shop = Workshop((Mixer("pan", 0.05, 0.0),), day=DayRules(day_s=600.0))
    >>> [(one.rule.value, one.fix) for one in remedies(bench, shop)][-1]
    ('working day', 'a working day of 17.5 min')
    """
    case = _Case(casting, shop)
    found = list(_hand_remedy(case, search, rules))
    for remedy in _REMEDIES:
        found += _least(remedy, case, search, rules)
    if found:
        return tuple(found)
    text = "no single change does; several together may: smaller pieces, more hands, a larger mixer"
    return (Finding(Rule.ONE_DAY, casting.piece, 2.0, 1.0, Measure.COUNT, text),)


def pours_alone(casting: Casting, shop: Workshop, search: SearchRules) -> bool:
    """Tell whether one casting can be poured where it has a day for itself.

    Parameters
    ----------
    casting : Casting
        The casting.
    shop : Workshop
        What there is for the pour.
    search : SearchRules
        With what to search.

    Returns
    -------
    bool
        Whether a clock was found for it.

    Examples
    --------
    >>> pours_alone(Casting("bench", 1, ()), Workshop(()), SearchRules())
    True
    """
    if plain_findings([casting], replace(shop, day_count=None)):
        return False
    try:
        pour = pour_of([casting], make_batches([casting], [[0]], shop), shop)
    except BatchError:
        return False
    if dispatch(pour, thorough=False) is not None:
        return True
    if not search.solves:
        return False
    solved = solve(pour, work_limit_ratio=search.wave_work_ratio, shorten=False)
    return solved.starts is not None


def day_remedies(
    castings: Sequence[Casting],
    shop: Workshop,
    needed_days: int,
    *,
    rules: RemedyRules = RemedyRules(),
) -> tuple[Finding, ...]:
    """Give what would bring a job onto the days that there are.

    Parameters
    ----------
    castings : sequence of Casting
        What is cast; every one can be poured by itself.
    shop : Workshop
        What there is for the pour, with a number of days.
    needed_days : int
        Days that it takes as it is.
    rules : RemedyRules, optional
        How far to go.

    Returns
    -------
    tuple of Finding
        The days it takes, and how many hands would do with fewer.

    Examples
    --------
    >>> from takeoff.batching.mixers import Mixer
    >>> shop = Workshop((Mixer("pan", 0.05, 0.0),), day_count=1)
    >>> day_remedies([], shop, 2)[0].fix
    '2 days'
    """
    days = float(shop.day_count or needed_days)
    fix = f"{needed_days} days"
    found = [Finding(Rule.DAYS, "job", float(needed_days), days, Measure.COUNT, fix)]
    greedy = SearchRules(solver=False)
    for more in range(1, rules.more_hands_count + 1):
        if plan_pour(castings, replace(shop, hands=shop.hands + more), rules=greedy):
            hands = float(shop.hands + more)
            fix = f"{more} more {_pairs(more)} of hands"
            limit = float(shop.hands)
            found.append(Finding(Rule.HANDS, "job", hands, limit, Measure.COUNT, fix))
            break
    return tuple(found)


def _hand_remedy(case: _Case, search: SearchRules, rules: RemedyRules) -> Iterator[Finding]:
    """Find how many more hands would do, and how many of them place."""
    now = case.shop.hands
    for more in range(1, rules.more_hands_count + 1):
        larger = replace(case.shop, hands=now + more)
        for placing in range(more + 1):
            if pours_alone(_with_placing(case, placing).casting, larger, search):
                fix = f"{more} more {_pairs(more)} of hands"
                if placing:
                    fix += f", {placing} of them placing"
                where, needed = case.casting.piece, float(now + more)
                yield Finding(Rule.HANDS, where, needed, float(now), Measure.COUNT, fix)
                return


def _with_placing(case: _Case, more: int) -> _Case:
    """Let so many more place every step."""
    return case.with_steps(lambda step: replace(step, workers=step.workers + more))


def _least(
    remedy: _Remedy, case: _Case, search: SearchRules, rules: RemedyRules
) -> Iterator[Finding]:
    """Halve the range between a change that is too small and one that does."""
    now = remedy.now(case)
    if not now:
        return
    near, far = 1.0, rules.largest_ratio if remedy.grows else 0.0
    if not _does(remedy, case, far, search):
        return
    for _ in range(rules.halvings_count):
        middle = (near + far) / 2.0
        near, far = (near, middle) if _does(remedy, case, middle, search) else (middle, far)
    words = remedy.words.format(_shown(now * far, remedy.measure, up=remedy.grows))
    yield Finding(remedy.rule, case.casting.piece, now * far, now, remedy.measure, words)


def _does(remedy: _Remedy, case: _Case, factor_ratio: float, search: SearchRules) -> bool:
    changed = remedy.changed(case, factor_ratio)
    return pours_alone(changed.casting, changed.shop, search)


def _shown(value_count: float, measure: Measure, *, up: bool) -> str:
    """Write a value to the side on which it still does."""
    scale, unit = {Measure.SECONDS: (60.0, "min"), Measure.CUBIC_METRES: (1e-3, "L")}[measure]
    halves = value_count / scale * 2.0
    rounded = math.ceil(halves - 1e-9) if up else math.floor(halves + 1e-9)
    return f"{rounded / 2.0:g} {unit}"


def _pairs(count: int) -> str:
    return "pair" if count == 1 else "pairs"


def _shortest_longest_wait_s(case: _Case) -> float | None:
    waits_s = [coat.step.max_wait_s for coat in case.casting.coats]
    return min((wait_s for wait_s in waits_s if wait_s is not None), default=None)


def _longest_least_wait_s(case: _Case) -> float | None:
    return max((coat.step.min_wait_s for coat in case.casting.coats), default=None)


def _longer(step: Step, factor_ratio: float) -> Step:
    """Let what lies under a step grow older before it is covered."""
    if step.max_wait_s is None:
        return step
    return replace(step, max_wait_s=step.max_wait_s * factor_ratio)


def _larger_mixers(case: _Case, factor_ratio: float) -> _Case:
    mixers = tuple(
        replace(mixer, capacity_m3=mixer.capacity_m3 * factor_ratio) for mixer in case.shop.mixers
    )
    return replace(case, shop=replace(case.shop, mixers=mixers))


def _longer_day(case: _Case, factor_ratio: float) -> _Case:
    day = replace(case.shop.day, day_s=case.shop.day.day_s * factor_ratio)
    return replace(case, shop=replace(case.shop, day=day))


_REMEDIES = (
    _Remedy(
        Rule.CAPACITY,
        Measure.CUBIC_METRES,
        "a mixer of {}",
        lambda case: max(mixer.capacity_m3 for mixer in case.shop.mixers),
        _larger_mixers,
    ),
    _Remedy(
        Rule.WET_EDGE,
        Measure.SECONDS,
        "a wet edge of {}, if a trial shows no joint",
        lambda case: min(coat.step.wet_edge_s for coat in case.casting.coats),
        lambda case, factor: case.with_steps(
            lambda step: replace(step, wet_edge_s=step.wet_edge_s * factor)
        ),
    ),
    _Remedy(
        Rule.LONGEST_WAIT,
        Measure.SECONDS,
        "a longest wait of {}, if a trial shows that it bonds",
        _shortest_longest_wait_s,
        lambda case, factor: case.with_steps(lambda step: _longer(step, factor)),
    ),
    _Remedy(
        Rule.LEAST_WAIT,
        Measure.SECONDS,
        "a least wait of {}, if a finger test allows it",
        _longest_least_wait_s,
        lambda case, factor: case.with_steps(
            lambda step: replace(step, min_wait_s=step.min_wait_s * factor)
        ),
        grows=False,
    ),
    _Remedy(
        Rule.DAY,
        Measure.SECONDS,
        "a working day of {}",
        lambda case: case.shop.day.day_s,
        _longer_day,
    ),
)
