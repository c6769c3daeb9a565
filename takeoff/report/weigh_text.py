"""A weigh sheet as text for the person at the scale."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from takeoff.documents import WeighDocument
from takeoff.report.figures import (
    System,
    written_density,
    written_mass,
    written_share,
    written_volume,
)
from takeoff.report.mixing_words import mixing_turn, mixing_words
from takeoff.report.note_text import note_line
from takeoff.report.scale_text import portions_text, running_text, weighed_text
from takeoff.report.tables import plain_table
from takeoff.report.weigh_remarks import weigh_remarks
from takeoff.weigh_documents import IngredientRow, MixingRow


def weigh_text(document: WeighDocument, *, system: System = System.METRIC, width: int = 0) -> str:
    """Write a weigh sheet as text.

    Parameters
    ----------
    document : WeighDocument
        The document, not refused.
    system : System, optional
        Units of the text; masses are written as the scale shows them.
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
        _steps(document["ingredients"], document["mixing"], system, width),
        "",
        _doses(document, width),
        "",
    ]
    lines += weigh_remarks(document, system)
    lines += [note_line(note) for note in document["notes"]]
    lines += ["", "Caution", *(f"- {sentence}" for sentence in document["cautions"])]
    return "\n".join(lines)


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


def _steps(
    lines: Sequence[IngredientRow], mixing: Sequence[MixingRow], system: System, width: int
) -> str:
    """Set what is done at the mixer step by step, the mixing and the rest among it."""
    rows = [
        [
            line["name"],
            weighed_text(line, system),
            running_text(line, lines, system),
            portions_text(line, system),
            line["scale"] or "",
            line["when"],
        ]
        for line in lines
    ]
    if mixing:
        rows.insert(mixing_turn(lines), [mixing_words(mixing)])
    shown = _columns(lines)
    head = ["step", *(name for name, column in zip(_HEAD, shown, strict=True) if column)]
    cells = [
        [str(number), *(cell for cell, column in zip(_whole(row), shown, strict=True) if column)]
        for number, row in enumerate(rows, start=1)
    ]
    return plain_table(head, cells, right=[0, 2, 3], width=width)


_HEAD = ("what", "weigh", "running total", "in", "scale", "when")


def _whole(row: list[str]) -> list[str]:
    """Fill a row that only says what to do."""
    return row if len(row) == len(_HEAD) else ["", "", "", "", "", *row]


def _columns(lines: Sequence[IngredientRow]) -> list[bool]:
    """Leave out the columns that say nothing: goes where there are none, a scale that is one."""
    goes = any(portions_text(line, System.METRIC) for line in lines)
    scales = {line["scale"] for line in lines} - {None}
    return [True, True, True, goes, len(scales) > 1, True]


def _doses(document: WeighDocument, width: int) -> str:
    """Give every dose on the three bases, the water in all of them last."""
    lines = [line for line in document["ingredients"] if line["role"] != "water"]
    rows = [[line["name"], *_bases(line, line["mass_kg"])] for line in lines]
    first = document["ingredients"][0]
    for name, water_kg in (
        ("water to add", document["water_to_add_kg"]),
        ("water in all", document["water_total_kg"]),
    ):
        rows.append([name, *_bases(first, water_kg or 0.0)])
    return plain_table(
        ["dose", "of dry", "of cement", "of total"], rows, right=[1, 2, 3], width=width
    )


def _bases(line: IngredientRow, mass_kg: float) -> Iterator[str]:
    """Write a mass on the three bases of a line of the same sheet."""
    factor = mass_kg / line["mass_kg"]
    shares = line["shares"]
    for share in (shares["of_dry"], shares["of_cement"], shares["of_total"]):
        yield "-" if share is None else written_share(share * factor)
