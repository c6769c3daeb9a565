"""What may be changed to make a pour possible, besides hands: each with how far, and in words."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace

from takeoff.batching.cases import Case, Change, with_mixer
from takeoff.batching.pour_rules import Measure, Rule
from takeoff.batching.steps import Step

_DAY_AND_NIGHT_S = 86_400.0


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
        How often the size of a piece is halved between what fails and what does.
    work_ratio : float, default 0.2
        Work that the solver may do for each trial, over what it may do for a wave: tens of
        changes are tried. [-]
    solved_count : int, default 12
        With more castings than this, days are tried by the greedy clock alone: each trial is a
        whole plan.
    time_s : float, default 60
        Times are told in steps of this: nobody waits to the second. [s]
    volume_m3 : float, default 0.0005
        Mixers are told in steps of this: half a litre. [m³]
    """

    more_hands_count: int = 5
    largest_ratio: float = 4.0
    halvings_count: int = 6
    work_ratio: float = 0.2
    solved_count: int = 12
    time_s: float = 60.0
    volume_m3: float = 0.0005


@dataclass(frozen=True, slots=True)
class Kind:
    """One thing that may be changed, in whole units, up or down.

    Parameters
    ----------
    rule : Rule
        The rule that it loosens.
    measure : Measure
        What it is counted in.
    unit_count : float
        One unit of it, counted in `measure`. [-]
    now_count : float
        What is told now, counted in `measure`. [-]
    now, far : int
        Units that are too few, and the farthest that are tried.
    words : str
        The change in words, with a place for the value and the key that tells it.
    change : callable
        Gives the change to so many units.
    """

    rule: Rule
    measure: Measure
    unit_count: float
    now_count: float
    now: int
    far: int
    words: str
    change: Callable[[int], Change]

    def written(self, value: int) -> str:
        """Write so many units."""
        if self.measure is Measure.CUBIC_METRES:
            return f"{value * self.unit_count * 1e3:g} L"
        return f"{value * self.unit_count / 60.0:g} min"


def kinds_of(case: Case, rules: RemedyRules) -> tuple[Kind, ...]:
    """Give what may be changed of a pour, the easiest to have first.

    Parameters
    ----------
    case : Case
        The pour.
    rules : RemedyRules
        How far to go.

    Returns
    -------
    tuple of Kind
        Mixers, wet edges, longest and least waits, the working day.

    Examples
    --------
    >>> from takeoff.batching.workshops import Workshop
    >>> [kind.words for kind in kinds_of(Case((), Workshop(())), RemedyRules())]
    ['a working day of {}']
    """
    told = {
        key: step
        for step in case.steps
        for key in (f"edge {step.told_in}", f"wait {step.longest_wait_key}")
    }
    edges = [step for key, step in told.items() if key.startswith("edge")]
    waits = [step for key, step in told.items() if key.startswith("wait")]
    return (
        *_mixers(case, rules),
        *(_edge(step, rules) for step in edges),
        *(_longest(step, rules) for step in waits if step.max_wait_s is not None),
        *(_least(step, rules) for step in waits if step.min_wait_s > 0.0),
        _day(case, rules),
    )


def _mixers(case: Case, rules: RemedyRules) -> Iterator[Kind]:
    """Put a larger mixer in place of each that some step can be made in."""
    suiting = [mixer for step in case.steps for mixer in case.shop.suiting(step.mix)]
    for mixer in dict.fromkeys(suiting):
        yield _mixer(mixer.name, mixer.capacity_m3 + case.shop.rounding_m3, rules)


def _mixer(name: str, now_m3: float, rules: RemedyRules) -> Kind:
    return Kind(
        Rule.CAPACITY,
        Measure.CUBIC_METRES,
        rules.volume_m3,
        now_m3,
        now=math.floor(now_m3 / rules.volume_m3 + 1e-9),
        far=math.ceil(now_m3 * rules.largest_ratio / rules.volume_m3),
        words=f"a mixer of {{}} in place of {name}",
        change=lambda units: with_mixer(name, units * rules.volume_m3),
    )


def _time(
    rule: Rule,
    words: str,
    change: Callable[[float], Change],
    *,
    told_s: float,
    far_s: float,
    rules: RemedyRules,
) -> Kind:
    """Make a time longer, or shorter where the farthest is less than what is told."""
    longer = far_s > told_s
    return Kind(
        rule,
        Measure.SECONDS,
        rules.time_s,
        told_s,
        now=(math.floor if longer else math.ceil)(told_s / rules.time_s),
        far=(math.ceil if longer else math.floor)(far_s / rules.time_s),
        words=words,
        change=lambda units: change(units * rules.time_s),
    )


def _edge(step: Step, rules: RemedyRules) -> Kind:
    told_s = step.wet_edge_s / step.edge_ratio

    def change(edge_s: float) -> Change:
        def longer(one: Step) -> Step:
            if one.told_in != step.told_in:
                return one
            return replace(one, wet_edge_s=edge_s * one.edge_ratio)

        return lambda case: case.with_steps(longer)

    words = f"a wet edge of {{}} (wet_edge in [{step.told_in}]), if a trial shows no joint"
    far_s = told_s * rules.largest_ratio
    return _time(Rule.WET_EDGE, words, change, told_s=told_s, far_s=far_s, rules=rules)


def _longest(step: Step, rules: RemedyRules) -> Kind:
    """Let what lies under a step grow older before it is covered."""
    told_s = (step.max_wait_s or 0.0) / step.wait_ratio
    key = step.longest_wait_key

    def change(wait_s: float) -> Change:
        def longer(one: Step) -> Step:
            if one.max_wait_s is None or one.longest_wait_key != key:
                return one
            return replace(one, max_wait_s=wait_s * one.wait_ratio)

        return lambda case: case.with_steps(longer)

    words = f"a longest wait of {{}} ({key}), if a trial shows that it bonds"
    far_s = told_s * rules.largest_ratio
    return _time(Rule.LONGEST_WAIT, words, change, told_s=told_s, far_s=far_s, rules=rules)


def _least(step: Step, rules: RemedyRules) -> Kind:
    """Cover what lies under a step sooner."""
    told_s = step.min_wait_s / step.wait_ratio
    key = step.longest_wait_key

    def change(wait_s: float) -> Change:
        def sooner(one: Step) -> Step:
            if one.longest_wait_key != key:
                return one
            return replace(one, min_wait_s=min(one.min_wait_s, wait_s * one.wait_ratio))

        return lambda case: case.with_steps(sooner)

    least_key = key.replace("longest", "least")
    words = f"a least wait of {{}} ({least_key}), if a finger test allows it"
    return _time(Rule.LEAST_WAIT, words, change, told_s=told_s, far_s=0.0, rules=rules)


def _day(case: Case, rules: RemedyRules) -> Kind:
    told_s = case.shop.day.day_s

    def change(day_s: float) -> Change:
        def longer(one: Case) -> Case:
            return replace(one, shop=replace(one.shop, day=replace(one.shop.day, day_s=day_s)))

        return longer

    far_s = min(told_s * rules.largest_ratio, _DAY_AND_NIGHT_S)
    return _time(Rule.DAY, "a working day of {}", change, told_s=told_s, far_s=far_s, rules=rules)
