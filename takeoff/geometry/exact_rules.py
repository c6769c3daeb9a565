"""To which shapes the slow exact methods apply, and how round they take what is round."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class ExactRules:
    """Limits of the slow methods.

    Parameters
    ----------
    plumb_ratio : float, default 1e-6
        A wall is plumb, and a face level, within this slope: a micrometre in a metre. [-]
    flat_m : float, default 1e-6
        A face is flat within a thousandth of a millimetre. [m]
    grid_m : float, default 1e-9
        Corners of the plan are the same within this. [m]
    same_share : float, default 1e-6
        The walls go all round, and all down, where their area is that of the plan's edges by
        the depth within this. [-]
    quarter_count : int, default 64
        Segments of a quarter round: 1 in 10 000 of its area. [-]
    convex_deg : float, default 0.001
        Turns inward by less than this are rounding. [°]
    digit_count : int, default 9
        Planes that agree to so many digits are one. [-]
    facet_count : int, default 200
        More facets take minutes. [-]
    segment_count : int, default 64
        Segments of the balls round their equator. [-]
    support_ratio : float, default 0.9990
        Mean reach of such a ball by that of a round one, for which its radius is put right;
        computed from its corners. [-]
    """

    plumb_ratio: float = 1e-6
    flat_m: float = 1e-6
    grid_m: float = 1e-9
    same_share: float = 1e-6
    quarter_count: int = 64
    convex_deg: float = 0.001
    digit_count: int = 9
    facet_count: int = 200
    segment_count: int = 64
    support_ratio: float = 0.9990
