"""What makes a mesh unfit for layers, and what is told of them."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class LayerRules:
    """Limits for layers on a piece.

    Parameters
    ----------
    loose_share : float, default 0.2
        A mesh with more open edges than this share of all is suspected of triangles that share
        no points: of a tray of few facets a sixth are open. [-]
    right_share : float, default 0.001
        Area times thickness within this of the true volume is called right: a tenth of a
        percent is below what a scale and a trowel can hold. [-]
    through_share : float, default 0.98
        Where the layers would come out at the back behind more than this share of the show
        face, they are thicker than the piece itself. [-]
    level_m : float, default 2e-6
        A point this near a level is on it: what single precision leaves of a coordinate of 8 m
        and of the level itself. [m]
    level_repeat_count : int, default 2
        How often the layers above a level are counted at most: the litres of one way to cast a
        wall stand beside those of others. [-]
    """

    loose_share: float = 0.2
    right_share: float = 0.001
    through_share: float = 0.98
    level_m: float = 2e-6
    level_repeat_count: int = 2
