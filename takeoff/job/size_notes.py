"""Which piece is too large for the shop's tables, or too heavy for what moves it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import numpy as np

from takeoff.geometry.plan_sizes import plan_sizes_m
from takeoff.notes import Note, NoteCode
from takeoff.piece.layers import CAST_CLASSES
from takeoff.piece.surfaces import ModelKind, Surfaces
from takeoff.report.figures import System, written_length, written_mass

_CLOSE_SHARE = 1e-6  # coordinates of drawings hold about seven digits

Size = tuple[float, float]


def lying_sizes_m(surfaces: Surfaces) -> tuple[Size, ...]:
    """Give the room a piece takes on a table, show face down, each side of it laid square.

    Parameters
    ----------
    surfaces : Surfaces
        The classified piece; of a form, only what is cast in it.

    Returns
    -------
    tuple of (float, float)
        Length and width of each way to lay it that no other beats in both. [m]

    Examples
    --------
    >>> import trimesh
    >>> from takeoff.geometry.mesh import Mesh
    >>> from takeoff.piece.classifying import classify
    >>> slab = Mesh.from_trimesh(trimesh.creation.box((2.0, 1.0, 0.02)), unit="m")
    >>> lying_sizes_m(classify(slab, kind=ModelKind.PIECE,
    ...                        show_direction=np.array([0.0, 0.0, 1.0])))
    ((2.0, 1.0),)
    """
    mesh = surfaces.mesh
    triangles = mesh.triangles
    if surfaces.kind is ModelKind.FORM:
        triangles = triangles[surfaces.shares[:, : len(CAST_CLASSES)].sum(axis=1) > 0.0]
    return plan_sizes_m(mesh.points_m[np.unique(triangles)], surfaces.show_direction)


def size_notes(
    name: str,
    *,
    sizes_m: Sequence[Size],
    handling_kg: float,
    max_piece_m: Size | None = None,
    max_kg: float | None = None,
    system: System = System.METRIC,
) -> tuple[Note, ...]:
    """Note by how much a piece exceeds what the shop can hold and move.

    Parameters
    ----------
    name : str
        The piece.
    sizes_m : sequence of (float, float)
        Length and width of each way to lay it, at least one. [m]
    handling_kg : float
        What is moved at its heaviest. [kg]
    max_piece_m : tuple of float or None, default None
        Largest piece that the shop can hold, either side first. [m]
    max_kg : float or None, default None
        Heaviest that it can move. [kg]
    system : System, optional
        Which units to write.

    Returns
    -------
    tuple of Note
        What is exceeded; none where all fits or no limit is told.

    Notes
    -----
    Only ways to lay it square are tried. A slender piece that would lie across the corners of
    a table is noted as too long for it.

    Examples
    --------
    >>> for note in size_notes("panel", sizes_m=[(3.4, 1.2)], handling_kg=129.1,
    ...                        max_piece_m=(1.5, 3.2), max_kg=120.0):
    ...     print(note.text)
    lies 3400 x 1200 mm; max_piece is 3200 x 1500 mm: 200 mm too long
    handled at 129.1 kg; max_kg is 120 kg: 9.1 kg too heavy
    """
    return (
        *_large_notes(name, sizes_m, max_piece_m, system),
        *_heavy_notes(name, handling_kg, max_kg, system),
    )


def _large_notes(
    name: str, sizes_m: Sequence[Size], max_piece_m: Size | None, system: System
) -> Iterator[Note]:
    if max_piece_m is None:
        return
    room_m = (max(max_piece_m), min(max_piece_m))
    over_m, lying_m = min((_over_m(size_m, room_m), size_m) for size_m in sizes_m)
    if over_m <= _CLOSE_SHARE * room_m[0]:
        return
    told = ", ".join(
        f"{written_length(side_m - most_m, system)} too {word}"
        for side_m, most_m, word in zip(lying_m, room_m, ("long", "wide"), strict=True)
        if side_m - most_m > _CLOSE_SHARE * room_m[0]
    )
    yield Note(
        NoteCode.TOO_LARGE,
        f"lies {_written_size(lying_m, system)}; max_piece is {_written_size(room_m, system)}: "
        f"{told}",
        where=name,
    )


def _over_m(size_m: Size, room_m: Size) -> float:
    """By how much the worse of the two sides is over."""
    return max(side_m - most_m for side_m, most_m in zip(size_m, room_m, strict=True))


def _heavy_notes(
    name: str, handling_kg: float, max_kg: float | None, system: System
) -> Iterator[Note]:
    if max_kg is None or handling_kg <= max_kg * (1.0 + _CLOSE_SHARE):
        return
    yield Note(
        NoteCode.TOO_HEAVY,
        f"handled at {written_mass(handling_kg, system)}; max_kg is "
        f"{written_mass(max_kg, system)}: {written_mass(handling_kg - max_kg, system)} too heavy",
        where=name,
    )


def _written_size(size_m: Size, system: System) -> str:
    """Write both sides, the unit once where it is the same."""
    length, width = (written_length(side_m, system) for side_m in size_m)
    return " x ".join((length.removesuffix(" mm") if width.endswith(" mm") else length, width))
