"""Stock sand is not saturated and surface dry: what to weigh of it, and the water it brings."""

from __future__ import annotations

from takeoff.errors import MixError


def stock_from_ssd_kg(ssd_kg: float, *, surface_share: float) -> float:
    """Mass of stock sand for a mass wanted saturated and surface dry.

    Parameters
    ----------
    ssd_kg : float
        Sand of the mix, saturated and surface dry. [kg]
    surface_share : float
        Free water of the stock over its saturated, surface-dry mass; below 0 where the stock is
        drier than that. [-]

    Returns
    -------
    float
        Stock to weigh. [kg]

    Raises
    ------
    MixError
        If the mass is below 0 or the moisture is not credible.

    Examples
    --------
    >>> round(stock_from_ssd_kg(100.0, surface_share=0.06), 6)
    106.0
    """
    _check(ssd_kg, surface_share, absorption_share=0.0)
    return ssd_kg * (1.0 + surface_share)


def stock_from_oven_dry_kg(
    oven_dry_kg: float, *, absorption_share: float, surface_share: float
) -> float:
    """Mass of stock sand for a mass wanted oven dry.

    Parameters
    ----------
    oven_dry_kg : float
        Sand of the mix, oven dry. [kg]
    absorption_share : float
        Water that the grains hold inside, over the oven-dry mass. [-]
    surface_share : float
        Free water on the grains, over the oven-dry mass; below 0 where the stock is drier than
        saturated. [-]

    Returns
    -------
    float
        Stock to weigh. [kg]

    Raises
    ------
    MixError
        If the mass is below 0 or a moisture is not credible.

    Examples
    --------
    >>> round(stock_from_oven_dry_kg(100.0, absorption_share=0.01, surface_share=0.03), 6)
    104.0
    """
    _check(oven_dry_kg, surface_share, absorption_share)
    return oven_dry_kg * (1.0 + absorption_share + surface_share)


def free_water_kg(reference_kg: float, *, surface_share: float) -> float:
    """Water that stock sand brings, to be taken off the mixing water.

    Parameters
    ----------
    reference_kg : float
        Mass that the moisture is counted on: saturated and surface dry, or oven dry. [kg]
    surface_share : float
        Free water over that mass; below 0 where the stock is drier, which adds mixing water. [-]

    Returns
    -------
    float
        Water brought; below 0 where the stock takes water up. [kg]

    Raises
    ------
    MixError
        If the mass is below 0 or the moisture is not credible.

    Examples
    --------
    >>> round(free_water_kg(100.0, surface_share=0.06), 6)
    6.0
    """
    _check(reference_kg, surface_share, absorption_share=0.0)
    return reference_kg * surface_share


def free_water_in_stock_kg(stock_kg: float, *, surface_share: float) -> float:
    """Water in stock sand that was weighed wet.

    Parameters
    ----------
    stock_kg : float
        Stock as weighed, its free water included. [kg]
    surface_share : float
        Free water over the mass without it. [-]

    Returns
    -------
    float
        Water in it. [kg]

    Raises
    ------
    MixError
        If the mass is below 0 or the moisture is not credible.

    Notes
    -----
    It is :math:`W - W / (1 + p)`; :math:`W p` counts the water's own moisture too.

    Examples
    --------
    >>> round(free_water_in_stock_kg(106.0, surface_share=0.06), 6)
    6.0
    """
    _check(stock_kg, surface_share, absorption_share=0.0)
    return stock_kg - stock_kg / (1.0 + surface_share)


def _check(sand_kg: float, surface_share: float, absorption_share: float) -> None:
    """Refuse what cannot be a moisture of sand."""
    if not 0.0 <= sand_kg < float("inf"):
        raise MixError(f"a mass of sand must be at least 0 kg, found {sand_kg:g}")
    if not -0.5 < surface_share < 0.5 or not 0.0 <= absorption_share < 0.5:
        raise MixError(
            f"a moisture is a share below 0.5, found {surface_share:g} on the surface and "
            f"{absorption_share:g} absorbed; 6 % is 0.06"
        )
