"""The tags of a DXF file, text or binary, as records that know their line."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from takeoff.errors import UnreadableError

_SENTINEL = b"AutoCAD Binary DXF\r\n\x1a\x00"
_COMMA_DECIMAL = re.compile(rb"[+-]?\d+,\d+(?:[eE][+-]?\d+)?")
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
    """

    kind: str
    tags: Sequence[tuple[int, bytes]]
    line: int

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
        All records up to the end-of-file mark, which is the last one where the file has it.

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
    tags = _binary_tags(data) if is_binary_dxf(data) else _text_tags(data)
    records = list(_grouped(tags))
    if not any(record.kind == "SECTION" for record in records):
        raise UnreadableError("this is no DXF: it has no SECTION; export the drawing as DXF")
    return records


def _grouped(tags: Iterator[tuple[int, bytes, int]]) -> Iterator[Record]:
    """Group tags into records at each group code 0."""
    kind, line = "", 0
    body: list[tuple[int, bytes]] = []
    kept = True
    for code, value, at in tags:
        if code == 0:
            if kind:
                yield Record(kind, body, line)
            kind, line, body, kept = value.strip().decode("latin-1").upper(), at, [], True
            if kind == "EOF":
                yield Record(kind, body, line)
                return
        elif code == 101:  # an embedded object: its codes repeat those of the entity
            kept = False
        elif kept and code < 999:
            body.append((code, value))
    if kind:
        yield Record(kind, body, line)


def _text_tags(data: bytes) -> Iterator[tuple[int, bytes, int]]:
    """Give the tags of a text file with their lines."""
    text = data.removeprefix(b"\xef\xbb\xbf")
    body = text.lstrip(b" \t\r\n")
    skipped = len((text[: len(text) - len(body)] + b"|").splitlines()) - 1
    lines = body.splitlines()
    values = lines[1::2]
    for number, (code, value) in enumerate(zip(lines[::2], values, strict=False)):
        line = skipped + 2 * number + 1
        try:
            yield int(code), value, line
        except ValueError:
            raise UnreadableError(_no_code(code, line, first=number == 0)) from None


def _no_code(code: bytes, line: int, *, first: bool) -> str:
    """Say that a line is no group code."""
    shown = code[:40].decode("latin-1").strip()
    if first:
        return f"this is no DXF: it starts with {shown!r}; export the drawing as DXF"
    return (
        f"line {line}: {shown!r} is no group code, so that the lines after it cannot be told "
        "apart; export the drawing again"
    )


def _binary_tags(data: bytes) -> Iterator[tuple[int, bytes, int]]:
    """Give the tags of a binary file, numbers as text that reads back exactly."""
    import struct

    from ezdxf.lldxf.const import DXFError
    from ezdxf.lldxf.tagger import binary_tags_loader

    try:
        for number, tag in enumerate(binary_tags_loader(data)):
            value = tag.value
            if isinstance(value, str):
                yield tag.code, value.encode("utf-8", "surrogateescape"), number
            elif not isinstance(value, bytes):
                yield tag.code, repr(value).encode(), number
    except (DXFError, struct.error, ValueError, IndexError, LookupError) as fault:
        raise UnreadableError(
            f"the binary DXF is damaged or cut short ({fault}); export the drawing again"
        ) from None


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
