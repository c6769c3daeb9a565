"""How flat the rim of a form is, and how small a hole in it is no cavity."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class CavityRules:
    """Limits for taking a cavity out of a form.

    Parameters
    ----------
    rim_deg : float, default 3.0
        The rim is square to the show direction within this: it is drawn flat. [°]
    rim_ratio : float, default 0.003
    rim_m : float, default 0.001
        The rim lies within this part of the height, or within this, of the highest point:
        what a board warps. [-], [m]
    least_cavity_share : float, default 0.02
        A hole in the rim below this share of the largest cavity is one for a bolt or a
        dowel. [-]
    """

    rim_deg: float = 3.0
    rim_ratio: float = 0.003
    rim_m: float = 0.001
    least_cavity_share: float = 0.02
