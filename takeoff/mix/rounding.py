"""Masses rounded to the division of a scale, and the scales too coarse for them."""

from __future__ import annotations

from collections.abc import Mapping
from decimal import Decimal
from math import ceil

from takeoff.errors import MixError
from takeoff.mix.mix_rules import WeighRules


def rounded_to_scale_kg(
    masses_kg: Mapping[str, float], division_kg: float, *, rules: WeighRules = WeighRules()
) -> dict[str, float]:
    """Round masses to the nearest division of a scale.

    Parameters
    ----------
    masses_kg : mapping of str to float
        Mass of each ingredient, above 0. [kg]
    division_kg : float
        Division of the scale. [kg]
    rules : WeighRules, optional
        How far a mass may be rounded.

    Returns
    -------
    dict of str to float
        What the scale shall show. [kg]

    Raises
    ------
    MixError
        If the division is not above 0, or too coarse for an ingredient; the text gives the factor
        by which the whole mix must grow.

    Examples
    --------
    >>> rounded_to_scale_kg({"cement": 10.003, "pigment": 0.4012}, 0.01)
    {'cement': 10.0, 'pigment': 0.4}
    >>> rounded_to_scale_kg({"cement": 10.003, "pigment": 0.04012}, 0.1)
    Traceback (most recent call last):
    takeoff.errors.MixError: the scale reads to 100 g: 40.12 g of pigment would be weighed as \
0 g (-100 %); weigh at least 62.4 times as much at once, or on a finer scale
    """
    if not 0.0 < division_kg < float("inf"):
        raise MixError(f"the division of a scale must be above 0, found {division_kg:g} kg")
    rounded_kg = {name: _rounded_kg(mass, division_kg) for name, mass in masses_kg.items()}
    coarse = {
        name: mass_kg
        for name, mass_kg in masses_kg.items()
        if abs(rounded_kg[name] - mass_kg) > rules.rounding_share * mass_kg
    }
    if coarse:
        factor = division_kg / (2.0 * rules.rounding_share * min(coarse.values()))
        told = ", ".join(
            f"{_shown(mass_kg)} of {name} would be weighed as {_shown(rounded_kg[name])} "
            f"({100.0 * (rounded_kg[name] / mass_kg - 1.0):+.0f} %)"
            for name, mass_kg in coarse.items()
        )
        raise MixError(
            f"the scale reads to {_shown(division_kg)}: {told}; weigh at least "
            f"{ceil(10.0 * factor) / 10.0:.12g} times as much at once, or on a finer scale"
        )
    return rounded_kg


def _rounded_kg(mass_kg: float, division_kg: float) -> float:
    """Round in decimals, so that a tenth stays a tenth."""
    division = Decimal(repr(division_kg))
    return float(round(Decimal(repr(mass_kg)) / division) * division)


def _shown(mass_kg: float) -> str:
    """Write a mass, in grams below a kilogram."""
    return f"{mass_kg:.4g} kg" if mass_kg >= 1.0 else f"{1000.0 * mass_kg:.4g} g"
