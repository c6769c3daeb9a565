"""When the edge sum may be trusted for a layer, and what it takes for flat or smooth."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class OffsetRules:
    """Limits of the signed-dihedral sum.

    Parameters
    ----------
    flat_deg : float, default 0.05
        Two facets that turn less than this are one flat face: the triangulation of a
        plane in float32 turns by about a tenth of it. [°]
    smooth_deg : float, default 20.0
        A turn below this is a step of a curve, above it a sharp edge: a quarter round in
        five or more segments counts as a curve. [°]
    cotangent_limit_ratio : float, default 3.0
        At a corner nearly straight, the share that depends on the difference of the two turns
        is capped at this cotangent; it cancels with the neighbouring corner. [-]
    arris_turn_deg : float, default 125.0
        An eased arris turns no further than this; a bead or a nose that turns on is no arris,
        and the layers from its two sides meet inside. [°]
    eased_share : float, default 0.05
        How far the correction at eased arrises is doubted: where they meet at a corner, the
        corner of a ball is counted with its arrises. [-]
    step_share : float, default 0.6
        How far the correction at steps is doubted: in a groove narrower than the layers the
        rounds of its two inside corners meet. [-]
    rim_share : float, default 0.25
        A run of faces with more open edge than this along it is the rim of a shallow wall, not an
        eased arris; the ends of a fillet are less. [-]
    note_share : float, default 0.001
        An error estimate above this share of the volume is noted: a tenth of a percent is
        below what a scale and a trowel can hold. [-]
    refuse_share : float, default 0.01
        An error estimate above this share is refused: a percent is what the true volume
        is computed for. [-]
    """

    flat_deg: float = 0.05
    smooth_deg: float = 20.0
    cotangent_limit_ratio: float = 3.0
    arris_turn_deg: float = 125.0
    eased_share: float = 0.05
    step_share: float = 0.6
    rim_share: float = 0.25
    note_share: float = 0.001
    refuse_share: float = 0.01
