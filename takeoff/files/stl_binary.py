"""Facets of a binary STL."""

from __future__ import annotations

import hashlib
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from takeoff.errors import UnreadableError
from takeoff.files.stl_kind import FACET_BYTES, HEAD_BYTES, StlFile

_RECORD = np.dtype([("normal", "<f4", 3), ("corners", "<f4", 9), ("attribute", "<u2")])
_CHUNK_FACETS = 40_000  # two megabytes: stays in the cache of the processor
_TAIL_BYTES = 1 << 20


@dataclass(frozen=True, slots=True, eq=False)
class BinaryFacets:
    """What a binary STL holds.

    Parameters
    ----------
    corners : ndarray of float32, shape (3 k, 3)
        Corners of the facets, three by three, in the unit of the file.
    sha256 : str
        Hash of the whole file.
    extra : int
        How many bytes follow the last facet.
    """

    corners: NDArray[np.float32]
    sha256: str
    extra: int


def binary_facets(file: StlFile) -> BinaryFacets:
    """Read the facets of a binary STL.

    Parameters
    ----------
    file : StlFile
        A file recognised as binary.

    Returns
    -------
    BinaryFacets
        Corners as stored; normals and attribute bytes are not looked at.

    Raises
    ------
    UnreadableError
        If the file is shorter than the facets it declares, or holds more than it declares.

    Examples
    --------
    >>> from pathlib import Path
    >>> from takeoff.files.stl_kind import StlKind
    >>> short = StlFile(Path("cut.stl"), StlKind.BINARY, size=1057, declared=32)
    >>> try:
    ...     binary_facets(short)
    ... except UnreadableError as refusal:
    ...     print(refusal.text.split(":")[0])
    the header declares 32 facets, but the 1057 bytes of the file hold 19 whole ones
    """
    if file.spare < 0:
        raise _cut_short(file)
    corners = np.empty((file.declared, 9), dtype=np.float32)
    digest = hashlib.sha256()
    with file.path.open("rb") as stream:
        digest.update(stream.read(HEAD_BYTES))
        buffer = np.empty(min(file.declared, _CHUNK_FACETS), dtype=_RECORD)
        for piece in range(0, file.declared, _CHUNK_FACETS):
            part = buffer[: file.declared - piece]
            octets = part.view(np.uint8).data
            if stream.readinto(octets) < part.nbytes:
                raise _cut_short(file)
            digest.update(octets)
            corners[piece : piece + len(part)] = part["corners"]
        tail = stream.read(_TAIL_BYTES)
        _refuse_hidden_facets(file, tail, corners)
        while tail:
            digest.update(tail)
            tail = stream.read(_TAIL_BYTES)
    return BinaryFacets(corners.reshape(-1, 3), digest.hexdigest(), file.spare)


def _cut_short(file: StlFile) -> UnreadableError:
    """Say how much of the declared facets is there."""
    present = max(file.size - HEAD_BYTES, 0) // FACET_BYTES
    return UnreadableError(
        f"the header declares {file.declared} facets, but the {file.size} bytes of the file hold "
        f"{present} whole ones: it is cut short, or no STL; export or copy it again",
        where=str(file.path),
    )


def _refuse_hidden_facets(file: StlFile, tail: bytes, corners: NDArray[np.float32]) -> None:
    """Refuse a tail that is itself a run of facets: then the declared count is wrong."""
    count = len(tail) // FACET_BYTES
    if not count:
        return
    extra = np.frombuffer(tail, dtype=_RECORD, count=count)["corners"].astype(np.float64)
    reach = 4.0 * float(np.abs(corners).max()) if len(corners) else np.inf
    with np.errstate(invalid="ignore"):
        plausible = (np.abs(extra) <= reach).all(axis=1)
        plausible &= (np.abs(extra) > np.finfo(np.float32).tiny).any(axis=1)
    if plausible.sum() * 2 > count:
        raise UnreadableError(
            f"the header declares {file.declared} facets, but {file.spare // FACET_BYTES} more "
            "seem to follow: the count is wrong; export it again",
            where=str(file.path),
        )
