"""What counts as a scan, and how one is smoothed."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class NoiseRules:
    """Limits by which scans are told from drawings.

    Parameters
    ----------
    least_facet_count : int, default 2000
        No scan is coarser than this; below it every drawing would have to be feared.
    least_turn_deg : float, default 0.7
        Turns below this are the rounding of a drawing, not noise. [°]
    most_turn_deg : float, default 40.0
        Turns above this are drawn. [°]
    ragged_share : float, default 0.25
        From this share of the area on, facets that turn both ways make a scan possible: drawings
        stay below 0.07 but for saddles, scans with noise of 0.2 to 1 mm lie above 0.25
        (measured on drawn and shaken pieces, edges of 6 to 25 mm). [-]
    unrest_ratio : float, default 0.3
        From this on it is one: saddles of drawings stay below 0.11, scans lie above 0.8
        (measured likewise); noise that hangs together over a few edges lies between. [-]
    averaging_count : int, default 8
        Rounds of averaging normals: noise of 1 mm on edges of 12 mm is gone by then.
    moving_count : int, default 10
        Rounds of moving points: later ones move them by less than a hundredth of the noise.
    least_error_share : float, default 0.02
        Error that is stated at least: nine of ten classes of scanned pieces came out closer
        (measured on shaken pieces; no real scan was tried). [-]
    most_error_share : float, default 0.05
        A scan off by more is refused: it is as good as measuring with a rule. [-]
    """

    least_facet_count: int = 2000
    least_turn_deg: float = 0.7
    most_turn_deg: float = 40.0
    ragged_share: float = 0.25
    unrest_ratio: float = 0.3
    averaging_count: int = 8
    moving_count: int = 10
    least_error_share: float = 0.02
    most_error_share: float = 0.05
