"""Why there is no plan, and what would do: arithmetic first, then search, each held by a trial."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from takeoff.batching.cases import Case, Obstacle, Way, days_way, with_hands
from takeoff.batching.findings import plain_obstacles
from takeoff.batching.planning import SearchRules, plan_pour
from takeoff.batching.pour_rules import Finding, Measure, Rule
from takeoff.batching.remedies import cures, failing_in
from takeoff.batching.remedy_kinds import RemedyRules

_ROUNDS = 6


def reasons(
    case: Case, *, search: SearchRules = SearchRules(), rules: RemedyRules = RemedyRules()
) -> tuple[Finding, ...]:
    """Say why a pour cannot be planned, and what would do.

    Parameters
    ----------
    case : Case
        A pour for which there is no plan.
    search : SearchRules, optional
        With what to search.
    rules : RemedyRules, optional
        How far changes are tried.

    Returns
    -------
    tuple of Finding
        Changes of which any is enough, or such as are needed together; each was tried.

    Examples
    --------
    >>> from takeoff.batching.demand import Casting
    >>> from takeoff.batching.workshops import Workshop
    >>> panels = tuple(Casting("panel", copy, ()) for copy in (1, 2, 3))
    >>> shop = Workshop((), forms={"panel": 1}, day_count=2)
    >>> [one.fix for one in reasons(Case(panels, shop))]
    ['3 pour days, or 2 forms']
    """
    return tuple(_Reasons(case, search, rules).told())


class _Reasons:
    """Reasons being gathered, while what they ask for is changed."""

    def __init__(self, case: Case, search: SearchRules, rules: RemedyRules) -> None:
        self.case = case
        self.search = search
        self.quick = replace(search, day_work_ratio=0.0)
        if len(case.castings) > rules.solved_count:
            self.quick = replace(search, solver=False)
        self.rules = rules
        self.known: dict[str, bool] = {}

    def told(self) -> Iterator[Finding]:
        """Tell obstacles until none is left, then what a search finds."""
        case = self.case
        for _ in range(_ROUNDS):
            obstacles = self._obstacles(case)
            if not obstacles:
                break
            for one in obstacles:
                enough = [way for way in one.ways if self._enough(way)]
                yield one.finding(enough or one.ways, enough=bool(enough))
            for one in obstacles:
                case = one.ways[0].change(case)
        yield from self._searched(case, alone=case == self.case)

    def _searched(self, case: Case, *, alone: bool) -> Iterator[Finding]:
        """Tell what a search finds for castings, and then for the days that there are."""
        found = cures(case, search=self.search, rules=self.rules)
        if found and found[0].finding.enough:
            enough = [cure for cure in found if alone and self._pours(cure.change(case))]
            if enough:
                yield from (cure.finding for cure in enough)
                return
            found = found[:1]
        for cure in found:
            case = cure.change(case)
            yield replace(cure.finding, enough=False)
        if case.shop.day_count is not None and not self._pours(case):
            alone = alone and not found
            days = list(self._days(case))
            yield from (replace(one, enough=alone) for one in (days if alone else days[:1]))

    def _obstacles(self, case: Case) -> tuple[Obstacle, ...]:
        """Give what arithmetic finds; pour days are those that a plan was found for."""
        found = plain_obstacles(case)
        if not any(way.more_days for one in found for way in one.ways):
            return found
        days = self._needed_days(case)
        if days is None:
            return found
        return tuple(
            replace(
                one,
                ways=tuple(days_way(days) if way.more_days else way for way in one.ways),
            )
            for one in found
        )

    def _needed_days(self, case: Case) -> int | None:
        """Give the days that a plan takes where there may be any number of them."""
        free = plan_pour(case.castings, replace(case.shop, day_count=None), rules=self.quick)
        return None if free is None or not free.days else free.days[-1].number

    def _enough(self, way: Way) -> bool:
        """Try a way by itself on the pour as it is."""
        if way.text not in self.known:
            self.known[way.text] = self._pours(way.change(self.case))
        return self.known[way.text]

    def _pours(self, case: Case) -> bool:
        if plain_obstacles(case) or failing_in(case, self.search).castings:
            return False
        if case.shop.day_count is None:
            return True
        return plan_pour(case.castings, case.shop, rules=self.quick) is not None

    def _days(self, case: Case) -> Iterator[Finding]:
        """Give what would bring a job onto the days that there are."""
        limit = float(case.shop.day_count or 1)
        needed = self._needed_days(case)
        if needed is not None:
            fix = f"{needed} pour days"
            yield Finding(Rule.DAYS, "job", float(needed), limit, Measure.COUNT, fix)
        for more in range(1, self.rules.more_hands_count + 1):
            hands = case.shop.hands + more
            if self._pours(with_hands(hands)(case)):
                fix = f"{more} more {'pair' if more == 1 else 'pairs'} of hands"
                counts = float(hands), float(case.shop.hands)
                yield Finding(Rule.HANDS, "job", *counts, Measure.COUNT, fix)
                return
