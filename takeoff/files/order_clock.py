"""What a job and its shop say of the clock; None wherever they say nothing."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class LayerClock:
    """How a layer is placed, and how long before and after others.

    Parameters
    ----------
    passes : int, default 1
        In how many passes.
    hands : int or None, default None
        How many place it at once.
    wet_edge_s : float or None, default None
        Longest gap between two of its batches on one piece. [s]
    least_wait_s, longest_wait_s : float or None, default None
        From the end of the layer under it, and how old that may grow. [s]
    pass_least_wait_s, pass_longest_wait_s : float or None, default None
        The same between its passes. [s]
    brush_s : float or None, default None
        To brush one piece between passes. [s]
    mix_c : float or None, default None
        Temperature of the mix on the day. [°C]
    one_batch : bool, default False
        Whether every piece of it must come from one batch.
    """

    passes: int = 1
    hands: int | None = None
    wet_edge_s: float | None = None
    least_wait_s: float | None = None
    longest_wait_s: float | None = None
    pass_least_wait_s: float | None = None
    pass_longest_wait_s: float | None = None
    brush_s: float | None = None
    mix_c: float | None = None
    one_batch: bool = False


@dataclass(frozen=True, slots=True)
class ShopClock:
    """Guns, tables and hours of a shop.

    Parameters
    ----------
    hoppers_m3 : tuple of float, default ()
        What the hopper of each gun holds. [m³]
    tables : int or None, default None
        How many castings find room at once.
    day_s : float or None, default None
        Length of the working day. [s]
    demould_s : float or None, default None
        From the last layer to stripping the form. [s]
    reset_s : float or None, default None
        To make a form ready for its next casting. [s]
    haul_s : float or None, default None
        From the end of mixing to the first placing. [s]
    wash_s : float or None, default None
        To wash a mixer between mixes or colours. [s]
    refill_s : float or None, default None
        To refill a hopper. [s]
    pot_reserve_share : float or None, default None
        Share of the pot life kept in hand. [-]
    window_reserve_share : float or None, default None
        Share of wet edge and longest wait kept in hand. [-]
    """

    hoppers_m3: tuple[float, ...] = ()
    tables: int | None = None
    day_s: float | None = None
    demould_s: float | None = None
    reset_s: float | None = None
    haul_s: float | None = None
    wash_s: float | None = None
    refill_s: float | None = None
    pot_reserve_share: float | None = None
    window_reserve_share: float | None = None
