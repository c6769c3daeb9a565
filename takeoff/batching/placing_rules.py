"""What is taken of clocks, waits and days where the shop gives no figure of its own."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class PlacingRules:
    """Reserves of the clock, and what the work around a batch takes.

    All are common practice as we know it, no source; every one can be told in the shop file.

    Parameters
    ----------
    pot_reserve_share : float, default 0.2
        Share of the pot life kept in hand: placing times that vary by a tenth then overrun it
        about once in a hundred batches. [-]
    window_reserve_share : float, default 0.2
        Share of the wet edge and of the longest wait kept in hand: without it, plans that are
        as short as can be ride these limits, and one slow batch breaks them. [-]
    haul_s : float, default 60
        From the end of mixing to the first placing: a bucket carried across a shop. [s]
    mix_s : float, default 360
        To charge and mix one batch. [s]
    clean_s : float, default 120
        To scrape the mixer between batches of one mix and colour. [s]
    wash_s : float, default 600
        To wash the mixer between different mixes or colours. [s]
    refill_s : float, default 60
        To refill the hopper of a gun. [s]
    tick_s : float, default 30
        The clock goes in steps of this: nobody follows a plan to the second. [s]
    """

    pot_reserve_share: float = 0.2
    window_reserve_share: float = 0.2
    haul_s: float = 60.0
    mix_s: float = 360.0
    clean_s: float = 120.0
    wash_s: float = 600.0
    refill_s: float = 60.0
    tick_s: float = 30.0


@dataclass(frozen=True, slots=True)
class WaitRules:
    """Waits between passes and layers on one piece.

    All are common practice as we know it, no source; every one can be told in the job file,
    and a finger test on the piece overrides them all.

    Parameters
    ----------
    wet_edge_s : float, default 600
        Longest gap between two batches of one layer on one piece: after it the joint shows. [s]
    brush_s : float, default 180
        To brush one piece after a pass that another pass follows. [s]
    pass_least_s : float, default 300
        From the end of a pass to the next pass of the same layer. [s]
    pass_most_s : float, default 2700
        Oldest that a pass may be under the next one: the two must bond. [s]
    layer_least_s : float, default 1200
        From the end of the face coat to the backer: stiff enough not to be pushed away. [s]
    layer_most_s : float, default 5400
        Oldest that the face coat may be under the backer: the two must bond. [s]
    """

    wet_edge_s: float = 600.0
    brush_s: float = 180.0
    pass_least_s: float = 300.0
    pass_most_s: float = 2700.0
    layer_least_s: float = 1200.0
    layer_most_s: float = 5400.0


@dataclass(frozen=True, slots=True)
class DayRules:
    """The working day, and when a form is free again.

    All are common practice as we know it, no source; every one can be told in the shop file.

    Parameters
    ----------
    day_s : float, default 28800
        Length of the working day: eight hours. [s]
    demould_s : float, default 57600
        From the last layer to stripping the form: sixteen hours, over night. [s]
    reset_s : float, default 1800
        To clean, release and close a form for its next casting. [s]
    """

    day_s: float = 28_800.0
    demould_s: float = 57_600.0
    reset_s: float = 1_800.0


@dataclass(frozen=True, slots=True)
class UntoldRules:
    """What is taken of a shop and a layer that do not say.

    Parameters
    ----------
    hands_count : int, default 1
        One pair of hands: nobody is planned with who may not be there. The plan says what a
        second would save.
    residue_kg : float, default 0
        Nothing stays in mixer and bucket: what does is known to the shop alone, once weighed. [kg]
    least_fill_m3 : float, default 0
        Blades work any amount: what they do not is on the plate of the mixer. [m³]
    passes_count : int, default 1
        A layer is placed in one go, as most are.
    overspray_share : float, default 0
        Nothing misses the form, as where a layer is poured or packed. [-]
    """

    hands_count: int = 1
    residue_kg: float = 0.0
    least_fill_m3: float = 0.0
    passes_count: int = 1
    overspray_share: float = 0.0


@dataclass(frozen=True, slots=True)
class OddRules:
    """What of a count of batches is noted as likely a slip, and still computed.

    Parameters
    ----------
    idle_share : float, default 0.25
        Share of what is mixed that neither stays in the pieces nor is told as overspray or
        spare: a quarter thrown away speaks for another mixer. [-]
    batch_count : int, default 100
        More batches of one mix than this, one every five minutes of an eight-hour day, speak
        for a slip in the capacity of the mixer.
    """

    idle_share: float = 0.25
    batch_count: int = 100
