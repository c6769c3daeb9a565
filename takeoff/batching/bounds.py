"""What no plan can beat: the fewest batches, and the shortest day."""

from __future__ import annotations

import math
from collections.abc import Sequence

from takeoff.batching.batches import limit_in
from takeoff.batching.clocks import Pour
from takeoff.batching.demand import Casting
from takeoff.batching.johnson import flow_ticks, johnson_order
from takeoff.batching.packing import least_bins
from takeoff.batching.steps import Split, Step
from takeoff.batching.workshops import Workshop
from takeoff.errors import BatchError


def least_batches(castings: Sequence[Casting], shop: Workshop) -> int:
    """Give a count of batches that no plan can do with less than.

    Parameters
    ----------
    castings : sequence of Casting
        What is cast.
    shop : Workshop
        Mixers, scale and rules.

    Returns
    -------
    int
        The bound: every mix by its mass, every whole face unbroken, waits and days left out.

    Raises
    ------
    BatchError
        If no mixer can make a batch of a step.

    Notes
    -----
    Steps of one mix could share batches, so their bound is that of their mass together.

    Examples
    --------
    >>> least_batches([], Workshop(()))
    0
    """
    by_content: dict[tuple[str, str], dict[Step, list[float]]] = {}
    for casting in castings:
        for coat in casting.coats:
            mix = coat.step.mix
            steps = by_content.setdefault((mix.name, mix.colour), {})
            steps.setdefault(coat.step, []).append(coat.gross_kg)
    return sum(_least_of_content(steps, shop) for steps in by_content.values())


def _least_of_content(steps: dict[Step, list[float]], shop: Workshop) -> int:
    limits = {step: _largest_limit_kg(step, shop) for step in steps}
    together = sum(sum(masses_kg) / limits[step] for step, masses_kg in steps.items())
    count = math.ceil(together - 1e-9)
    alone = max(_least_of_step(step, kg, limits[step]) for step, kg in steps.items())
    return max(1, count, alone)


def _least_of_step(step: Step, masses_kg: Sequence[float], limit_kg: float) -> int:
    """Bound one step by itself: whole faces by the packing bound, streams by their mass."""
    total_kg = sum(masses_kg)
    by_mass = math.ceil(total_kg / limit_kg - 1e-9)
    if step.split is Split.STREAM:
        return by_mass
    small_kg = [mass_kg for mass_kg in masses_kg if mass_kg <= limit_kg]
    large = sum(math.ceil(mass_kg / limit_kg - 1e-9) for mass_kg in masses_kg if mass_kg > limit_kg)
    return large + least_bins(small_kg, limit_kg)


def _largest_limit_kg(step: Step, shop: Workshop) -> float:
    """Give the most that one batch of a step can place in any mixer."""
    limits = []
    refusals = []
    for mixer in shop.suiting(step.mix):
        try:
            limits.append(limit_in(step, mixer, shop).placed_kg)
        except BatchError as error:
            refusals.append(error.text)
    if not limits:
        raise BatchError("; ".join(refusals) or f"no mixer suits {step.mix.name}")
    return max(limits)


def least_ticks(pour: Pour) -> int:
    """Give a length of the day that no order of some tasks can beat.

    Parameters
    ----------
    pour : Pour
        The tasks.

    Returns
    -------
    int
        The bound, in ticks: each mixer by itself and with the hands that place, all hands by their
        work, and each chain of layers.

    Examples
    --------
    >>> from takeoff.batching.clocks import Task
    >>> task = Task("pan", ("b", ""), 12, 4, 9, 0, 48, workers=2)
    >>> least_ticks(Pour((task,) * 3, (), 4, None, haul_ticks=2, wash_ticks=20, day_ticks=960))
    55
    """
    if not pour.tasks:
        return 0
    work = sum(task.mix_ticks + task.busy_ticks * task.workers for task in pour.tasks)
    mixers = sorted({task.mixer for task in pour.tasks})
    return max(
        -(-work // pour.hands),
        _chain_ticks(pour),
        *(_mixer_ticks(pour, mixer) for mixer in mixers),
    )


def fits_day(pour: Pour) -> bool:
    """Tell whether a pour may end within its day, as far as arithmetic can say.

    Parameters
    ----------
    pour : Pour
        The tasks.

    Returns
    -------
    bool
        False where no order of them ends in time.

    Examples
    --------
    >>> fits_day(Pour((), (), 1, None, haul_ticks=2, wash_ticks=20, day_ticks=960))
    True
    """
    return least_ticks(pour) <= pour.day_ticks


def _mixer_ticks(pour: Pour, mixer: str) -> int:
    """Bound the day by one mixer: it scrapes between batches, and washes between mixes."""
    tasks = [task for task in pour.tasks if task.mixer == mixer]
    contents = {task.content for task in tasks}
    # Scraping before the first batch is not needed, so all mixes may start one scraping earlier.
    scrape = min(task.clean_ticks for task in tasks)
    wash = sum(
        max(0, pour.wash_ticks - max(task.clean_ticks for task in tasks)) for _ in contents
    ) - max(0, pour.wash_ticks - max(task.clean_ticks for task in tasks))
    first = [task.mix_ticks + scrape for task in tasks]
    loaded = sum(first) - scrape + wash
    tail = min(pour.haul_ticks + task.busy_ticks for task in tasks)
    if any(2 * task.workers <= pour.hands for task in tasks):
        return loaded + tail
    second = [task.busy_ticks for task in tasks]
    order = johnson_order(first, second)
    return max(loaded + tail, flow_ticks(first, second, order) - scrape + pour.haul_ticks)


def _chain_ticks(pour: Pour) -> int:
    """Bound the day by the longest chain of layers, as if there were hands without end."""
    starts = [task.mix_ticks + pour.haul_ticks for task in pour.tasks]
    starts = [max(start, task.release) for start, task in zip(starts, pour.tasks, strict=True)]
    for _ in pour.tasks:
        moved = False
        for lag in pour.lags:
            if starts[lag.before] + lag.least > starts[lag.after]:
                starts[lag.after] = starts[lag.before] + lag.least
                moved = True
        if not moved:
            break
    return max(start + task.busy_ticks for start, task in zip(starts, pour.tasks, strict=True))
