"""The pour day on the page of a bid: each day as a picture and a table, fillings, how sure."""

from __future__ import annotations

from dataclasses import dataclass

from takeoff.documents import BatchDocument
from takeoff.pour_documents import PouredBatchRow, PouredDayRow
from takeoff.report.bid_words import trade_word
from takeoff.report.charts import pour_day_svg
from takeoff.report.figures import System
from takeoff.report.page_cells import Cell, Placed, Table, columns
from takeoff.report.page_tables import filling_table
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


@dataclass(frozen=True, slots=True)
class PageDay:
    """One day of a pour on a page.

    Parameters
    ----------
    heading : str
        Which day, when it is done, how sure.
    timeline : str
        Its batches along the clock, as SVG.
    table : Table
        Its batches.
    """

    heading: str
    timeline: str
    table: Table


@dataclass(frozen=True, slots=True)
class PagePour:
    """A pour on a page.

    Parameters
    ----------
    feasible : bool
        Whether there is a plan.
    summary : tuple of str
        How large it is; or why there is none, and what would do.
    days : tuple of PageDay
        Its days.
    fillings : tuple of Table
        What is weighed for batches that are alike.
    said : tuple of str
        How sure it is.
    defaults : tuple of str
        Figures that nobody told, after a line that says so.
    """

    feasible: bool
    summary: tuple[str, ...]
    days: tuple[PageDay, ...]
    fillings: tuple[Table, ...]
    said: tuple[str, ...]
    defaults: tuple[str, ...]


def page_pour(document: BatchDocument, at: str, system: System) -> PagePour:
    """Set up a pour for a page.

    Parameters
    ----------
    document : BatchDocument
        The plan.
    at : str
        Its place in the document of the bid, as a JSON pointer.
    system : System
        Units of the text.

    Returns
    -------
    PagePour
        All that is said of it.

    Examples
    --------
    >>> from takeoff.errors import BatchError
    >>> from takeoff.job.day_plan import refused_plan
    >>> page_pour(refused_plan("hall.toml", BatchError("no rate")), "", System.METRIC).days
    ()
    """
    placed = Placed(document, at, system)
    return PagePour(
        feasible=document["feasible"],
        summary=pour_summary(document, system),
        days=tuple(
            _day(day, row) for day, row in zip(placed.parts("days"), document["days"], strict=True)
        ),
        fillings=tuple(_fillings(document, placed)),
        said=tuple(sureness_lines(document)),
        defaults=tuple(default_lines(document)),
    )


def _day(day: Placed, row: PouredDayRow) -> PageDay:
    """Set up one day."""
    batches = zip(day.parts("batches"), row["batches"], strict=True)
    names = (
        "batch, mix at, layer, mix, weight, volume, mixer, place at, use by, mixes, places, where"
    )
    return PageDay(
        day_heading(row),
        pour_day_svg(row, system=day.system),
        Table(
            f"day {row['day']}: batches",
            columns(names, right="mix at, weight, volume, place at, use by"),
            tuple(_cells(batch, one) for batch, one in batches),
        ),
    )


def _cells(batch: Placed, row: PouredBatchRow) -> tuple[Cell, ...]:
    """Set up one batch: what, how much, by when, who and where."""
    mix_at, place_at, use_by = batch_clocks(row)
    return (
        batch.cell("id"),
        Cell(mix_at),
        Cell(trade_word(row["layer"])),
        batch.cell("mix", after=row["colour"]),
        batch.cell("mass_kg"),
        batch.cell("volume_m3"),
        batch.cell("mixer"),
        Cell(place_at),
        Cell(use_by),
        Cell(hands_words([row["mixed_by"]])),
        Cell(placers_of(row)),
        Cell(places_words(row, batch.system)),
    )


def _fillings(document: BatchDocument, placed: Placed) -> list[Table]:
    """Say what is weighed, once for all batches that are alike."""
    where = {
        row["id"]: batch
        for day, rows in zip(placed.parts("days"), document["days"], strict=True)
        for batch, row in zip(day.parts("batches"), rows["batches"], strict=True)
    }
    return [
        filling_table(
            where[batches[0]["id"]],
            batches[0],
            f"{batches[0]['mix']}, batch " + ", ".join(batch["id"] for batch in batches),
        )
        for batches in alike_batches(document)
    ]
