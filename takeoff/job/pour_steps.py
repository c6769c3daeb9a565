"""The layers of a job as steps on the clock, with what was told and what is taken by default."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from typing import Literal

from takeoff.batching.heat import setting_ratio
from takeoff.batching.placing_rules import WaitRules
from takeoff.batching.steps import FreshMix, Split, Step
from takeoff.errors import BatchError
from takeoff.files.order import OrderedLayer, Shop
from takeoff.files.order_clock import LayerClock
from takeoff.files.order_parts import Portion
from takeoff.mix.ingredients import Role
from takeoff.mix.mixes import Mix, Placing
from takeoff.mix.proportions import proportions_of
from takeoff.mix.volumes import fresh_density_kg_m3


@dataclass(frozen=True, slots=True)
class Default:
    """A figure that nobody told.

    Parameters
    ----------
    what : str
        What it is of.
    key : str
        What to write to tell it, and in which table of which file.
    value_count : float
        The figure, in `unit`. [-]
    unit : str
        ``"s"`` or ``"share"``.
    """

    what: str
    key: str
    value_count: float
    unit: Literal["s", "share"]


@dataclass(frozen=True, slots=True)
class LayerSteps:
    """One portion as its passes.

    Parameters
    ----------
    portion : Portion
        The portion.
    mix : Mix
        Its mix.
    steps : tuple of Step
        Its passes, in order.
    over_walls : tuple of Step
        Its passes on a piece whose walls were packed or sprayed just before; like `steps`
        wherever nothing comes between.
    defaults : tuple of Default
        What of them nobody told.
    """

    portion: Portion
    mix: Mix
    steps: tuple[Step, ...]
    over_walls: tuple[Step, ...]
    defaults: tuple[Default, ...]


def layer_steps(
    wanted: Mapping[Portion, OrderedLayer],
    mixes: Mapping[Portion, Mix],
    shop: Shop,
    *,
    rules: WaitRules = WaitRules(),
) -> tuple[LayerSteps, ...]:
    """Put the layers of a job on the clock.

    Parameters
    ----------
    wanted : mapping of Portion to OrderedLayer
        What is placed by itself, in that order.
    mixes : mapping of Portion to Mix
        Their mixes.
    shop : Shop
        Hands and guns.
    rules : WaitRules, optional
        What is taken where the job tells no waits.

    Returns
    -------
    tuple of LayerSteps
        The passes of each.

    Raises
    ------
    BatchError
        If a layer lacks the pot life of its mix or its placing rate: no default would do.

    Examples
    --------
    >>> from takeoff.batching.mixers import Mixer
    >>> from takeoff.files.mix_file import read_mix
    >>> shop = Shop((Mixer("pail", 0.018, 0.2),), 1, 0.01, None, None, {})
    >>> backer = OrderedLayer(0.016, "backer-poured", 0.0, pot_life_s=1800.0, rate_kg_s=0.05)
    >>> mixes = {Portion.BACKER: read_mix("backer-poured")}
    >>> [made] = layer_steps({Portion.BACKER: backer}, mixes, shop)
    >>> made.steps[0].split.value
    'whole'
    """
    missing = [
        text
        for portion, ordered in wanted.items()
        for text in _missing(portion, ordered, mixes[portion])
    ]
    if missing:
        raise BatchError(
            "a pour cannot be planned without a clock: " + "; ".join(missing) + "; take them from "
            "the product's data sheet or from your own count, and write them to the job file"
        )
    made = []
    face = wanted.get(Portion.FACE_COAT)
    walls = Portion.WALL_BACKER in wanted
    for portion, ordered in wanted.items():
        told = _Told(portion, ordered, mixes[portion], shop, rules)
        under = None if portion is Portion.FACE_COAT else face
        under_mix = None if under is None else mixes[Portion.FACE_COAT]
        made.append(told.steps(under, under_mix, walls=walls and portion is Portion.BACKER))
    return tuple(made)


def _missing(portion: Portion, ordered: OrderedLayer, mix: Mix) -> Iterator[str]:
    """Name the figures without which there is no clock."""
    if ordered.pot_life_s is None and mix.pot_life_s is None:
        yield f'[{portion.value}] tells no pot_life of {mix.name}, like pot_life = "25 min"'
    if ordered.rate_kg_s is None:
        text = "what one pair of hands places"
        yield f'[{portion.value}] tells no rate, {text}, like rate = "3 kg/min"'


class _Told:
    """What a job tells of one layer, and what is taken where it tells nothing."""

    def __init__(
        self, portion: Portion, ordered: OrderedLayer, mix: Mix, shop: Shop, rules: WaitRules
    ) -> None:
        self.portion = portion
        self.ordered = ordered
        self.clock = ordered.clock
        self.mix = mix
        self.shop = shop
        self.rules = rules
        self.defaults: list[Default] = []
        self.covers = False
        self.under_ratio = 1.0

    def steps(
        self, under: OrderedLayer | None, under_mix: Mix | None, *, walls: bool
    ) -> LayerSteps:
        """Give the passes of the portion, and those that follow on walls placed just before."""
        waits_s = self._layer_waits(under, under_mix)
        steps = self._passes(waits_s)
        over = steps
        if walls:
            # The packed wall is fresh: the pour may follow at once, and runs up against it.
            ratio = _ratio(self.clock)
            first, *later = self._passes((0.0, self._longest_s() * ratio))
            over = (replace(first, wait_ratio=ratio), *later)
        defaults = tuple(dict.fromkeys(self.defaults))
        return LayerSteps(self.portion, self.mix, steps, over, defaults)

    def _passes(self, first_s: tuple[float, float | None]) -> tuple[Step, ...]:
        passes = range(1, self.clock.passes + 1)
        return tuple(
            self._step(number, first_s if number == 1 else self._pass_waits()) for number in passes
        )

    def _step(self, number: int, waits_s: tuple[float, float | None]) -> Step:
        clock, shop = self.clock, self.shop
        sprayed = self.mix.placing is Placing.SPRAYED and bool(shop.clock.hoppers_m3)
        guns = len(shop.clock.hoppers_m3)
        density_kg_m3 = fresh_density_kg_m3(self.mix)
        workers = max(1, shop.hands - 1) if clock.hands is None else clock.hands
        workers = min(workers, guns) if sprayed else workers
        last = number == clock.passes
        brush_s = 0.0 if last else self._or(clock.brush_s, self.rules.brush_s, "brushing", "brush")
        edge_s = self._or(clock.wet_edge_s, self.rules.wet_edge_s, "wet edge", "wet_edge")
        split = Split.STREAM if self.covers else Split.WHOLE
        return Step(
            layer=self.portion.layer.value,
            mix=fresh_mix(self.mix, self.ordered),
            rate_kg_s=self.ordered.rate_kg_s or 0.0,
            workers=workers,
            pass_number=number,
            placing=self.mix.placing.value,
            split=Split.SINGLE if clock.one_batch else split,
            overspray_share=self.ordered.lost_share,
            wet_edge_s=edge_s * min(1.0, _ratio(clock)),
            min_wait_s=waits_s[0],
            max_wait_s=waits_s[1],
            workers_told=clock.hands is not None,
            wait_ratio=self.under_ratio if number == 1 else _ratio(clock),
            edge_ratio=min(1.0, _ratio(clock)),
            table=self.portion.value,
            brush_s=brush_s,
            gun_count=workers if sprayed else 0,
            hopper_kg=min(shop.clock.hoppers_m3) * density_kg_m3 if sprayed else None,
        )

    def _layer_waits(
        self, under: OrderedLayer | None, under_mix: Mix | None
    ) -> tuple[float, float | None]:
        """Give the waits after the layer under this one; it sets by its own temperature."""
        self.covers = under is not None
        if under is None or under_mix is None:
            return 0.0, None
        usual_s = self.rules.layer_least_s
        least_s = self.clock.least_wait_s
        if least_s is None:
            least_s = under_mix.wait_s
        least_s = self._or(least_s, usual_s, "least wait", "least_wait")
        ratio = self.under_ratio = _ratio(under.clock)
        return least_s * ratio, self._longest_s() * ratio

    def _longest_s(self) -> float:
        """Give how old what is covered may be."""
        return self._or(
            self.clock.longest_wait_s, self.rules.layer_most_s, "longest wait", "longest_wait"
        )

    def _pass_waits(self) -> tuple[float, float | None]:
        """Give the waits between two passes."""
        clock, rules, ratio = self.clock, self.rules, _ratio(self.clock)
        least_s = self._or(
            clock.pass_least_wait_s,
            rules.pass_least_s,
            "least wait between passes",
            "pass_least_wait",
        )
        most_s = self._or(
            clock.pass_longest_wait_s,
            rules.pass_most_s,
            "longest wait between passes",
            "pass_longest_wait",
        )
        return least_s * ratio, most_s * ratio

    def _or(self, told_s: float | None, usual_s: float, what: str, key: str) -> float:
        """Take what was told, or note what is taken instead."""
        if told_s is not None:
            return told_s
        name = self.portion.word
        key = f"{key} in [{self.portion.value}] of the job file"
        self.defaults.append(Default(f"{what} of the {name}", key, usual_s, "s"))
        return usual_s


def fresh_mix(mix: Mix, ordered: OrderedLayer) -> FreshMix:
    """Give what batching must know of a mix, as it is on the day.

    Parameters
    ----------
    mix : Mix
        The mix.
    ordered : OrderedLayer
        The layer it is for, with its temperature.

    Returns
    -------
    FreshMix
        Density, pot life, bag and mixing time.

    Examples
    --------
    >>> from takeoff.files.mix_file import read_mix
    >>> backer = OrderedLayer(0.016, "backer-poured", 0.0, pot_life_s=1800.0, rate_kg_s=0.05)
    >>> fresh_mix(read_mix("backer-poured"), backer).pot_life_s
    1800.0
    """
    bag_kg = None
    if mix.bag is not None:
        parts = proportions_of(mix).parts
        premix = next(part for part in parts if part.ingredient.role is Role.PREMIX)
        bag_kg = mix.bag.mass_kg / premix.mass_share
    mixing = mix.mixing
    return FreshMix(
        mix.name,
        fresh_density_kg_m3(mix),
        (ordered.pot_life_s or mix.pot_life_s or 0.0) * min(1.0, _ratio(ordered.clock)),
        bag_kg=bag_kg,
        mix_s=0.0 if mixing is None else mixing.mix_s + mixing.rest_s + mixing.again_s,
    )


def _ratio(clock: LayerClock) -> float:
    """Give how much longer setting takes than at the usual temperature."""
    return 1.0 if clock.mix_c is None else setting_ratio(clock.mix_c)
