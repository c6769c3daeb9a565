"""Facets of an STL in text, solid by solid."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from takeoff.errors import UnreadableError
from takeoff.files.stl_kind import decoded
from takeoff.files.stl_text_faults import CORNER_PLACES, FACET_WORDS, first_fault

_CHUNK_BYTES = 1 << 21
_MARK = b"\xef\xbb\xbf"
_LINE_END = re.compile(rb"[\r\n]")
_WORD_PLACES = {place: word for place, word in enumerate(FACET_WORDS) if word}
_COMMA_NUMBER = re.compile(rb"[-+]?(\d+,?\d*|,\d+)(e[-+]?\d+)?")
_THOUSANDS = re.compile(rb"[-+]?[1-9]\d{0,2},\d{3}")


@dataclass(frozen=True, slots=True, eq=False)
class TextSolid:
    """One solid of an STL in text.

    Parameters
    ----------
    name : str
        What follows the word that opens it; may be empty.
    corners : ndarray of float, shape (3 k, 3)
        Corners of the facets, three by three, in the unit of the file.
    first_line : int
        Line it opens on.
    """

    name: str
    corners: NDArray[np.float64]
    first_line: int


@dataclass(frozen=True, slots=True, eq=False)
class TextFacets:
    """What an STL in text holds.

    Parameters
    ----------
    solids : tuple of TextSolid
        In the order of the file, those without facets too.
    unclosed : bool
        True where the line that closes the last solid is missing.
    leftover : int
        Characters outside any solid.
    decimal_commas : bool
        True where the numbers are written with a comma.
    """

    solids: tuple[TextSolid, ...]
    unclosed: bool
    leftover: int
    decimal_commas: bool


@dataclass(frozen=True, slots=True)
class _Section:
    """A run of facets between two lines that open or close a solid."""

    name: str
    begin: int
    end: int
    inside: bool


def text_facets(data: bytes, *, where: str) -> TextFacets:
    r"""Read the facets of an STL in text.

    Parameters
    ----------
    data : bytes
        The whole file.
    where : str
        Its name, for messages.

    Returns
    -------
    TextFacets
        The solids, and what was odd.

    Raises
    ------
    UnreadableError
        At the first line that is not as it must be: a facet with four corners, a number
        that cannot be read, a facet cut short.

    Examples
    --------
    >>> facet = "facet normal 0 0 1 outer loop " + "vertex 1 2 3 " * 3 + "endloop endfacet"
    >>> text_facets(f"solid top\n{facet}\nendsolid top".encode(), where="").solids[0].name
    'top'
    """
    if data.startswith((b"\xff\xfe", b"\xfe\xff")):
        data = decoded(data).encode("utf-8")
    low = data.lower()
    solids, leftover, commas, inside = [], 0, False, False
    for section in _sections(data, low):
        inside = section.inside
        stray = len(low[section.begin : section.end].removeprefix(_MARK).strip(b" \t\r\n\v\f\0"))
        if not inside and low.find(b"facet", section.begin, section.end) < 0:
            leftover += stray
            continue
        reader = _SectionReader(low, section, where)
        corners = reader.corners()
        commas |= reader.decimal_commas
        solids.append(TextSolid(section.name, corners, _line_number(low, section.begin)))
    return TextFacets(tuple(solids), inside, leftover, commas)


def _sections(data: bytes, low: bytes) -> Iterator[_Section]:
    """Cut the text at the lines that open or close a solid; a name may hold any words."""
    begin, inside, name = 0, False, ""
    at = low.find(b"solid")
    while at >= 0:
        line_start = _line_start(low, at)
        line_end = _line_end(low, at)
        before = low[line_start:at].removeprefix(_MARK).strip()
        if before in (b"", b"end"):
            yield _Section(name, begin, line_start, inside)
            inside = not before
            name = decoded(data[at + len(b"solid") : line_end]).strip() if inside else ""
            begin = line_end
        at = low.find(b"solid", line_end)
    yield _Section(name, begin, len(low), inside)


def _line_start(text: bytes, at: int) -> int:
    """Where the line begins that a place is on, or a little before it on a long line."""
    nearest = max(at - 80, 0)
    return max(text.rfind(b"\n", nearest, at), text.rfind(b"\r", nearest, at), nearest - 1) + 1


def _line_end(text: bytes, at: int) -> int:
    """Where the line ends that a place is on."""
    found = _LINE_END.search(text, at)
    return found.start() if found else len(text)


def _line_number(text: bytes, at: int) -> int:
    """Count the line that a place is on, from 1."""
    return (text.count(b"\n", 0, at) or text.count(b"\r", 0, at)) + 1


class _SectionReader:
    """Reads one run of facets, piece by piece so that memory stays small."""

    def __init__(self, low: bytes, section: _Section, where: str) -> None:
        self._low = low
        self._section = section
        self._where = where
        self.decimal_commas = False

    def corners(self) -> NDArray[np.float64]:
        """Corners of all facets, three by three."""
        parts = [self._chunk(begin, end) for begin, end in self._chunks()]
        return np.concatenate([np.empty((0, 3)), *parts])

    def _chunks(self) -> Iterator[tuple[int, int]]:
        """Cut the section behind whole facets."""
        begin, stop = self._section.begin, self._section.end
        while begin < stop:
            end = min(begin + _CHUNK_BYTES, stop)
            if end < stop:
                last = self._low.rfind(b"endfacet", begin, end)
                end = last + len(b"endfacet") if last >= 0 else stop
            yield begin, end
            begin = end

    def _chunk(self, begin: int, end: int) -> NDArray[np.float64]:
        """Corners of the facets of one piece of text, every word checked."""
        tokens = self._low[begin:end].split()
        size = len(FACET_WORDS)
        count, rest = divmod(len(tokens), size)
        if rest or any(tokens[i::size] != [word] * count for i, word in _WORD_PLACES.items()):
            raise self._fault(begin, end)
        columns = [tokens[place::size] for place in CORNER_PLACES]
        if self._low.find(b",", begin, end) >= 0:
            columns = self._with_points(columns, begin, end)
        values = np.empty((count, 9))
        try:
            for place, column in enumerate(columns):
                values[:, place] = np.fromiter(map(float, column), dtype=float, count=count)
        except ValueError:
            raise self._fault(begin, end) from None
        if self._low.find(b"_", begin, end) >= 0:  # float() would take 1_000
            raise self._fault(begin, end)
        return values.reshape(-1, 3)

    def _with_points(self, columns: list[list[bytes]], begin: int, end: int) -> list[list[bytes]]:
        """Numbers with decimal commas written with points, where they can mean nothing else."""
        numbers = [number for column in columns for number in column]
        written = [number for number in numbers if b"," in number]
        if not written:
            return columns
        if not all(map(_COMMA_NUMBER.fullmatch, numbers)) or all(
            map(_THOUSANDS.fullmatch, written)
        ):
            raise self._fault(begin, end)
        self.decimal_commas = True
        return [[number.replace(b",", b".") for number in column] for column in columns]

    def _fault(self, begin: int, end: int) -> UnreadableError:
        """Say what is wrong in a piece of text, and on which line."""
        return first_fault(
            self._low[begin:end],
            first_line=_line_number(self._low, begin),
            first_facet=self._low.count(b"endfacet", 0, begin) + 1,
            where=self._where,
        )
