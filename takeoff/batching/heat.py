"""How much faster a mix sets when it is warm, and slower when it is cold: an estimate."""

from __future__ import annotations

import math
from dataclasses import dataclass

_GAS_J_MOL_K = 8.314462618
_FREEZING_K = 273.15


@dataclass(frozen=True, slots=True)
class HeatRules:
    """How setting follows temperature.

    Parameters
    ----------
    reference_c : float, default 20
        Temperature at which pot life and waits were counted. [°C]
    activation_c : float, default 4811
        Activation energy over the gas constant, a difference of temperature: 40 kJ/mol, the
        order that ASTM C1074 gives for plain cement (from memory; for strength, so a stand-in
        for setting). [K]
    """

    reference_c: float = 20.0
    activation_c: float = 40_000.0 / _GAS_J_MOL_K


def setting_ratio(mix_c: float, *, rules: HeatRules = HeatRules()) -> float:
    """Give the time that setting takes at a temperature, over that at the reference.

    Parameters
    ----------
    mix_c : float
        Temperature of the mix. [°C]
    rules : HeatRules, optional
        How setting follows temperature.

    Returns
    -------
    float
        Below 1 for a warm mix, above 1 for a cold one. [-]

    Notes
    -----
    By the law of Arrhenius. Waits follow it both ways; a pot life is only ever shortened.

    Examples
    --------
    >>> round(setting_ratio(30.0), 3)
    0.582
    """
    warm_k, reference_k = mix_c + _FREEZING_K, rules.reference_c + _FREEZING_K
    return math.exp(rules.activation_c * (1.0 / warm_k - 1.0 / reference_k))
