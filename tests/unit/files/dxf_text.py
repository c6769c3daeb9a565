"""DXF files written tag by tag, for tests."""

from collections.abc import Iterable, Sequence
from pathlib import Path

Tag = tuple[int, object]


def tags(*pairs: Tag) -> str:
    """Write tags, group code and value on a line each."""
    return "".join(f"{code:>3}\n{value}\n" for code, value in pairs)


def section(name: str, body: str) -> str:
    """Write a section."""
    return tags((0, "SECTION"), (2, name)) + body + tags((0, "ENDSEC"))


def dxf(
    entities: str,
    *,
    header: Sequence[Tag] = (),
    layers: Iterable[tuple[str, int, int]] = (),
    blocks: str = "",
) -> str:
    """Write a whole file; a layer is its name, its flags and its colour."""
    table = "".join(
        tags((0, "LAYER"), (2, name), (70, flags), (62, colour)) for name, flags, colour in layers
    )
    return "".join(
        [
            section("HEADER", tags(*header)) if header else "",
            section("TABLES", table) if table else "",
            section("BLOCKS", blocks) if blocks else "",
            section("ENTITIES", entities),
            tags((0, "EOF")),
        ]
    )


def saved(folder: Path, text: str | bytes, name: str = "piece.dxf") -> Path:
    """Save a file, texts in the code page of Western Europe."""
    path = folder / name
    path.write_bytes(text if isinstance(text, bytes) else text.encode("cp1252"))
    return path


def line(start: Sequence[float], end: Sequence[float], *more: Tag, layer: str = "0") -> str:
    """Write a LINE."""
    z0, z1 = (*start, 0.0)[2], (*end, 0.0)[2]
    ends = (10, start[0]), (20, start[1]), (30, z0), (11, end[0]), (21, end[1]), (31, z1)
    return tags((0, "LINE"), (8, layer), *ends, *more)


def lines(points: Sequence[Sequence[float]], *, closed: bool = True, layer: str = "0") -> str:
    """Write LINEs from point to point."""
    ends = [*points[1:], points[0]] if closed else points[1:]
    return "".join(line(a, b, layer=layer) for a, b in zip(points, ends, strict=False))


def polyline(
    points: Sequence[Sequence[float]], *more: Tag, flags: int = 1, layer: str = "0"
) -> str:
    """Write an LWPOLYLINE; a point is x, y and perhaps a bulge."""
    corners = [
        tag
        for x, y, *bulge in points
        for tag in ((10, x), (20, y), *((42, value) for value in bulge))
    ]
    return tags((0, "LWPOLYLINE"), (8, layer), (90, len(points)), (70, flags), *more, *corners)


def circle(x: float, y: float, radius: float, *more: Tag, layer: str = "0") -> str:
    """Write a CIRCLE."""
    return tags((0, "CIRCLE"), (8, layer), (10, x), (20, y), (40, radius), *more)


def fill(
    corners: Sequence[Sequence[float]], *more: Tag, kind: str = "SOLID", layer: str = "0"
) -> str:
    """Write a SOLID or TRACE, its corners in the order in which they are stored."""
    places = [
        tag
        for number, corner in enumerate(corners)
        for tag in zip((10 + number, 20 + number, 30 + number), (*corner, 0.0)[:3], strict=True)
    ]
    return tags((0, kind), (8, layer), *places, *more)


def block(name: str, body: str, *more: Tag, base: Sequence[float] = (0.0, 0.0)) -> str:
    """Write a block."""
    head = tags((0, "BLOCK"), (8, "0"), (2, name), (10, base[0]), (20, base[1]), *more)
    return head + body + tags((0, "ENDBLK"), (8, "0"))


def insert(name: str, x: float, y: float, *more: Tag, layer: str = "0") -> str:
    """Write a reference to a block."""
    return tags((0, "INSERT"), (8, layer), (2, name), (10, x), (20, y), *more)


def rectangle(x: float, y: float, width: float, height: float) -> list[tuple[float, float]]:
    """Give the corners of a rectangle."""
    return [(x, y), (x + width, y), (x + width, y + height), (x, y + height)]
