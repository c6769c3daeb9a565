"""What every command does alike: options shared, documents printed, exit status set."""

from __future__ import annotations

import shutil
import sys
from collections.abc import Callable, Mapping, Sequence
from pathlib import Path
from typing import Any, TypeVar

import click

from takeoff.notes import INFORMATION, Note

F = TypeVar("F", bound=Callable[..., Any])


def shared_options(command: F) -> F:
    """Add the options that every command has.

    Parameters
    ----------
    command : callable
        Body of a click command.

    Returns
    -------
    callable
        The same with ``--json``, ``--strict`` and ``-v``.
    """
    options = [
        click.option(
            "--json", "as_json", is_flag=True, default=None, help="Print one JSON document."
        ),
        click.option(
            "--strict", is_flag=True, default=None, help="Exit with 3 if there are notes."
        ),
        click.option("-v", "--verbose", is_flag=True, default=None, help="Say more on stderr."),
    ]
    for option in reversed(options):
        command = option(command)
    return command


def start(verbose: bool | None) -> None:
    """Send the library's log to stderr where the user asked for it.

    Parameters
    ----------
    verbose : bool or None
        Whether ``-v`` was given.
    """
    if verbose:
        import logging

        logging.basicConfig(stream=sys.stderr, format="%(name)s: %(message)s")
        logging.getLogger("takeoff").setLevel(logging.DEBUG)


def expanded(patterns: Sequence[str]) -> list[Path]:
    """Expand patterns like ``*.stl``, which not every shell does.

    Parameters
    ----------
    patterns : sequence of str
        File names and patterns.

    Returns
    -------
    list of Path
        Files in the order given; what matches nothing stays as it is.
    """
    import glob

    paths: list[Path] = []
    for pattern in patterns:
        plain = Path(pattern)
        found = [] if plain.exists() else sorted(glob.glob(pattern, recursive=True))  # noqa: PTH207
        paths += [Path(name) for name in found] or [plain]
    return paths


def terminal_width() -> int:
    """Give the width to set tables for: the terminal's, or 0 where the output is no terminal."""
    return shutil.get_terminal_size().columns if sys.stdout.isatty() else 0


def print_result(
    document: Mapping[str, Any], text: Callable[[], str], *, as_json: bool | None
) -> None:
    """Print a result to stdout: the document, or its text.

    Parameters
    ----------
    document : mapping
        The document.
    text : callable
        Gives the text of it.
    as_json : bool or None
        Whether ``--json`` was given.
    """
    if as_json:
        from takeoff.report.json_text import json_text

        click.echo(json_text(document))
    else:
        click.echo(text())


def say_written(paths: Sequence[Path]) -> None:
    """Say on stderr which files were written.

    Parameters
    ----------
    paths : sequence of Path
        The files.
    """
    for path in paths:
        click.echo(f"wrote {path}", err=True)


def say_notes(notes: Sequence[Note]) -> None:
    """Say on stderr what is doubtful about what was written.

    Parameters
    ----------
    notes : sequence of Note
        The notes.
    """
    for note in notes:
        click.echo(f"note: {note.text}", err=True)


def leave(document: Mapping[str, Any], *, strict: bool | None) -> None:
    """Set the exit status that goes with a document.

    Parameters
    ----------
    document : mapping
        The document.
    strict : bool or None
        Whether ``--strict`` was given.
    """
    if document["errors"]:
        raise click.exceptions.Exit(1)
    if strict and _has_notes(document):
        raise click.exceptions.Exit(3)


def _has_notes(value: object) -> bool:
    """Look for a note anywhere in a document."""
    if isinstance(value, Mapping):
        return _holds_doubt(value) or any(_has_notes(part) for part in value.values())
    return isinstance(value, list | tuple) and any(_has_notes(part) for part in value)


def _holds_doubt(value: Mapping[str, Any]) -> bool:
    """Look for notes that are more than information in one part of a document."""
    return "notes" in value and any(note["code"] not in INFORMATION for note in value["notes"])
