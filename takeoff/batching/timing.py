"""How long one batch takes, counted in ticks of the clock so that rounding never breaks a rule."""

from __future__ import annotations

import math

from takeoff.batching.mixers import Mixer
from takeoff.batching.placing_rules import PlacingRules
from takeoff.batching.steps import Step

_SLACK = 1e-6


def ticks_up(time_s: float, rules: PlacingRules) -> int:
    """Count a duration in ticks, rounded up.

    Parameters
    ----------
    time_s : float
        The duration. [s]
    rules : PlacingRules
        Length of a tick.

    Returns
    -------
    int
        Ticks.

    Examples
    --------
    >>> ticks_up(252.0, PlacingRules())
    9
    """
    return math.ceil(time_s / rules.tick_s - _SLACK)


def ticks_down(time_s: float, rules: PlacingRules) -> int:
    """Count a limit in ticks, rounded down.

    Parameters
    ----------
    time_s : float
        The limit. [s]
    rules : PlacingRules
        Length of a tick.

    Returns
    -------
    int
        Ticks.

    Examples
    --------
    >>> ticks_down(463.8, PlacingRules())
    15
    """
    return math.floor(time_s / rules.tick_s + _SLACK)


def pot_ticks(step: Step, rules: PlacingRules) -> int:
    """Give what of the pot life is planned with: from the end of mixing to the last placing.

    Parameters
    ----------
    step : Step
        The step, with its mix.
    rules : PlacingRules
        The reserve.

    Returns
    -------
    int
        Ticks.

    Examples
    --------
    >>> from takeoff.batching.steps import FreshMix
    >>> pot_ticks(Step("backer", FreshMix("b", 2000.0, pot_life_s=1800.0), 0.05), PlacingRules())
    48
    """
    return ticks_down(step.mix.pot_life_s * (1.0 - rules.pot_reserve_share), rules)


def placing_s(step: Step, gross_kg: float, rules: PlacingRules) -> float:
    """Give the time that placing a mass takes, refills of the hoppers between.

    Parameters
    ----------
    step : Step
        Rate, hands and hoppers.
    gross_kg : float
        What leaves the bucket. [kg]
    rules : PlacingRules
        Time of a refill.

    Returns
    -------
    float
        The time. [s]

    Examples
    --------
    >>> from takeoff.batching.steps import FreshMix
    >>> face = Step("face_coat", FreshMix("f", 2000.0, 1800.0), 0.05, gun_count=1, hopper_kg=8.0)
    >>> placing_s(face, 20.0, PlacingRules())
    520.0
    """
    spraying_s = gross_kg / step.all_hands_kg_s
    if step.hopper_kg is None:
        return spraying_s
    loads = math.ceil(gross_kg / _loaded_kg(step) - _SLACK)
    return spraying_s + max(0, loads - 1) * rules.refill_s


def placeable_kg(step: Step, rules: PlacingRules) -> float:
    """Give the most that can be placed of one batch before it goes off.

    Parameters
    ----------
    step : Step
        Rate, hands, hoppers and pot life.
    rules : PlacingRules
        Reserve, carrying and refills.

    Returns
    -------
    float
        The mass; 0 where carrying takes all the time. [kg]

    Examples
    --------
    >>> from takeoff.batching.steps import FreshMix
    >>> step = Step("backer", FreshMix("b", 2000.0, pot_life_s=1200.0), rate_kg_s=0.05)
    >>> placeable_kg(step, PlacingRules())
    45.0
    """
    usable_s = (pot_ticks(step, rules) - ticks_up(rules.haul_s, rules)) * rules.tick_s
    if usable_s <= 0.0:
        return 0.0
    if step.hopper_kg is None:
        return usable_s * step.all_hands_kg_s
    best_kg, loads = 0.0, 1
    while (left_s := usable_s - (loads - 1) * rules.refill_s) > 0.0:
        best_kg = max(best_kg, min(loads * _loaded_kg(step), left_s * step.all_hands_kg_s))
        loads += 1
    return best_kg


def cycle_s(mixer: Mixer, rules: PlacingRules) -> float:
    """Give the least time from one batch of a mixer to its next.

    Parameters
    ----------
    mixer : Mixer
        The mixer.
    rules : PlacingRules
        What a shop is taken to need that has not said.

    Returns
    -------
    float
        To mix and to scrape. [s]

    Examples
    --------
    >>> cycle_s(Mixer("pan", 0.06, 0.3), PlacingRules())
    480.0
    """
    mix_s = rules.mix_s if mixer.mix_s is None else mixer.mix_s
    return mix_s + (rules.clean_s if mixer.clean_s is None else mixer.clean_s)


def _loaded_kg(step: Step) -> float:
    """Give what all hoppers in use hold together; one gun, where nobody counted them."""
    return (step.hopper_kg or 0.0) * max(1, step.gun_count)
