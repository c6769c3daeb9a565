"""A pour day as text that the crew follows."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from takeoff.batching.plans import Method
from takeoff.batching.pour_rules import Measure
from takeoff.documents import BatchDocument
from takeoff.pour_documents import DefaultRow, FindingRow, PouredBatchRow, PouredDayRow
from takeoff.report.batch_rows import places_of
from takeoff.report.figures import (
    System,
    written_duration,
    written_mass,
    written_share,
    written_volume,
)
from takeoff.report.note_text import note_line
from takeoff.report.tables import plain_table

_PRINTED_S = 300.0
_METHODS = {
    Method.GREEDY: "clock by greedy dispatch",
    Method.CONSTRAINT_PROGRAMMING: "clock by constraint programming",
}


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
        end. Times are to five minutes, the time by which a batch must be in the form rounded down.

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
    parts = [
        _summary(document) if document["feasible"] else _reasons(document, system),
        *(_day(day, system, width) for day in document["days"]),
        _fillings(document, system),
        "\n".join(_how_sure(document)),
        _defaults(document),
    ]
    return "\n\n".join(part for part in parts if part)


def _summary(document: BatchDocument) -> str:
    count, bound, method = document["batch_count"], document["batch_bound"], document["method"]
    if document["proven"] or bound is None:
        sure = "no plan has fewer"
    else:
        sure = f"by mass alone no plan has fewer than {bound}, which is {count - bound} less"
    batches = _many(count, "batch", "batches")
    days = _many(len(document["days"]), "day", "days")
    clock = _METHODS[Method(method)] if method else ""
    hands = _many(document["hands"] or 1, "pair", "pairs")
    return (
        f"{batches} on {days}; {sure}; {clock}\n"
        f"{hands} of hands; times are hours and minutes from the start of the day, to 5 min; "
        "'in by' is rounded down"
    )


def _many(count: int, one: str, more: str) -> str:
    return f"{count} {one if count == 1 else more}"


def _reasons(document: BatchDocument, system: System) -> str:
    if not document["findings"]:
        return ""
    return "\n".join(
        [
            "NO PLAN: any one of these stands in the way",
            *(f"- {_reason(finding, system)}" for finding in document["findings"]),
        ]
    )


def _reason(finding: FindingRow, system: System) -> str:
    writers: dict[Measure, Callable[[float], str]] = {
        Measure.SECONDS: written_duration,
        Measure.KILOGRAMS: lambda value: written_mass(value, system),
        Measure.CUBIC_METRES: lambda value: written_volume(value, system),
        Measure.COUNT: lambda value: f"{value:g}",
    }
    written = writers[Measure(finding["unit"])]
    value, limit = written(finding["value"]), written(finding["limit"])
    return (
        f"{finding['where']}: {finding['rule']}: {value}, where {limit} is the limit; "
        f"would do: {finding['fix']}"
    )


def _day(day: PouredDayRow, system: System, width: int) -> str:
    head = [
        "batch",
        "mix at",
        "mix",
        "how much",
        "in",
        "place",
        "in by",
        "mixes",
        "places",
        "where",
    ]
    rows = [_batch_cells(batch, system) for batch in day["batches"]]
    end = _clock(day["makespan_s"], up=True)
    if day["proven"]:
        sure = "these batches cannot be done sooner"
    else:
        sure = f"these batches cannot be done before {_clock(day['makespan_bound_s'])}"
    table = plain_table(head, rows, right=[1, 3, 5, 6], width=width)
    return f"day {day['day']}: done by {end}; {sure}\n{table}"


def _batch_cells(batch: PouredBatchRow, system: System) -> list[str]:
    mass, volume = (
        written_mass(batch["mass_kg"], system),
        written_volume(batch["volume_m3"], system),
    )
    colour = f" {batch['colour']}" if batch["colour"] else ""
    return [
        batch["id"],
        _clock(batch["mix_start_s"]),
        batch["mix"] + colour,
        f"{mass} / {volume}",
        batch["mixer"],
        _clock(batch["place_start_s"]),
        _clock(batch["use_by_s"]),
        f"hand {batch['mixed_by']}",
        "hand " + "+".join(map(str, batch["placed_by"])),
        ", ".join(f"{place} {written_mass(kg, system)}" for place, kg in places_of(batch)),
    ]


def _clock(time_s: float, *, up: bool = False) -> str:
    """Write a time of the day to five minutes, rounded down unless told."""
    steps = -int(-time_s // _PRINTED_S) if up else int(time_s // _PRINTED_S)
    minutes = steps * int(_PRINTED_S // 60)
    return f"{minutes // 60}:{minutes % 60:02d}"


def _fillings(document: BatchDocument, system: System) -> str:
    """Say what is weighed for the batches of one mix and mass, once for all of them."""
    alike: dict[tuple[str, str, float], list[PouredBatchRow]] = {}
    for day in document["days"]:
        for batch in day["batches"]:
            key = (batch["mix"], batch["colour"], batch["mass_kg"])
            alike.setdefault(key, []).append(batch)
    lines = []
    for batches in alike.values():
        first = batches[0]
        ids = ", ".join(batch["id"] for batch in batches)
        weighed = ", ".join(
            f"{line['name']} {written_mass(line['mass_kg'], system)}"
            for line in first["ingredients"]
        )
        lines.append(f"{first['mix']}, batch {ids}: {weighed}")
    return "\n".join(["what goes into the mixer, in order", *lines]) if lines else ""


def _how_sure(document: BatchDocument) -> Iterator[str]:
    risk, more = document["risk"], document["more_hands"]
    if risk is not None:
        spread = written_share(risk["placing_spread_share"])
        yield (
            f"replayed {risk['runs']} times with placing and mixing that vary by {spread}: a batch "
            f"goes off in {_percent(risk['gone_off_share'])}, a joint is too old in "
            f"{_percent(risk['joint_share'])}, a cover comes too late in "
            f"{_percent(risk['cover_share'])} of the replays"
        )
        yield (
            "the batch with least time in hand goes off in "
            f"{_percent(risk['fullest_batch_share'])}; a reserve of "
            f"{_percent(risk['reserve_share'])} of the pot life keeps that at "
            f"{_percent(risk['wanted_share'])}"
        )
    if more is not None:
        saved = []
        if more["saved_days"] > 0:
            saved.append(_many(more["saved_days"], "day", "days"))
        if more["saved_s"] > 0.0:
            saved.append(f"about {written_duration(_coarse_s(more['saved_s']))} of pouring")
        what = " and ".join(saved) or "nothing"
        yield f"with {more['hands']} pairs of hands, one more than now: saves {what}"


def _coarse_s(time_s: float) -> float:
    return max(_PRINTED_S, round(time_s / _PRINTED_S) * _PRINTED_S)


def _percent(share: float) -> str:
    return f"{100.0 * share:.3g} %" if share >= 0.0005 else "less than 0.1 %"


def _defaults(document: BatchDocument) -> str:
    lines = [
        f"- {row['what']}: {_default_value(row)}; tell {row['key']}" for row in document["defaults"]
    ]
    if not lines:
        return ""
    return "\n".join(["defaults, common practice without a source; told by nobody", *lines])


def _default_value(row: DefaultRow) -> str:
    return (written_duration if row["unit"] == "s" else written_share)(row["value"])
