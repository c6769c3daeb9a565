"""The rows of a plan of a pour, key by key; they belong to ``documents``.

Times in ``_s`` count from the start of their working day.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Literal

from typing_extensions import TypedDict  # the one that schemas can be made of on Python 3.11

from takeoff.weigh_documents import MixingRow


class FindingRow(TypedDict):
    """Why there is no plan: value and limit are counted in ``unit``.

    ``enough`` says that its fix alone makes a plan possible; otherwise those of all findings are
    needed.
    """

    rule: str
    where: str
    value: float
    limit: float
    unit: Literal["s", "kg", "m3", "count"]
    fix: str
    enough: bool


class PouringMixerRow(TypedDict):
    """A mixer as the plan uses it."""

    name: str
    capacity_m3: float
    least_fill_m3: float
    residue_kg: float
    mix_s: float
    clean_s: float


# "class" and "pass" are words of the language, so the rows that carry them are spelt as calls.
PouringRuleRow = TypedDict(
    "PouringRuleRow",
    {
        "mix": str,
        "layer": str,
        "pass": int,
        "placing": str,
        "split": str,
        "pot_life_s": float,
        "pot_reserve_share": float,
        "wet_edge_s": float,
        "window_reserve_share": float,
        "min_wait_s": float,
        "max_wait_s": float | None,
        "brush_s": float,
        "haul_s": float,
        "wash_s": float,
        "rate_kg_s": float,
        "workers": int,
        "guns": int,
        "hopper_kg": float | None,
        "overspray_share": float,
    },
)
DemandRow = TypedDict(
    "DemandRow",
    {"piece": str, "copy": int, "layer": str, "pass": int, "class": str, "mass_kg": float},
)
PouredPartRow = TypedDict(
    "PouredPartRow",
    {
        "piece": str,
        "copy": int,
        "layer": str,
        "pass": int,
        "class": str,
        "mass_kg": float,
        "start_s": float,
        "end_s": float,
    },
)
CastWallRow = TypedDict(
    "CastWallRow",
    {"piece": str, "surface": str, "class": str, "way": str},
)


class PouredIngredientRow(TypedDict):
    """What is weighed for one batch."""

    name: str
    mass_kg: float
    when: str
    after_rest: bool


class PouredBatchRow(TypedDict):
    """One batch: what, how much, where, by when, who.

    ``mass_kg`` is the sum of its parts, loss, residue and leftover.
    """

    id: str
    mixer: str
    mix: str
    colour: str
    layer: str
    placing: str
    bound: str
    mass_kg: float
    volume_m3: float
    loss_kg: float
    residue_kg: float
    leftover_kg: float
    mix_start_s: float
    mix_end_s: float
    place_start_s: float
    place_end_s: float
    brush_end_s: float
    use_by_s: float
    workers: int
    mixed_by: int
    placed_by: Sequence[int]
    parts: Sequence[PouredPartRow]
    ingredients: Sequence[PouredIngredientRow]
    mixing: Sequence[MixingRow]


class PouredDayRow(TypedDict):
    """One day; ``proven`` says that no order of its batches ends sooner."""

    day: int
    makespan_s: float
    makespan_bound_s: float
    proven: bool
    method: str
    batches: Sequence[PouredBatchRow]


class RiskRow(TypedDict):
    """What goes wrong in replays with times that vary, each against its whole limit."""

    runs: int
    seed: int
    placing_spread_share: float
    mixing_spread_share: float
    gone_off_share: float
    joint_share: float
    cover_share: float
    fullest_batch_share: float
    wanted_share: float
    reserve_share: float


class MoreHandsRow(TypedDict):
    """What one more pair of hands would save, both plans made in the same way."""

    hands: int
    days: int
    pouring_s: float
    saved_days: int
    saved_s: float


class DefaultRow(TypedDict):
    """A figure that nobody told; ``key`` is what to write, and in which table."""

    what: str
    key: str
    value: float
    unit: Literal["s", "share"]
    source: str


class MixCautionsRow(TypedDict):
    """What whoever mixes and places one mix must mind."""

    mix: str
    cautions: Sequence[str]


def rule_row(
    names: tuple[str, str, int, str, str],
    *,
    pot_life_s: float,
    pot_reserve_share: float,
    wet_edge_s: float,
    window_reserve_share: float,
    waits_s: tuple[float, float | None, float],
    haul_s: float,
    wash_s: float,
    rate_kg_s: float,
    crew: tuple[int, int],
    hopper_kg: float | None,
    overspray_share: float,
) -> PouringRuleRow:
    """Give the rules of one step their keys.

    Parameters
    ----------
    names : tuple of str, str, int, str, str
        Mix, layer, pass, way of placing, way of splitting.
    pot_life_s : float
        Pot life in force. [s]
    pot_reserve_share : float
        Share of it kept in hand. [-]
    wet_edge_s : float
        Longest gap at a joint. [s]
    window_reserve_share : float
        Share of wet edge and longest wait kept in hand. [-]
    waits_s : tuple of float
        Least and longest wait before it, and brushing after it. [s]
    haul_s, wash_s : float
        Carrying, and washing the mixer. [s]
    rate_kg_s : float
        What one pair of hands places. [kg/s]
    crew : tuple of int
        Hands that place, and guns.
    hopper_kg : float or None
        What a hopper holds. [kg]
    overspray_share : float
        Share that misses. [-]

    Returns
    -------
    PouringRuleRow
        The row.

    Examples
    --------
    >>> rule_row(("b", "backer", 1, "poured", "stream"), pot_life_s=1800.0,
    ...          pot_reserve_share=0.2, wet_edge_s=600.0, window_reserve_share=0.2,
    ...          waits_s=(0.0, None, 0.0), haul_s=60.0, wash_s=600.0, rate_kg_s=0.05,
    ...          crew=(1, 0), hopper_kg=None, overspray_share=0.0)["pass"]
    1
    """
    mix, layer, pass_number, placing, split = names
    min_wait_s, max_wait_s, brush_s = waits_s
    workers, guns = crew
    return {
        "mix": mix,
        "layer": layer,
        "pass": pass_number,
        "placing": placing,
        "split": split,
        "pot_life_s": pot_life_s,
        "pot_reserve_share": pot_reserve_share,
        "wet_edge_s": wet_edge_s,
        "window_reserve_share": window_reserve_share,
        "min_wait_s": min_wait_s,
        "max_wait_s": max_wait_s,
        "brush_s": brush_s,
        "haul_s": haul_s,
        "wash_s": wash_s,
        "rate_kg_s": rate_kg_s,
        "workers": workers,
        "guns": guns,
        "hopper_kg": hopper_kg,
        "overspray_share": overspray_share,
    }


def demand_row(
    piece: str, copy: int, layer: str, *, pass_number: int, surface_class: str, mass_kg: float
) -> DemandRow:
    """Give what must be placed its keys.

    Parameters
    ----------
    piece : str
        The piece.
    copy : int
        Which copy, from 1.
    layer : str
        The layer.
    pass_number : int
        Which pass of it.
    surface_class : str
        On which class of surface.
    mass_kg : float
        What stays there. [kg]

    Returns
    -------
    DemandRow
        The row.

    Examples
    --------
    >>> row = demand_row("panel", 1, "backer", pass_number=1, surface_class="return", mass_kg=2.0)
    >>> row["class"]
    'return'
    """
    return {
        "piece": piece,
        "copy": copy,
        "layer": layer,
        "pass": pass_number,
        "class": surface_class,
        "mass_kg": mass_kg,
    }


def cast_wall_row(piece: str, surface: str, *, surface_class: str, way: str) -> CastWallRow:
    """Give the way in which a wall is cast its keys.

    Parameters
    ----------
    piece : str
        The piece.
    surface : str
        Id of the wall.
    surface_class : str
        Its class of surface.
    way : str
        How it is cast.

    Returns
    -------
    CastWallRow
        The row.

    Examples
    --------
    >>> cast_wall_row("panel", "R1", surface_class="return", way="dammed")["class"]
    'return'
    """
    return {"piece": piece, "surface": surface, "class": surface_class, "way": way}


def part_row(demand: DemandRow, *, mass_kg: float, start_s: float, end_s: float) -> PouredPartRow:
    """Give what one batch places of a demand its keys.

    Parameters
    ----------
    demand : DemandRow
        What it is part of.
    mass_kg : float
        How much of it. [kg]
    start_s, end_s : float
        From when to when. [s]

    Returns
    -------
    PouredPartRow
        The row.

    Examples
    --------
    >>> demand = demand_row("panel", 1, "backer", pass_number=1, surface_class="return",
    ...                     mass_kg=2.0)
    >>> part_row(demand, mass_kg=1.0, start_s=0.0, end_s=30.0)["mass_kg"]
    1.0
    """
    return {
        "piece": demand["piece"],
        "copy": demand["copy"],
        "layer": demand["layer"],
        "pass": demand["pass"],
        "class": demand["class"],
        "mass_kg": mass_kg,
        "start_s": start_s,
        "end_s": end_s,
    }
