"""A job started from its drawings: a commented job and shop file, and the edits left to make."""

from __future__ import annotations

import os
from collections.abc import Iterable, Sequence
from pathlib import Path

from takeoff.documents import ErrorRow, StartDocument
from takeoff.errors import TakeoffError, UnreadableError
from takeoff.files.drawing_unit import told_unit
from takeoff.files.mix_file import read_mix
from takeoff.files.shipped import shipped_mix_names
from takeoff.files.writing import write_new_files
from takeoff.job.found_drawings import found_in
from takeoff.measuring.casting import mesh_kind
from takeoff.measuring.request import MeasureRequest
from takeoff.measuring.rows import error_rows, head_of
from takeoff.piece.directions import reading_number, show_vector
from takeoff.report.start_job import job_lines, system_of
from takeoff.report.start_shop import shop_lines
from takeoff.report.toml_sheet import printable, sheet_edits, sheet_text
from takeoff.start_documents import StartedDrawingRow, StartErrorRow

JOB = "job.toml"
SHOP = "shop.toml"
FACE_COAT = "face-coat-sprayed"
BACKER = "backer-poured"


def start_job(
    paths: Sequence[str | Path],
    folder: str | Path = ".",
    *,
    unit: str | None = None,
    kind: str | None = None,
    show: str | None = None,
) -> StartDocument:
    """Write a job file and a shop file to edit, from what is found in drawings.

    Parameters
    ----------
    paths : sequence of str or Path
        The drawings; one named twice counts once.
    folder : str or Path, default "."
        Where to; made if it is not there.
    unit : str, optional
        Unit of those drawings that declare none; one that declares its unit keeps it.
    kind, show : str, optional
        What the meshes among them show, and their show direction.

    Returns
    -------
    StartDocument
        The files, what was found in each drawing, and the edits left to make. Drawings that
        cannot be used are among its errors.

    Raises
    ------
    QuantityError, SurfaceError
        If unit, kind or show direction is none.
    UnreadableError
        If no drawing can be used.
    OutputError
        If one of the files is there already, or the folder cannot be written to.

    Examples
    --------
    >>> start_job(["no-such.dxf"])
    Traceback (most recent call last):
    takeoff.errors.UnreadableError: no drawing can be used, so no job is written; no-such.dxf: \
there is no such file
    """
    request = _request(unit, kind, show)
    found = [found_in(path, _beside(path, Path(folder)), request) for path in _named_once(paths)]
    drawings = _named_apart(found)
    usable = [row for row in drawings if row["error"] is None]
    errors = [_error_row(row["file"], row["error"]) for row in drawings if row["error"]]
    if not usable:
        listed = "\n".join(f"{row['file']}: {row['text']}" for row in errors)
        raise UnreadableError(f"no drawing can be used, so no job is written; {listed}")
    job = job_lines(
        drawings,
        name=_job_name(usable),
        shop=SHOP,
        face_coat=FACE_COAT,
        backer=BACKER,
        mixes=shipped_mix_names(),
    )
    shop = shop_lines(_bought([FACE_COAT, BACKER]), system=system_of(usable))
    contents = {JOB: sheet_text(job).encode(), SHOP: sheet_text(shop).encode()}
    files = [str(path) for path in write_new_files(folder, contents)]
    return StartDocument(
        **head_of("takeoff.start/1", settings=dict(unit=unit, kind=kind, show=show), errors=errors),
        files=files,
        pieces=drawings,
        edits=[*sheet_edits(job, files[0]), *sheet_edits(shop, files[1])],
    )


def _error_row(file: str, error: StartErrorRow) -> ErrorRow:
    return ErrorRow(kind=error["kind"], text=error["text"], file=file, where="")


def refused_start(error: TakeoffError) -> StartDocument:
    """Give the document of a job that could not be started.

    Parameters
    ----------
    error : TakeoffError
        Why not.

    Returns
    -------
    StartDocument
        The refusal.

    Examples
    --------
    >>> refused_start(UnreadableError("there is no such file"))["errors"][0]["kind"]
    'unreadable'
    """
    head = head_of("takeoff.start/1", settings={}, errors=error_rows(error, file=None))
    return StartDocument(**head, files=[], pieces=[], edits=[])


def _request(unit: str | None, kind: str | None, show: str | None) -> MeasureRequest:
    """Refuse words that are wrong for every drawing before any is read."""
    request = MeasureRequest(unit=unit, kind=kind, show=show)
    if unit is not None:
        told_unit(unit)
    mesh_kind(request)
    if show is not None and reading_number(show) is None:
        show_vector(show)
    return request


def _named_once(paths: Iterable[str | Path]) -> list[Path]:
    """Give each file once, under the first of its names."""
    files: dict[str, Path] = {}
    for path in map(Path, paths):
        try:
            files.setdefault(os.path.realpath(path), path)
        except (OSError, ValueError):
            files.setdefault(str(path), path)
    return list(files.values())


def _beside(path: Path, folder: Path) -> str:
    """Name a drawing as seen from the folder of the job file."""
    try:
        parent = os.path.realpath(path.parent)
        return Path(os.path.relpath(Path(parent) / path.name, os.path.realpath(folder))).as_posix()
    except (OSError, ValueError):  # on another drive
        return path.absolute().as_posix()


def _named_apart(found: Iterable[StartedDrawingRow]) -> list[StartedDrawingRow]:
    """Give every piece a name that can be printed and that no other has."""
    named: list[StartedDrawingRow] = []
    taken: set[str] = set()
    for row in found:
        plain = " ".join(printable(row["name"]).split()) or "piece"
        name, number = plain, 1
        while name in taken:
            number += 1
            name = f"{plain} {number}"
        taken |= {name} if row["error"] is None else set()
        named.append(_renamed(row, name))
    return named


def _renamed(row: StartedDrawingRow, name: str) -> StartedDrawingRow:
    return StartedDrawingRow(
        file=row["file"],
        drawing=row["drawing"],
        name=name,
        sha256=row["sha256"],
        unit=row["unit"],
        drawn=row["drawn"],
        doubts=row["doubts"],
        error=row["error"],
    )


def _job_name(drawings: Sequence[StartedDrawingRow]) -> str:
    more = len(drawings) - 1
    return drawings[0]["name"] + (f" and {more} more" if more else "")


def _bought(mixes: Sequence[str]) -> list[str]:
    """Name what mixes are bought from, in the order they name it; water comes from the tap."""
    doses = [part for name in mixes for part in read_mix(name).doses]
    return list(dict.fromkeys(dose.ingredient.name for dose in doses))
