"""Files written whole or not at all: a temporary file beside, then put in place."""

from __future__ import annotations

import os
import tempfile
from collections.abc import Iterable, Mapping
from errno import EISDIR
from pathlib import Path

from takeoff.errors import OutputError


def write_files(folder: str | Path, contents: Mapping[str, bytes]) -> tuple[Path, ...]:
    """Write files into a folder, each whole or not at all.

    All of them are written under temporary names first, so that a full disk leaves
    the files of an earlier run as they were.

    Parameters
    ----------
    folder : str or Path
        Where to; made if it is not there.
    contents : mapping of str to bytes
        Bytes of each file by its name.

    Returns
    -------
    tuple of Path
        The files, in the order given.

    Raises
    ------
    OutputError
        If the folder cannot be made or written to.

    Examples
    --------
    >>> with tempfile.TemporaryDirectory() as folder:
    ...     [path] = write_files(folder, {"bid.json": b"{}"})
    ...     path.read_bytes()
    b'{}'
    """
    target = _path_of(folder)
    waiting: list[tuple[Path, Path]] = []
    try:
        target.mkdir(parents=True, exist_ok=True)
        for name, content in contents.items():
            waiting.append((_written_beside(target / name, content), target / name))
        _refuse_folders(final for _, final in waiting)
        for temporary, final in waiting:
            temporary.replace(final)
    except OSError as error:
        raise _cannot_write(folder, error) from None
    finally:
        for temporary, _ in waiting:
            temporary.unlink(missing_ok=True)
    return tuple(final for _, final in waiting)


def write_new_files(folder: str | Path, contents: Mapping[str, bytes]) -> tuple[Path, ...]:
    """Write files into a folder that has none of their names: all of them, or none.

    Parameters
    ----------
    folder : str or Path
        Where to; made if it is not there.
    contents : mapping of str to bytes
        Bytes of each file by its name.

    Returns
    -------
    tuple of Path
        The files, in the order given.

    Raises
    ------
    OutputError
        If a file of one of the names is there already, which is left as it is, or the folder
        cannot be made or written to.

    Examples
    --------
    >>> with tempfile.TemporaryDirectory() as folder:
    ...     paths = write_new_files(folder, {"job.toml": b""})
    ...     write_new_files(folder, {"shop.toml": b"", "job.toml": b""})
    Traceback (most recent call last):
    takeoff.errors.OutputError: ...job.toml: is there already and is not written over; ...
    """
    target = _path_of(folder)
    reserved: list[Path] = []
    try:
        target.mkdir(parents=True, exist_ok=True)
        for name in contents:
            # Opened as new, so that a file that comes up in the meantime is not lost either.
            (target / name).open("xb").close()
            reserved.append(target / name)
        return write_files(folder, contents)
    except BaseException as error:
        for path in reserved:
            path.unlink(missing_ok=True)
        if isinstance(error, FileExistsError) and len(reserved) < len(contents):
            raise _there_already(target, tuple(contents), len(reserved)) from None
        if isinstance(error, OSError) and not isinstance(error, OutputError):
            raise _cannot_write(folder, error) from None
        raise


def _refuse_folders(finals: Iterable[Path]) -> None:
    """Refuse a folder in the place of a file before any file is put in its place."""
    for final in finals:
        if final.is_dir():
            raise IsADirectoryError(EISDIR, f"{final.name} is a folder there")


def _path_of(folder: object) -> Path:
    """Refuse what is no name of a folder."""
    if not isinstance(folder, str | os.PathLike):
        shown = folder if isinstance(folder, int | float | None) else type(folder).__name__
        raise OutputError(f'{shown} is no name of a folder; give one like "out"')
    return Path(folder)


def _there_already(target: Path, names: tuple[str, ...], at: int) -> OutputError:
    """Refuse to write over a file, or to make a folder where a file is."""
    if not target.is_dir():
        text = "is a file, not a folder; name another folder with -o"
        return OutputError(text, where=str(target))
    there = [name for name in names if name == names[at] or os.path.lexists(target / name)]
    text = (
        "is there already and is not written over; name another folder with -o, or remove "
        f"{' and '.join(there)} first"
    )
    return OutputError(text, where=str(target / names[at]))


def _cannot_write(folder: str | Path, error: OSError) -> OutputError:
    text = f"cannot write there: {error.strerror or error}; name another folder with -o"
    return OutputError(text, where=str(folder))


def _written_beside(final: Path, content: bytes) -> Path:
    """Write a temporary file in the folder of the final one, down to the disk."""
    handle, name = tempfile.mkstemp(prefix=f".{final.name}.", dir=final.parent)
    temporary = Path(name)
    try:
        with os.fdopen(handle, "wb") as file:
            file.write(content)
            file.flush()
            os.fsync(file.fileno())
        temporary.chmod(0o644)
    except OSError:
        temporary.unlink(missing_ok=True)
        raise
    return temporary
