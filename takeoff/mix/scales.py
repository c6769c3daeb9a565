"""Scales: what each shows, which one holds a mass, and in how many goes it is weighed."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass
from decimal import Decimal

from takeoff.errors import MixError


@dataclass(frozen=True, slots=True)
class Scale:
    """One scale.

    Parameters
    ----------
    division_kg : float
        Smallest step that it shows. [kg]
    capacity_kg : float, default inf
        Most that it holds; infinity where nobody has said. [kg]
    name : str, default ""
        Its division as told, such as ``"10 g"``, whose unit the sheet is written in.

    Raises
    ------
    MixError
        If its division is not above 0, or it holds less than one.

    Examples
    --------
    >>> Scale(0.01, 30.0, "10 g").shows_kg(15.3149)
    15.31
    """

    division_kg: float
    capacity_kg: float = math.inf
    name: str = ""

    def __post_init__(self) -> None:
        if not 0.0 < self.division_kg < math.inf:
            raise MixError(
                f"the division of a scale must be above 0, found {self.division_kg:g} kg"
            )
        if not self.capacity_kg >= self.division_kg:
            raise MixError(
                f"a scale holds at least its division of {self.division_kg:g} kg, found a "
                f"capacity of {self.capacity_kg:g} kg"
            )

    def shows_kg(self, mass_kg: float) -> float:
        """Give the mass rounded to the nearest division.

        Parameters
        ----------
        mass_kg : float
            A mass. [kg]

        Returns
        -------
        float
            What the scale shows, in decimals, so that a tenth stays a tenth. [kg]
        """
        division = Decimal(repr(self.division_kg))
        return float(round(Decimal(repr(mass_kg)) / division) * division)


@dataclass(frozen=True, slots=True)
class Portion:
    """Equal goes in which an ingredient is weighed.

    Parameters
    ----------
    count : int
        How many.
    mass_kg : float
        Mass of each. [kg]
    bag : bool, default False
        Whether each is a whole bag, which is not weighed.
    """

    count: int
    mass_kg: float
    bag: bool = False


def scale_for(
    mass_kg: float, scales: Iterable[Scale], *, bucket_kg: float | None = None
) -> Scale | None:
    """Choose the finest scale that holds a mass, or a bucket of it.

    Parameters
    ----------
    mass_kg : float
        The mass. [kg]
    scales : iterable of Scale
        The scales of the shop.
    bucket_kg : float, optional
        Most that goes into one bucket. [kg]

    Returns
    -------
    Scale or None
        The scale; where none holds so much, the one that holds most; None where there is none.

    Examples
    --------
    >>> bench, floor = Scale(0.001, 2.0), Scale(0.05, 60.0)
    >>> scale_for(0.4, [floor, bench]) is bench, scale_for(30.0, [floor, bench]) is floor
    (True, True)
    """
    at_once_kg = mass_kg if bucket_kg is None else min(mass_kg, bucket_kg)
    finest_first = sorted(scales, key=lambda scale: (scale.division_kg, -scale.capacity_kg))
    holding = [scale for scale in finest_first if scale.capacity_kg >= at_once_kg]
    if holding:
        return holding[0]
    return max(finest_first, key=lambda scale: scale.capacity_kg, default=None)


def split(
    mass_kg: float, *, scale: Scale | None = None, bucket_kg: float | None = None
) -> tuple[Portion, ...]:
    """Split a mass into full buckets and a rest.

    Parameters
    ----------
    mass_kg : float
        What the scale shall show in all. [kg]
    scale : Scale, optional
        The scale; it limits a bucket too.
    bucket_kg : float, optional
        Most that goes into one bucket. [kg]

    Returns
    -------
    tuple of Portion
        Full buckets, then what is left; one portion where all of it fits.

    Raises
    ------
    MixError
        If a bucket holds less than one division of the scale.

    Examples
    --------
    >>> split(52.4, scale=Scale(0.1), bucket_kg=20.0)
    (Portion(count=2, mass_kg=20.0, bag=False), Portion(count=1, mass_kg=12.4, bag=False))
    """
    limit_kg = min(
        math.inf if bucket_kg is None else bucket_kg,
        math.inf if scale is None else scale.capacity_kg,
    )
    if mass_kg <= limit_kg:
        return (Portion(1, mass_kg),)
    full = Decimal(repr(limit_kg))
    if scale is not None:
        division = Decimal(repr(scale.division_kg))
        full = full // division * division
    if full <= 0:
        raise MixError(f"a bucket of {limit_kg:g} kg holds less than the scale can show")
    count, rest = divmod(Decimal(repr(mass_kg)), full)
    whole = Portion(int(count), float(full))
    return (whole, Portion(1, float(rest))) if rest else (whole,)
