"""The batches of some castings: one lot for each step, in the mixer that needs fewest."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from takeoff.batching.demand import Casting
from takeoff.batching.lot_items import Item, lot_items
from takeoff.batching.lots import (
    BatchLimit,
    Bound,
    batch_count,
    batch_limit,
    weighed_kg,
)
from takeoff.batching.mixers import Mixer
from takeoff.batching.packing import packed
from takeoff.batching.steps import Split, Step
from takeoff.batching.streams import cut_equally
from takeoff.batching.timing import placeable_kg
from takeoff.batching.workshops import Workshop
from takeoff.errors import BatchError

_SLACK = 1e-9


@dataclass(frozen=True, slots=True)
class Part:
    """What one batch puts on one casting.

    Parameters
    ----------
    casting : int
        Number of the casting in the job.
    coat : int
        Number of the coat on it.
    start_kg, end_kg : float
        From where to where in the net mass of the coat. [kg]
    gross_kg : float
        What leaves the bucket for it. [kg]
    """

    casting: int
    coat: int
    start_kg: float
    end_kg: float
    gross_kg: float


@dataclass(frozen=True, slots=True)
class Batch:
    """One filling of a mixer.

    Parameters
    ----------
    mixer : Mixer
        Where it is mixed.
    step : Step
        How it is placed.
    parts : tuple of Part
        Where it goes, in order.
    mass_kg : float
        What is weighed for it, residue included. [kg]
    bound : Bound
        What bound its size.
    """

    mixer: Mixer
    step: Step
    parts: tuple[Part, ...]
    mass_kg: float
    bound: Bound

    @property
    def gross_kg(self) -> float:
        """What leaves the bucket for the pieces, in [kg]."""
        return sum(part.gross_kg for part in self.parts)

    @property
    def leftover_kg(self) -> float:
        """What is over, from rounding up or from the least fill, in [kg]."""
        return self.mass_kg - self.mixer.residue_kg - self.gross_kg


def make_batches(
    castings: Sequence[Casting], waves: Sequence[Sequence[int]], shop: Workshop
) -> tuple[Batch, ...]:
    """Make the lots of some castings of a job, one for each step of a wave.

    Parameters
    ----------
    castings : sequence of Casting
        The castings of the job.
    waves : sequence of sequence of int
        Which of them, wave by wave; two waves in a row share a lot where two passes are alike.
    shop : Workshop
        Mixers, scale and rules.

    Returns
    -------
    tuple of Batch
        The batches, lot by lot.

    Raises
    ------
    BatchError
        If no mixer can make a batch of a step.

    Examples
    --------
    >>> from takeoff.batching.demand import ClassMass, Coat
    >>> from takeoff.batching.steps import FreshMix
    >>> step = Step("backer", FreshMix("b", 2000.0, 1800.0), rate_kg_s=10.0 / 60.0)
    >>> panel = Casting("panel", 1, (Coat(step, (ClassMass("show_face", 120.0),)),))
    >>> shop = Workshop((Mixer("pan", 0.030, residue_kg=0.0),))
    >>> [batch.mass_kg for batch in make_batches([panel], [[0]], shop)]
    [60.0, 60.0]
    """
    used: dict[str, int] = {}
    lots = lot_items(castings, waves)
    return tuple(batch for lot in lots for batch in _lot(lot.step, lot.items, shop, used))


def limit_in(step: Step, mixer: Mixer, shop: Workshop) -> BatchLimit:
    """Give the most that one batch of a step can place, made in a mixer.

    Parameters
    ----------
    step : Step
        The step.
    mixer : Mixer
        The mixer.
    shop : Workshop
        Scale and rules.

    Returns
    -------
    BatchLimit
        The most, and what binds it.

    Raises
    ------
    BatchError
        If the mixer holds no batch, or the pot life leaves no time to place one.

    Examples
    --------
    >>> from takeoff.batching.steps import FreshMix
    >>> shop = Workshop((Mixer("pan", 0.030, residue_kg=0.0),))
    >>> step = Step("backer", FreshMix("b", 2000.0, pot_life_s=1200.0), rate_kg_s=0.05)
    >>> limit_in(step, shop.mixers[0], shop).bound.value
    'pot_life'
    """
    limit = batch_limit(
        mixer,
        density_kg_m3=step.mix.density_kg_m3,
        placed_kg=placeable_kg(step, shop.rules),
        division_kg=shop.division_kg,
        bag_kg=step.mix.bag_kg,
    )
    if limit.placed_kg <= 0.0:
        raise BatchError(
            f"the pot life of {step.mix.name} leaves no time after carrying; see the product's "
            "data sheet, or mix nearer to the form"
        )
    least_kg = mixer.least_fill_m3 * step.mix.density_kg_m3 - mixer.residue_kg
    if limit.bound is Bound.POT_LIFE and limit.placed_kg < least_kg:
        raise BatchError(
            f"the least fill of {mixer.name} is more of {step.mix.name} than can be placed within "
            "its pot life; give a smaller mixer"
        )
    return limit


def _lot(
    step: Step, items: Sequence[Item], shop: Workshop, used: dict[str, int]
) -> tuple[Batch, ...]:
    """Make the lot in the mixer that needs fewest batches, then wastes least, then is smallest."""
    made: list[tuple[tuple[int, float, float], tuple[Batch, ...]]] = []
    refusals = []
    for mixer in shop.suiting(step.mix):
        try:
            batches = _lot_in(mixer, step, items, shop)
        except BatchError as error:
            refusals.append(error.text)
            continue
        waste_kg = sum(batch.leftover_kg + mixer.residue_kg for batch in batches)
        made.append(((len(batches), round(waste_kg, 6), mixer.capacity_m3), batches))
    if not made:
        raise BatchError("; ".join(refusals) or f"no mixer suits {step.mix.name}")
    return _shared_out(min(made, key=lambda one: one[0])[1], shop, used)


def _shared_out(
    batches: tuple[Batch, ...], shop: Workshop, used: dict[str, int]
) -> tuple[Batch, ...]:
    """Share a lot among mixers alike; a show face stays in one of them, each lot in its own."""
    first = batches[0]
    alike = [
        mixer
        for mixer in shop.suiting(first.step.mix)
        if replace(mixer, name=first.mixer.name) == first.mixer
    ]
    if len(alike) == 1:
        return batches
    start = used.get(first.mixer.name, 0)
    streamed = first.step.split is Split.STREAM
    used[first.mixer.name] = start + (len(batches) if streamed else 1)
    return tuple(
        replace(batch, mixer=alike[(start + (number if streamed else 0)) % len(alike)])
        for number, batch in enumerate(batches)
    )


def _lot_in(mixer: Mixer, step: Step, items: Sequence[Item], shop: Workshop) -> tuple[Batch, ...]:
    """Make the lot in one mixer: its batches are all of one mass."""
    limit = limit_in(step, mixer, shop)
    groups = _GROUPS[step.split](items, limit)
    needed_kg = max(sum(part.gross_kg for part in parts) for parts in groups) + mixer.residue_kg
    least_kg = mixer.least_fill_m3 * step.mix.density_kg_m3
    mass_kg = weighed_kg(
        max(needed_kg, least_kg), division_kg=shop.division_kg, bag_kg=step.mix.bag_kg
    )
    bound = limit.bound if len(groups) > 1 else Bound.DEMAND
    if needed_kg < least_kg:
        bound = Bound.LEAST_FILL
    if step.overspray_share:
        groups = [
            tuple(_net(part, 1.0 - step.overspray_share) for part in parts) for parts in groups
        ]
    return tuple(Batch(mixer, step, parts, mass_kg, bound) for parts in groups)


def _net(part: Part, net_share: float) -> Part:
    """Count the ends of a part in what stays in the piece."""
    return replace(part, start_kg=part.start_kg * net_share, end_kg=part.end_kg * net_share)


def _streamed(items: Sequence[Item], limit: BatchLimit) -> list[tuple[Part, ...]]:
    """Cut the items as a stream."""
    masses_kg = [item.gross_kg for item in items]
    count = batch_count(sum(masses_kg), limit)
    return [
        tuple(_part(items[cut.item], cut.start_kg, cut.end_kg) for cut in cuts)
        for cuts in cut_equally(masses_kg, count)
    ]


def _whole(items: Sequence[Item], limit: BatchLimit) -> list[tuple[Part, ...]]:
    """Cut only items larger than a batch, each by itself; put the others together whole."""
    room_kg = limit.placed_kg * (1.0 + _SLACK)
    small = [item for item in items if item.gross_kg <= room_kg]
    groups = [
        tuple(_part(small[number], 0.0, small[number].gross_kg) for number in group)
        for group in packed([item.gross_kg for item in small], room_kg)
    ]
    for item in items:
        if item.gross_kg > room_kg:
            count = batch_count(item.gross_kg, limit)
            groups += [
                tuple(_part(item, cut.start_kg, cut.end_kg) for cut in cuts)
                for cuts in cut_equally([item.gross_kg], count)
            ]
    return sorted(groups, key=lambda parts: (parts[0].casting, parts[0].start_kg))


def _part(item: Item, start_kg: float, end_kg: float) -> Part:
    return Part(item.casting, item.coat, start_kg, end_kg, gross_kg=end_kg - start_kg)


_GROUPS = {Split.STREAM: _streamed, Split.WHOLE: _whole, Split.SINGLE: _whole}
