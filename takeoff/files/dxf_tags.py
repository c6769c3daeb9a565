"""The tags of a DXF file, text or binary, as records that know their line."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

from takeoff.errors import UnreadableError

_SENTINEL = b"AutoCAD Binary DXF\r\n\x1a\x00"
_COMMA_DECIMAL = re.compile(rb"[+-]?\d+,\d+(?:[eE][+-]?\d+)?")
_SECTIONS = (b"HEADER", b"TABLES", b"BLOCKS", b"ENTITIES")
_OBJECTS = ("DICTIONARY", "SPATIAL_FILTER")  # the few objects that bear on what shows
_EMBEDDED, _COMMENT = 101, 999
_OTHER_KINDS = (
    (re.compile(rb"AC1\d\d\d|AC\d\.\d"), "a DWG drawing; save it as DXF"),
    (re.compile(rb"%PDF"), "a PDF; ask for the DXF that it was printed from"),
    (re.compile(rb"PK\x03\x04"), "a zip archive; unpack it first"),
    (re.compile(rb"\xff\xfe|\xfe\xff"), "text in UTF-16; save it as plain DXF"),
    (re.compile(rb"\s*solid\b"), "an STL file; give it the ending .stl"),
    (re.compile(rb"\s*<"), "a markup file; save the drawing as DXF"),
)


@dataclass(frozen=True, slots=True, eq=False)
class Record:
    """One entity, table entry or marker: a kind and its tags.

    Parameters
    ----------
    kind : str
        What stands at group code 0: ``"LINE"``, ``"SECTION"`` ...
    tags : sequence of (int, bytes)
        Group codes and values that follow, extended data left out.
    line : int
        Line of the file that it starts at; in a binary file the number of its first tag.
    extended : sequence of (int, bytes), default ()
        The extended data of a paragraph of text, which names the frame drawn about it.
    """

    kind: str
    tags: Sequence[tuple[int, bytes]]
    line: int
    extended: Sequence[tuple[int, bytes]] = ()

    @property
    def place(self) -> str:
        """Give the record in words: its kind and line."""
        return f"{self.kind} at line {self.line}"


def is_binary_dxf(data: bytes) -> bool:
    """Tell whether the bytes of a file are binary DXF.

    Parameters
    ----------
    data : bytes
        The file.

    Returns
    -------
    bool
        True for binary, False for text or another kind.

    Examples
    --------
    >>> is_binary_dxf(b"0")
    False
    """
    return data.startswith(_SENTINEL)


def records_of(data: bytes) -> list[Record]:
    r"""Part a DXF file into records.

    Parameters
    ----------
    data : bytes
        The file.

    Returns
    -------
    list of Record
        The records of the sections that are read, with the marks between them, up to the
        end-of-file mark, which is the last one where the file has it.

    Raises
    ------
    UnreadableError
        If the file is empty, of another kind, or its tags cannot be told apart.

    Examples
    --------
    >>> [record.kind for record in records_of(b"0\nSECTION\n2\nENTITIES\n0\nENDSEC\n")]
    ['SECTION', 'ENDSEC']
    """
    if not data.strip(b"\x00 \t\r\n"):
        raise UnreadableError("the file is empty")
    for pattern, kind in _OTHER_KINDS:
        if pattern.match(data):
            raise UnreadableError(f"this is no DXF but {kind}")
    columns = _binary_columns(data) if is_binary_dxf(data) else _text_columns(data)
    records = list(_grouped(columns))
    if not any(record.kind == "SECTION" for record in records):
        raise UnreadableError("this is no DXF: it has no SECTION; export the drawing as DXF")
    return records


@dataclass(frozen=True, slots=True, eq=False)
class _Columns:
    """Group codes and values of a whole file, and how they stand in it."""

    codes: Sequence[int]
    values: Sequence[bytes]
    first_line: int
    lines_per_tag: int


def _grouped(columns: _Columns) -> Iterator[Record]:
    """Group tags into records at each group code 0, those of sections that are read."""
    codes, values = columns.codes, columns.values
    starts = [place for place, code in enumerate(codes) if code == 0]
    wanted, objects = True, False
    for start, end in pairwise([*starts, len(codes)]):
        kind = values[start].strip().decode("latin-1").upper()
        if kind == "SECTION":
            name = b"".join(values[start + 1 : min(start + 2, end)]).strip().upper()
            wanted, objects = name in _SECTIONS, name == b"OBJECTS"
        elif not wanted and kind not in ("ENDSEC", "EOF") and not (objects and kind in _OBJECTS):
            continue
        line = columns.first_line + columns.lines_per_tag * start
        extended = _extended_between(columns, start + 1, end) if kind == "MTEXT" else ()
        yield Record(kind, _tags_between(columns, start + 1, end), line, extended)
        if kind == "EOF":
            return


def _tags_between(columns: _Columns, start: int, end: int) -> list[tuple[int, bytes]]:
    """Give some tags, comments and extended data left out, and what is embedded."""
    codes = columns.codes[start:end]
    tags = list(zip(codes, columns.values[start:end], strict=True))
    if _EMBEDDED in codes:  # an embedded object repeats the codes of the entity
        tags = tags[: codes.index(_EMBEDDED)]
    return [tag for tag in tags if tag[0] < _COMMENT] if max(codes, default=0) >= _COMMENT else tags


def _extended_between(columns: _Columns, start: int, end: int) -> list[tuple[int, bytes]]:
    """Give the extended data among some tags."""
    tags = zip(columns.codes[start:end], columns.values[start:end], strict=True)
    return [(code, value.strip()) for code, value in tags if code > _COMMENT]


def _text_columns(data: bytes) -> _Columns:
    """Part a text file into group codes and values."""
    text = data.removeprefix(b"\xef\xbb\xbf")
    body = text.lstrip(b" \t\r\n")
    skipped = len((text[: len(text) - len(body)] + b"|").splitlines()) - 1
    lines = body.splitlines()
    values = lines[1::2]
    shown = lines[: 2 * len(values) : 2]
    try:
        codes = list(map(int, shown))
    except ValueError:
        codes = _codes_to_the_end(shown, values, skipped)
    return _Columns(codes, values[: len(codes)], skipped + 1, 2)


def _codes_to_the_end(shown: Sequence[bytes], values: Sequence[bytes], skipped: int) -> list[int]:
    """Read group codes up to the end of the file; refuse a line that is none before it."""
    codes: list[int] = []
    for number, (code, value) in enumerate(zip(shown, values, strict=True)):
        try:
            codes.append(int(code))
        except ValueError:
            line = skipped + 2 * number + 1
            raise UnreadableError(_no_code(code, line, first=number == 0)) from None
        if codes[-1] == 0 and value.strip() == b"EOF":
            break
    return codes


def _no_code(code: bytes, line: int, *, first: bool) -> str:
    """Say that a line is no group code."""
    shown = code[:40].decode("latin-1").strip()
    if first:
        return f"this is no DXF: it starts with {shown!r}; export the drawing as DXF"
    return (
        f"line {line}: {shown!r} is no group code, so that the lines after it cannot be told "
        "apart; export the drawing again"
    )


def _binary_columns(data: bytes) -> _Columns:
    """Part a binary file into group codes and values, numbers as text that reads back exactly."""
    import struct

    from ezdxf.lldxf.const import DXFError
    from ezdxf.lldxf.tagger import binary_tags_loader

    codes: list[int] = []
    values: list[bytes] = []
    try:
        for tag in binary_tags_loader(data):
            value = tag.value
            codes.append(tag.code)
            if isinstance(value, str):
                values.append(value.encode("utf-8", "surrogateescape"))
            else:
                values.append(value if isinstance(value, bytes) else repr(value).encode())
    except (DXFError, struct.error, ValueError, IndexError, LookupError) as fault:
        raise UnreadableError(
            f"the binary DXF is damaged or cut short ({fault}); export the drawing again"
        ) from None
    return _Columns(codes, values, 0, 1)


def exact_number(value: bytes) -> float:
    """Read a number of a tag exactly, a decimal comma taken for a point.

    Parameters
    ----------
    value : bytes
        As it stands in the file.

    Returns
    -------
    float
        The number.

    Raises
    ------
    ValueError
        If it is no finite number.

    Examples
    --------
    >>> exact_number(b" 1481,25")
    1481.25
    """
    text = value.strip()
    if _COMMA_DECIMAL.fullmatch(text):
        text = text.replace(b",", b".")
    if b"_" in text:
        raise ValueError
    number = float(text)
    if number - number != 0.0:
        raise ValueError
    return number


def has_decimal_comma(value: bytes) -> bool:
    """Tell whether a number is written with a decimal comma.

    Parameters
    ----------
    value : bytes
        As it stands in the file.

    Returns
    -------
    bool
        True for one comma between digits.

    Examples
    --------
    >>> has_decimal_comma(b"0,5"), has_decimal_comma(b"0.5")
    (True, False)
    """
    return b"," in value and _COMMA_DECIMAL.fullmatch(value.strip()) is not None
