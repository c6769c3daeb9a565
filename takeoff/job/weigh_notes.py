"""The doubts of a weigh sheet that its weather, its spray station and its use raise."""

from __future__ import annotations

from collections.abc import Iterator

from takeoff.files.shipped import shipped_heat, shipped_limits
from takeoff.job.spray_station import Spray
from takeoff.job.weigh_heat import Conditions, Drying, MixHeat, warm_water_c
from takeoff.mix.spraying import SprayRules, coat_mass_kg_m2
from takeoff.mix.weigh_sheet import WeighedMix
from takeoff.notes import Note, NoteCode


def heat_notes(sheet: WeighedMix, heat: MixHeat | None, conditions: Conditions) -> Iterator[Note]:
    """Note ice beyond what is trusted or melts, and a mix that is too cold.

    Parameters
    ----------
    sheet : WeighedMix
        The sheet.
    heat : MixHeat or None
        Temperature of the mix.
    conditions : Conditions
        What was told.

    Yields
    ------
    Note
        The doubts.

    Examples
    --------
    >>> from takeoff.files.mix_file import read_mix
    >>> from takeoff.mix.weighing import weigh_out
    >>> sheet = weigh_out(read_mix("backer-poured"), mass_kg=40.0)
    >>> from takeoff.job.weigh_heat import heat_of
    >>> told = Conditions({"all": 10.0}, wanted_c=18.0)
    >>> heat = heat_of(sheet, told)
    >>> [note.text for note in heat_notes(sheet, heat, told)]
    ['comes to 10.0 C by itself, colder than the 18 C wanted; that takes water of 34 C']
    """
    if heat is None:
        return
    if heat.unmelted_kg > 0.0:
        yield _warm(
            sheet,
            f"{heat.unmelted_kg:.3g} kg of the {heat.ice_kg:.3g} kg of ice finds no heat to melt: "
            "a slush at 0 C; take less ice",
        )
    yield from _ice_share_notes(sheet, heat)
    if conditions.wanted_c is not None and heat.ice_kg == 0.0:
        aimed_c = conditions.wanted_c - conditions.gain_c
        water_c = warm_water_c(sheet, conditions, wanted_c=aimed_c)
        if heat.mix_c < conditions.wanted_c - _CLOSE_C and water_c is not None:
            yield _warm(
                sheet,
                f"comes to {heat.mix_c:.1f} C by itself, colder than the {conditions.wanted_c:g} C "
                f"wanted; that takes water of {water_c:.0f} C",
            )


_CLOSE_C = 0.05


def _ice_share_notes(sheet: WeighedMix, heat: MixHeat) -> Iterator[Note]:
    """Note a share of ice beyond what is published."""
    figures = shipped_heat()
    ice_share = heat.ice_kg / sheet.water_total_kg
    if ice_share > figures.most_ice_share:
        most = f"at most {100.0 * figures.most_ice_share:g} % is published (ACI 305R, as quoted)"
        yield _warm(sheet, f"{100.0 * ice_share:.0f} % of all water is ice; {most}")
    elif ice_share > figures.trusted_ice_share:
        yield _warm(
            sheet,
            f"{100.0 * ice_share:.0f} % of all water is ice; the balance is trusted to about "
            f"{100.0 * figures.trusted_ice_share:g} % (Jabbar 2017): measure the mix",
        )


def drying_notes(sheet: WeighedMix, drying: Drying | None) -> Iterator[Note]:
    """Note a surface that dries too fast.

    Parameters
    ----------
    sheet : WeighedMix
        The sheet.
    drying : Drying or None
        Rate and limit.

    Yields
    ------
    Note
        The doubt.

    Examples
    --------
    >>> from takeoff.files.mix_file import read_mix
    >>> from takeoff.mix.weighing import weigh_out
    >>> sheet = weigh_out(read_mix("backer-poured"), mass_kg=40.0)
    >>> list(drying_notes(sheet, Drying(rate_kg_m2_h=0.4, limit_kg_m2_h=0.5)))
    []
    """
    if drying is not None and drying.rate_kg_m2_h >= drying.limit_kg_m2_h:
        text = (
            f"dries at {drying.rate_kg_m2_h:.2g} kg/m2 h, {drying.limit_kg_m2_h:g} or more may "
            "crack it: shade, no wind, cover or mist at once (equation of Uno 1998, good to 40 %)"
        )
        yield Note(NoteCode.DRYING, text, where=sheet.mix.name)


