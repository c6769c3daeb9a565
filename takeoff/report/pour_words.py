"""What is said of a pour day, in the same words and figures in text, page and sheets."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from takeoff.batching.plans import Method
from takeoff.batching.pour_rules import Measure
from takeoff.documents import BatchDocument
from takeoff.pour_documents import DefaultRow, FindingRow, PouredBatchRow, PouredDayRow
from takeoff.report.batch_rows import places_of
from takeoff.report.bid_words import counted
from takeoff.report.figures import (
    System,
    written_duration,
    written_mass,
    written_share,
    written_volume,
)
from takeoff.report.pour_clock import PRINTED_S, clock_text
from takeoff.report.sheet_words import hands_words

_METHODS = {
    Method.GREEDY: "clock by greedy dispatch",
    Method.CONSTRAINT_PROGRAMMING: "clock by constraint programming",
}


def placers_of(batch: PouredBatchRow) -> str:
    """Say who places a batch, and whether they brush after it.

    Parameters
    ----------
    batch : PouredBatchRow
        The batch.

    Returns
    -------
    str
        The hands by number.

    Examples
    --------
    >>> placers_of({"placed_by": [2, 3], "place_end_s": 600.0, "brush_end_s": 780.0})
    'hands 2 + 3, then brush'
    """
    brush = ", then brush" if batch["brush_end_s"] > batch["place_end_s"] else ""
    return hands_words(batch["placed_by"]) + brush


def places_words(batch: PouredBatchRow, system: System) -> str:
    """Say where a batch goes, and how much of it.

    Parameters
    ----------
    batch : PouredBatchRow
        The batch.
    system : System
        Units of the text.

    Returns
    -------
    str
        Pieces and copies, each with its mass.

    Examples
    --------
    >>> from takeoff.pour_documents import demand_row, part_row
    >>> demand = demand_row("panel", 2, "backer", pass_number=1, surface_class="return",
    ...                     mass_kg=2.0)
    >>> part = part_row(demand, mass_kg=1.5, start_s=0.0, end_s=30.0)
    >>> places_words({"parts": [part]}, System.METRIC)
    'panel 2 1.5 kg'
    """
    return "; ".join(
        f"{place} {written_mass(mass_kg, system)}" for place, mass_kg in places_of(batch)
    )


def pour_summary(document: BatchDocument, system: System) -> tuple[str, ...]:
    """Say how large a plan is and how to read its times; or why there is none.

    Parameters
    ----------
    document : BatchDocument
        A plan, or none.
    system : System
        Units of the text.

    Returns
    -------
    tuple of str
        Two sentences of a plan; of none what stands in the way as a whole, then a line a finding.

    Examples
    --------
    >>> from takeoff.errors import BatchError
    >>> from takeoff.job.day_plan import refused_plan
    >>> pour_summary(refused_plan("hall.toml", BatchError("no rate")), System.METRIC)
    ()
    """
    if document["feasible"]:
        return _plan_summary(document)
    return tuple(_reasons(document, system))


def day_heading(day: PouredDayRow) -> str:
    """Say which day it is, when it is done, and how sure that is.

    Parameters
    ----------
    day : PouredDayRow
        A day.

    Returns
    -------
    str
        The sentence.

    Examples
    --------
    >>> day_heading({"day": 1, "makespan_s": 5400.0, "makespan_bound_s": 3600.0, "proven": False,
    ...              "method": "greedy", "batches": []})
    'day 1: done at 1:30; these batches cannot be done before 1:00'
    """
    if day["proven"]:
        sure = "these batches cannot be done sooner"
    else:
        sure = f"these batches cannot be done before {clock_text(day['makespan_bound_s'])}"
    return f"day {day['day']}: done at {clock_text(day['makespan_s'], up=True)}; {sure}"


def alike_batches(document: BatchDocument) -> list[list[PouredBatchRow]]:
    """Put the batches together that are weighed alike.

    Parameters
    ----------
    document : BatchDocument
        A plan.

    Returns
    -------
    list of list of PouredBatchRow
        Batches of one mix, colour and mass, in the order of their first.

    Examples
    --------
    >>> from takeoff.errors import BatchError
    >>> from takeoff.job.day_plan import refused_plan
    >>> alike_batches(refused_plan("hall.toml", BatchError("no rate")))
    []
    """
    alike: dict[tuple[str, str, float], list[PouredBatchRow]] = {}
    for day in document["days"]:
        for batch in day["batches"]:
            key = (batch["mix"], batch["colour"], batch["mass_kg"])
            alike.setdefault(key, []).append(batch)
    return list(alike.values())


def sureness_lines(document: BatchDocument) -> Iterator[str]:
    """Say what replays with times that vary, and one more pair of hands, come to.

    Parameters
    ----------
    document : BatchDocument
        A plan.

    Yields
    ------
    str
        The sentences.

    Examples
    --------
    >>> from takeoff.errors import BatchError
    >>> from takeoff.job.day_plan import refused_plan
    >>> list(sureness_lines(refused_plan("hall.toml", BatchError("no rate"))))
    []
    """
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
            saved.append(counted(more["saved_days"], "day", "days"))
        if more["saved_s"] > 0.0:
            saved.append(f"about {written_duration(_coarse_s(more['saved_s']))} of pouring")
        what = " and ".join(saved) or "nothing"
        yield f"with {more['hands']} pairs of hands, one more than now: saves {what}"


def default_lines(document: BatchDocument) -> list[str]:
    """Say which figures nobody told, and where to tell them.

    Parameters
    ----------
    document : BatchDocument
        A plan.

    Returns
    -------
    list of str
        What they are as a whole, then a line each; empty where there are none.

    Examples
    --------
    >>> from takeoff.errors import BatchError
    >>> from takeoff.job.day_plan import refused_plan
    >>> default_lines(refused_plan("hall.toml", BatchError("no rate")))
    []
    """
    lines = [
        f"{row['what']}: {_default_value(row)}; tell {row['key']}" for row in document["defaults"]
    ]
    if not lines:
        return []
    return ["defaults, common practice without a source; told by nobody", *lines]


def _plan_summary(document: BatchDocument) -> tuple[str, str]:
    """Say how large a feasible plan is, and how to read its times."""
    count, bound, method = document["batch_count"], document["batch_bound"], document["method"]
    if document["proven"] or bound is None:
        sure = "no plan has fewer"
    else:
        sure = f"by mass alone no plan has fewer than {bound}, which is {count - bound} less"
    batches = counted(count, "batch", "batches")
    days = counted(len(document["days"]), "day", "days")
    clock = _METHODS[Method(method)] if method else ""
    hands = counted(document["hands"] or 1, "pair", "pairs")
    reading = (
        "times are hours and minutes from the start of the day, to 5 min, or to the minute where a "
        "batch goes off fast; 'use by' is rounded down, the others up"
    )
    return f"{batches} on {days}; {sure}; {clock}", f"{hands} of hands; {reading}"


def _reasons(document: BatchDocument, system: System) -> Iterator[str]:
    """Say why there is no plan, and what would do."""
    if not document["findings"]:
        return
    enough = [finding["enough"] for finding in document["findings"]]
    if not all(enough):
        head = "NO PLAN: all of these stand in the way; change what each of them says"
    elif len(enough) > 1:
        head = "NO PLAN as told; any one of these changes would do"
    else:
        head = "NO PLAN as told; this stands in the way"
    yield head
    yield from (_reason(one, system) for one in document["findings"])


def _reason(finding: FindingRow, system: System) -> str:
    writers: dict[Measure, Callable[[float], str]] = {
        Measure.SECONDS: written_duration,
        Measure.KILOGRAMS: lambda value: written_mass(value, system),
        Measure.CUBIC_METRES: lambda value: written_volume(value, system),
        Measure.COUNT: lambda value: f"{value:g}",
    }
    written = writers[Measure(finding["unit"])]
    value, limit = written(finding["value"]), written(finding["limit"])
    does = "would do" if finding["enough"] else "needed"
    where = "" if finding["where"] == finding["rule"] else f"{finding['where']}: "
    return (
        f"{where}{finding['rule']}: {value}, where {limit} is the limit; {does}: {finding['fix']}"
    )


def _coarse_s(time_s: float) -> float:
    return max(PRINTED_S, round(time_s / PRINTED_S) * PRINTED_S)


def _percent(share: float) -> str:
    return f"{100.0 * share:.3g} %" if share >= 0.0005 else "less than 0.1 %"


def _default_value(row: DefaultRow) -> str:
    return (written_duration if row["unit"] == "s" else written_share)(row["value"])
