"""Facets of a binary STL."""

from __future__ import annotations

import hashlib
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from takeoff.errors import UnreadableError
from takeoff.files.stl_kind import FACET_BYTES, HEAD_BYTES, StlFile
from takeoff.geometry.blocks import keep_freed_memory
from takeoff.geometry.strips import Strips
from takeoff.geometry.welding import welded_strips

_CORNERS = np.dtype("V36")  # nine numbers, copied as one
_RECORD = np.dtype([("normal", "<f4", 3), ("corners", _CORNERS), ("attribute", "<u2")])
_CHUNK_FACETS = 16_000  # 800 kB: stays in the cache of the processor
_TAIL_BYTES = 1 << 20
_MOST_FACETS = (2**31 - 1) // 3  # corners are numbered in 32 bits


@dataclass(frozen=True, slots=True, eq=False)
class BinaryFacets:
    """What a binary STL holds.

    Parameters
    ----------
    points : ndarray of float32, shape (p, 3)
        Distinct points, as stored, in the order of their first corners.
    number : ndarray of int, shape (3 k,)
        Points that the corners of the facets lie on, three by three.
    farthest : float
        Largest coordinate; nan where one is no number.
    sha256 : str
        Hash of the whole file; empty where it was not asked for.
    extra : int
        How many bytes follow the last facet.
    """

    points: NDArray[np.float32] | NDArray[np.float64]
    number: NDArray[np.int32]
    farthest: float
    sha256: str
    extra: int


def binary_facets(file: StlFile, *, with_hash: bool = True) -> BinaryFacets:
    """Read the facets of a binary STL.

    Parameters
    ----------
    file : StlFile
        A file recognised as binary.
    with_hash : bool, default True
        Whether to hash the file, which takes longer than to read it.

    Returns
    -------
    BinaryFacets
        Their corners; normals and attribute bytes are not looked at.

    Raises
    ------
    UnreadableError
        If the file is shorter than the facets it declares, or holds more than it declares,
        or more than can be numbered.

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
    if file.declared > _MOST_FACETS:
        raise UnreadableError(
            f"it holds {file.declared} facets, and at most {_MOST_FACETS} can be read; export "
            "the parts one by one, or more coarsely",
            where=str(file.path),
        )
    if file.declared > _CHUNK_FACETS:
        keep_freed_memory()
    strips = Strips(3 * file.declared)
    digest = hashlib.sha256() if with_hash else _NoHash()
    with file.path.open("rb") as stream:
        digest.update(stream.read(HEAD_BYTES))
        buffer = np.empty(min(file.declared, _CHUNK_FACETS), dtype=_RECORD)
        corners = np.empty(len(buffer), dtype=_CORNERS)
        for piece in range(0, file.declared, _CHUNK_FACETS):
            part = buffer[: file.declared - piece]
            octets = part.view(np.uint8).data
            if stream.readinto(octets) < part.nbytes:
                raise _cut_short(file)
            digest.update(octets)
            corners[: len(part)] = part["corners"]
            strips.take_in(_coordinates(corners[: len(part)]))
        points, number = welded_strips(strips)
        farthest = float(np.maximum(points.max(initial=0.0), -points.min(initial=0.0)))
        tail = stream.read(_TAIL_BYTES)
        _refuse_hidden_facets(file, tail, farthest)
        while tail:
            digest.update(tail)
            tail = stream.read(_TAIL_BYTES)
    return BinaryFacets(points, number, farthest, digest.hexdigest(), file.spare)


class _NoHash:
    """Stands in for a hash that nobody asked for."""

    def update(self, octets: bytes | memoryview) -> None:
        """Take no notice."""

    def hexdigest(self) -> str:
        """Give nothing."""
        return ""


def _coordinates(corners: NDArray[np.void]) -> NDArray[np.float32]:
    """Coordinates of corners, one corner to a row."""
    return corners.view("<f4").reshape(-1, 3)


def _cut_short(file: StlFile) -> UnreadableError:
    """Say how much of the declared facets is there."""
    present = max(file.size - HEAD_BYTES, 0) // FACET_BYTES
    return UnreadableError(
        f"the header declares {file.declared} facets, but the {file.size} bytes of the file hold "
        f"{present} whole ones: it is cut short, or no STL; export or copy it again",
        where=str(file.path),
    )


def _refuse_hidden_facets(file: StlFile, tail: bytes, farthest: float) -> None:
    """Refuse a tail that is itself a run of facets: then the declared count is wrong."""
    count = len(tail) // FACET_BYTES
    if not count:
        return
    corners = np.frombuffer(tail, dtype=_RECORD, count=count)["corners"].copy()
    reach = 4.0 * farthest if file.declared else np.inf
    with np.errstate(invalid="ignore"):
        extra = _coordinates(corners).reshape(-1, 9).astype(np.float64)
        plausible = (np.abs(extra) <= reach).all(axis=1)
        plausible &= (np.abs(extra) > np.finfo(np.float32).tiny).any(axis=1)
    if plausible.sum() * 2 > count:
        raise UnreadableError(
            f"the header declares {file.declared} facets, but {file.spare // FACET_BYTES} more "
            "seem to follow: the count is wrong; export it again",
            where=str(file.path),
        )
