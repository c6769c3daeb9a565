"""The steps of a casting: each pass of each layer, and how its mix behaves on the clock."""

from __future__ import annotations

from dataclasses import dataclass, replace
from enum import StrEnum


class Split(StrEnum):
    """How the mass of a step may be cut into batches.

    A show face is kept whole unless it is larger than any batch; a backer runs on as a stream,
    so that what is left of a batch starts the next piece; a single batch is asked for where no
    joint may show.
    """

    WHOLE = "whole"
    STREAM = "stream"
    SINGLE = "single"


@dataclass(frozen=True, slots=True)
class FreshMix:
    """What batching must know of a mix.

    Parameters
    ----------
    name : str
        Its name.
    density_kg_m3 : float
        Fresh density. [kg/m³]
    pot_life_s : float
        From the end of mixing until the last of it must be in the form, as it is on the
        day. [s]
    colour : str, default ""
        Its colour, where one mix is made in several.
    bag_kg : float or None, default None
        Fresh mix that one bag makes; None where it is weighed out. [kg]
    mix_s : float, default 0
        What mixing it takes at least, rests included. [s]
    """

    name: str
    density_kg_m3: float
    pot_life_s: float
    colour: str = ""
    bag_kg: float | None = None
    mix_s: float = 0.0


@dataclass(frozen=True, slots=True)
class Step:
    """One pass of one layer, as it is placed on every piece that has it.

    Parameters
    ----------
    layer : str
        The layer.
    mix : FreshMix
        Its mix.
    rate_kg_s : float
        What one pair of hands places, overspray included. [kg/s]
    workers : int, default 1
        How many place at once.
    pass_number : int, default 1
        Which pass of the layer.
    placing : str, default ""
        How it gets into the form.
    split : Split, default ``Split.STREAM``
        How it may be cut into batches.
    overspray_share : float, default 0
        Share of the mass that misses the form. [-]
    wet_edge_s : float, default 600
        Longest gap between two of its batches on one piece. [s]
    min_wait_s : float, default 0
        From the end of the step before it, on the same piece, to its start. [s]
    max_wait_s : float or None, default None
        Oldest that the step before it may be when covered; None for any age. [s]
    brush_s : float, default 0
        To brush one piece after this step. [s]
    gun_count : int, default 0
        Guns in use while it is placed.
    hopper_kg : float or None, default None
        What the hopper of a gun holds; None where nothing is refilled. [kg]
    workers_told : bool, default True
        Whether somebody told how many place it; otherwise all hands but one do, each with a gun
        where it is sprayed.
    wait_ratio : float, default 1
        The waits before it as they are on the day, over those that were told. [-]
    edge_ratio : float, default 1
        The same of its wet edge. [-]
    table : str, default ""
        The table of the job file that tells of it; empty for that of its layer.
    wait_key : str, default ""
        What tells how old the step before may grow; empty for the longest wait of its table.
    """

    layer: str
    mix: FreshMix
    rate_kg_s: float
    workers: int = 1
    pass_number: int = 1
    placing: str = ""
    split: Split = Split.STREAM
    overspray_share: float = 0.0
    wet_edge_s: float = 600.0
    min_wait_s: float = 0.0
    max_wait_s: float | None = None
    brush_s: float = 0.0
    gun_count: int = 0
    hopper_kg: float | None = None
    workers_told: bool = True
    wait_ratio: float = 1.0
    edge_ratio: float = 1.0
    table: str = ""
    wait_key: str = ""

    @property
    def told_in(self) -> str:
        """The table of the job file that tells of it."""
        return self.table or self.layer

    @property
    def longest_wait_key(self) -> str:
        """The key that tells how old the step before may grow, and its table."""
        first = "" if self.pass_number == 1 else "pass_"
        return self.wait_key or f"{first}longest_wait in [{self.told_in}]"

    @property
    def all_hands_kg_s(self) -> float:
        """What all who place it place together, in [kg/s]."""
        return self.rate_kg_s * self.workers


def with_crew(step: Step, hands: int, guns: int | None) -> Step:
    """Give a step as it is where so many hands work; one whose hands were told stays as it is.

    Parameters
    ----------
    step : Step
        The step.
    hands : int
        How many work.
    guns : int or None
        How many guns there are; None where nobody said.

    Returns
    -------
    Step
        The step with as many who place it as are taken for those hands.

    Examples
    --------
    >>> step = Step("backer", FreshMix("b", 2000.0, 1800.0), 0.1, workers_told=False)
    >>> [with_crew(step, hands, None).workers for hands in (1, 2, 4)]
    [1, 1, 3]
    """
    if step.workers_told:
        return step
    workers = max(1, hands - 1)
    if not step.gun_count:
        return replace(step, workers=workers)
    workers = min(workers, guns or workers)
    return replace(step, workers=workers, gun_count=workers)
