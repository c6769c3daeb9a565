"""Which kind of STL a file is, or what it is instead."""

from __future__ import annotations

import re
from dataclasses import dataclass
from enum import StrEnum
from pathlib import Path

from takeoff.errors import UnreadableError

HEAD_BYTES = 84
FACET_BYTES = 50
_TEXT_START = re.compile(rb"\s*(solid|facet)\b", re.IGNORECASE)
_DXF_START = re.compile(rb"\s*(999\s*\n[^\n]*\n\s*)?0\s*\n\s*SECTION\b")
_FOREIGN = {
    b"\x89PNG": "a PNG picture",
    b"\xff\xd8\xff": "a JPEG picture",
    b"GIF8": "a GIF picture",
    b"BM": "a BMP picture",
    b"%PDF": "a PDF document",
    b"PK\x03\x04": "a ZIP archive (3MF files are such)",
    b"\x1f\x8b": "a gzip archive",
    b"7z\xbc\xaf": "a 7z archive",
    b"Rar!": "a RAR archive",
    b"<": "a web page or XML file, perhaps the error page of a download",
    b"{": "a JSON file",
    b"ply": "a PLY mesh",
    b"glTF": "a GLB mesh",
    b"ISO-10303-21": "a STEP file",
    b"AutoCAD Binary DXF": "a binary DXF drawing",
    b"AC10": "a DWG drawing",
    b"version https://git-lfs": "a Git LFS pointer, not the file that it stands for",
}


class StlKind(StrEnum):
    """How an STL is written."""

    BINARY = "binary"
    TEXT = "text"


@dataclass(frozen=True, slots=True)
class StlFile:
    """A file that is an STL, as far as its size and first bytes tell.

    Parameters
    ----------
    path : Path
        The file.
    kind : StlKind
        Binary or text.
    size : int
        Its length in bytes.
    declared : int
        Facets that a binary file declares; 0 for text.
    """

    path: Path
    kind: StlKind
    size: int
    declared: int

    @property
    def spare(self) -> int:
        """Bytes after the last declared facet of a binary file; negative where it is short."""
        return self.size - HEAD_BYTES - FACET_BYTES * self.declared


def recognised(path: Path) -> StlFile:
    """Tell a binary STL from one in text, by its size first.

    Parameters
    ----------
    path : Path
        The file.

    Returns
    -------
    StlFile
        What it is.

    Raises
    ------
    UnreadableError
        If there is no such file, it cannot be opened or is empty, or it is no STL.

    Notes
    -----
    A binary STL is known by its size, 84 bytes and 50 for every facet declared, whatever
    its header says: many begin with the word that opens a file in text.

    Examples
    --------
    >>> recognised(Path("no-such.stl"))
    Traceback (most recent call last):
    takeoff.errors.UnreadableError: no-such.stl: there is no such file
    """
    head, size = _opening(path)
    declared = int.from_bytes(head[80:84], "little") if len(head) >= HEAD_BYTES else 0
    binary = StlFile(path, StlKind.BINARY, size, declared)
    if size >= HEAD_BYTES and binary.spare == 0:
        return binary
    if _is_text(head):
        _refuse_foreign_text(head, path)
        return StlFile(path, StlKind.TEXT, size, 0)
    _refuse_foreign(head, path)
    if size < HEAD_BYTES:
        raise UnreadableError(
            f"{size} bytes are too few for a binary STL, and it is not text; export it again",
            where=str(path),
        )
    return binary


def _opening(path: Path) -> tuple[bytes, int]:
    """First bytes and length of a file."""
    if path.is_dir():
        raise UnreadableError("this is a folder; name a file in it", where=str(path))
    try:
        with path.open("rb") as file:
            head = file.read(4096)
        size = path.stat().st_size
    except FileNotFoundError:
        raise UnreadableError("there is no such file", where=str(path)) from None
    except (OSError, ValueError) as problem:
        raise UnreadableError(f"it cannot be opened: {problem}", where=str(path)) from None
    if not size:
        raise UnreadableError("the file is empty (0 bytes); export it again", where=str(path))
    return head, size


def _is_text(head: bytes) -> bool:
    """Tell text from bytes: no control characters but white space, or a mark of UTF-16.

    Zero bytes that only fill the file up behind its last facet say nothing.
    """
    if head.startswith((b"\xff\xfe", b"\xfe\xff")):
        return True
    written = head.rstrip(b"\0") if b"endfacet" in head.lower() else head
    return not re.search(rb"[\x00-\x08\x0e-\x1f]", written)


def _refuse_foreign_text(head: bytes, path: Path) -> None:
    """Let a text through that opens as an STL does; refuse any other."""
    text = decoded(head).encode("utf-8")
    if _TEXT_START.match(text):
        return
    _refuse_foreign(text.lstrip(), path)
    if _DXF_START.match(text):
        raise UnreadableError("this is a DXF drawing; name it .dxf", where=str(path))
    first = text.strip().splitlines()[0][:40].decode("utf-8", "replace") if text.strip() else ""
    raise UnreadableError(
        f'this is a text, but no STL: it begins with "{first}" and not with "solid"',
        where=str(path),
    )


def _refuse_foreign(head: bytes, path: Path) -> None:
    """Refuse a file that begins as one of another kind does."""
    for mark, what in _FOREIGN.items():
        if head.startswith(mark):
            raise UnreadableError(f"this is {what}, not an STL", where=str(path))


def decoded(data: bytes) -> str:
    """Read the bytes of a text STL as characters, whatever they were written in.

    Parameters
    ----------
    data : bytes
        A text, perhaps with a byte order mark; cut anywhere.

    Returns
    -------
    str
        The text without the mark.

    Examples
    --------
    >>> decoded("solid Küche".encode("utf-16")), decoded("solid Küche".encode("cp1252"))
    ('solid Küche', 'solid Küche')
    """
    if data.startswith((b"\xff\xfe", b"\xfe\xff")):
        return data.decode("utf-16", "replace").lstrip("\ufeff")
    try:
        return data.decode("utf-8-sig")
    except UnicodeDecodeError:
        return data.removeprefix(b"\xef\xbb\xbf").decode("cp1252", "replace")
