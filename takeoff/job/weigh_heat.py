"""A weigh sheet in its weather: ice towards the temperature wanted, setting, drying."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from takeoff.batching.heat import setting_ratio
from takeoff.errors import MixError
from takeoff.files.shipped import shipped_heat
from takeoff.mix.addition import WaterPart
from takeoff.mix.evaporation import Weather, evaporation_kg_m2_h
from takeoff.mix.ingredients import Ingredient, Role
from takeoff.mix.mix_rules import WarmthRules
from takeoff.mix.temperature import Warmth, heat_balance, ice_for_kg
from takeoff.mix.weigh_sheet import WeighedMix

_EVERYTHING = "all"
_ICE = "ice"
_SENSITIVE = frozenset({Role.POLYMER, Role.POZZOLAN, Role.PREMIX})


@dataclass(frozen=True, slots=True)
class Conditions:
    """What was told of heat and weather.

    Parameters
    ----------
    at_c : mapping of str to float
        Temperatures by ingredient, by role, or of ``"all"``; of ``"ice"`` too. [°C]
    wanted_c : float or None, default None
        Temperature wanted of the mix. [°C]
    ice_kg : float or None, default None
        Ice told as a mass. [kg]
    ice_share : float or None, default None
        Ice told as a share of the water to add. [-]
    gain_c : float, default 0.0
        Warming by mixing and carrying, as the shop has measured it. [K]
    mix_c : float or None, default None
        Temperature of the mix, told instead of computed. [°C]
    weather : Weather or None, default None
        The air.
    rules : WarmthRules, optional
        Temperatures that are slips.

    Raises
    ------
    MixError
        If what is told contradicts itself, or a temperature can only be a slip.
    """

    at_c: Mapping[str, float]
    wanted_c: float | None = None
    ice_kg: float | None = None
    ice_share: float | None = None
    gain_c: float = 0.0
    mix_c: float | None = None
    weather: Weather | None = None
    rules: WarmthRules = field(default_factory=WarmthRules)

    def __post_init__(self) -> None:
        iced = self.ice_kg is not None or self.ice_share is not None
        if self.wanted_c is not None and iced:
            raise MixError("tell the temperature wanted, or the ice, not both")
        if (self.wanted_c is not None or iced) and not self.at_c:
            raise MixError("ice needs the temperatures of what goes into the mixer: at all=25C ...")
        if self.mix_c is not None and self.at_c:
            raise MixError("tell the temperature of the mix, or those of its ingredients, not both")
        self._check_credible()

    def _check_credible(self) -> None:
        """Refuse temperatures that can only be slips, Fahrenheit read as Celsius among them."""
        if self.mix_c is not None and not 0.0 <= self.mix_c <= self.rules.hottest_mix_c:
            raise MixError(
                f"a fresh mix is at 0 to {self.rules.hottest_mix_c:g} C, found {self.mix_c:g} C"
            )
        for name, temperature_c in self.at_c.items():
            least_c = 0.0 if name == Role.WATER else self.rules.coldest_c
            if not least_c <= temperature_c <= self.rules.hottest_c:
                raise MixError(
                    f"{name} at {temperature_c:g} C is not credible; "
                    f"{least_c:g} to {self.rules.hottest_c:g} C is"
                )
        most_c = self.rules.most_gain_c
        if not abs(self.gain_c) <= most_c:
            raise MixError(f"a gain of {self.gain_c:g} K is not credible; at most {most_c:g} K is")


@dataclass(frozen=True, slots=True)
class MixHeat:
    """The temperature of a mix and what follows from it.

    Parameters
    ----------
    mix_c : float
        Temperature as it leaves the mixer. [°C]
    told : bool
        Whether it was told rather than computed.
    ice_kg, unmelted_kg : float
        Ice, and what of it does not melt. [kg]
    setting_ratio : float
        Time that setting takes over that at 20 °C: an estimate. [-]
    """

    mix_c: float
    told: bool
    ice_kg: float
    unmelted_kg: float
    setting_ratio: float

    def pot_life_s(self, pot_life_s: float) -> float:
        """Give a pot life at this temperature: shortened by heat, never lengthened by cold.

        Parameters
        ----------
        pot_life_s : float
            The pot life at 20 °C. [s]

        Returns
        -------
        float
            An estimate. [s]
        """
        return pot_life_s * min(1.0, self.setting_ratio)

    def wait_s(self, wait_s: float) -> float:
        """Give a wait at this temperature: lengthened by cold, never shortened by heat.

        Parameters
        ----------
        wait_s : float
            The wait at 20 °C. [s]

        Returns
        -------
        float
            An estimate. [s]
        """
        return wait_s * max(1.0, self.setting_ratio)


@dataclass(frozen=True, slots=True)
class Drying:
    """Water that dries off the fresh surface.

    Parameters
    ----------
    rate_kg_m2_h, limit_kg_m2_h : float
        The rate, and the one from which on it must be watched. [kg/m² h]
    """

    rate_kg_m2_h: float
    limit_kg_m2_h: float


def ice_wanted_kg(plain: WeighedMix, conditions: Conditions) -> float:
    """Give the ice of a sheet that has been weighed without any.

    Parameters
    ----------
    plain : WeighedMix
        The sheet without ice.
    conditions : Conditions
        What was told.

    Returns
    -------
    float
        Ice, as told or as the temperature wanted needs; 0 where neither was told. [kg]

    Raises
    ------
    MixError
        If a temperature is missing, or all of the water as ice does not cool the mix enough.

    Examples
    --------
    >>> from takeoff.files.mix_file import read_mix
    >>> from takeoff.mix.weighing import weigh_out
    >>> plain = weigh_out(read_mix("backer-poured"), mass_kg=40.0)
    >>> round(ice_wanted_kg(plain, Conditions({"all": 30.0}, wanted_c=20.0)), 2)
    1.18
    """
    if conditions.ice_kg is not None:
        return conditions.ice_kg
    if conditions.ice_share is not None:
        return conditions.ice_share * plain.water_to_add_kg
    if conditions.wanted_c is None:
        return 0.0
    heats = shipped_heat().heats
    aimed_c = conditions.wanted_c - conditions.gain_c
    if aimed_c < 0.0:
        raise MixError(f"a mix cannot come to {aimed_c:g} C before it warms; it would freeze")
    ice_c = conditions.at_c.get(_ICE, 0.0)
    ice_kg = ice_for_kg(
        _warmths(plain, conditions),
        heats=heats,
        wanted_c=aimed_c,
        water_c=_temperature_c(plain.mix.water.ingredient, conditions),
        ice_c=ice_c,
    )
    if ice_kg > plain.water_to_add_kg:
        dry = _warmths(plain, conditions, water=False)
        least = heat_balance(dry, heats=heats, ice_kg=plain.water_to_add_kg, ice_c=ice_c)
        raise MixError(
            f"all {plain.water_to_add_kg:.4g} kg of water to add as ice bring it to "
            f"{least.temperature_c + conditions.gain_c:.1f} C, not to {conditions.wanted_c:g} C; "
            "cool the sand or the cement"
        )
    return ice_kg


def heat_of(sheet: WeighedMix, conditions: Conditions) -> MixHeat | None:
    """Give the temperature of a mix as weighed.

    Parameters
    ----------
    sheet : WeighedMix
        The sheet, its ice included.
    conditions : Conditions
        What was told.

    Returns
    -------
    MixHeat or None
        The temperature and what follows; None where nothing was told.

    Raises
    ------
    MixError
        If the temperature of an ingredient is missing.

    Examples
    --------
    >>> from takeoff.files.mix_file import read_mix
    >>> from takeoff.mix.weighing import weigh_out
    >>> sheet = weigh_out(read_mix("backer-poured"), mass_kg=40.0)
    >>> heat = heat_of(sheet, Conditions({"all": 30.0, "water": 10.0}))
    >>> round(heat.mix_c, 1), round(heat.setting_ratio, 2)
    (23.4, 0.83)
    """
    if conditions.mix_c is not None:
        ratio = setting_ratio(conditions.mix_c)
        return MixHeat(
            conditions.mix_c, told=True, ice_kg=0.0, unmelted_kg=0.0, setting_ratio=ratio
        )
    if not conditions.at_c:
        return None
    ice_kg = sum(line.mass_kg for line in sheet.lines if line.charge.water is WaterPart.ICE)
    balance = heat_balance(
        _warmths(sheet, conditions),
        heats=shipped_heat().heats,
        ice_kg=ice_kg,
        ice_c=conditions.at_c.get(_ICE, 0.0),
    )
    mix_c = balance.temperature_c + conditions.gain_c
    return MixHeat(
        mix_c,
        told=False,
        ice_kg=ice_kg,
        unmelted_kg=balance.unmelted_kg,
        setting_ratio=setting_ratio(mix_c),
    )


def drying_of(sheet: WeighedMix, heat: MixHeat | None, conditions: Conditions) -> Drying | None:
    """Give the water that dries off the fresh surface.

    Parameters
    ----------
    sheet : WeighedMix
        The sheet.
    heat : MixHeat or None
        Temperature of the mix.
    conditions : Conditions
        What was told.

    Returns
    -------
    Drying or None
        Rate and limit; None where no weather was told.

    Raises
    ------
    MixError
        If the temperature of the mix is not known.

    Examples
    --------
    >>> from takeoff.files.mix_file import read_mix
    >>> from takeoff.mix.weighing import weigh_out
    >>> sheet = weigh_out(read_mix("backer-poured"), mass_kg=40.0)
    >>> told = Conditions({}, mix_c=25.0, weather=Weather(25.0, 0.4, 5.0))
    >>> drying = drying_of(sheet, heat_of(sheet, told), told)
    >>> round(drying.rate_kg_m2_h, 2), drying.limit_kg_m2_h
    (0.8, 0.5)
    """
    if conditions.weather is None:
        return None
    if heat is None:
        raise MixError("drying needs the temperature of the mix: temperature, or at for each part")
    limits = shipped_heat().drying
    roles = {dose.ingredient.role for dose in sheet.mix.doses}
    sensitive = bool(roles & _SENSITIVE)
    return Drying(
        evaporation_kg_m2_h(conditions.weather, mix_c=heat.mix_c),
        limits.sensitive_kg_m2_h if sensitive else limits.plain_kg_m2_h,
    )


def warm_water_c(sheet: WeighedMix, conditions: Conditions, *, wanted_c: float) -> float | None:
    """Give the temperature of the water to add that brings a cold mix to what is wanted.

    Parameters
    ----------
    sheet : WeighedMix
        The sheet, without ice.
    conditions : Conditions
        What was told.
    wanted_c : float
        Temperature wanted, warming by mixing not counted. [°C]

    Returns
    -------
    float or None
        The temperature; None where there is no water to add. [°C]

    Examples
    --------
    >>> from takeoff.files.mix_file import read_mix
    >>> from takeoff.mix.weighing import weigh_out
    >>> sheet = weigh_out(read_mix("backer-poured"), mass_kg=40.0)
    >>> round(warm_water_c(sheet, Conditions({"all": 10.0}), wanted_c=18.0))
    34
    """
    heats = shipped_heat().heats
    if sheet.water_to_add_kg <= 0.0:
        return None
    lacking_kj = sum(
        part.kilojoules_per_kelvin(heats) * (wanted_c - part.temperature_c)
        for part in _warmths(sheet, conditions, water=False)
    )
    return wanted_c + lacking_kj / (sheet.water_to_add_kg * heats.water_j_kg_k / 1000.0)


def _warmths(
    sheet: WeighedMix, conditions: Conditions, *, water: bool = True
) -> tuple[Warmth, ...]:
    """Give what goes into the mixer as it comes to it: no ice, nothing that is added at the gun."""
    _check_names(sheet, conditions)
    parts = []
    for line in sheet.lines:
        one, is_water = line.charge.ingredient, line.role is Role.WATER
        if line.charge.at_gun or line.charge.water is WaterPart.ICE or (is_water and not water):
            continue
        wet_share = 1.0 if is_water else one.water_share + (one.absorbed_share or 0.0)
        wet_kg = line.mass_kg * wet_share
        parts.append(Warmth(line.mass_kg - wet_kg, wet_kg, _temperature_c(one, conditions)))
    return tuple(parts)


def _temperature_c(ingredient: Ingredient, conditions: Conditions) -> float:
    """Find the temperature of an ingredient: by its name, by its role, or that of all."""
    for name in (ingredient.name, ingredient.role.value, _EVERYTHING):
        if name in conditions.at_c:
            temperature_c = conditions.at_c[name]
            if ingredient.role is Role.WATER and temperature_c < 0.0:
                raise MixError(f"water at {temperature_c:g} C is ice; tell water=5C")
            return temperature_c
    told = ", ".join(sorted(conditions.at_c))
    raise MixError(
        f"the temperature of {ingredient.name} is not told, only of {told}; add "
        f"{ingredient.role}=20C, or all=20C for whatever is not named"
    )


def _check_names(sheet: WeighedMix, conditions: Conditions) -> None:
    """Refuse temperatures of what is not in the mix."""
    parts = [line.charge.ingredient for line in sheet.lines]
    known = {_EVERYTHING, _ICE, *(part.name for part in parts), *(part.role for part in parts)}
    for name in conditions.at_c:
        if name not in known:
            raise MixError(
                f"a temperature is told of {name!r}, which is not in the mix; "
                f"known: {', '.join(sorted(known))}"
            )
