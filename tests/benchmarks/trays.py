"""A closed thin-shell tray with fillets and a fluted floor, of any number of triangles."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

FloatArray = NDArray[np.float64]
RECORD = np.dtype([("normal", "<f4", 3), ("corners", "<f4", (3, 3)), ("attribute", "<u2")])


@dataclass(frozen=True, slots=True)
class Tray:
    """Dimensions of a tray, in millimetres."""

    half_length: float = 600.0
    half_width: float = 400.0
    corner_radius: float = 60.0
    height: float = 80.0
    thickness: float = 12.0
    flute_depth: float = 4.0
    flute_pitch: float = 40.0
    fillet_radius: float = 15.0


@dataclass(frozen=True, slots=True, eq=False)
class _Plan:
    """Where a square grid lies in the plan of the tray."""

    ring: FloatArray
    centre: tuple[FloatArray, FloatArray]
    outward: tuple[FloatArray, FloatArray]


def tray_mesh(steps: int, tray: Tray = Tray()) -> tuple[FloatArray, NDArray[np.int64]]:
    """Give points and triangles of a tray: 4 steps² triangles, closed, without handles."""
    plan = _plan(steps, tray)
    sheets = [_sheet(plan, tray, outer=outer) for outer in (False, True)]
    inner = np.arange((steps + 1) ** 2).reshape(steps + 1, steps + 1)
    rim = np.ones_like(inner, dtype=bool)
    rim[1:-1, 1:-1] = False
    outer = np.where(rim, inner, inner + inner.size)
    triangles = np.concatenate([_triangles(inner), _triangles(outer)[:, ::-1]])
    used, numbers = np.unique(triangles, return_inverse=True)
    return np.concatenate(sheets)[used], numbers.reshape(-1, 3)


def write_stl(path: Path, points: FloatArray, triangles: NDArray[np.int64]) -> None:
    """Write a binary STL."""
    corners = points.astype(np.float32)[triangles]
    records = np.zeros(len(triangles), dtype=RECORD)
    records["corners"] = corners
    sides = corners[:, 1:].astype(np.float64) - corners[:, :1]
    normals = np.cross(sides[:, 0], sides[:, 1])
    records["normal"] = normals / np.linalg.norm(normals, axis=1, keepdims=True)
    header = b"binary test tray".ljust(80) + np.uint32(len(triangles)).tobytes()
    path.write_bytes(header + records.tobytes())


def _plan(steps: int, tray: Tray) -> _Plan:
    """Spread a grid over a rectangle with round corners, ring by ring."""
    share = 0.85  # of each side is straight
    line = np.linspace(-1.0, 1.0, steps + 1)
    u, v = np.meshgrid(line, line, indexing="ij")
    ring = np.maximum(np.abs(u), np.abs(v))
    across, along = u / np.where(ring > 0, ring, 1.0), v / np.where(ring > 0, ring, 1.0)
    sign_u, sign_v = np.where(across < 0, -1.0, 1.0), np.where(along < 0, -1.0, 1.0)
    a, b = np.abs(across), np.abs(along)
    corner = (a > share) & (b > share)
    quarter = np.pi / 4.0
    turn = np.where(
        b >= a,
        quarter + quarter * (1.0 - a) / (1.0 - share),
        quarter - quarter * (1.0 - b) / (1.0 - share),
    )
    outward = (
        np.where(corner, np.cos(turn), (a > b) * 1.0) * sign_u,
        np.where(corner, np.sin(turn), (a <= b) * 1.0) * sign_v,
    )
    centre = (
        (tray.half_length - tray.corner_radius) * np.clip(a / share, 0.0, 1.0) * sign_u,
        (tray.half_width - tray.corner_radius) * np.clip(b / share, 0.0, 1.0) * sign_v,
    )
    return _Plan(ring, centre, outward)


def _sheet(plan: _Plan, tray: Tray, *, outer: bool) -> FloatArray:
    """Points of the inner or the outer side: floor, fillet, wall and half of the lip."""
    floor_end, fillet_end, wall_end = 0.6, 0.75, 0.97  # rings where each part ends
    ring, side = plan.ring, (1.0 if outer else -1.0)
    radius = tray.fillet_radius + (tray.thickness if outer else 0.0)
    start = 0.0 if outer else tray.thickness
    fillet = np.clip((ring - floor_end) / (fillet_end - floor_end), 0.0, 1.0) * np.pi / 2.0
    wall = np.clip((ring - fillet_end) / (wall_end - fillet_end), 0.0, 1.0)
    lip = np.clip((ring - wall_end) / (1.0 - wall_end), 0.0, 1.0)
    inset = start + radius * (1.0 - np.sin(fillet)) + side * lip * tray.thickness / 2.0
    rise = radius * (1.0 - np.cos(fillet)) + wall * (tray.height - start - radius)
    shrink = np.clip(ring / floor_end, 0.0, 1.0)
    x, y = (
        (centre + outward * (tray.corner_radius - inset)) * shrink
        for centre, outward in zip(plan.centre, plan.outward, strict=True)
    )
    z = start + rise
    if not outer:
        fade = np.clip((floor_end - ring) / (0.15 * floor_end), 0.0, 1.0)
        fade = fade * fade * (3.0 - 2.0 * fade)
        z = z + tray.flute_depth * fade * (1.0 - np.cos(2.0 * np.pi * x / tray.flute_pitch)) / 2.0
    return np.stack([x, y, z], axis=-1).reshape(-1, 3)


def _triangles(numbers: NDArray[np.int64]) -> NDArray[np.int64]:
    """Two triangles for each square of a grid, split so that diagonals run outward."""
    a, b = numbers[:-1, :-1].ravel(), numbers[1:, :-1].ravel()
    c, d = numbers[1:, 1:].ravel(), numbers[:-1, 1:].ravel()
    half = (len(numbers) - 1) // 2
    row, column = np.indices((len(numbers) - 1, len(numbers) - 1))
    switched = ((row < half) != (column < half)).ravel()[:, None]
    first = np.where(switched, np.stack([a, b, d], axis=1), np.stack([a, b, c], axis=1))
    second = np.where(switched, np.stack([b, c, d], axis=1), np.stack([a, c, d], axis=1))
    return np.stack([first, second], axis=1).reshape(-1, 3)
