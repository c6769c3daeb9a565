"""Sheets for the wall and the mixer as one PDF: a sheet a day, and a sheet a batch."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

from takeoff.documents import BatchDocument, BidDocument
from takeoff.pour_documents import PouredDayRow
from takeoff.report.batch_page import draw_batch
from takeoff.report.bid_words import counted
from takeoff.report.note_text import bid_notes, note_line
from takeoff.report.notes_sheet import draw_notes
from takeoff.report.pour_limits import piece_starts
from takeoff.report.sheet_batches import SheetBatch, day_batches, lot_batches
from takeoff.report.sheet_blocks import SheetJob
from takeoff.report.sheet_layout import Paper, Pen
from takeoff.report.sheet_weights import weights_of
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
    pour = document["pour_day"]
    names = [cast["name"] for cast in (*document["pieces"], *document["cast_besides"])]
    notes = [note.line for note in bid_notes(document)]
    if pour is None:
        names += _lot_names(document)
    else:
        notes += [note_line(note) for note in pour["notes"]]
    job = _SheetsJob(document, pour, lot_batches(document), names, notes)
    only = f"{_MATERIAL_ONLY} | " if document["total"] is None else ""
    return _sheets(job, paper=paper, pictures=pictures or {}, only=only)


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
    notes = [note_line(note) for note in document["notes"]]
    job = _SheetsJob(document, document, (), (), notes)
    return _sheets(job, paper=paper, pictures=pictures or {}, only="")


@dataclass(frozen=True, slots=True)
class _SheetsJob:
    """What sheets are made of: a bid or a pour, its clock or its kinds of batches."""

    document: BidDocument | BatchDocument
    pour: BatchDocument | None
    kinds: Sequence[SheetBatch]
    names: Sequence[str]
    notes: Sequence[str]


def _sheets(made: _SheetsJob, *, paper: Paper, pictures: Mapping[str, bytes], only: str) -> bytes:
    """Draw every sheet: days or kinds, then cautions and notes."""
    document, pour = made.document, made.pour
    pen = Pen(paper, [document["job"], *made.names, *(() if pour is None else _names(pour))])
    job = SheetJob(
        title=", ".join(text for text in (pen.name(document["job"]), document["date"]) if text),
        weights=weights_of(document["settings"]),
        cautions=tuple(document["cautions"]),
        notes=tuple(dict.fromkeys(made.notes)),
        pictures=pictures,
        mix_cautions={row["mix"]: tuple(row["cautions"]) for row in document["mix_cautions"]},
    )
    if pour is not None and pour["days"]:
        _draw_days(pen, pour, job)
    else:
        _draw_kinds(pen, made.kinds, job)
    draw_notes(pen, job)
    feet = f"{only}{job.title} | made by takeoff {document['version']}"
    return pen.finish(feet, title=f"Batches of {job.title}", on=document["date"])


def _draw_days(pen: Pen, pour: BatchDocument, job: SheetJob) -> None:
    """Draw every day: its sheet for the wall, then its batches."""
    waits = tuple(note_line(note) for note in pour["notes"])
    there = replace(job, cautions=tuple(pour["cautions"]), notes=waits)
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
    return f"next: batch {batch.id}, mix at {batch.clock.mix_at}"


def _draw_kinds(pen: Pen, kinds: Sequence[SheetBatch], job: SheetJob) -> None:
    for number, kind in enumerate(kinds, 1):
        which = f"kind {number} of {len(kinds)}, made {counted(kind.count, 'time', 'times')}"
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
