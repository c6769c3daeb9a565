"""What a bid takes for granted, by how much money hangs on it."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from decimal import Decimal

from takeoff.pricing.packs import rounded


@dataclass(frozen=True, slots=True)
class Stake:
    """An assumption, and how far the total moves where it does not hold.

    Parameters
    ----------
    what : str
        What is assumed.
    value : str
        What it is taken to be, with its unit.
    low, high : Decimal
        Least and greatest change of the total, in the currency of the job; alike, or one of them
        0, where it moves one way only.
    """

    what: str
    value: str
    low: Decimal
    high: Decimal

    @property
    def most(self) -> Decimal:
        """The money at stake: the greater of the two changes, without its sign.

        Examples
        --------
        >>> Stake("overspray", "10 %", Decimal("-28.00"), Decimal("12.00")).most
        Decimal('28.00')
        """
        return max(abs(self.low), abs(self.high))

    @property
    def at_stake(self) -> str:
        """The change of the total, as it is printed beside the assumption.

        Examples
        --------
        >>> Stake("edge E3", "coated", Decimal(0), Decimal(41)).at_stake
        '+41.00'
        >>> Stake("overspray", "10 %", Decimal(-28), Decimal(28)).at_stake
        '+-28.00'
        >>> Stake("residue", "0.4 kg", Decimal(-12), Decimal(30)).at_stake
        '-12.00 to +30.00'
        """
        least, greatest = sorted((rounded(self.low), rounded(self.high)))
        moves = [change for change in dict.fromkeys((least, greatest)) if change]
        if not moves:
            return "0.00"
        if len(moves) == 2 and least == -greatest:
            return f"+-{greatest:.2f}"
        return " to ".join(f"{change:+.2f}" for change in moves)


def ordered(stakes: Iterable[Stake]) -> tuple[Stake, ...]:
    """Put the assumptions in order, most money at stake first.

    Parameters
    ----------
    stakes : iterable of Stake
        The assumptions.

    Returns
    -------
    tuple of Stake
        The same. Of two with as much at stake, the one that can move both ways further comes
        first; of two alike, the one that was first.

    Examples
    --------
    >>> low, high = Decimal(-28), Decimal(28)
    >>> stakes = [Stake("overspray", "10 %", low, high), Stake("E3", "bare", low, Decimal(41))]
    >>> [stake.what for stake in ordered(stakes)]
    ['E3', 'overspray']
    """
    return tuple(sorted(stakes, key=lambda stake: (-stake.most, -abs(stake.high - stake.low))))
