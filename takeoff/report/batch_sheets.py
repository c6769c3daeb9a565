"""Sheets for the wall and the mixer as one PDF: a sheet a day, and a sheet a batch."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from itertools import pairwise

from takeoff.documents import BatchDocument, BidDocument
from takeoff.pour_documents import PouredDayRow
from takeoff.report.batch_page import draw_batch
from takeoff.report.note_text import note_line
from takeoff.report.notes_sheet import draw_notes
from takeoff.report.pour_limits import piece_starts
from takeoff.report.sheet_batches import SheetBatch, day_batches, lot_batches
from takeoff.report.sheet_blocks import SheetJob
from takeoff.report.sheet_layout import Paper, Pen
from takeoff.report.sheet_weights import weights_of
from takeoff.report.sheet_words import start_text
from takeoff.report.wall_sheet import WallDay, draw_wall

_MATERIAL_ONLY = "MATERIAL ONLY"


def sheets_pdf(
    document: BidDocument,
    *,
    paper: Paper = Paper.A4,
    pictures: Mapping[str, bytes] | None = None,
) -> bytes:
    r"""Write the sheets that a shop hangs on the wall and tapes to the mixer.

    With a clock there is a sheet for every day and one for every batch; without one, a sheet for
    every kind of batch, to be copied as often as it is made. The last sheet has every caution and
    note.

    Parameters
    ----------
    document : BidDocument
        The bid, not refused.
    paper : Paper, default A4
        What is printed on.
    pictures : mapping of str to bytes, optional
        PNG of pieces by name, from the open side of the form, shown beside the plan of each.

    Returns
    -------
    bytes
        A PDF file, the same every time.

    Raises
    ------
    MissingExtraError
        If the library that writes PDF is not installed.

    Notes
    -----
    Needs the extra ``[report]``.

    Examples
    --------
    >>> import takeoff
    >>> document = takeoff.bid("samples/ferry-hall/job.toml").to_dict()
    >>> sheets_pdf(document, paper=Paper.LETTER)[:5]
    b'%PDF-'
    """
    notes = [note_line(note) for note in document["notes"]]
    for piece in document["pieces"]:
        notes += [f"note: {piece['name']}: {note['text']}" for note in piece["notes"]]
    notes += [f"skipped: {row['count']} {row['what']}: {row['why']}" for row in document["skipped"]]
    pour = document["pour_day"]
    if pour is not None:
        notes += [note_line(note) for note in pour["notes"]]
    names = [document["job"], *(piece["name"] for piece in document["pieces"])]
    names += [cast["name"] for cast in document["cast_besides"]]
    pen = Pen(paper, [*names, *(_names(pour) if pour is not None else _lot_names(document))])
    job = SheetJob(
        title=_title(pen, document),
        weights=weights_of(document["settings"]),
        cautions=tuple(document["cautions"]),
        notes=tuple(dict.fromkeys(notes)),
        pictures=pictures or {},
    )
    only = f"{_MATERIAL_ONLY} | " if document["total"] is None else ""
    if pour is not None and pour["days"]:
        _draw_days(pen, pour, job)
    else:
        _draw_kinds(pen, lot_batches(document), job)
    draw_notes(pen, job)
    return _finished(pen, job, document, only)


def pour_sheets_pdf(
    document: BatchDocument,
    *,
    paper: Paper = Paper.A4,
    pictures: Mapping[str, bytes] | None = None,
) -> bytes:
    r"""Write the same sheets for a pour that nobody has priced.

    Parameters
    ----------
    document : BatchDocument
        The pour, not refused.
    paper : Paper, default A4
        What is printed on.
    pictures : mapping of str to bytes, optional
        PNG of pieces by name, from the open side of the form, shown beside the plan of each.

    Returns
    -------
    bytes
        A PDF file, the same every time.

    Raises
    ------
    MissingExtraError
        If the library that writes PDF is not installed.

    Notes
    -----
    Needs the extra ``[report]``.

    Examples
    --------
    >>> import takeoff
    >>> document = takeoff.plan("samples/ferry-hall/pour-day.toml").to_dict()
    >>> pour_sheets_pdf(document)[:5]
    b'%PDF-'
    """
    pen = Pen(paper, [document["job"], *_names(document)])
    job = SheetJob(
        title=_title(pen, document),
        weights=weights_of(document["settings"]),
        cautions=tuple(document["cautions"]),
        notes=tuple(note_line(note) for note in document["notes"]),
        pictures=pictures or {},
    )
    _draw_days(pen, document, job)
    draw_notes(pen, job)
    return _finished(pen, job, document, "")


def _draw_days(pen: Pen, pour: BatchDocument, job: SheetJob) -> None:
    """Draw every day: its sheet for the wall, then its batches."""
    waits = tuple(note_line(note) for note in pour["notes"])
    there = SheetJob(job.title, job.weights, tuple(pour["cautions"]), waits, job.pictures)
    for day in pour["days"]:
        batches = day_batches(day, pour)
        draw_wall(pen, _wall_day(day, batches, pour["working_day_s"]), there)
        following = [_follows(after) for _, after in pairwise(batches)]
        for number, (batch, follows) in enumerate(
            zip(batches, [*following, "last batch of the day"], strict=True), 1
        ):
            which = f"day {day['day']}, batch {number} of {len(batches)}"
            draw_batch(pen, batch, there, day=which, follows=follows)


def _wall_day(
    day: PouredDayRow, batches: Sequence[SheetBatch], working_day_s: float | None
) -> WallDay:
    first_s: dict[tuple[str, int], float] = {}
    for batch in day["batches"]:
        for part in batch["parts"]:
            key = (part["piece"], part["copy"])
            first_s[key] = min(part["start_s"], first_s.get(key, part["start_s"]))
    begun_s: dict[str, float] = {}
    for (piece, _), start_s in first_s.items():
        begun_s[piece] = max(start_s, begun_s.get(piece, 0.0))
    return WallDay(
        day=day["day"],
        batches=tuple(batches),
        makespan_s=day["makespan_s"],
        working_day_s=working_day_s,
        piece_starts_s=piece_starts(day, working_day_s=working_day_s),
        begun_s=begun_s,
    )


def _follows(batch: SheetBatch) -> str:
    """Say which batch comes next, and when it is mixed."""
    if batch.clock is None:
        return ""
    return f"next: batch {batch.id}, mix at {start_text(batch.clock.mix_start_s)}"


def _draw_kinds(pen: Pen, kinds: Sequence[SheetBatch], job: SheetJob) -> None:
    for number, kind in enumerate(kinds, 1):
        which = f"kind {number} of {len(kinds)}, made {kind.count} time{'s'[: kind.count - 1]}"
        draw_batch(pen, kind, job, day=which, follows="")


def _names(pour: BatchDocument) -> Iterator[str]:
    """Give every name that stands on the sheets of a pour."""
    for row in pour["demand"]:
        yield row["piece"]
    for day in pour["days"]:
        for batch in day["batches"]:
            yield from (batch["mix"], batch["mixer"])
            yield from (line["name"] for line in batch["ingredients"])


def _lot_names(document: BidDocument) -> Iterator[str]:
    """Give every name that stands on the sheets of lots."""
    for lot in document["batch"]["lots"] if document["batch"] else ():
        yield from (lot["mix"], lot["mixer"])
        yield from (line["name"] for line in lot["ingredients"])


def _title(pen: Pen, document: BidDocument | BatchDocument) -> str:
    return ", ".join(text for text in (pen.name(document["job"]), document["date"]) if text)


def _finished(pen: Pen, job: SheetJob, document: BidDocument | BatchDocument, only: str) -> bytes:
    feet = f"{only}{job.title} | made by takeoff {document['version']}"
    return pen.finish(feet, title=f"Batches of {job.title}", on=document["date"])
