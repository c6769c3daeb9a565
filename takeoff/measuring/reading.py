"""Any drawing into pieces: the reader is chosen by the ending of the file's name."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path
from typing import Protocol

from takeoff.errors import UnreadableError
from takeoff.files.drawing import Drawing


def read_drawing(
    path: str | Path,
    *,
    unit: str | None = None,
    layers: tuple[str, ...] = (),
    with_hash: bool = True,
) -> Drawing:
    """Read a drawing.

    Parameters
    ----------
    path : str or Path
        An STL or DXF file.
    unit : str, optional
        Unit of the drawing, as told; wins over what the file declares.
    layers : tuple of str, default ()
        Drawing layers to take; empty for all.
    with_hash : bool, default True
        Whether to hash an STL file, which takes longer than to read it.

    Returns
    -------
    Drawing
        Its pieces in metres, and all that was mended, skipped or doubted.

    Raises
    ------
    UnreadableError
        If the file is of a kind that is not read.
    DrawingError
        If it cannot be used as it stands.

    Examples
    --------
    >>> read_drawing("counter.step")
    Traceback (most recent call last):
    takeoff.errors.UnreadableError: counter.step: drawings ending in .step are not read; \
export the piece as .dxf or .stl
    """
    if not str(path).strip():
        raise UnreadableError("the path of the drawing is empty; name an STL or DXF file")
    path = Path(path)
    reader = _READERS.get(path.suffix.lower())
    if reader is None:
        if path.is_dir():
            text = f"is a folder; name the drawings in it, {' or '.join(sorted(_READERS))}"
            raise UnreadableError(text, where=str(path))
        ending = f"ending in {path.suffix}" if path.suffix else "without an ending to their name"
        raise UnreadableError(
            f"drawings {ending} are not read; export the piece as {' or '.join(sorted(_READERS))}",
            where=str(path),
        )
    return reader(path, unit, layers, with_hash=with_hash)


def _stl(path: Path, unit: str | None, layers: tuple[str, ...], *, with_hash: bool) -> Drawing:
    from takeoff.errors import LayerError
    from takeoff.files.stl import read_stl

    if layers:
        raise LayerError("an STL file has no layers to choose from", where=str(path))
    return read_stl(path, unit=unit, with_hash=with_hash)


def _dxf(path: Path, unit: str | None, layers: tuple[str, ...], *, with_hash: bool) -> Drawing:
    from takeoff.files.dxf import read_dxf

    del with_hash  # reading the drawing takes far longer than to hash it
    return read_dxf(path, unit=unit, layers=layers)


class _Reader(Protocol):
    """What reads drawings of one kind."""

    def __call__(
        self, path: Path, unit: str | None, layers: tuple[str, ...], *, with_hash: bool
    ) -> Drawing:
        """Read a drawing."""


_READERS: Mapping[str, _Reader] = {
    ".dxf": _dxf,
    ".stl": _stl,
}
