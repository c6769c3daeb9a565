"""A DXF file in parts: header, layers, blocks and the entities of model space."""

from __future__ import annotations

import codecs
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from takeoff.errors import UnreadableError
from takeoff.files.dxf_set_aside import set_aside
from takeoff.files.dxf_tags import Record, is_binary_dxf, records_of
from takeoff.files.dxf_values import point_of, whole_of

_FOLLOWERS = {"POLYLINE": ("VERTEX", "SEQEND"), "INSERT": ("ATTRIB", "SEQEND")}
_UNICODE_VERSION = "AC1021"  # the first one written in UTF-8


@dataclass(frozen=True, slots=True, eq=False)
class Entity:
    """An entity with the records that belong to it.

    Parameters
    ----------
    record : Record
        The entity itself.
    parts : tuple of Record
        Vertices of an old polyline, attributes of a block reference.
    layer : str
        Layer that it is on.
    """

    record: Record
    parts: tuple[Record, ...]
    layer: str


@dataclass(frozen=True, slots=True)
class LayerState:
    """What the layer table says of a layer.

    Parameters
    ----------
    name : str
        As written in the file.
    hidden : str
        Why it does not show: ``"frozen"``, ``"switched off"``, or empty where it shows.
    """

    name: str
    hidden: str


@dataclass(frozen=True, slots=True, eq=False)
class Block:
    """A block: entities drawn once and placed by reference.

    Parameters
    ----------
    name : str
        As written in the file.
    base : ndarray of float, shape (3,)
        Point that a reference places, in the unit of the drawing.
    entities : tuple of Entity
        What it holds.
    external : bool
        True where it only names another file.
    """

    name: str
    base: NDArray[np.float64]
    entities: tuple[Entity, ...]
    external: bool


@dataclass(frozen=True, slots=True, eq=False)
class Document:
    """The parts of a DXF file that measuring needs.

    Parameters
    ----------
    header : dict of str to bytes
        First value of each header variable in the file itself.
    layers : dict of str to LayerState
        By name in lower case.
    blocks : dict of str to Block
        By name in lower case.
    entities : tuple of Entity
        The entities section: model space and, marked, the current paper space.
    codec : str
        How texts are encoded.
    set_aside : dict of bytes to str
        Why some entities are not to be read though they are drawn, by their handles.
    """

    header: dict[str, bytes]
    layers: dict[str, LayerState]
    blocks: dict[str, Block]
    entities: tuple[Entity, ...]
    codec: str
    set_aside: dict[bytes, str]


def document_of(data: bytes) -> Document:
    r"""Part the bytes of a DXF file into header, layers, blocks and entities.

    Parameters
    ----------
    data : bytes
        The file.

    Returns
    -------
    Document
        Its parts.

    Raises
    ------
    UnreadableError
        If it is no DXF, is cut short, or its tags cannot be told apart.

    Examples
    --------
    >>> line = "0 SECTION 2 ENTITIES 0 LINE 8 0 10 0 20 0 11 5 21 0 0 ENDSEC 0 EOF"
    >>> document = document_of("\n".join(line.split()).encode())
    >>> [entity.record.kind for entity in document.entities]
    ['LINE']
    """
    records = records_of(data)
    sections = _sections(records)
    header = _header(sections.get("HEADER", []))
    codec = _codec(header, binary=is_binary_dxf(data))
    layers: dict[str, LayerState] = {}
    for record in sections.get("TABLES", []):
        if record.kind == "LAYER":
            name = text_in(record, 2, codec)
            layers[name.casefold()] = LayerState(name, _why_hidden(record))
    blocks = {block.name.casefold(): block for block in _blocks(sections.get("BLOCKS", []), codec)}
    entities = _entities(sections.get("ENTITIES", []), codec)
    return Document(header, layers, blocks, entities, codec, set_aside(records))


def text_in(record: Record, code: int, codec: str, default: str = "") -> str:
    r"""Read the text at a group code.

    Parameters
    ----------
    record : Record
        The record.
    code : int
        The group code.
    codec : str
        How texts are encoded.
    default : str, default ""
        What holds where the code is not there.

    Returns
    -------
    str
        The text, characters outside the encoding included.

    Examples
    --------
    >>> text_in(Record("LINE", ((8, b"K\\U+00DCCHE"),), 7), 8, "cp1252")
    'KÜCHE'
    """
    for at, value in record.tags:
        if at == code:
            return decoded(value, codec)
    return default


