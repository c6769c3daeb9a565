"""What is taken of pot life and carrying where the shop gives no figure of its own."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class PlacingRules:
    """Reserves of the clock.

    Parameters
    ----------
    pot_reserve_share : float, default 0.2
        Share of the pot life kept in hand: placing times that vary by a tenth then overrun it
        about once in a hundred batches. [-]
    haul_s : float, default 60
        From the end of mixing to the first placing: a bucket carried across a shop. [s]
    """

    pot_reserve_share: float = 0.2
    haul_s: float = 60.0
