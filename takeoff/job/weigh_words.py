"""What a caster tells a weigh sheet, read from written words: scales, moisture, rates."""

from __future__ import annotations

import math
import re
from collections.abc import Mapping, Sequence
from dataclasses import replace
from pathlib import Path

from takeoff.errors import MixError, QuantityError
from takeoff.files.shop_file import read_shop
from takeoff.job.weigh_heat import Conditions
from takeoff.mix.evaporation import Weather
from takeoff.mix.ingredients import Role
from takeoff.mix.mixes import Mix, Use
from takeoff.mix.moisture import Moisture, on_stock
from takeoff.mix.scales import Scale
from takeoff.units import duration_s, mass_kg, share, speed_m_s, temperature_c

PerSand = Mapping[str, str] | str | None
"""One share for each sand by name, or one for the only sand."""

_CAPACITY = re.compile(r"\s+(?:up\s+)?to\s+")
_TIME = re.compile(r"\s+in\s+|\s*/\s*")


def read_scale(text: str) -> Scale:
    """Read a scale: its division, and up to what it holds.

    Parameters
    ----------
    text : str
        ``"10 g"``, or ``"10 g to 30 kg"``.

    Returns
    -------
    Scale
        The scale, named by its division.

    Raises
    ------
    QuantityError
        If a mass cannot be read.
    MixError
        If it cannot be a scale.

    Examples
    --------
    >>> read_scale("10 g to 30 kg").capacity_kg
    30.0
    """
    division, *capacity = _CAPACITY.split(text.strip(), maxsplit=1)
    division_kg = mass_kg(division)
    if division_kg <= 0.0:
        raise MixError(f"a scale cannot have a division of {division}; write it like 10 g")
    capacity_kg = mass_kg(capacity[0]) if capacity else math.inf
    return Scale(division_kg, capacity_kg, division)


def read_scales(scale: str | Sequence[str] | None, shop: str | Path | None) -> tuple[Scale, ...]:
    """Read the scales told, or those of a shop file.

    Parameters
    ----------
    scale : str, sequence of str or None
        One or several scales.
    shop : str, Path or None
        A shop file, whose scales hold where none are told.

    Returns
    -------
    tuple of Scale
        The scales.

    Examples
    --------
    >>> [scale.name for scale in read_scales(["1 g to 2 kg", "50 g"], None)]
    ['1 g', '50 g']
    """
    told = [scale] if isinstance(scale, str) else list(scale or ())
    if told or shop is None:
        return tuple(read_scale(text) for text in told)
    return read_shop(shop).scales


def read_rate_kg_s(text: str) -> float:
    """Read the rate of a spray station.

    Parameters
    ----------
    text : str
        ``"125 g in 15 s"``, ``"125 g / 15 s"`` or ``"9.5 kg/min"``.

    Returns
    -------
    float
        The rate. [kg/s]

    Raises
    ------
    QuantityError
        If it is no mass in a time.

    Examples
    --------
    >>> round(60.0 * read_rate_kg_s("125 g in 15 s"), 6)
    0.5
    """
    mass, *time = _TIME.split(text.strip(), maxsplit=1)
    if not time:
        raise QuantityError(f'cannot read {text!r} as a rate; write it like "125 g in 15 s"')
    took_s = duration_s(time[0] if time[0][:1].isdigit() else f"1 {time[0]}")
    if took_s <= 0.0:
        raise QuantityError(f"cannot read {text!r} as a rate: it takes no time")
    return mass_kg(mass) / took_s


def read_stock(mix: Mix, *, moisture: PerSand, absorption: PerSand) -> Mix:
    """Give a mix with its sand as it lies in the stock.

    Parameters
    ----------
    mix : Mix
        The mix.
    moisture : mapping of str to str, str or None
        Free moisture of each sand, over its oven-dry mass; below 0 for sand that takes water up.
    absorption : mapping of str to str, str or None
        Water that its grains hold inside, over the same.

    Returns
    -------
    Mix
        The mix.

    Raises
    ------
    MixError
        If a sand is not in the mix, or one share is told for several.
    QuantityError
        If a share cannot be read.

    Examples
    --------
    >>> from takeoff.files.mix_file import read_mix
    >>> wet = read_stock(read_mix("backer-poured"), moisture="4 %", absorption=None)
    >>> wet.doses[1].share
    1.04
    """
    free, absorbed = _by_sand(mix, moisture), _by_sand(mix, absorption)
    names = [*free, *(name for name in absorbed if name not in free)]
    return on_stock(
        mix,
        {
            name: Moisture(
                _signed_share(free[name]) if name in free else None,
                _signed_share(absorbed[name]) if name in absorbed else None,
            )
            for name in names
        },
    )


