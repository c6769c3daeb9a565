"""Domain values as rows of the JSON documents, for every document that shows them."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from takeoff import __version__
from takeoff.documents import (
    ErrorRow,
    Head,
    MendedRow,
    NoteRow,
    SettingValue,
    SkippedRow,
    UnitRow,
)
from takeoff.errors import ShopFileError, TakeoffError
from takeoff.files.drawing import DrawingUnit, Tally
from takeoff.notes import Note


def head_of(
    schema: str,
    *,
    settings: Mapping[str, SettingValue],
    notes: Iterable[Note] = (),
    errors: Iterable[ErrorRow] = (),
) -> Head:
    """Give what every document begins with.

    Parameters
    ----------
    schema : str
        Name and number of the schema.
    settings : mapping of str
        Every value in force.
    notes : iterable of Note, optional
        Doubts about the whole.
    errors : iterable of ErrorRow, optional
        Refusals.

    Returns
    -------
    Head
        The head.

    Examples
    --------
    >>> head_of("takeoff.check/1", settings={})["errors"]
    []
    """
    return Head(
        schema=schema,
        version=__version__,
        settings=dict(settings),
        notes=[note_row(note) for note in notes],
        errors=list(errors),
    )


def note_row(note: Note) -> NoteRow:
    """Give a note as a row.

    Parameters
    ----------
    note : Note
        The note.

    Returns
    -------
    NoteRow
        The row.

    Examples
    --------
    >>> from takeoff.notes import NoteCode
    >>> note_row(Note(NoteCode.MENDED, "2 facets dropped"))["code"]
    'mended'
    """
    return NoteRow(code=note.code.value, text=note.text, where=note.where)


def error_row(error: TakeoffError, *, file: str | None) -> ErrorRow:
    """Give a refusal as a row.

    Parameters
    ----------
    error : TakeoffError
        The refusal.
    file : str or None
        The file it is about.

    Returns
    -------
    ErrorRow
        The row.

    Examples
    --------
    >>> from takeoff.errors import MeshError
    >>> error_row(MeshError("no facets"), file="a.stl")["kind"]
    'mesh'
    """
    return ErrorRow(kind=error.kind.value, text=error.text, file=file, where=error.where)


def error_rows(error: TakeoffError, *, file: str | None) -> list[ErrorRow]:
    """Give a refusal as rows: one for each fault of a file that a shop wrote.

    Parameters
    ----------
    error : TakeoffError
        The refusal.
    file : str or None
        The file it is about.

    Returns
    -------
    list of ErrorRow
        The rows; at least one.

    Examples
    --------
    >>> faults = (("mix.toml:3", "is missing"), ("mix.toml:9", "unknown key"))
    >>> error = ShopFileError("is missing", where="mix.toml:3", faults=faults)
    >>> [row["where"] for row in error_rows(error, file="mix.toml")]
    ['mix.toml:3', 'mix.toml:9']
    """
    faults = error.faults if isinstance(error, ShopFileError) else ()
    if not faults:
        return [error_row(error, file=file)]
    return [
        ErrorRow(kind=error.kind.value, text=text, file=file, where=where) for where, text in faults
    ]


def unit_row(unit: DrawingUnit) -> UnitRow:
    """Give the unit of a drawing as a row.

    Parameters
    ----------
    unit : DrawingUnit
        The unit.

    Returns
    -------
    UnitRow
        The row.

    Examples
    --------
    >>> unit_row(DrawingUnit("mm", 0.001, "told"))["source"]
    'told'
    """
    return UnitRow(name=unit.name, metres_per_unit=unit.metres_per_unit, source=unit.source)


def skipped_rows(tallies: Iterable[Tally]) -> list[SkippedRow]:
    """Give what was left out as rows.

    Parameters
    ----------
    tallies : iterable of Tally
        Kinds of entity and their counts.

    Returns
    -------
    list of SkippedRow
        The rows.

    Examples
    --------
    >>> skipped_rows([Tally("TEXT", 2, "no outline")])[0]["count"]
    2
    """
    return [SkippedRow(what=tally.what, count=tally.count, why=tally.why) for tally in tallies]


def mended_rows(tallies: Iterable[Tally]) -> list[MendedRow]:
    """Give what was put right as rows.

    Parameters
    ----------
    tallies : iterable of Tally
        Defects and their counts.

    Returns
    -------
    list of MendedRow
        The rows.

    Examples
    --------
    >>> mended_rows([Tally("zero-area facets", 3)])[0]["what"]
    'zero-area facets'
    """
    return [MendedRow(what=tally.what, count=tally.count) for tally in tallies]
