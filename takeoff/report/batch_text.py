"""A pour day as text that the crew follows."""

from __future__ import annotations

from collections.abc import Sequence

from takeoff.documents import BatchDocument
from takeoff.pour_documents import PouredBatchRow, PouredDayRow
from takeoff.report.figures import System, written_mass, written_volume
from takeoff.report.mixing_words import mixing_turn, mixing_words
from takeoff.report.note_text import note_line
from takeoff.report.pour_clock import batch_clocks
from takeoff.report.pour_words import (
    alike_batches,
    day_heading,
    default_lines,
    placers_of,
    places_words,
    pour_summary,
    sureness_lines,
)
from takeoff.report.sheet_words import hands_words
from takeoff.report.tables import plain_table


def batch_text(document: BatchDocument, *, system: System = System.METRIC, width: int = 0) -> str:
    """Write a pour day as text.

    Parameters
    ----------
    document : BatchDocument
        The document, not refused.
    system : System, optional
        Units of the text.
    width : int, default 0
        Width of the terminal; 0 for any.

    Returns
    -------
    str
        The days, what is weighed, how sure it is, defaults and notes, without a line feed at the
        end. Times are to five minutes; that by which a batch must be in the form is rounded down.

    Examples
    --------
    >>> from takeoff.errors import BatchError
    >>> from takeoff.job.day_plan import refused_plan
    >>> print(batch_text(refused_plan("hall.toml", BatchError("no rate"))).splitlines()[0])
    hall.toml
    """
    title = document["job"] + (f", {document['date']}" if document["date"] else "")
    parts = [
        title,
        pour_day_text(document, system=system, width=width),
        "\n".join(note_line(note) for note in document["notes"]),
        "\n".join(["Caution", *(f"- {sentence}" for sentence in document["cautions"])]),
    ]
    return "\n\n".join(part for part in parts if part)


def pour_day_text(document: BatchDocument, *, system: System, width: int) -> str:
    """Write the days of a pour alone, for a text that says the rest.

    Parameters
    ----------
    document : BatchDocument
        The document, not refused.
    system : System
        Units of the text.
    width : int
        Width of the terminal; 0 for any.

    Returns
    -------
    str
        Days, fillings and how sure they are; or why there is no plan.

    Examples
    --------
    >>> from takeoff.errors import BatchError
    >>> from takeoff.job.day_plan import refused_plan
    >>> document = refused_plan("hall.toml", BatchError("no rate"))
    >>> pour_day_text(document, system=System.METRIC, width=0)
    ''
    """
    summary = pour_summary(document, system)
    parts = [
        "\n".join(summary) if document["feasible"] else _listed(summary),
        *(_day(day, system, width) for day in document["days"]),
        _fillings(document, system),
        "\n".join(sureness_lines(document)),
        _listed(default_lines(document)),
    ]
    return "\n\n".join(part for part in parts if part)


def _listed(lines: Sequence[str]) -> str:
    """Set a heading over a list."""
    return "\n".join([*lines[:1], *(f"- {line}" for line in lines[1:])])


def _day(day: PouredDayRow, system: System, width: int) -> str:
    head = [
        "batch",
        "mix at",
        "mix",
        "layer",
        "how much",
        "mixer",
        "place at",
        "use by",
        "mixes",
        "places",
        "where",
    ]
    rows = [_batch_cells(batch, system) for batch in day["batches"]]
    table = plain_table(head, rows, right=[1, 4, 6, 7], width=width)
    return f"{day_heading(day)}\n{table}"


def _batch_cells(batch: PouredBatchRow, system: System) -> list[str]:
    mass, volume = (
        written_mass(batch["mass_kg"], system),
        written_volume(batch["volume_m3"], system),
    )
    colour = f" {batch['colour']}" if batch["colour"] else ""
    mix_at, place_at, use_by = batch_clocks(batch)
    return [
        batch["id"],
        mix_at,
        batch["mix"] + colour,
        batch["layer"].replace("_", " "),
        f"{mass} / {volume}",
        batch["mixer"],
        place_at,
        use_by,
        hands_words([batch["mixed_by"]]),
        placers_of(batch),
        places_words(batch, system),
    ]


def _fillings(document: BatchDocument, system: System) -> str:
    """Say what is weighed for the batches of one mix and mass, once for all of them."""
    lines = []
    for batches in alike_batches(document):
        first = batches[0]
        ids = ", ".join(batch["id"] for batch in batches)
        lines.append(f"{first['mix']}, batch {ids}: {_filling(first, system)}")
    return "\n".join(["what goes into the mixer, in order", *lines]) if lines else ""


def _filling(batch: PouredBatchRow, system: System) -> str:
    """Say what goes in, the mixing and the rest in their place."""
    steps = [
        f"{line['name']} {written_mass(line['mass_kg'], system)}" for line in batch["ingredients"]
    ]
    if batch["mixing"]:
        steps.insert(mixing_turn(batch["ingredients"]), mixing_words(batch["mixing"]))
    return ", ".join(steps)
