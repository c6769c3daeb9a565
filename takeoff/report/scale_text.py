"""Masses as a scale shows them: in its unit, to its division, none of its zeros dropped."""

from __future__ import annotations

from collections.abc import Sequence
from decimal import Decimal

from takeoff.report.figures import System, written_mass
from takeoff.units import mass_kg
from takeoff.weigh_documents import IngredientRow, PortionRow

_OUNCES_IN_A_POUND = 16


def written_reading(si_kg: float, *, division_kg: float, unit: str = "") -> str:
    """Write what a scale shows.

    Parameters
    ----------
    si_kg : float
        The mass. [kg]
    division_kg : float
        Division of the scale. [kg]
    unit : str, default ""
        Unit of the scale: ``"lb"`` for decimal pounds, ``"oz"`` for pounds and ounces, whatever
        else for grams, from 1 kg on kilograms.

    Returns
    -------
    str
        The reading with its unit, to the division.

    Examples
    --------
    >>> written_reading(15.3, division_kg=0.01), written_reading(0.94, division_kg=0.01)
    ('15.30 kg', '940 g')
    >>> division_kg = mass_kg("0.1 oz")
    >>> written_reading(mass_kg("33 lb 11.7 oz"), division_kg=division_kg, unit="oz")
    '33 lb 11.7 oz'
    """
    if unit == "lb":
        return _to_division(si_kg, division_kg, "lb")
    if unit == "oz":
        return _in_pounds_and_ounces(si_kg, division_kg)
    heavy = round(si_kg / division_kg) * division_kg >= 1.0
    return _to_division(si_kg, division_kg, "kg" if heavy else "g")


def scale_unit(name: str | None) -> str:
    """Give the unit that a scale shows, by the way its division is written.

    Parameters
    ----------
    name : str or None
        The division as told, such as ``"0.1 oz"``.

    Returns
    -------
    str
        ``"lb"``, ``"oz"``, or ``""`` for a metric scale.

    Examples
    --------
    >>> scale_unit("0.01 lb"), scale_unit("1/4 ounce"), scale_unit("10 g")
    ('lb', 'oz', '')
    """
    words = "".join(sign if sign.isalpha() else " " for sign in (name or "").lower()).split()
    if any(word in {"oz", "ounce", "ounces"} for word in words):
        return "oz"
    return "lb" if any(word in {"lb", "lbs", "pound", "pounds"} for word in words) else ""


def weighed_text(line: IngredientRow, system: System) -> str:
    """Write the mass of a line as its scale shows it.

    Parameters
    ----------
    line : IngredientRow
        The line.
    system : System
        Units where there is no scale.

    Returns
    -------
    str
        The mass.

    Examples
    --------
    >>> import takeoff
    >>> sheet = takeoff.weigh("backer-poured", mass="20 kg", scale="10 g")
    >>> weighed_text(sheet.to_dict()["ingredients"][0], System.METRIC)
    '1.94 kg'
    """
    if line["division_kg"] is None:
        return written_mass(line["mass_kg"], system)
    return written_reading(
        line["mass_kg"], division_kg=line["division_kg"], unit=scale_unit(line["scale"])
    )


def running_text(line: IngredientRow, lines: Sequence[IngredientRow], system: System) -> str:
    """Write the running total of a line to the finest division of the sheet.

    Parameters
    ----------
    line : IngredientRow
        The line.
    lines : sequence of IngredientRow
        All lines.
    system : System
        Units where there is no scale.

    Returns
    -------
    str
        The total; a dash for what never goes into the mixer.

    Examples
    --------
    >>> import takeoff
    >>> lines = takeoff.weigh("backer-poured", mass="20 kg", scale="10 g").to_dict()["ingredients"]
    >>> running_text(lines[1], lines, System.METRIC)
    '2.95 kg'
    """
    if line["at_gun"]:
        return "-"
    divisions = [one["division_kg"] for one in lines if one["division_kg"] is not None]
    if not divisions:
        return written_mass(line["running_kg"], system)
    units = [scale_unit(one["scale"]) for one in lines if one["division_kg"] == min(divisions)]
    return written_reading(line["running_kg"], division_kg=min(divisions), unit=units[0])


def portions_text(line: IngredientRow, system: System) -> str:
    """Write the goes in which a line is weighed.

    Parameters
    ----------
    line : IngredientRow
        The line.
    system : System
        Units where there is no scale.

    Returns
    -------
    str
        Bags and buckets; empty where it is weighed at once.

    Examples
    --------
    >>> import takeoff
    >>> sheet = takeoff.weigh("backer-poured", mass="90 kg", scale="10 g", bucket="20 kg")
    >>> portions_text(sheet.to_dict()["ingredients"][2], System.METRIC)
    '20.00 kg + 16.53 kg'
    """
    portions = line["portions"]
    if len(portions) == 1 and portions[0]["count"] == 1 and not portions[0]["bag"]:
        return ""
    return " + ".join(_portion(portion, line, system) for portion in portions)


def _portion(portion: PortionRow, line: IngredientRow, system: System) -> str:
    """Write one size of goes."""
    count = portion["count"]
    if portion["bag"]:
        return (
            f"{count} bag{'s' if count > 1 else ''} of {written_mass(portion['mass_kg'], system)}"
        )
    mass = written_mass(portion["mass_kg"], system)
    if line["division_kg"] is not None:
        mass = written_reading(
            portion["mass_kg"], division_kg=line["division_kg"], unit=scale_unit(line["scale"])
        )
    return mass if count == 1 else f"{count} x {mass}"


def _to_division(si_kg: float, division_kg: float, unit: str) -> str:
    """Write a mass in one unit, with the decimals of the division."""
    size_kg = mass_kg(f"1 {unit}")
    return f"{si_kg / size_kg:.{_decimals(division_kg / size_kg)}f} {unit}"


def _in_pounds_and_ounces(si_kg: float, division_kg: float) -> str:
    """Write pounds and ounces, ounces with the decimals of the division."""
    size_kg = mass_kg("1 oz")
    decimals = _decimals(division_kg / size_kg)
    pounds, ounces = divmod(Decimal(f"{si_kg / size_kg:.{decimals}f}"), _OUNCES_IN_A_POUND)
    return f"{pounds:f} lb {ounces:f} oz" if pounds else f"{ounces:f} oz"


def _decimals(division: float) -> int:
    """Count the decimals that a division shows."""
    exponent = Decimal(repr(round(division, 9))).normalize().as_tuple().exponent
    return max(0, -int(exponent))
