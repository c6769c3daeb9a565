"""A pour that may be changed, one thing at a time, to see what would make it possible."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass, replace

from takeoff.batching.demand import Casting, Coat
from takeoff.batching.pour_rules import Finding, Measure, Rule
from takeoff.batching.steps import Step, with_crew
from takeoff.batching.workshops import Workshop


@dataclass(frozen=True, slots=True)
class Case:
    """Castings, and what there is to pour them with.

    Parameters
    ----------
    castings : tuple of Casting
        What is cast.
    shop : Workshop
        What there is for the pour.
    """

    castings: tuple[Casting, ...]
    shop: Workshop

    @property
    def steps(self) -> tuple[Step, ...]:
        """The steps of all castings, each once."""
        return tuple(
            dict.fromkeys(coat.step for casting in self.castings for coat in casting.coats)
        )

    def with_steps(self, change: Callable[[Step], Step]) -> Case:
        """Change every step.

        Parameters
        ----------
        change : callable
            Gives the step in place of one.

        Returns
        -------
        Case
            The changed case.
        """
        changed = {step: change(step) for step in self.steps}
        castings = tuple(
            replace(
                casting,
                coats=tuple(Coat(changed[coat.step], coat.masses) for coat in casting.coats),
            )
            for casting in self.castings
        )
        return replace(self, castings=castings)


Change = Callable[[Case], Case]
"""What gives the changed case in place of one."""


@dataclass(frozen=True, slots=True)
class Way:
    """One way out: what to write or to have, and the change that it is.

    Parameters
    ----------
    text : str
        What to do.
    change : callable
        The same as a change.
    more_days : bool, default False
        Whether it is to pour on more days.
    says_too : str, default ""
        The text of another way that this one names as well.
    """

    text: str
    change: Change
    more_days: bool = False
    says_too: str = ""


@dataclass(frozen=True, slots=True)
class Obstacle:
    """A rule that no order of work could keep, and the ways round it.

    Parameters
    ----------
    rule : Rule
        The rule.
    where : str
        Piece, layer or mixer.
    value_count, limit_count : float
        What it would take, and what may be, counted in `measure`. [-]
    measure : Measure
        What both are counted in.
    ways : tuple of Way
        What would do, the best first.
    """

    rule: Rule
    where: str
    value_count: float
    limit_count: float
    measure: Measure
    ways: tuple[Way, ...]

    def finding(self, ways: Iterable[Way], *, enough: bool = True) -> Finding:
        """Give it as a finding with some of its ways.

        Parameters
        ----------
        ways : iterable of Way
            The ways to tell.
        enough : bool, default True
            Whether any of them is enough by itself.

        Returns
        -------
        Finding
            The finding.
        """
        told = tuple(ways)
        twice = {way.says_too for way in told}
        fix = ", or ".join(way.text for way in told if way.text not in twice)
        value, limit = self.value_count, self.limit_count
        return Finding(self.rule, self.where, value, limit, self.measure, fix, enough)


def with_hands(hands: int) -> Change:
    """Let at least so many work; who places is taken from them wherever nobody told.

    Parameters
    ----------
    hands : int
        How many.

    Returns
    -------
    callable
        The change.

    Examples
    --------
    >>> with_hands(3)(Case((), Workshop((), hands=1))).shop.hands
    3
    """

    def change(case: Case) -> Case:
        shop = replace(case.shop, hands=max(hands, case.shop.hands))
        changed = replace(case, shop=shop)
        return changed.with_steps(lambda step: with_crew(step, shop.hands, shop.guns))

    return change


def with_placing(tables: Iterable[str], workers: int) -> Change:
    """Let so many place some layers, each with a gun where they are sprayed.

    Parameters
    ----------
    tables : iterable of str
        The tables of the job file that tell of these layers.
    workers : int
        How many place each of them.

    Returns
    -------
    callable
        The change.

    Examples
    --------
    >>> with_placing(["backer"], 2)(Case((), Workshop((), hands=1))).shop.hands
    2
    """
    placed = frozenset(tables)

    def crewed(step: Step) -> Step:
        if step.told_in not in placed:
            return step
        guns = workers if step.gun_count else 0
        return replace(step, workers=workers, gun_count=guns, workers_told=True)

    def change(case: Case) -> Case:
        changed = with_hands(workers)(case).with_steps(crewed)
        sprayed = any(step.gun_count and step.told_in in placed for step in changed.steps)
        guns = changed.shop.guns
        if sprayed and guns is not None:
            guns = max(guns, workers)
        return replace(changed, shop=replace(changed.shop, guns=guns))

    return change


def with_mixer(name: str, capacity_m3: float) -> Change:
    """Let a mixer hold at least so much.

    Parameters
    ----------
    name : str
        The mixer.
    capacity_m3 : float
        Its capacity as a shop tells it. [m³]

    Returns
    -------
    callable
        The change.

    Examples
    --------
    >>> from takeoff.batching.mixers import Mixer
    >>> shop = Workshop((Mixer("pan", 0.03, 0.3),))
    >>> with_mixer("pan", 0.06)(Case((), shop)).shop.mixers[0].capacity_m3
    0.06
    """

    def change(case: Case) -> Case:
        mixers = tuple(
            replace(mixer, capacity_m3=max(mixer.capacity_m3, capacity_m3 - case.shop.rounding_m3))
            if mixer.name == name
            else mixer
            for mixer in case.shop.mixers
        )
        return replace(case, shop=replace(case.shop, mixers=mixers))

    return change


def with_days(days: int) -> Change:
    """Let a pour take at least so many days.

    Parameters
    ----------
    days : int
        How many.

    Returns
    -------
    callable
        The change.

    Examples
    --------
    >>> with_days(3)(Case((), Workshop((), day_count=1))).shop.day_count
    3
    """

    def change(case: Case) -> Case:
        count = case.shop.day_count
        return replace(
            case, shop=replace(case.shop, day_count=None if count is None else max(days, count))
        )

    return change


def days_way(days: int) -> Way:
    """Give more days as a way out.

    Parameters
    ----------
    days : int
        How many.

    Returns
    -------
    Way
        The way.

    Examples
    --------
    >>> days_way(3).text
    '3 pour days'
    """
    return Way(f"{days} pour days", with_days(days), more_days=True)


def in_turn(changes: Iterable[Change]) -> Change:
    """Make several changes, one after the other.

    Parameters
    ----------
    changes : iterable of callable
        The changes.

    Returns
    -------
    callable
        All of them.

    Examples
    --------
    >>> in_turn([with_hands(2), with_days(3)])(Case((), Workshop((), day_count=1))).shop.hands
    2
    """
    steps = tuple(changes)

    def change(case: Case) -> Case:
        for step in steps:
            case = step(case)
        return case

    return change
