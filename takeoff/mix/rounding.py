"""Masses rounded to the scale that holds them, and the scales too coarse for them."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from math import ceil

from takeoff.errors import MixError
from takeoff.mix.mix_rules import WeighRules
from takeoff.mix.scales import Scale, scale_for


@dataclass(frozen=True, slots=True)
class Reading:
    """What a scale shall show.

    Parameters
    ----------
    mass_kg : float
        The mass, rounded to its division. [kg]
    scale : Scale or None
        The scale; None where masses are not rounded.
    """

    mass_kg: float
    scale: Scale | None


def read_on_scales(
    masses_kg: Mapping[str, float],
    scales: Sequence[Scale],
    *,
    bucket_kg: float | None = None,
    within_kg: Mapping[str, float] | None = None,
    rules: WeighRules = WeighRules(),
) -> dict[str, Reading]:
    """Round each mass to the finest scale that holds it.

    Parameters
    ----------
    masses_kg : mapping of str to float
        Mass of each ingredient, above 0. [kg]
    scales : sequence of Scale
        The scales of the shop; without any, nothing is rounded.
    bucket_kg : float, optional
        Most that goes into one bucket. [kg]
    within_kg : mapping of str to float, optional
        What an ingredient is part of, as the water to add is of all water; its rounding counts
        against that. [kg]
    rules : WeighRules, optional
        How far a mass may be rounded.

    Returns
    -------
    dict of str to Reading
        What each scale shall show.

    Raises
    ------
    MixError
        If a scale is too coarse for an ingredient; the text gives the factor by which the whole
        mix must grow.

    Examples
    --------
    >>> scale = Scale(0.1)
    >>> read_on_scales({"cement": 10.03}, [scale])["cement"].mass_kg
    10.0
    >>> read_on_scales({"cement": 10.03, "pigment": 0.04012}, [scale])
    Traceback (most recent call last):
    takeoff.errors.MixError: 40.12 g of pigment would be weighed as 0 g (-100 %) on the scale \
that reads to 100 g; weigh at least 62.4 times as much at once, or on a finer scale
    """
    readings = {}
    for name, mass_kg in masses_kg.items():
        scale = scale_for(mass_kg, scales, bucket_kg=bucket_kg)
        readings[name] = Reading(mass_kg if scale is None else scale.shows_kg(mass_kg), scale)
    _check(masses_kg, readings, within_kg or {}, rules)
    return readings


def _check(
    masses_kg: Mapping[str, float],
    readings: Mapping[str, Reading],
    within_kg: Mapping[str, float],
    rules: WeighRules,
) -> None:
    """Refuse scales too coarse for what is put on them."""
    told, factors = [], []
    for name, reading in readings.items():
        mass_kg, scale = masses_kg[name], reading.scale
        if scale is None or mass_kg == 0.0:
            continue
        allowed_kg = rules.rounding_share * within_kg.get(name, mass_kg)
        # A mass that happens to lie near a division may not once the whole mix has grown.
        factors.append(scale.division_kg / (2.0 * allowed_kg))
        if abs(reading.mass_kg - mass_kg) <= allowed_kg:
            continue
        told.append(
            f"{_shown(mass_kg)} of {name} would be weighed as {_shown(reading.mass_kg)} "
            f"({100.0 * (reading.mass_kg / mass_kg - 1.0):+.0f} %) on the scale that reads to "
            f"{scale.name or _shown(scale.division_kg)}"
        )
    if told:
        raise MixError(
            f"{', '.join(told)}; weigh at least {ceil(10.0 * max(factors)) / 10.0:.12g} times as "
            "much at once, or on a finer scale"
        )


def _shown(mass_kg: float) -> str:
    """Write a mass, in grams below a kilogram."""
    return f"{mass_kg:.4g} kg" if mass_kg >= 1.0 else f"{1000.0 * mass_kg:.4g} g"