def spray_notes(
    sheet: WeighedMix, spray: Spray | None, *, rules: SprayRules = SprayRules()
) -> Iterator[Note]:
    """Note a spray station that is off.

    Parameters
    ----------
    sheet : WeighedMix
        The sheet.
    spray : Spray or None
        The spray station.
    rules : SprayRules, optional
        How far it may be off.

    Yields
    ------
    Note
        The doubt.

    Examples
    --------
    >>> from takeoff.files.mix_file import read_mix
    >>> from takeoff.mix.weighing import weigh_out
    >>> sheet = weigh_out(read_mix("backer-sprayed"), mass_kg=40.0)
    >>> spray = Spray(slurry_kg_s=0.16, glass_kg_s=0.007, wanted_share=0.05)
    >>> [note.text for note in spray_notes(sheet, spray)]
    ['the spray station gives 4.19 % of fibre, the mix has 5 %: set it anew']
    """
    if spray is None or spray.fibre_share is None:
        return
    if abs(spray.fibre_share - spray.wanted_share) > rules.fibre_share * spray.wanted_share:
        text = (
            f"the spray station gives {100.0 * spray.fibre_share:.3g} % of fibre, the mix has "
            f"{100.0 * spray.wanted_share:.3g} %: set it anew"
        )
        yield Note(NoteCode.SPRAY_OFF, text, where=sheet.mix.name)


def coat_range_kg_m2(sheet: WeighedMix, thickness_m: float) -> tuple[float, float] | None:
    """Give the least and most mass per area that a tolerance of the thickness leaves.

    Parameters
    ----------
    sheet : WeighedMix
        The sheet.
    thickness_m : float
        Thickness drawn. [m]

    Returns
    -------
    tuple of (float, float) or None
        Least and most; None where the use has no tolerance. [kg/m²]

    Examples
    --------
    >>> from takeoff.files.mix_file import read_mix
    >>> from takeoff.mix.weighing import weigh_out
    >>> sheet = weigh_out(read_mix("backer-poured"), mass_kg=40.0)
    >>> coat_range_kg_m2(sheet, 0.016) is None
    True
    """
    tolerance = shipped_limits().thickness
    if sheet.mix.use is not tolerance.use:
        return None
    least_m, most_m = thickness_m - tolerance.under_m, thickness_m + tolerance.over_m
    return (
        coat_mass_kg_m2(density_kg_m3=sheet.density_kg_m3, thickness_m=least_m),
        coat_mass_kg_m2(density_kg_m3=sheet.density_kg_m3, thickness_m=most_m),
    )


def coat_notes(sheet: WeighedMix, thickness_m: float | None) -> Iterator[Note]:
    """Note a tolerance that is one-sided: no place may be thinner than drawn.

    Parameters
    ----------
    sheet : WeighedMix
        The sheet.
    thickness_m : float or None
        Thickness drawn. [m]

    Yields
    ------
    Note
        The doubt.

    Examples
    --------
    >>> from takeoff.files.mix_file import read_mix
    >>> from takeoff.mix.weighing import weigh_out
    >>> sheet = weigh_out(read_mix("backer-poured"), mass_kg=40.0)
    >>> list(coat_notes(sheet, 0.016))
    []
    """
    if thickness_m is None:
        return
    tolerance = shipped_limits().thickness
    if sheet.mix.use is tolerance.use:
        text = (
            f"thickness may be {1000.0 * tolerance.over_m:g} mm over and "
            f"{1000.0 * tolerance.under_m:g} mm under for {tolerance.use} ({tolerance.cited}): "
            f"{1000.0 * thickness_m:g} mm is the least, nowhere the middle"
        )
        yield Note(NoteCode.MIX_LIMIT, text, where=sheet.mix.name)


def _warm(sheet: WeighedMix, text: str) -> Note:
    return Note(NoteCode.MIX_TEMPERATURE, text, where=sheet.mix.name)
