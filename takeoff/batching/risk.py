"""A plan replayed many times with placing and mixing that vary, to see what would go wrong."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from itertools import pairwise
from random import Random

from takeoff.batching.crews import crews_of
from takeoff.batching.plans import Plan, PouredDay
from takeoff.batching.spoiling import gone_off_share, log_spread_share, reserve_share

_NEAR_S = 1e-6


@dataclass(frozen=True, slots=True)
class RiskRules:
    """How a plan is replayed.

    Parameters
    ----------
    run_count : int, default 1000
        How often; the chance of one in a hundred is then known to about a third of itself.
    seed : int, default 1
        Start of the random numbers, so that every run of the program says the same.
    placing_spread_share : float, default 0.1
        Standard deviation of placing times over their mean: a judgement, until a shop has
        records of its own. [-]
    mixing_spread_share : float, default 0.1
        The same of mixing times. [-]
    wanted_share : float, default 0.01
        Chance of going off that a reserve is given for. [-]
    """

    run_count: int = 1000
    seed: int = 1
    placing_spread_share: float = 0.1
    mixing_spread_share: float = 0.1
    wanted_share: float = 0.01


@dataclass(frozen=True, slots=True)
class Risk:
    """What goes wrong in how many replays.

    Parameters
    ----------
    rules : RiskRules
        How the plan was replayed.
    gone_off_share : float
        Replays in which any batch goes off. [-]
    joint_share : float
        Replays in which any joint is too old. [-]
    cover_share : float
        Replays in which anything covered is too old. [-]
    fullest_share : float
        Chance, by formula, that the batch with least time in hand goes off by itself. [-]
    reserve_share : float
        Reserve of the pot life that keeps that chance at the wanted one. [-]
    """

    rules: RiskRules
    gone_off_share: float
    joint_share: float
    cover_share: float
    fullest_share: float
    reserve_share: float


def replayed(plan: Plan, *, rules: RiskRules = RiskRules()) -> Risk:
    """Replay a plan in its order: nobody mixes before it says, and what is mixed is placed at once.

    Parameters
    ----------
    plan : Plan
        The plan.
    rules : RiskRules, optional
        How often, and how much times vary.

    Returns
    -------
    Risk
        What went wrong how often, each against its whole limit, without reserve.

    Examples
    --------
    >>> from takeoff.batching.workshops import Workshop
    >>> replayed(Plan((), Workshop(()), (), batch_bound=0)).gone_off_share
    0.0
    """
    random = Random(rules.seed)  # noqa: S311 - replays, not secrets
    days = [_Replay(plan, day) for day in plan.days]
    off = joints = covers = 0
    for _ in range(rules.run_count):
        results = [day.run(random, rules) for day in days]
        off += any(result.gone_off for result in results)
        joints += any(result.joint for result in results)
        covers += any(result.cover for result in results)
    runs = rules.run_count
    spread_share = rules.placing_spread_share
    return Risk(
        rules,
        off / runs,
        joints / runs,
        covers / runs,
        _fullest_share(plan, spread_share),
        reserve_share(rules.wanted_share, spread_share=spread_share),
    )


def _fullest_share(plan: Plan, spread_share: float) -> float:
    """Give the largest chance of any batch by itself."""
    return max(
        (
            gone_off_share(
                poured.place_end_s - poured.place_start_s,
                poured.use_by_s - poured.place_start_s,
                spread_share=spread_share,
            )
            for day in plan.days
            for poured in day.batches
        ),
        default=0.0,
    )


@dataclass(slots=True)
class _Result:
    gone_off: bool = False
    joint: bool = False
    cover: bool = False


@dataclass(frozen=True, slots=True)
class _Spot:
    """Where a batch works on a coat: from and to, as shares of its placing."""

    number: int
    at_kg: float
    first_share: float
    last_share: float


@dataclass(frozen=True, slots=True)
class _Cover:
    """One coat over another, and the times told for it."""

    under: tuple[_Spot, ...]
    over: tuple[_Spot, ...]
    min_wait_s: float
    max_wait_s: float | None
    brushed: bool


@dataclass(slots=True)
class _Times:
    """What happened in one replay, batch by batch."""

    mixed_s: list[float]
    placed_s: list[float]
    done_s: list[float]
    brushed_s: list[float]

    def first_s(self, spot: _Spot) -> float:
        lasting_s = self.done_s[spot.number] - self.placed_s[spot.number]
        return self.placed_s[spot.number] + spot.first_share * lasting_s

    def last_s(self, spot: _Spot) -> float:
        lasting_s = self.done_s[spot.number] - self.placed_s[spot.number]
        return self.placed_s[spot.number] + spot.last_share * lasting_s


@dataclass(slots=True)
class _Busy:
    """Since when hands and mixers are free."""

    hands_s: dict[int, float] = field(default_factory=dict)
    mixers_s: dict[str, tuple[float, tuple[str, str], float]] = field(default_factory=dict)


class _Replay:
    """One day, made ready to be replayed."""

    def __init__(self, plan: Plan, day: PouredDay) -> None:
        self.plan = plan
        self.day = day
        self.crews = crews_of(day, plan.shop.hands)
        count = len(day.batches)
        works = [(poured.mix_start_s, 0, number) for number, poured in enumerate(day.batches)]
        works += [(poured.place_start_s, 1, number) for number, poured in enumerate(day.batches)]
        self.works = [(kind, number) for _, kind, number in sorted(works)]
        runs = _spots(day)
        self.joints = list(_joints(plan, runs))
        self.covers = list(_covers(plan, runs))
        self.over: list[list[_Cover]] = [[] for _ in range(count)]
        self.after: list[list[tuple[_Spot, _Spot]]] = [[] for _ in range(count)]
        for before, here, _ in self.joints:
            self.after[here.number].append((before, here))
        for cover in self.covers:
            self.over[cover.over[0].number].append(cover)

    def run(self, random: Random, rules: RiskRules) -> _Result:
        """Replay the day once."""
        count = len(self.day.batches)
        times = _Times([0.0] * count, [0.0] * count, [0.0] * count, [0.0] * count)
        busy = _Busy()
        placing = log_spread_share(rules.placing_spread_share)
        mixing = log_spread_share(rules.mixing_spread_share)
        for kind, number in self.works:
            spread = placing if kind else mixing
            varied = random.lognormvariate(-(spread**2) / 2.0, spread) if spread else 1.0
            if kind:
                self._place(number, varied, times, busy)
            else:
                self._mix(number, varied, times, busy)
        return self._result(times)

    def _mix(self, number: int, varied_ratio: float, times: _Times, busy: _Busy) -> None:
        poured, hand = self.day.batches[number], self.crews[number].mixes
        mixer, mix = poured.batch.mixer, poured.batch.step.mix
        content = (mix.name, mix.colour)
        start_s = max(poured.mix_start_s, busy.hands_s.get(hand, 0.0))
        if mixer.name in busy.mixers_s:
            last_s, before, clean_s = busy.mixers_s[mixer.name]
            wash_s = 0.0 if before == content else self.plan.shop.rules.wash_s
            start_s = max(start_s, last_s + max(clean_s, wash_s))
        end_s = start_s + varied_ratio * (poured.mix_end_s - poured.mix_start_s)
        times.mixed_s[number] = busy.hands_s[hand] = end_s
        busy.mixers_s[mixer.name] = (end_s, content, self.plan.shop.clean_s(mixer))

    def _place(self, number: int, varied_ratio: float, times: _Times, busy: _Busy) -> None:
        poured, hands = self.day.batches[number], self.crews[number].places
        start_s = max(
            times.mixed_s[number] + self.plan.shop.rules.haul_s,
            *(busy.hands_s.get(hand, 0.0) for hand in hands),
        )
        lasting_s = varied_ratio * (poured.place_end_s - poured.place_start_s)
        for before, here in self.after[number]:
            start_s = max(start_s, times.last_s(before) - here.first_share * lasting_s)
        for cover in self.over[number]:
            ready_s = times.last_s(cover.under[-1]) + cover.min_wait_s
            if cover.brushed:
                ready_s = max(ready_s, times.brushed_s[cover.under[-1].number])
            start_s = max(start_s, ready_s - cover.over[0].first_share * lasting_s)
        times.placed_s[number] = start_s
        times.done_s[number] = start_s + lasting_s
        end_s = start_s + lasting_s + poured.brush_end_s - poured.place_end_s
        times.brushed_s[number] = end_s
        busy.hands_s.update(dict.fromkeys(hands, end_s))

    def _result(self, times: _Times) -> _Result:
        """Hold what happened against the whole limits, without reserve."""
        off = any(
            times.done_s[number] - times.mixed_s[number]
            > poured.batch.step.mix.pot_life_s + _NEAR_S
            for number, poured in enumerate(self.day.batches)
        )
        joint = any(
            times.first_s(other) - times.last_s(one) > edge_s + _NEAR_S
            for one, other, edge_s in self.joints
        )
        cover = any(
            max(
                times.first_s(one.over[0]) - times.first_s(one.under[0]),
                times.last_s(one.over[-1]) - times.last_s(one.under[-1]),
            )
            > one.max_wait_s + _NEAR_S
            for one in self.covers
            if one.max_wait_s is not None
        )
        return _Result(off, joint, cover)


def _spots(day: PouredDay) -> dict[tuple[int, int], tuple[_Spot, ...]]:
    """Say which part of the placing of which batches each coat takes."""
    runs: dict[tuple[int, int], list[_Spot]] = {}
    for number, poured in enumerate(day.batches):
        gross_kg, done_kg = poured.batch.gross_kg, 0.0
        for part in poured.batch.parts:
            first = done_kg / gross_kg
            done_kg += part.gross_kg
            spot = _Spot(number, part.start_kg, first, done_kg / gross_kg)
            runs.setdefault((part.casting, part.coat), []).append(spot)
    return {key: tuple(sorted(run, key=lambda spot: spot.at_kg)) for key, run in runs.items()}


def _joints(
    plan: Plan, runs: dict[tuple[int, int], tuple[_Spot, ...]]
) -> Iterator[tuple[_Spot, _Spot, float]]:
    for (casting, coat), run in runs.items():
        edge_s = plan.castings[casting].coats[coat].step.wet_edge_s
        yield from ((one, other, edge_s) for one, other in pairwise(run))


def _covers(plan: Plan, runs: dict[tuple[int, int], tuple[_Spot, ...]]) -> Iterator[_Cover]:
    for (casting, coat), run in runs.items():
        if (casting, coat - 1) in runs:
            coats = plan.castings[casting].coats
            step = coats[coat].step
            brushed = coats[coat - 1].step.brush_s > 0.0
            under = runs[casting, coat - 1]
            yield _Cover(under, run, step.min_wait_s, step.max_wait_s, brushed)
