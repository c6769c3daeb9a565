"""Batches as tasks on a clock: how long each takes, and how far apart two may start."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise

from takeoff.batching.batches import Batch, Part
from takeoff.batching.demand import Casting, Coat
from takeoff.batching.placing_rules import PlacingRules
from takeoff.batching.timing import placing_s, pot_ticks, ticks_down, ticks_up
from takeoff.batching.workshops import Workshop

_SLACK = 1e-6


@dataclass(frozen=True, slots=True)
class Task:
    """One batch on the clock, all times in ticks.

    Parameters
    ----------
    mixer : str
        The mixer it occupies.
    content : tuple of str
        Mix and colour: where these change, the mixer is washed.
    mix_ticks, clean_ticks : int
        To mix it, and to scrape the mixer after it.
    place_ticks, brush_ticks : int
        To place it, and to brush what it has finished.
    pot_ticks : int
        From the end of mixing to the end of placing, at most.
    workers : int
        Hands that place and brush it.
    guns : int, default 0
        Guns it takes.
    release : int, default 0
        Not placed before.
    """

    mixer: str
    content: tuple[str, str]
    mix_ticks: int
    clean_ticks: int
    place_ticks: int
    brush_ticks: int
    pot_ticks: int
    workers: int
    guns: int = 0
    release: int = 0

    @property
    def busy_ticks(self) -> int:
        """How long it takes the hands that place it."""
        return self.place_ticks + self.brush_ticks


@dataclass(frozen=True, slots=True)
class Lag:
    """How far apart two tasks start to be placed, in ticks.

    Parameters
    ----------
    before, after : int
        Numbers of the two tasks.
    least : int
        The second starts at least so long after the first.
    most : int or None
        And at most so long; None for any time.
    """

    before: int
    after: int
    least: int
    most: int | None


@dataclass(frozen=True, slots=True)
class Pour:
    """Tasks to be put on the clock of one day.

    Parameters
    ----------
    tasks : tuple of Task
        The batches.
    lags : tuple of Lag
        What binds two of them.
    hands : int
        How many work.
    guns : int or None
        How many guns there are; None where they do not bind.
    haul_ticks : int
        From the end of mixing to the first placing, at least.
    wash_ticks : int
        To wash a mixer where mix or colour change.
    day_ticks : int
        Everything ends by then.
    """

    tasks: tuple[Task, ...]
    lags: tuple[Lag, ...]
    hands: int
    guns: int | None
    haul_ticks: int
    wash_ticks: int
    day_ticks: int

    def gap_ticks(self, first: Task, second: Task) -> int:
        """Give the time that a mixer needs between two tasks."""
        if first.content == second.content:
            return first.clean_ticks
        return max(first.clean_ticks, self.wash_ticks)

    def end_ticks(self, starts: Sequence[Start]) -> int:
        """Give when the last task is placed and brushed."""
        return max(
            (start.place + task.busy_ticks for task, start in zip(self.tasks, starts, strict=True)),
            default=0,
        )


@dataclass(frozen=True, slots=True)
class Start:
    """When a task starts, in ticks.

    Parameters
    ----------
    mix : int
        Its mixing.
    place : int
        Its placing.
    """

    mix: int
    place: int


@dataclass(frozen=True, slots=True)
class _Spot:
    """Where a batch works on a coat: from and to, after its placing starts."""

    task: int
    at_kg: float
    first_s: float
    last_s: float


def pour_of(
    castings: Sequence[Casting],
    batches: Sequence[Batch],
    shop: Workshop,
    *,
    releases: Mapping[int, int] | None = None,
) -> Pour:
    """Put batches on a clock: tasks, and what binds two of them.

    Parameters
    ----------
    castings : sequence of Casting
        The castings of the job.
    batches : sequence of Batch
        The batches to be placed on one day.
    shop : Workshop
        Hands, guns, day and rules.
    releases : mapping of int to int, optional
        Tick before which the form of a casting is not free.

    Returns
    -------
    Pour
        The tasks and their lags.

    Examples
    --------
    >>> from takeoff.batching.batches import make_batches
    >>> from takeoff.batching.demand import ClassMass, Coat
    >>> from takeoff.batching.mixers import Mixer
    >>> from takeoff.batching.steps import FreshMix, Step
    >>> step = Step("backer", FreshMix("b", 2000.0, 1800.0), rate_kg_s=10.0 / 60.0)
    >>> panel = Casting("panel", 1, (Coat(step, (ClassMass("show_face", 120.0),)),))
    >>> shop = Workshop((Mixer("pan", 0.030, residue_kg=0.0),), hands=2)
    >>> pour_of([panel], make_batches([panel], [[0]], shop), shop).lags
    (Lag(before=0, after=1, least=12, most=28),)
    """
    freed = releases or {}
    tasks = tuple(_task(castings, batch, shop, freed) for batch in batches)
    rules = shop.rules
    return Pour(
        tasks,
        _lags(castings, batches, tasks, shop),
        hands=shop.hands,
        guns=shop.guns,
        haul_ticks=ticks_up(rules.haul_s, rules),
        wash_ticks=ticks_up(rules.wash_s, rules),
        day_ticks=ticks_down(shop.day.day_s, rules),
    )


def _task(
    castings: Sequence[Casting], batch: Batch, shop: Workshop, freed: Mapping[int, int]
) -> Task:
    rules, step = shop.rules, batch.step
    coats = [(part, castings[part.casting].coats[part.coat]) for part in batch.parts]
    brush_s = sum(coat.step.brush_s for part, coat in coats if _finishes(part, coat))
    opened = [part.casting for part in batch.parts if part.coat == 0]
    return Task(
        mixer=batch.mixer.name,
        content=(step.mix.name, step.mix.colour),
        mix_ticks=ticks_up(shop.mix_s(batch.mixer, step.mix), rules),
        clean_ticks=ticks_up(shop.clean_s(batch.mixer), rules),
        place_ticks=ticks_up(placing_s(step, batch.gross_kg, rules), rules),
        brush_ticks=ticks_up(brush_s / step.workers, rules),
        pot_ticks=pot_ticks(step, rules),
        workers=step.workers,
        guns=step.gun_count if shop.guns is not None else 0,
        release=max((freed.get(casting, 0) for casting in opened), default=0),
    )


def _finishes(part: Part, coat: Coat) -> bool:
    """Tell whether a part is the last of its coat."""
    return part.end_kg >= coat.net_kg * (1.0 - _SLACK)


def _lags(
    castings: Sequence[Casting], batches: Sequence[Batch], tasks: Sequence[Task], shop: Workshop
) -> tuple[Lag, ...]:
    """Collect what binds two batches, the tightest of all that bind the same two."""
    rules = shop.rules
    spots = _spots(batches, tasks, rules)
    bounds = _Bounds(rules)
    kept = 1.0 - rules.window_reserve_share
    for (casting, coat), run in spots.items():
        step = castings[casting].coats[coat].step
        for one, other in pairwise(run):
            joint_s = one.last_s - other.first_s
            bounds.bind(one, other, joint_s, joint_s + step.wet_edge_s * kept)
        under = spots.get((casting, coat - 1))
        if under is None:
            continue
        below, ending = under[-1], tasks[under[-1].task]
        brushed_s = ending.busy_ticks * rules.tick_s if ending.brush_ticks else 0.0
        least_s = max(below.last_s + step.min_wait_s, brushed_s)
        bounds.bind(below, run[0], least_s - run[0].first_s, None)
        if step.max_wait_s is not None:
            oldest_s = step.max_wait_s * kept
            bounds.bind(under[0], run[0], 0.0, oldest_s + under[0].first_s - run[0].first_s)
            bounds.bind(below, run[-1], 0.0, oldest_s + below.last_s - run[-1].last_s)
    return bounds.lags()


class _Bounds:
    """The tightest of all bounds on the same two tasks."""

    def __init__(self, rules: PlacingRules) -> None:
        self._rules = rules
        self._tightest: dict[tuple[int, int], Lag] = {}

    def bind(self, first: _Spot, second: _Spot, least_s: float, most_s: float | None) -> None:
        """Add a bound on how far apart two tasks start, rounded to the safe side."""
        before, after = first.task, second.task
        low = ticks_up(least_s, self._rules)
        high = None if most_s is None else ticks_down(most_s, self._rules)
        old = self._tightest.get((before, after), Lag(before, after, low, high))
        highs = [one for one in (high, old.most) if one is not None]
        new = Lag(before, after, max(low, old.least), min(highs, default=None))
        self._tightest[before, after] = new

    def lags(self) -> tuple[Lag, ...]:
        """Give all bounds in order."""
        return tuple(self._tightest[pair] for pair in sorted(self._tightest))


def _spots(
    batches: Sequence[Batch], tasks: Sequence[Task], rules: PlacingRules
) -> dict[tuple[int, int], list[_Spot]]:
    """Say when, after the start of which batch, each coat is worked on; work runs evenly."""
    spots: dict[tuple[int, int], list[_Spot]] = {}
    for number, (batch, task) in enumerate(zip(batches, tasks, strict=True)):
        done_kg, gross_kg = 0.0, batch.gross_kg
        lasting_s = task.place_ticks * rules.tick_s
        for part in batch.parts:
            first_s = lasting_s * done_kg / gross_kg
            done_kg += part.gross_kg
            last_s = lasting_s * min(1.0, done_kg / gross_kg)
            spot = _Spot(number, part.start_kg, first_s, last_s)
            spots.setdefault((part.casting, part.coat), []).append(spot)
    for run in spots.values():
        run.sort(key=lambda spot: spot.at_kg)
    return spots
