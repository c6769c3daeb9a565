"""The ways to cast a wall on which a self-levelling backer does not stand."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

_LEVELS = "poured"  # the placing of a mix that runs level


class Way(StrEnum):
    """How the backer gets onto a return or upright.

    Attributes
    ----------
    DAMMED
        An inner dam holds it while it is poured.
    CORED
        A second, inner form holds it.
    FILLED
        The piece is filled to the foot of the wall.
    PACKED
        A stiff mix is packed on by hand.
    SPRAYED
        A sprayed mix stands by itself.
    """

    DAMMED = "dammed"
    CORED = "cored"
    FILLED = "filled"
    PACKED = "packed"
    SPRAYED = "sprayed"


INNER_FORMS = frozenset({Way.DAMMED, Way.CORED})
"""Ways that need an inner form."""


@dataclass(frozen=True, slots=True)
class WayRules:
    """When a wall stands, and what is room enough for a way to cast it.

    Parameters
    ----------
    depth_tie_m : float, default 1e-6
        A wall drawn exactly as deep as the layers beside it comes out either side of them by
        rounding; this much deeper still counts as covered: a micrometre, what single precision
        leaves of a coordinate of 8 m. [m]
    room_share : float, default 0.001
        An inner face below this share of the wall, and a filling below this share of all
        layers, is none: a tenth of a percent is the accuracy of the layers. [-]
    hollow_share : float, default 0.005
        Filling that takes more than is drawn by this share of the piece fills a hollow: half a
        percent is how well the layers of every shape are known. [-]
    """

    depth_tie_m: float = 1e-6
    room_share: float = 0.001
    hollow_share: float = 0.005


def stands(depth_m: float, beside_m: float, placing: str, *, rules: WayRules = WayRules()) -> bool:
    """Tell whether a backer stands on a wall without dam, second form or filling.

    Parameters
    ----------
    depth_m : float
        How far the wall runs behind the show face beside it. [m]
    beside_m : float
        All layers of the show face together. [m]
    placing : str
        How the backer is placed: ``"poured"`` runs level, ``"packed"`` and ``"sprayed"`` hold on
        any wall.
    rules : WayRules, optional
        What counts as no deeper.

    Returns
    -------
    bool
        True for what is packed or sprayed; for what is poured only where the layers of the show
        face reach the foot of the wall.

    Examples
    --------
    >>> stands(0.040, 0.020, "poured"), stands(0.020, 0.020, "poured"), stands(0.9, 0.02, "packed")
    (False, True, True)
    """
    return placing != _LEVELS or depth_m <= beside_m + rules.depth_tie_m
