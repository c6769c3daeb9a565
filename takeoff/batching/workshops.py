"""What a shop has for a pour: mixers, hands, guns, tables, forms and the day."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from takeoff.batching.mixers import Mixer
from takeoff.batching.placing_rules import DayRules, PlacingRules
from takeoff.batching.steps import FreshMix


@dataclass(frozen=True, slots=True)
class Workshop:
    """What a shop has for a pour.

    Parameters
    ----------
    mixers : tuple of Mixer
        Its mixers.
    hands : int, default 1
        How many work.
    guns : int or None, default None
        How many guns there are; None where nobody said.
    tables : int or None, default None
        How many castings find room at once; None for any number.
    forms : mapping of str to int, default empty
        How many forms there are of a piece; as many as it is cast where not told.
    day_count : int or None, default None
        On how many days the job must be poured; None for as many as it takes.
    division_kg : float or None, default None
        Division of the scale. [kg]
    rounding_m3 : float, default 0
        What is already taken off the capacity of every mixer for what scales round up. [m³]
    day : DayRules, optional
        The working day, and when forms are free again.
    rules : PlacingRules, optional
        Reserves of the clock, and what the work around a batch takes.
    """

    mixers: tuple[Mixer, ...]
    hands: int = 1
    guns: int | None = None
    tables: int | None = None
    forms: Mapping[str, int] = field(default_factory=dict)
    day_count: int | None = None
    division_kg: float | None = None
    rounding_m3: float = 0.0
    day: DayRules = field(default_factory=DayRules)
    rules: PlacingRules = field(default_factory=PlacingRules)

    def suiting(self, mix: FreshMix) -> tuple[Mixer, ...]:
        """Give the mixers that a mix may be made in."""
        return tuple(mixer for mixer in self.mixers if not mixer.suits or mix.name in mixer.suits)

    def mix_s(self, mixer: Mixer, mix: FreshMix) -> float:
        """Give the time to charge and mix one batch, rests of the mix included, in [s]."""
        return max(mix.mix_s, self.rules.mix_s if mixer.mix_s is None else mixer.mix_s)

    def clean_s(self, mixer: Mixer) -> float:
        """Give the time to scrape a mixer between batches of one mix, in [s]."""
        return self.rules.clean_s if mixer.clean_s is None else mixer.clean_s
