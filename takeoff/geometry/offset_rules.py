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
    eased_ratio : float, default 0.27
        Share of the missing width of a rounded arris that is a real error of the sum:
        (1 - pi/4) of the square corner over pi/4 that its facets lose. [-]
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
    eased_ratio: float = 0.27
    note_share: float = 0.001
    refuse_share: float = 0.01
