"""Entities that other records of the file set aside: frames of texts, clipped block references."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from takeoff.files.dxf_tags import Record

TEXT_FRAME = "the frame of a text, no outline"
CLIPPED = "a clipped block reference, of which only a part shows; explode and trim it in CAD"

_FRAME_BEGINS = b"ACAD_MTEXT_TEXT_BORDERS_BEGIN"
_HANDLE, _OWNER, _SAID, _NAMED, _CLIPS = 5, 330, 1000, 1005, 71
_OWNERS_COUNT = 4  # from a clip up to its block reference: two dictionaries


def set_aside(records: Sequence[Record]) -> dict[bytes, str]:
    """Find the entities that are not to be measured though they are drawn.

    Parameters
    ----------
    records : sequence of Record
        All records of the file.

    Returns
    -------
    dict of bytes to str
        Why, by the handle of the entity.

    Examples
    --------
    >>> border = ((1000, b"ACAD_MTEXT_TEXT_BORDERS_BEGIN"), (1005, b"9f"))
    >>> set_aside([Record("MTEXT", (), 7, border)])
    {b'9F': 'the frame of a text, no outline'}
    """
    return {
        **{handle: TEXT_FRAME for record in records for handle in _frames(record)},
        **dict.fromkeys(_clipped(records), CLIPPED),
    }


def handle_of(record: Record) -> bytes:
    """Give the handle of a record, empty where it has none.

    Parameters
    ----------
    record : Record
        The record.

    Returns
    -------
    bytes
        The handle in capitals.

    Examples
    --------
    >>> handle_of(Record("LINE", ((5, b" 9f"),), 7))
    b'9F'
    """
    return next((value.strip().upper() for code, value in record.tags if code == _HANDLE), b"")


def _frames(record: Record) -> Iterator[bytes]:
    """Give the handles of the entities that frame a paragraph of text."""
    in_frame = False
    for code, value in record.extended:
        if code == _SAID:
            in_frame = value == _FRAME_BEGINS
        elif code == _NAMED and in_frame:
            yield value.upper()


def _clipped(records: Sequence[Record]) -> Iterator[bytes]:
    """Give the handles of the block references that a filter clips."""
    filters = [record for record in records if record.kind == "SPATIAL_FILTER"]
    if not filters:
        return
    held_by = {
        handle_of(record): _owner(record) for record in records if record.kind == "DICTIONARY"
    }
    for record in filters:
        owner = _owner(record)
        for _ in range(_OWNERS_COUNT):
            owner = held_by.get(owner, owner)
        switched = [value.strip() for code, value in record.tags if code == _CLIPS]
        if switched[:1] != [b"0"]:
            yield owner


def _owner(record: Record) -> bytes:
    """Give the handle of what owns a record: the last one, after those that only watch it."""
    owners = [value.strip().upper() for code, value in record.tags if code == _OWNER]
    return owners[-1] if owners else b""
