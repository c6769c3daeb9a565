"""Batches as a CSV file to fill in: a row for each step at the mixer of each batch."""

from __future__ import annotations

from collections.abc import Iterator

from takeoff.documents import BatchDocument, BidDocument
from takeoff.report.csv_text import Cell, csv_bytes
from takeoff.report.sheet_batches import SheetBatch, day_batches, lot_batches
from takeoff.report.sheet_steps import SheetMixing

BATCH_SHEET_COLUMNS = (
    "pour_day",
    "batch",
    "mix",
    "colour",
    "layer",
    "mixer",
    "step",
    "ingredient",
    "mass_kg",
    "running_kg",
    "when",
    "actual",
)


def batch_csv(document: BidDocument) -> bytes:
    """Write what is weighed for every batch of a bid, with an empty column for what was.

    Parameters
    ----------
    document : BidDocument
        The bid, not refused.

    Returns
    -------
    bytes
        UTF-8 with a byte order mark, decimal points; masses in kilograms, ``actual`` too. Mixing
        and rest have a row without ingredient and mass, in their place. Without a clock the
        batches of a kind are numbered as ``"1.3"``, the third of the first kind.

    Examples
    --------
    >>> import takeoff
    >>> document = takeoff.bid("samples/ferry-hall/job.toml").to_dict()
    >>> batch_csv(document).decode("utf-8-sig").splitlines()[1]
    ',1.1,face-coat-sprayed,,face coat,bucket mixer,1,water,3.58,3.58,"first, into the mixer",'
    """
    pour = document["pour_day"]
    if pour is not None and pour["days"]:
        return pour_csv(pour)
    rows: list[dict[str, Cell]] = []
    for kind, batch in enumerate(lot_batches(document), 1):
        for number in range(1, batch.count + 1):
            rows += _rows(None, f"{kind}.{number}", batch)
    return csv_bytes(rows, columns=BATCH_SHEET_COLUMNS)


def pour_csv(document: BatchDocument) -> bytes:
    """Write the same for a pour that nobody has priced.

    Parameters
    ----------
    document : BatchDocument
        The pour, not refused.

    Returns
    -------
    bytes
        UTF-8 with a byte order mark, decimal points; masses in kilograms, ``actual`` too.

    Examples
    --------
    >>> pour_csv({"days": []}).decode("utf-8-sig").split(",")[-1].strip()
    'actual'
    """
    rows: list[dict[str, Cell]] = []
    for day in document["days"]:
        for batch in day_batches(day, document):
            rows += _rows(day["day"], batch.id, batch)
    return csv_bytes(rows, columns=BATCH_SHEET_COLUMNS)


def _rows(day: int | None, name: str, batch: SheetBatch) -> Iterator[dict[str, Cell]]:
    for number, step in enumerate(batch.steps, 1):
        if isinstance(step, SheetMixing):
            told: tuple[Cell, ...] = ("", None, None, step.words)
        else:
            told = (step.name, step.mass_kg, step.running_kg, step.when)
        of_batch = (day, name, batch.mix, batch.colour, batch.layer, batch.mixer, number)
        yield dict(zip(BATCH_SHEET_COLUMNS, (*of_batch, *told, None), strict=True))
