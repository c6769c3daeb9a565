"""Notes as text: one of them as one line, and all that are said of a bid."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from takeoff.documents import BidDocument, MeasureDocument, NoteRow


@dataclass(frozen=True, slots=True)
class BidNote:
    """What is said of a bid, of one of its pieces, or of what was left out.

    Parameters
    ----------
    kind : str
        ``"note"`` or ``"skipped"``.
    piece : str
        The piece that it is of; empty for the whole job.
    about : str
        What it is about, of that piece or of the job; may be empty.
    text : str
        What is said.
    at : str
        Place in the document of the text, as a JSON pointer; empty for what was left out.
    """

    kind: str
    piece: str
    about: str
    text: str
    at: str

    @property
    def line(self) -> str:
        """The note as one line, beginning with what it is."""
        return ": ".join(part for part in (self.kind, self.piece, self.about, self.text) if part)


def bid_notes(document: BidDocument | MeasureDocument) -> Iterator[BidNote]:
    """Gather the notes of a bid: on the job, piece by piece, and on what was left out.

    Parameters
    ----------
    document : BidDocument or MeasureDocument
        The document; that of a measurement has them likewise.

    Yields
    ------
    BidNote
        Each of them once.

    Examples
    --------
    >>> left_out = {"what": "TEXT", "count": 2, "why": "annotation"}
    >>> [note] = bid_notes({"notes": [], "pieces": [], "skipped": [left_out]})
    >>> note.line
    'skipped: 2 TEXT: annotation'
    """
    for number, row in enumerate(document["notes"]):
        yield BidNote("note", "", row["where"], row["text"], f"/notes/{number}/text")
    for place, piece in enumerate(document["pieces"]):
        for number, row in enumerate(piece["notes"]):
            about = row["where"] if row["where"] != piece["name"] else ""
            at = f"/pieces/{place}/notes/{number}/text"
            yield BidNote("note", piece["name"], about, row["text"], at)
    for left_out in document["skipped"]:
        about = f"{left_out['count']} {left_out['what']}"
        yield BidNote("skipped", "", about, left_out["why"], "")


def note_line(note: NoteRow) -> str:
    """Write a note as one line.

    Parameters
    ----------
    note : NoteRow
        The note.

    Returns
    -------
    str
        The line, beginning with what the note is about.

    Examples
    --------
    >>> note_line({"code": "mended", "text": "2 facets dropped", "where": "counter"})
    'note: counter: 2 facets dropped'
    """
    about = f"{note['where']}: " if note["where"] else ""
    return f"note: {about}{note['text']}"
