"""Draw the sample pieces of the ferry hall; run it in this folder to write them anew.

The hall, its pieces and all sizes are invented. `drawings.toml` holds the areas and volumes of
each piece, worked out by hand from the sizes below.
"""

from __future__ import annotations

import sys
from pathlib import Path

import ezdxf
import numpy as np

Point = tuple[float, float, float]
HEADER = b"ferry hall sample, binary facets".ljust(80)


def ticket_counter() -> list[list[Point]]:
    """Draw the surface that is cast, in mm: top with cut-out, two returns, one leg."""
    length, width, edge, leg, flange = 2400.0, 650.0, 40.0, 860.0, 40.0
    x0, x1, y0, y1 = 1500.0, 2000.0, 150.0, 530.0  # the cut-out
    outer = [(0.0, 0.0), (length, 0.0), (length, width), (0.0, width)]
    hole = [(x0, y0), (x1, y0), (x1, y1), (x0, y1)]
    facets = ring(outer, hole, 0.0)
    front = [
        [(0.0, 0.0, 0.0), (0.0, 0.0, -leg), (flange, 0.0, -leg)],
        [(0.0, 0.0, 0.0), (flange, 0.0, -leg), (flange, 0.0, -edge)],
        [(0.0, 0.0, 0.0), (flange, 0.0, -edge), (length, 0.0, -edge)],
        [(0.0, 0.0, 0.0), (length, 0.0, -edge), (length, 0.0, 0.0)],
    ]
    facets += front
    facets += wall((length, 0.0), (length, width), 0.0, -edge)
    facets += wall((0.0, width), (0.0, 0.0), 0.0, -leg)
    for start, end in zip(hole, hole[1:] + hole[:1], strict=True):
        facets += wall(end, start, 0.0, -edge)
    return facets


def hearth_surround() -> list[list[Point]]:
    """Draw a closed solid, in inches: a U round the hearth, 6 in deep, show face to the front."""
    across, height, deep = 48.0, 42.0, 6.0
    left, right, top = 8.0, 40.0, 30.0  # the hearth opening, open at the floor
    outline = [
        (0.0, 0.0), (left, 0.0), (left, top), (right, top),
        (right, 0.0), (across, 0.0), (across, height), (0.0, height),
    ]  # fmt: skip
    quads = [(0, 1, 2, 7), (7, 2, 3, 6), (3, 4, 5, 6)]
    facets = []
    for a, b, c, d in quads:
        corners = [outline[k] for k in (a, b, c, d)]
        facets += quad([(x, 0.0, z) for x, z in corners])
        facets += quad([(x, deep, z) for x, z in reversed(corners)])
    for (x0, z0), (x1, z1) in zip(outline, outline[1:] + outline[:1], strict=True):
        facets += quad([(x0, 0.0, z0), (x0, deep, z0), (x1, deep, z1), (x1, 0.0, z1)])
    return facets


def wall_panel(path: Path) -> None:
    """Draw an outline in mm: a panel with a window opening, as a drawing office would export it."""
    ezdxf.options.write_fixed_meta_data_for_testing = True
    document = ezdxf.new("R2010", units=4)
    document.layers.add("PANEL")
    document.layers.add("NOTES")
    space = document.modelspace()
    panel = [(0, 0), (1200, 0), (1200, 2700), (0, 2700)]
    window = [(300, 1100), (900, 1100), (900, 2000), (300, 2000)]
    for corners in (panel, window):
        space.add_lwpolyline(corners, close=True, dxfattribs={"layer": "PANEL"})
    space.add_text("WALL PANEL", height=60, dxfattribs={"layer": "NOTES"}).set_placement((400, 400))
    document.saveas(path)


def quad(corners: list[Point]) -> list[list[Point]]:
    """Two facets over four corners."""
    a, b, c, d = corners
    return [[a, b, c], [a, c, d]]


def wall(start: tuple[float, float], end: tuple[float, float], top: float, foot: float) -> list:
    """Two facets of an upright wall, facing to the right of its run."""
    (x0, y0), (x1, y1) = start, end
    return quad([(x0, y0, top), (x0, y0, foot), (x1, y1, foot), (x1, y1, top)])


def ring(outer: list, hole: list, z: float) -> list[list[Point]]:
    """Facets between a rectangle and a rectangular hole in it, facing up."""
    facets = []
    for k in range(4):
        a, b = outer[k], outer[(k + 1) % 4]
        c, d = hole[(k + 1) % 4], hole[k]
        facets += quad([(x, y, z) for x, y in (a, b, c, d)])
    return facets


def write_stl(path: Path, facets: list[list[Point]]) -> None:
    """Write binary STL with unit normals."""
    corners = np.array(facets, dtype=np.float64)
    across = np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0])
    records = np.zeros(len(facets), dtype=[("floats", "<f4", (4, 3)), ("attribute", "<u2")])
    records["floats"][:, 0] = across / np.linalg.norm(across, axis=1, keepdims=True)
    records["floats"][:, 1:] = corners
    path.write_bytes(HEADER + len(facets).to_bytes(4, "little") + records.tobytes())


def main(folder: Path) -> None:
    write_stl(folder / "ticket-counter.stl", ticket_counter())
    write_stl(folder / "hearth-surround.stl", hearth_surround())
    wall_panel(folder / "wall-panel.dxf")


if __name__ == "__main__":
    main(Path(sys.argv[1]) if len(sys.argv) > 1 else Path(__file__).parent)
