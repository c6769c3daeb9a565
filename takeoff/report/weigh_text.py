"""A weigh sheet as text for the person at the scale."""

from __future__ import annotations

from collections.abc import Sequence

from takeoff.documents import IngredientRow, WeighDocument
from takeoff.report.figures import (
    System,
    written_density,
    written_mass,
    written_share,
    written_volume,
)
from takeoff.report.note_text import note_line
from takeoff.report.tables import plain_table


def weigh_text(document: WeighDocument, *, system: System = System.METRIC, width: int = 0) -> str:
    """Write a weigh sheet as text.

    Parameters
    ----------
    document : WeighDocument
        The document, not refused.
    system : System, optional
        Units of the text.
    width : int, default 0
        Width of the terminal; 0 for any.

    Returns
    -------
    str
        The text, in order of addition, without a line feed at the end.

    Examples
    --------
    >>> import takeoff
    >>> sheet = takeoff.weigh("backer-poured", volume="18 L", scale="10 g")
    >>> print(weigh_text(sheet.to_dict()).splitlines()[0])
    backer-poured: 18 L, 37.7 kg, 2095 kg/m³ fresh, 6 % air
    """
    lines = [
        _title(document, system),
        "",
        _ingredient_table(document["ingredients"], system, width),
        "",
        _water(document, system),
    ]
    lines += [note_line(note) for note in document["notes"]]
    lines += ["", "Caution", *(f"- {sentence}" for sentence in document["cautions"])]
    return "\n".join(lines)


def _water(document: WeighDocument, system: System) -> str:
    in_all, to_add = (
        "-" if mass_kg is None else written_mass(mass_kg, system)
        for mass_kg in (document["water_total_kg"], document["water_to_add_kg"])
    )
    return f"water in all {in_all}, to add {to_add}"


def _title(document: WeighDocument, system: System) -> str:
    parts = []
    if document["volume_m3"] is not None:
        parts.append(written_volume(document["volume_m3"], system))
    if document["mass_kg"] is not None:
        parts.append(written_mass(document["mass_kg"], system))
    if document["density_kg_m3"] is not None:
        parts.append(f"{written_density(document['density_kg_m3'], system)} fresh")
    if document["air_share"] is not None:
        parts.append(f"{written_share(document['air_share'])} air")
    return f"{document['mix']}: {', '.join(parts)}"


def _ingredient_table(lines: Sequence[IngredientRow], system: System, width: int) -> str:
    rows, running_kg = [], 0.0
    for number, line in enumerate(lines, start=1):
        running_kg += line["mass_kg"]
        shares = line["shares"]
        rows.append(
            [
                str(number),
                line["name"],
                written_mass(line["mass_kg"], system),
                written_mass(running_kg, system),
                written_share(shares["of_dry"]),
                "-" if shares["of_cement"] is None else written_share(shares["of_cement"]),
                written_share(shares["of_total"]),
                line["when"],
            ]
        )
    head = ["", "ingredient", "weigh", "running total", "of dry", "of cement", "of total", "when"]
    return plain_table(head, rows, right=[0, 2, 3, 4, 5, 6], width=width)
