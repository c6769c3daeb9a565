"""Files written whole or not at all: a temporary file beside, then put in place."""

from __future__ import annotations

import os
import tempfile
from collections.abc import Mapping
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
    target = Path(folder)
    waiting: list[tuple[Path, Path]] = []
    try:
        target.mkdir(parents=True, exist_ok=True)
        for name, content in contents.items():
            waiting.append((_written_beside(target / name, content), target / name))
        for temporary, final in waiting:
            temporary.replace(final)
    except OSError as error:
        raise OutputError(
            f"cannot write there: {error.strerror or error}; name another folder with -o",
            where=str(folder),
        ) from None
    finally:
        for temporary, _ in waiting:
            temporary.unlink(missing_ok=True)
    return tuple(final for _, final in waiting)


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
