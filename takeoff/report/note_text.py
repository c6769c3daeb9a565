"""A note as one line of text."""

from __future__ import annotations

from takeoff.documents import NoteRow


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
