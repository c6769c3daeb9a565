"""Stock sand is not saturated and surface dry: what to weigh of it, and the water it brings."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace

from takeoff.errors import MixError
from takeoff.mix.ingredients import Role
from takeoff.mix.mixes import Dose, Mix
from takeoff.notes import Note, NoteCode


@dataclass(frozen=True, slots=True)
class Moisture:
    """The water of a stock of sand, over its oven-dry mass.

    Parameters
    ----------
    free_share : float or None, default None
        Free water on the grains, which counts as mix water; below 0 where the stock is drier
        than saturated and takes mix water up. None where it is not told: taken as 0. [-]
    absorption_share : float or None, default None
        Water inside saturated grains, which does not count. None where it is not told: taken
        as 0. [-]

    Raises
    ------
    MixError
        If a share is not credible, or the stock would hold less than no water.

    Examples
    --------
    >>> Moisture(free_share=0.04, absorption_share=0.01).free_share
    0.04
    """

    free_share: float | None = None
    absorption_share: float | None = None

    def __post_init__(self) -> None:
        free_share, absorption_share = self.free_share or 0.0, self.absorption_share or 0.0
        _check(0.0, free_share, absorption_share)
        if free_share + absorption_share < 0.0:
            raise MixError(
                f"sand that holds {100.0 * absorption_share:g} % when saturated cannot lack "
                f"{-100.0 * free_share:g} %"
            )

    @property
    def untold(self) -> str:
        """What of it is not told, in words; empty where all of it is."""
        parts = {"free moisture": self.free_share, "absorption": self.absorption_share}
        return " and ".join(what for what, share in parts.items() if share is None)


def on_stock(mix: Mix, moistures: Mapping[str, Moisture]) -> Mix:
    """Give the same mix with the sand as it lies in the stock.

    Parameters
    ----------
    mix : Mix
        A mix whose sands are dosed oven dry.
    moistures : mapping of str to Moisture
        The water of each sand, by its name.

    Returns
    -------
    Mix
        The mix with stock sand: more of it is weighed, and less water, or more, is added. What
        is not told of a sand is noted.

    Raises
    ------
    MixError
        If a name is not that of a dry sand of the mix.

    Notes
    -----
    Of one part of oven-dry sand, 1 + absorption + free is weighed, as
    :func:`stock_from_oven_dry_kg` has it. Its density is that of saturated grains and their free
    water together, so that masses over densities still add up to the volume.

    Examples
    --------
    >>> from takeoff.mix.ingredients import Ingredient
    >>> from takeoff.mix.mixes import Basis, MixLayer, Placing
    >>> mortar = Mix("mortar", MixLayer.BACKER, Placing.PACKED, doses=(
    ...     Dose(Ingredient("cement", Role.CEMENT, 3150.0), 1.0, Basis.OF_CEMENT),
    ...     Dose(Ingredient("sand", Role.SAND, 2650.0), 1.0, Basis.OF_CEMENT)),
    ...     water=Dose(Ingredient("water", Role.WATER, 1000.0), 0.4, Basis.OF_CEMENT),
    ...     air_share=0.05)
    >>> on_stock(mortar, {"sand": Moisture(free_share=0.04)}).doses[1].share
    1.04
    """
    sands = {dose.ingredient.name for dose in mix.doses if dose.ingredient.role is Role.SAND}
    for name in moistures:
        if name not in sands:
            found = ", ".join(sorted(sands)) or "none"
            raise MixError(f"has no sand named {name}; its sand: {found}", where=mix.name)
    water_kg_m3 = mix.water.ingredient.density_kg_m3
    doses = tuple(
        _as_stock(dose, moistures[dose.ingredient.name], water_kg_m3)
        if dose.ingredient.name in moistures
        else dose
        for dose in mix.doses
    )
    notes = (untold_note(mix.name, name, told.untold) for name, told in moistures.items())
    return replace(mix, doses=doses, notes=(*mix.notes, *(note for note in notes if note)))


def untold_note(mix_name: str, sand_name: str, untold: str) -> Note | None:
    """Note what is not told of the moisture of a sand.

    Parameters
    ----------
    mix_name, sand_name : str
        The mix and its sand.
    untold : str
        What is not told, in words; empty where all of it is.

    Returns
    -------
    Note or None
        The note, where there is anything to note.

    Examples
    --------
    >>> untold_note("mortar", "beach", "") is None
    True
    """
    if not untold:
        return None
    text = (
        f"{untold} of {sand_name} not told and taken as 0; wet sand brings water, dry sand takes "
        "it up"
    )
    return Note(NoteCode.DEFAULT_USED, text, where=mix_name)


def _as_stock(dose: Dose, moisture: Moisture, water_kg_m3: float) -> Dose:
    """Give the dose of stock sand for a dose of oven-dry sand."""
    sand = dose.ingredient
    if sand.absorbed_share is not None:
        raise MixError("its moisture is told already", where=sand.name)
    on_grains_share, in_grains_share = moisture.free_share or 0.0, moisture.absorption_share or 0.0
    stock_share = stock_from_oven_dry_kg(
        1.0, absorption_share=in_grains_share, surface_share=on_grains_share
    )
    free_share = free_water_kg(1.0, surface_share=on_grains_share) / stock_share
    density_kg_m3 = 1.0 / ((1.0 - free_share) / sand.density_kg_m3 + free_share / water_kg_m3)
    stock = replace(
        sand,
        density_kg_m3=density_kg_m3,
        water_share=free_share,
        absorbed_share=in_grains_share / stock_share,
    )
    return Dose(stock, dose.share * stock_share, dose.basis)


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