def read_use(mix: Mix, use: str | None) -> Mix:
    """Give a mix with what its casting is for.

    Parameters
    ----------
    mix : Mix
        The mix.
    use : str or None
        ``"cladding"`` or ``"other"``; None leaves what the mix says.

    Returns
    -------
    Mix
        The mix.

    Raises
    ------
    MixError
        If it is neither.

    Examples
    --------
    >>> from takeoff.files.mix_file import read_mix
    >>> read_use(read_mix("backer-poured"), "cladding").use.value
    'cladding'
    """
    if use is None:
        return mix
    if use not in list(Use):
        raise MixError(f"{use!r} is not one of {', '.join(Use)}")
    return replace(mix, use=Use(use))


def read_conditions(
    *,
    at: Mapping[str, str] | None,
    wanted: str | None,
    ice: str | None,
    gain: str | None,
    temperature: str | None,
    weather: tuple[str | None, str | None, str | None],
) -> Conditions:
    """Read what is told of heat and weather.

    Parameters
    ----------
    at : mapping of str to str or None
        Temperatures by ingredient or role, of ``"ice"``, or of ``"all"``.
    wanted, ice, gain, temperature : str or None
        Temperature wanted; ice as a mass or a share; warming; temperature measured.
    weather : tuple of (str or None, str or None, str or None)
        Temperature, humidity and wind of the air.

    Returns
    -------
    Conditions
        The same in SI.

    Raises
    ------
    MixError
        If only a part of the weather is told, or what is told contradicts itself.
    QuantityError
        If a figure cannot be read.

    Examples
    --------
    >>> read_conditions(at={"all": "86 F"}, wanted="18 C", ice=None, gain=None,
    ...                 temperature=None, weather=(None, None, None)).at_c
    {'all': 30.0}
    """
    ice_kg, ice_share = _ice(ice)
    return Conditions(
        at_c={name: temperature_c(text) for name, text in (at or {}).items()},
        wanted_c=None if wanted is None else temperature_c(wanted),
        ice_kg=ice_kg,
        ice_share=ice_share,
        gain_c=0.0 if gain is None else _difference_c(gain),
        mix_c=None if temperature is None else temperature_c(temperature),
        weather=_weather(*weather),
    )


def _weather(air: str | None, humidity: str | None, wind: str | None) -> Weather | None:
    """Read the air, all of it or none."""
    told = [text for text in (air, humidity, wind) if text is not None]
    if not told:
        return None
    if air is None or humidity is None or wind is None:
        raise MixError("drying needs air, humidity and wind, all three")
    return Weather(temperature_c(air), share(humidity), speed_m_s(wind))


def _ice(text: str | None) -> tuple[float | None, float | None]:
    """Read ice as a mass [kg] or as a share of the water to add [-]."""
    if text is None:
        return None, None
    return (None, share(text)) if "%" in text else (mass_kg(text), None)


def _difference_c(text: str) -> float:
    """Read a difference of temperatures, which has no zero of its own."""
    unit = text.strip().lstrip("0123456789.,+- ")
    return temperature_c(text) - temperature_c(f"0 {unit}")


def _by_sand(mix: Mix, told: PerSand) -> dict[str, str]:
    """Give what is told by the name of the sand it is for."""
    by_name = {"": told} if isinstance(told, str) else dict(told or {})
    sands = [dose.ingredient.name for dose in mix.doses if dose.ingredient.role is Role.SAND]
    if "" in by_name:
        if len(sands) != 1:
            raise MixError(f"has {len(sands)} sands; name the one it is for", where=mix.name)
        by_name[sands[0]] = by_name.pop("")
    return by_name


def _signed_share(text: str) -> float:
    """Read a share that may be below 0."""
    plain = text.strip()
    return -share(plain[1:]) if plain.startswith("-") else share(plain)
