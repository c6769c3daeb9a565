"""Water that dries off a fresh surface, and from where on it must be watched."""

from __future__ import annotations

from dataclasses import dataclass

from takeoff.errors import MixError


@dataclass(frozen=True, slots=True)
class Weather:
    """The air over a fresh surface.

    Parameters
    ----------
    air_c : float
        Temperature of the air. [°C]
    humidity_share : float
        Relative humidity. [-]
    wind_m_s : float
        Wind half a metre above the surface. [m/s]

    Raises
    ------
    MixError
        If the humidity is not from 0 to 100 %, or a figure is not credible.

    Examples
    --------
    >>> Weather(air_c=25.0, humidity_share=0.4, wind_m_s=5.0).humidity_share
    0.4
    """

    air_c: float
    humidity_share: float
    wind_m_s: float

    def __post_init__(self) -> None:
        if not 0.0 <= self.humidity_share <= 1.0:
            raise MixError(f"humidity is from 0 to 100 %, found {self.humidity_share:.4%}")
        if not -18.0 <= self.air_c < 60.0:
            raise MixError(f"air of {self.air_c:g} C is beyond the equation: -18 to 60 C")
        if not 0.0 <= self.wind_m_s < 40.0:
            raise MixError(f"wind of {self.wind_m_s:g} m/s is beyond the equation: 0 to 40 m/s")


@dataclass(frozen=True, slots=True)
class DryingLimits:
    """Rates from which on a fresh surface cracks.

    Parameters
    ----------
    plain_kg_m2_h : float
        For cement and sand alone. [kg/m² h]
    sensitive_kg_m2_h : float
        For mixes with polymer or silica fume. [kg/m² h]

    Examples
    --------
    >>> DryingLimits(1.0, 0.5).sensitive_kg_m2_h
    0.5
    """

    plain_kg_m2_h: float
    sensitive_kg_m2_h: float


def evaporation_kg_m2_h(weather: Weather, *, mix_c: float) -> float:
    r"""Rate of evaporation from a fresh, wet surface, by the equation of Uno.

    .. math:: E = 5\,[(T_m + 18)^{2.5} - r\,(T_a + 18)^{2.5}]\,(V + 4)\cdot 10^{-6}

    with temperatures in °C and wind in km/h.

    Parameters
    ----------
    weather : Weather
        The air over it.
    mix_c : float
        Temperature of the surface. [°C]

    Returns
    -------
    float
        Rate; 0 where dew falls. [kg/m² h]

    Raises
    ------
    MixError
        If the temperature of the mix is not credible.

    Notes
    -----
    Good to about 40 % against measurement.

    References
    ----------
    ``uno-1998``.

    Examples
    --------
    >>> round(evaporation_kg_m2_h(Weather(25.0, 0.4, 20.0 / 3.6), mix_c=25.0), 2)
    0.87
    """
    if not 0.0 <= mix_c < 60.0:
        raise MixError(f"a mix at {mix_c:g} C is beyond the equation: 0 to 60 C")
    driven = (mix_c + 18.0) ** 2.5 - weather.humidity_share * (weather.air_c + 18.0) ** 2.5
    return float(max(0.0, 5.0 * driven * (3.6 * weather.wind_m_s + 4.0) * 1e-6))
