"""The bill of a job: every line, and what they come to."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal

from takeoff.pricing.lines import Line, LineKind, Terms, price_up, total_of
from takeoff.pricing.rates import Measure, Rate, is_priced, rate_lines

_BOUGHT = (LineKind.MATERIAL, LineKind.ITEM)


@dataclass(frozen=True, slots=True)
class Bill:
    """What a job costs.

    Parameters
    ----------
    lines : tuple of Line
        Every line as printed; without markup, minimum charge and tax where there is no total.
    total : Decimal or None
        Sum of all lines; None while no labour is priced.
    """

    lines: tuple[Line, ...]
    total: Decimal | None

    @property
    def material_total(self) -> Decimal:
        """Sum of the lines that are bought for the job: packs and items.

        Examples
        --------
        >>> Bill((), None).material_total
        Decimal('0.00')
        """
        return total_of(line for line in self.lines if line.kind in _BOUGHT)


def bill_of(
    bought: Iterable[Line],
    rates: Sequence[Rate],
    quantities: Mapping[Measure, float],
    terms: Terms,
) -> Bill:
    """Put all lines of a job together.

    Parameters
    ----------
    bought : iterable of Line
        Lines of packs and items.
    rates : sequence of Rate
        What the shop charges besides.
    quantities : mapping of Measure to float
        What of the job it is charged by.
    terms : Terms
        Markup, minimum charge and tax.

    Returns
    -------
    Bill
        The bill; a total only where labour is priced.

    Raises
    ------
    PriceError
        If the job does not count what a rate is charged by.

    Examples
    --------
    >>> from takeoff.pricing.lines import line_of
    >>> bags = line_of("cement", Decimal(4), "pack of 25 kg", Decimal("9.50"), LineKind.MATERIAL)
    >>> casting = Rate("casting", Measure.CASTING_M2, Decimal("38.00"), hours_s=1800.0)
    >>> bill_of([bags], [], {}, Terms()).total is None
    True
    >>> bill_of([bags], [casting], {Measure.CASTING_M2: 10.0}, Terms()).total
    Decimal('228.00')
    """
    lines = (*bought, *rate_lines(rates, quantities))
    if not is_priced(rates):
        return Bill(lines, None)
    priced = price_up(lines, terms)
    return Bill(priced, total_of(priced))
