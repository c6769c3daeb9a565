"""What stands below the table of a weigh sheet: water, coat, time, temperature, spray."""

from __future__ import annotations

from collections.abc import Iterator

from takeoff.documents import WeighDocument
from takeoff.report.figures import (
    System,
    written_duration,
    written_length,
    written_mass,
    written_share,
    written_temperature,
    written_volume,
)
from takeoff.units import area_m2, length_m, mass_kg
from takeoff.weigh_documents import MixHeatRow

_BOARD_M2 = 0.09
_BAG_S = 15.0
_USUAL_C = 20.0


def weigh_remarks(document: WeighDocument, system: System) -> list[str]:
    """Write what stands below the table of a weigh sheet.

    Parameters
    ----------
    document : WeighDocument
        The document, not refused.
    system : System
        Units of the text.

    Returns
    -------
    list of str
        Lines.

    Examples
    --------
    >>> import takeoff
    >>> sheet = takeoff.weigh("face-coat-sprayed", mass="20 kg", coat="4 mm").to_dict()
    >>> weigh_remarks(sheet, System.METRIC)[1]
    'a coat of 4 mm weighs 8.334 kg/m²; on a board of 300 x 300 mm 750.1 g'
    """
    return [
        *_water(document, system),
        *_coat(document, system),
        *_times(document, system),
        *_heat(document, system),
        *_spray(document, system),
    ]


def _water(document: WeighDocument, system: System) -> Iterator[str]:
    """Write the water in all, and its parts."""
    in_all, to_add = (
        "-" if mass_kg is None else written_mass(mass_kg, system)
        for mass_kg in (document["water_total_kg"], document["water_to_add_kg"])
    )
    yield f"water in all {in_all}, to add {to_add}{_ratios(document)}"
    bag = document["bag"]
    if bag is not None:
        mass, water = (
            written_mass(bag["mass_kg"], system),
            written_mass(bag["water_to_add_kg"], system),
        )
        gives = written_volume(bag["yield_m3"], system)
        yield f"a bag of {mass} takes {water} of water to add and gives {gives}"
    if any(line["at_gun"] for line in document["ingredients"]) and document["mixer_kg"]:
        yield f"into the mixer {written_mass(document['mixer_kg'], system)}, the rest at the gun"


def _ratios(document: WeighDocument) -> str:
    """Write water over cement, and over all binder where that is more."""
    cement, binder = document["water_cement_ratio"], document["water_binder_ratio"]
    if cement is None:
        return ""
    same = binder is None or abs(binder - cement) < cement / 1000.0
    return f"; water:cement {cement:.3g}" + ("" if same else f", water:binder {binder:.3g}")


def _coat(document: WeighDocument, system: System) -> Iterator[str]:
    """Write what a coat weighs, so that a scale tells its thickness."""
    density_kg_m3, coat = document["density_kg_m3"] or 0.0, document["coat"]
    if coat is None:
        thickness_m = length_m("1 mm" if system == System.METRIC else "1/8 in")
        thin = written_length(thickness_m, system)
        yield f"{thin} of it weighs {_per_area(density_kg_m3 * thickness_m, system)}"
        return
    text = (
        f"a coat of {written_length(coat['thickness_m'], system)} weighs "
        f"{_per_area(coat['mass_kg_m2'], system)}"
    )
    if system == System.METRIC:
        board = written_mass(_BOARD_M2 * coat["mass_kg_m2"], system)
        text += f"; on a board of 300 x 300 mm {board}"
    yield text
    span = coat["mass_range_kg_m2"]
    if span is not None:
        low, high = (_per_area(span[end], system) for end in ("low", "high"))
        yield f"at least {low}, at most {high}"


def _times(document: WeighDocument, system: System) -> Iterator[str]:
    """Write pot life and wait, as told and at the temperature of the mix."""
    heat, usual = document["heat"], written_temperature(_USUAL_C, system)
    if not document["mixing"]:
        yield "mixing times not told: the products' data sheets rule"
    pot_life_s, wait_s = document["pot_life_s"], document["wait_s"]
    if pot_life_s is None:
        yield "pot life not told: the products' data sheets rule"
    else:
        warm = "" if heat is None else _estimated(heat, pot_life_s, heat["pot_life_s"], system)
        yield f"pot life {written_duration(pot_life_s)} at {usual}{warm}"
    if wait_s is not None:
        cold = "" if heat is None else _estimated(heat, wait_s, heat["wait_s"], system)
        yield f"wait {written_duration(wait_s)} before the next layer at {usual}{cold}"


def _estimated(heat: MixHeatRow, usual_s: float, time_s: float | None, system: System) -> str:
    """Write a time at the temperature of the mix, where that changes it."""
    rounded_s = max(60.0, 60.0 * round((time_s or usual_s) / 60.0))
    if abs(rounded_s - usual_s) < 60.0:
        return ""
    return f", about {written_duration(rounded_s)} at {_rounded(heat, system)} (an estimate)"


def _rounded(heat: MixHeatRow, system: System) -> str:
    """Write the temperature of the mix."""
    return written_temperature(heat["mix_c"], system)


def _heat(document: WeighDocument, system: System) -> Iterator[str]:
    """Write the temperature, the ice, how fast it sets and how fast it dries."""
    heat, drying = document["heat"], document["drying"]
    if heat is not None:
        says = "is at" if heat["told"] else "comes to"
        ice = ""
        if heat["ice_kg"] > 0.0:
            of_water = written_share(round(heat["ice_share_of_water"], 3))
            ice = f" with {written_mass(heat['ice_kg'], system)} of ice, {of_water} of all water"
        yield f"the mix {says} {_rounded(heat, system)}{ice}"
        usual = written_temperature(_USUAL_C, system)
        ratio = f"{heat['setting_ratio']:.2g}"
        if ratio != "1":
            yield f"setting takes about {ratio} times what it takes at {usual} (an estimate)"
    if drying is not None:
        rate, limit = (
            _drying_rate(drying[key], system) for key in ("rate_kg_m2_h", "limit_kg_m2_h")
        )
        yield f"its surface dries at {rate} (equation of Uno 1998); watch it from {limit} on"


def _drying_rate(si_kg_m2_h: float, system: System) -> str:
    """Write a rate of drying."""
    if system == System.METRIC:
        return f"{si_kg_m2_h:.2g} kg/m² h"
    return f"{si_kg_m2_h * area_m2('1 sq ft') / mass_kg('1 lb'):.2g} lb/sq ft h"


def _spray(document: WeighDocument, system: System) -> Iterator[str]:
    """Write the spray station by bag and bucket."""
    spray = document["spray"]
    if spray is None:
        return
    slurry, glass = (
        written_mass(60.0 * rate_kg_s, system)
        for rate_kg_s in (spray["slurry_kg_s"], spray["wanted_glass_kg_s"])
    )
    bag = written_mass(_BAG_S * spray["wanted_glass_kg_s"], system)
    share = written_share(spray["wanted_fibre_share"])
    yield (
        f"spray station: {slurry}/min of slurry takes {glass}/min of fibre for {share} of total: "
        f"{bag} in a bag of 15 s"
    )
    if spray["glass_kg_s"] is not None and spray["fibre_share"] is not None:
        found = written_mass(60.0 * spray["glass_kg_s"], system)
        yield f"it gives {found}/min of fibre: {written_share(spray['fibre_share'])} of total"


def _per_area(si_kg_m2: float, system: System) -> str:
    """Write a mass per area."""
    if system == System.METRIC:
        return f"{si_kg_m2:.4g} kg/m²"
    return f"{written_mass(si_kg_m2 * area_m2('1 sq ft'), system)}/sq ft"
