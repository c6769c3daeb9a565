"""What a shop has told of the time and the money that a wall takes."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from decimal import Decimal

from takeoff.mix.ingredients import Role
from takeoff.mix.mixes import Mix
from takeoff.mix.proportions import proportions_of
from takeoff.piece.ways import Way
from takeoff.pricing.packs import Pack

_HOUR_S = 3600


@dataclass(frozen=True, slots=True)
class WayTime:
    """How long one pair of hands is at a wall.

    Parameters
    ----------
    seconds_per_m2 : float or None, default None
        To build, set and strip the inner form, by its area; None where not told. [s/m²]
    seconds_per_kg : float or None, default None
        To place the backer, by the mass that stays in the piece; None where not told. [s/kg]
    """

    seconds_per_m2: float | None = None
    seconds_per_kg: float | None = None


@dataclass(frozen=True, slots=True)
class WayPrices:
    """What a shop has told of time and money; all of it may be left out.

    Parameters
    ----------
    kg : mapping of str to Decimal
        Price of a kilogram of each ingredient; water that has none is free.
    hour : Decimal or None, default None
        Price of an hour of one pair of hands.
    inner_form_m2 : Decimal or None, default None
        Price of a square metre of inner form, beside the time told for it. Where one of the two
        is told, the other may be left out.
    times : mapping of Way to WayTime
        How long a wall takes in each way.
    """

    kg: Mapping[str, Decimal] = field(default_factory=dict)
    hour: Decimal | None = None
    inner_form_m2: Decimal | None = None
    times: Mapping[Way, WayTime] = field(default_factory=dict)

    def taken_s(self, way: Way, *, inner_form_m2: float, placed_kg: float) -> float | None:
        """Give the time that a wall takes.

        Parameters
        ----------
        way : Way
            How it is cast.
        inner_form_m2 : float
            Inner form of the wall; 0 where it needs none. [m²]
        placed_kg : float
            Backer that is placed. [kg]

        Returns
        -------
        float or None
            Time of one pair of hands; None where a time that it takes is not told. [s]

        Examples
        --------
        >>> prices = WayPrices(times={Way.DAMMED: WayTime(3600.0, 15.0)})
        >>> prices.taken_s(Way.DAMMED, inner_form_m2=0.5, placed_kg=20.0)
        2100.0
        """
        told = self.times.get(way, WayTime())
        priced = inner_form_m2 == 0.0 or self.inner_form_m2 is not None
        seconds_per_m2 = 0.0 if told.seconds_per_m2 is None and priced else told.seconds_per_m2
        if told.seconds_per_kg is None or seconds_per_m2 is None:
            return None
        return inner_form_m2 * seconds_per_m2 + placed_kg * told.seconds_per_kg

    def of_material(self, mix: Mix, mixed_kg: float) -> Decimal | None:
        """Give the price of so much of a mix, not yet rounded.

        Parameters
        ----------
        mix : Mix
            The mix.
        mixed_kg : float
            How much is mixed. [kg]

        Returns
        -------
        Decimal or None
            The price; None where an ingredient has none.

        Raises
        ------
        MixError
            If the doses of the mix contradict each other.
        """
        price = Decimal(0)
        for part in proportions_of(mix).parts:
            name, free = part.ingredient.name, part.ingredient.role is Role.WATER
            if name not in self.kg and not free:
                return None
            price += self.kg.get(name, Decimal(0)) * _exact(part.mass_share * mixed_kg)
        return price

    def of_labour(self, taken_s: float | None) -> Decimal | None:
        """Give the price of so much time, not yet rounded.

        Parameters
        ----------
        taken_s : float or None
            The time; None where it is not known. [s]

        Returns
        -------
        Decimal or None
            The price; None where time or hour price is not told.
        """
        if taken_s is None or self.hour is None:
            return None
        return self.hour * _exact(taken_s) / _HOUR_S

    def of_inner_form(self, way: Way, area_m2: float) -> Decimal | None:
        """Give the price of an inner form beside its time, not yet rounded.

        Parameters
        ----------
        way : Way
            How the wall is cast.
        area_m2 : float
            Area of the form; 0 where there is none. [m²]

        Returns
        -------
        Decimal or None
            The price; None where there is a form, and neither price nor time is told for it.
        """
        timed = self.times.get(way, WayTime()).seconds_per_m2 is not None
        if self.inner_form_m2 is None:
            return Decimal(0) if timed or area_m2 == 0.0 else None
        return self.inner_form_m2 * _exact(area_m2)


def prices_of_kg(packs: Iterable[Pack]) -> dict[str, Decimal]:
    """Give the price of a kilogram of each ingredient, from the pack that gives it cheapest.

    Parameters
    ----------
    packs : iterable of Pack
        How ingredients are bought, each in one pack or several.

    Returns
    -------
    dict of str to Decimal
        Price of a kilogram by ingredient.

    Examples
    --------
    >>> packs = [Pack("sand", 25.0, "25 kg", Decimal("7.50")),
    ...          Pack("sand", 1000.0, "1 t", Decimal("200.00"))]
    >>> prices_of_kg(packs)
    {'sand': Decimal('0.2')}
    """
    found: dict[str, Decimal] = {}
    for pack in packs:
        price = pack.price / _exact(pack.pack_kg)
        found[pack.ingredient] = min(price, found.get(pack.ingredient, price))
    return found


def _exact(value: float) -> Decimal:
    """Take a float as the shortest decimal that stands for it."""
    return Decimal(repr(value))
