"""Fresh volume, density and air of a mix, by the absolute volume of its ingredients."""

from __future__ import annotations

from collections.abc import Mapping

from takeoff.errors import MixError
from takeoff.mix.ingredients import Role
from takeoff.mix.mixes import Bag, Mix
from takeoff.mix.proportions import proportions_of


def absolute_volume_m3(
    masses_kg: Mapping[str, float],
    densities_kg_m3: Mapping[str, float],
    *,
    air_share: float = 0.0,
) -> float:
    r"""Fresh volume of a batch from the masses weighed into it.

    Each ingredient fills the volume of its particles or liquid, so that

    .. math:: V = \frac{1}{1 - a} \sum_i \frac{m_i}{\rho_i}

    Parameters
    ----------
    masses_kg : mapping of str to float
        Mass of each ingredient, at least 0. [kg]
    densities_kg_m3 : mapping of str to float
        Particle density of each ingredient, above 0. [kg/m³]
    air_share : float, default 0.0
        Air as a share of the fresh volume, from 0 to below 1. [-]

    Returns
    -------
    float
        Fresh volume. [m³]

    Raises
    ------
    MixError
        If an ingredient has no density or a figure is out of range.

    Notes
    -----
    A bulk density (powder with its voids) must not be passed; it overstates the volume.

    References
    ----------
    ``navedtra-14071``, p. 17-7.

    Examples
    --------
    >>> masses = {"cement": 31.5, "sand": 26.5, "water": 10.0}
    >>> densities = {"cement": 3150.0, "sand": 2650.0, "water": 1000.0}
    >>> round(absolute_volume_m3(masses, densities), 6)
    0.03
    """
    if not 0.0 <= air_share < 1.0:
        raise MixError(f"air must be from 0 to below 100 % of the volume, found {air_share:.4g}")
    return sum(
        _solid_volume_m3(name, mass_kg, densities_kg_m3) for name, mass_kg in masses_kg.items()
    ) / (1.0 - air_share)


def fresh_density_kg_m3(mix: Mix) -> float:
    """Density of a mix as it leaves the mixer, its air included.

    Parameters
    ----------
    mix : Mix
        The mix.

    Returns
    -------
    float
        Fresh density. [kg/m³]

    Raises
    ------
    MixError
        If the doses of the mix contradict each other.

    Examples
    --------
    >>> from takeoff.mix.ingredients import Ingredient
    >>> from takeoff.mix.mixes import Basis, Dose, MixLayer, Placing
    >>> paste = Mix("paste", MixLayer.FACE_COAT, Placing.SPRAYED, doses=(
    ...     Dose(Ingredient("cement", Role.CEMENT, 3150.0), 1.0, Basis.OF_CEMENT),),
    ...     water=Dose(Ingredient("water", Role.WATER, 1000.0), 0.4, Basis.OF_CEMENT),
    ...     air_share=0.02)
    >>> round(fresh_density_kg_m3(paste), 1)
    1912.3
    """
    parts = proportions_of(mix).parts
    return 1.0 / absolute_volume_m3(
        {part.ingredient.name: part.mass_share for part in parts},
        {part.ingredient.name: part.ingredient.density_kg_m3 for part in parts},
        air_share=mix.air_share,
    )


def bag_yield_m3(mix: Mix) -> float:
    """Fresh volume of one bag of a premix, its doses included.

    Parameters
    ----------
    mix : Mix
        A mix with a bag.

    Returns
    -------
    float
        Fresh volume a bag gives. [m³]

    Raises
    ------
    MixError
        If the mix has no bag.

    Examples
    --------
    >>> from takeoff.mix.ingredients import Ingredient
    >>> from takeoff.mix.mixes import Basis, Dose, MixLayer, Placing
    >>> bagged = Mix("bagged", MixLayer.BACKER, Placing.PACKED, doses=(
    ...     Dose(Ingredient("premix", Role.PREMIX, 2500.0), 1.0, Basis.OF_DRY),),
    ...     water=Dose(Ingredient("water", Role.WATER, 1000.0), 0.16, Basis.OF_DRY),
    ...     air_share=0.0, bag=Bag(mass_kg=25.0, yield_m3=0.014))
    >>> round(bag_yield_m3(bagged), 6)
    0.014
    """
    if mix.bag is None:
        raise MixError("comes from ingredients, not from a bag", where=mix.name)
    premix_share = next(
        part.mass_share for part in proportions_of(mix).parts if part.ingredient.role is Role.PREMIX
    )
    return mix.bag.mass_kg / premix_share / fresh_density_kg_m3(mix)