def decoded(value: bytes, codec: str) -> str:
    r"""Decode a text of the file.

    Parameters
    ----------
    value : bytes
        As it stands in the file.
    codec : str
        How texts are encoded.

    Returns
    -------
    str
        The text.

    Examples
    --------
    >>> decoded(b"K\xdcCHE", "cp1252")
    'KÜCHE'
    """
    text = value.decode(codec, "replace").strip()
    if "\\" not in text:
        return text
    from ezdxf.lldxf.encoding import decode_dxf_unicode, decode_mif_to_unicode

    return str(decode_mif_to_unicode(decode_dxf_unicode(text)))


def _sections(records: Sequence[Record]) -> dict[str, list[Record]]:
    """Part records by section, and refuse a file that stops inside one."""
    sections: dict[str, list[Record]] = {}
    name = ""
    for record in records:
        if record.kind == "SECTION":
            name = next((value for at, value in record.tags if at == 2), b"").decode("latin-1")
            name = name.strip().upper()
            sections.setdefault(name, []).extend(
                [Record("", record.tags, record.line)] if name == "HEADER" else []
            )
        elif record.kind in ("ENDSEC", "EOF"):
            name = ""
        elif name:
            sections[name].append(record)
    if name:
        raise UnreadableError(
            f"the file is cut short: it ends inside the section {name}, at line "
            f"{records[-1].line}; export or copy it again"
        )
    return sections


def _header(records: Sequence[Record]) -> dict[str, bytes]:
    """Give the first value of each header variable."""
    header: dict[str, bytes] = {}
    name = ""
    for code, value in (tag for record in records for tag in record.tags):
        if code == 9:
            name = value.strip().decode("latin-1").upper()
        elif name and name not in header:
            header[name] = value.strip()
    return header


def _codec(header: dict[str, bytes], *, binary: bool) -> str:
    """Tell how texts are encoded, by version and code page."""
    version = header.get("$ACADVER", b"").decode("latin-1")
    if binary or version >= _UNICODE_VERSION:
        return "utf-8"
    page = header.get("$DWGCODEPAGE", b"").decode("latin-1").lower()
    try:
        name = codecs.lookup(page.replace("ansi_", "cp").replace("dos", "cp")).name
        b"".decode(name)  # some codecs are for bytes, not for text
    except (LookupError, ValueError):
        return "cp1252"
    return name


def _why_hidden(record: Record) -> str:
    """Tell why the table says that a layer does not show."""
    if whole_of(record, 70) & 1:
        return "frozen"
    return "switched off" if whole_of(record, 62, 7) < 0 else ""


def _entities(records: Sequence[Record], codec: str) -> tuple[Entity, ...]:
    """Put each entity together with the vertices or attributes that follow it."""
    return tuple(_gathered(records, codec))


def _gathered(records: Sequence[Record], codec: str) -> Iterator[Entity]:
    owner: Record | None = None
    parts: list[Record] = []
    for record in records:
        if owner is not None:
            if record.kind in _FOLLOWERS[owner.kind]:
                if record.kind != "SEQEND":
                    parts.append(record)
                    continue
                yield _entity(owner, parts, codec)
                owner = None
                continue
            yield _entity(owner, parts, codec)
            owner = None
        if record.kind in _FOLLOWERS:
            owner, parts = record, []
        elif record.kind != "SEQEND":
            yield _entity(record, (), codec)
    if owner is not None:
        yield _entity(owner, parts, codec)


def _entity(record: Record, parts: Sequence[Record], codec: str) -> Entity:
    return Entity(record, tuple(parts), text_in(record, 8, codec, "0") or "0")


def _blocks(records: Sequence[Record], codec: str) -> Iterator[Block]:
    """Give the blocks of the blocks section."""
    head: Record | None = None
    held: list[Record] = []
    for record in records:
        if record.kind == "BLOCK":
            head, held = record, []
        elif record.kind == "ENDBLK" and head is not None:
            yield Block(
                text_in(head, 2, codec),
                point_of(head, 10, (0.0, 0.0, 0.0)),
                _entities(held, codec),
                external=bool(whole_of(head, 70) & 12),
            )
            head = None
        else:
            held.append(record)
