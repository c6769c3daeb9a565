"""Marks left in a started file where only the shop knows, found before the file is used."""

from __future__ import annotations

from collections.abc import Iterator

from takeoff.files.toml_lines import KeyPath
from takeoff.start_documents import EDIT_MARK


def marks_left(value: object, path: KeyPath = ()) -> Iterator[KeyPath]:
    """Find the entries that are still a mark.

    Parameters
    ----------
    value : object
        What ``tomllib`` made of a file, or of a part of it.
    path : tuple, default ()
        Keys, and element numbers counted from 0, down to that part.

    Yields
    ------
    tuple
        Keys and element numbers down to each mark.

    Examples
    --------
    >>> list(marks_left({"mixer": [{"name": "pan", "capacity": "?"}]}))
    [('mixer', 0, 'capacity')]
    """
    if value == EDIT_MARK:
        yield path
    parts = dict(enumerate(value)) if isinstance(value, list) else value
    if isinstance(parts, dict):
        for key, part in parts.items():
            yield from marks_left(part, (*path, key))


def still_to_tell(wrong: str = "") -> str:
    """Say that an entry is still a mark.

    Parameters
    ----------
    wrong : str, default ""
        Why the mark is no value for it, and what would do.

    Returns
    -------
    str
        The sentence.

    Examples
    --------
    >>> still_to_tell()
    'still to be told; the comment beside it says what can stand in place of "?"'
    """
    told = wrong or f'the comment beside it says what can stand in place of "{EDIT_MARK}"'
    return f"still to be told; {told}"