def bagged_density_kg_m3(
    bag: Bag, *, water_kg: float, water_density_kg_m3: float, air_share: float
) -> float:
    """Density of the particles of a dry premix, from what a bag of it yields.

    Parameters
    ----------
    bag : Bag
        Mass and yield of the bag.
    water_kg : float
        Water for one bag. [kg]
    water_density_kg_m3 : float
        Density of the water. [kg/m³]
    air_share : float
        Air in the yield, as a share of it. [-]

    Returns
    -------
    float
        Density that gives the yield back. [kg/m³]

    Raises
    ------
    MixError
        If the water and the air alone fill the yield.

    Examples
    --------
    >>> bag = Bag(mass_kg=25.0, yield_m3=0.014)
    >>> round(bagged_density_kg_m3(bag, water_kg=4.0, water_density_kg_m3=1000.0,
    ...                            air_share=0.0), 6)
    2500.0
    """
    powder_m3 = bag.yield_m3 * (1.0 - air_share) - water_kg / water_density_kg_m3
    if powder_m3 <= 0.0:
        raise MixError(
            f"{water_kg:g} kg of water and the air leave no room for the {bag.mass_kg:g} kg of "
            f"powder in a yield of {1000 * bag.yield_m3:g} L"
        )
    return bag.mass_kg / powder_m3


def measured_density_kg_m3(*, full_kg: float, empty_kg: float, measure_m3: float) -> float:
    """Fresh density from a measure weighed empty and full.

    Parameters
    ----------
    full_kg, empty_kg : float
        Mass of the measure with and without the mix. [kg]
    measure_m3 : float
        Volume of the measure. [m³]

    Returns
    -------
    float
        Fresh density. [kg/m³]

    Raises
    ------
    MixError
        If the measure has no volume, or weighs no more full than empty.

    References
    ----------
    ``astm-c138``, as quoted in study notes.

    Examples
    --------
    >>> round(measured_density_kg_m3(full_kg=16.6, empty_kg=2.6, measure_m3=0.007))
    2000
    """
    if measure_m3 <= 0.0 or full_kg <= empty_kg:
        raise MixError(
            f"a measure of {measure_m3:g} m3 that weighs {empty_kg:g} kg empty and {full_kg:g} kg "
            "full gives no density"
        )
    return (full_kg - empty_kg) / measure_m3


def measured_yield_m3(*, mass_kg: float, density_kg_m3: float) -> float:
    """Fresh volume of a batch from its mass and its measured density.

    Parameters
    ----------
    mass_kg : float
        Mass of all that went into the mixer. [kg]
    density_kg_m3 : float
        Measured fresh density. [kg/m³]

    Returns
    -------
    float
        Fresh volume. [m³]

    Raises
    ------
    MixError
        If a figure is not above 0.

    References
    ----------
    ``astm-c138``, as quoted in study notes.

    Examples
    --------
    >>> measured_yield_m3(mass_kg=41.0, density_kg_m3=2050.0)
    0.02
    """
    if mass_kg <= 0.0 or density_kg_m3 <= 0.0:
        raise MixError(f"{mass_kg:g} kg at {density_kg_m3:g} kg/m3 give no yield")
    return mass_kg / density_kg_m3


def measured_air_share(*, density_kg_m3: float, air_free_density_kg_m3: float) -> float:
    """Air in a fresh mix from its measured density and that without air.

    Parameters
    ----------
    density_kg_m3 : float
        Measured fresh density. [kg/m³]
    air_free_density_kg_m3 : float
        Density of the same ingredients without air. [kg/m³]

    Returns
    -------
    float
        Air as a share of the fresh volume. [-]

    Raises
    ------
    MixError
        If the measured density is not above 0, or above that without air.

    References
    ----------
    ``astm-c138``, as quoted in study notes.

    Examples
    --------
    >>> round(measured_air_share(density_kg_m3=2000.0, air_free_density_kg_m3=2100.0), 4)
    0.0476
    """
    if not 0.0 < density_kg_m3 <= air_free_density_kg_m3:
        raise MixError(
            f"a density of {density_kg_m3:g} kg/m3 is not above 0 and at most the "
            f"{air_free_density_kg_m3:g} kg/m3 without air; check the measure and the densities"
        )
    return 1.0 - density_kg_m3 / air_free_density_kg_m3


def _solid_volume_m3(name: str, mass_kg: float, densities_kg_m3: Mapping[str, float]) -> float:
    """Volume of one ingredient without voids."""
    density_kg_m3 = densities_kg_m3.get(name, 0.0)
    if not 0.0 < density_kg_m3 < float("inf"):
        raise MixError(
            f"needs a density above 0 kg/m3, found {densities_kg_m3.get(name)}", where=name
        )
    if not 0.0 <= mass_kg < float("inf"):
        raise MixError(f"a mass must be at least 0 kg, found {mass_kg:g}", where=name)
    return mass_kg / density_kg_m3
