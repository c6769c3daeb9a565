"""The least change that would make castings possible that cannot be poured, found by search."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from takeoff.batching.batches import make_batches
from takeoff.batching.bounds import fits_day
from takeoff.batching.cases import Case, Change, in_turn, with_hands, with_placing
from takeoff.batching.clocks import pour_of
from takeoff.batching.cp_schedule import solve
from takeoff.batching.demand import Casting, ClassMass
from takeoff.batching.dispatch import dispatch
from takeoff.batching.findings import named, plain_findings
from takeoff.batching.planning import SearchRules
from takeoff.batching.pour_rules import Finding, Measure, Rule
from takeoff.batching.remedy_kinds import Kind, RemedyRules, kinds_of
from takeoff.batching.workshops import Workshop
from takeoff.errors import BatchError


@dataclass(frozen=True, slots=True)
class Cure:
    """A finding, and the change that it asks for.

    Parameters
    ----------
    finding : Finding
        The finding.
    change : callable
        Its change.
    """

    finding: Finding
    change: Change


def cures(
    case: Case,
    *,
    search: SearchRules = SearchRules(),
    rules: RemedyRules = RemedyRules(),
) -> tuple[Cure, ...]:
    """Give changes that would make all castings possible, each the least of its kind.

    Parameters
    ----------
    case : Case
        Castings, and what there is to pour them with.
    search : SearchRules, optional
        With what to search.
    rules : RemedyRules, optional
        How far to go.

    Returns
    -------
    tuple of Cure
        One for each change that is enough by itself; where none is, those that are together;
        where these are not, how much smaller the castings must be. Empty where all can be poured.

    Examples
    --------
    >>> from takeoff.batching.demand import Coat
    >>> from takeoff.batching.mixers import Mixer
    >>> from takeoff.batching.placing_rules import DayRules
    >>> from takeoff.batching.steps import FreshMix, Step
    >>> step = Step("backer", FreshMix("b", 2000.0, pot_life_s=1800.0), rate_kg_s=0.1)
    >>> bench = Casting("bench", 1, (Coat(step, (ClassMass("show_face", 60.0),)),))
    >>> shop = Workshop((Mixer("pan", 0.05, 0.0),), day=DayRules(day_s=600.0))
    >>> found = [cure.finding for cure in cures(Case((bench,), shop))]
    >>> [(one.rule.value, one.fix) for one in found][-1]
    ('working day', 'a working day of 17 min')
    """
    failing = failing_in(case, search)
    if not failing.castings:
        return ()
    tried = _Tried(failing, search, rules)
    return tuple(tried.single()) or tuple(tried.together()) or (tried.smaller(),)


def failing_in(case: Case, search: SearchRules) -> Case:
    """Keep the castings that cannot be poured even alone on a day, one of each kind.

    Parameters
    ----------
    case : Case
        Castings, and what there is to pour them with.
    search : SearchRules
        With what to search.

    Returns
    -------
    Case
        The case with these, the heaviest first.

    Examples
    --------
    >>> failing_in(Case((Casting("bench", 1, ()),), Workshop(())), SearchRules()).castings
    ()
    """
    kinds = {(casting.piece, casting.coats): casting for casting in case.castings}
    failing = [one for one in kinds.values() if not pours_alone(one, case.shop, search)]
    return replace(case, castings=tuple(sorted(failing, key=_net_kg, reverse=True)))


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
    if not fits_day(pour):
        return False
    if dispatch(pour, thorough=False) is not None:
        return True
    if not search.solves:
        return False
    solved = solve(pour, work_limit_ratio=search.wave_work_ratio, shorten=False)
    return solved.starts is not None


class _Tried:
    """Changes tried on castings that cannot be poured, until all of them can."""

    def __init__(self, case: Case, search: SearchRules, rules: RemedyRules) -> None:
        self.case = case
        # What less work than that of a plan finds, a plan finds too.
        work_ratio = search.wave_work_ratio * rules.work_ratio
        self.search = replace(search, wave_work_ratio=work_ratio)
        self.rules = rules
        self.where = named(list(dict.fromkeys(casting.piece for casting in case.castings)))
        self.kinds = kinds_of(case, rules)

    def single(self) -> Iterator[Cure]:
        """Give the changes that are enough by themselves."""
        hands = self._hands()
        if hands is not None:
            yield self._hand_cure(*hands)
        for kind in self.kinds:
            value = self._least(kind, ())
            if value is not None:
                yield self._cure(kind, value)

    def together(self) -> list[Cure]:
        """Give changes that are enough only together: as few as can be, each as small."""
        hands, crewed = self._most_hands()
        kept = list(self.kinds)
        if not self._does(in_turn([crewed, *(kind.change(kind.far) for kind in kept)])):
            return []
        for kind in reversed(self.kinds):
            fewer = [one for one in kept if one is not kind]
            if self._does(in_turn([crewed, *(one.change(one.far) for one in fewer)])):
                kept = fewer
        values = {kind.words: kind.far for kind in kept}
        for kind in kept:
            others = [crewed]
            others += [one.change(values[one.words]) for one in kept if one is not kind]
            least = self._least(kind, others)
            values[kind.words] = kind.far if least is None else least
        changes = [kind.change(values[kind.words]) for kind in kept]
        fewer_hands = self._hands(changes)
        found = [self._cure(kind, values[kind.words], enough=False) for kind in kept]
        if not self._does(in_turn(changes)):
            most = (hands, crewed, f"{hands} pairs of hands")
            found.insert(0, self._hand_cure(*(fewer_hands or most), enough=False))
        return found

    def smaller(self) -> Cure:
        """Say how light the heaviest casting must be, and that other changes are not enough."""
        heaviest = self.case.castings[0]
        now_kg = _net_kg(heaviest)
        near, far = 1.0, 0.0
        for _ in range(self.rules.halvings_count):
            middle = (near + far) / 2.0
            near, far = (near, middle) if self._does(_scaled(middle)) else (middle, far)
        text = "no change of hands, mixers, waits or hours does; see pot life and placing rate"
        if far > 0.0:
            text = (
                f"pieces of at most {now_kg * far:.3g} kg each, or a faster placing rate; no "
                "change of hands, mixers, waits or hours does"
            )
        masses_kg = now_kg, now_kg * far
        kilograms = Measure.KILOGRAMS
        finding = Finding(Rule.ONE_DAY, self.where, *masses_kg, kilograms, text, far > 0.0)
        return Cure(finding, _scaled(far) if far > 0.0 else in_turn(()))

    def _does(self, change: Change) -> bool:
        changed = change(self.case)
        return all(pours_alone(one, changed.shop, self.search) for one in changed.castings)

    def _least(self, kind: Kind, others: Sequence[Change]) -> int | None:
        """Halve the range between a change that is too small and one that does."""
        near, far = kind.now, kind.far
        if not self._does(in_turn([*others, kind.change(far)])):
            return None
        while abs(far - near) > 1:
            middle = (near + far) // 2
            does = self._does(in_turn([*others, kind.change(middle)]))
            near, far = (near, middle) if does else (middle, far)
        return far

    def _hands(self, others: Sequence[Change] = ()) -> tuple[int, Change, str] | None:
        """Find how many hands would do, and how many of them must place if not all but one."""
        tables = list(dict.fromkeys(step.told_in for step in self.case.steps))
        for more in range(1, self.rules.more_hands_count + 1):
            hands = self.case.shop.hands + more
            words = f"{more} more {'pair' if more == 1 else 'pairs'} of hands"
            if self._does(in_turn([*others, with_hands(hands)])):
                return hands, with_hands(hands), words
            for workers in range(1, hands + 1):
                change = in_turn([with_hands(hands), with_placing(tables, workers)])
                if self._does(in_turn([*others, change])):
                    guns = ""
                    if any(step.gun_count for step in self.case.steps):
                        guns = ", each with a gun where it is sprayed"
                    told_in = " and ".join(f"[{table}]" for table in tables)
                    told = f"{workers} of them placing{guns} (hands = {workers} in {told_in})"
                    return hands, change, f"{words}, {told}"
        return None

    def _most_hands(self) -> tuple[int, Change]:
        """Give as many hands as are tried, all but one of them placing."""
        hands = self.case.shop.hands + self.rules.more_hands_count
        tables = [step.told_in for step in self.case.steps]
        return hands, in_turn([with_hands(hands), with_placing(tables, hands - 1)])

    def _cure(self, kind: Kind, value: int, *, enough: bool = True) -> Cure:
        written = kind.words.format(kind.written(value))
        counts = value * kind.unit_count, kind.now_count
        finding = Finding(kind.rule, self.where, *counts, kind.measure, written, enough)
        return Cure(finding, kind.change(value))

    def _hand_cure(self, hands: int, change: Change, words: str, *, enough: bool = True) -> Cure:
        now = float(self.case.shop.hands)
        finding = Finding(Rule.HANDS, self.where, float(hands), now, Measure.COUNT, words, enough)
        return Cure(finding, change)


def _scaled(ratio: float) -> Change:
    """Make every casting lighter."""

    def change(case: Case) -> Case:
        castings = tuple(
            replace(
                casting,
                coats=tuple(
                    replace(
                        coat,
                        masses=tuple(
                            ClassMass(mass.surface_class, mass.mass_kg * ratio)
                            for mass in coat.masses
                        ),
                    )
                    for coat in casting.coats
                ),
            )
            for casting in case.castings
        )
        return replace(case, castings=castings)

    return change


def _net_kg(casting: Casting) -> float:
    return sum(coat.net_kg for coat in casting.coats)
