"""One view of a classified piece as pixels: painted by class, hatched, outlined, ids written on."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from takeoff.piece.surfaces import SurfaceClass, Surfaces
from takeoff.report.first_hits import first_hits

FloatArray = NDArray[np.float64]
IntArray = NDArray[np.integer]
ByteArray = NDArray[np.uint8]

PALETTE: Mapping[SurfaceClass, tuple[int, int, int]] = {
    SurfaceClass.SHOW_FACE: (0xDD, 0xAA, 0x33),
    SurfaceClass.RETURN: (0x00, 0x44, 0x88),
    SurfaceClass.UPRIGHT: (0xBB, 0x55, 0x66),
    SurfaceClass.BACK: (0xDD, 0xDD, 0xDD),
}
"""P. Tol, colour schemes, SRON/EPS/TN/09-002, scheme high-contrast (from memory)."""

_PAPER = 255
_HATCH_SHARE = 0.3  # how much the lines of a hatch stand out
_HATCH_INK = np.array([_PAPER, _PAPER, _PAPER, 0.0])  # light lines on dark classes, dark on back
_OUTLINE_SHARE = 0.35
_LEAST_PIXELS = 120  # what of a surface must be seen for its id to be written on it


@dataclass(frozen=True, slots=True, eq=False)
class View:
    """Pixels of a view, and where ids belong.

    Parameters
    ----------
    pixels : ndarray of int, shape (height, width, 3)
        Red, green and blue.
    ids : tuple of tuple of str, int and int
        Id of a surface, column and row of its middle.
    """

    pixels: ByteArray
    ids: tuple[tuple[str, int, int], ...]


def view_of(surfaces: Surfaces, eye_direction: FloatArray, *, width: int, height: int) -> View:
    """Paint a classified piece as an eye sees it.

    Parameters
    ----------
    surfaces : Surfaces
        The piece.
    eye_direction : ndarray of float, shape (3,)
        Unit vector from the piece to the eye. [-]
    width, height : int
        Pixels.

    Returns
    -------
    View
        Show face plain, returns hatched level, uprights slanting, back dotted; so that colour
        is not alone.

    Examples
    --------
    >>> import trimesh
    >>> from takeoff.geometry.mesh import Mesh
    >>> from takeoff.piece.classifying import classify
    >>> from takeoff.piece.surfaces import ModelKind
    >>> slab = Mesh.from_trimesh(trimesh.creation.box((0.4, 0.3, 0.05)), unit="m")
    >>> up = np.array([0.0, 0.0, 1.0])
    >>> told = classify(slab, kind=ModelKind.PIECE, show_direction=up)
    >>> view = view_of(told, up, width=80, height=60)
    >>> view.pixels.shape, view.ids
    ((60, 80, 3), (('F1', 39, 30),))
    """
    hits = first_hits(surfaces.mesh, eye_direction, width=width, height=height)
    seen = hits.facet >= 0
    facet = np.maximum(hits.facet, 0)
    colours = np.array([PALETTE[name] for name in SurfaceClass], dtype=np.float64)
    ink = (surfaces.shares @ colours)[facet]
    column = np.argmax(surfaces.shares, axis=1)[facet]
    number = np.where(seen, _numbers(surfaces)[facet], -1)
    outline = _outlines(number)
    dark = np.where(outline, _OUTLINE_SHARE, hits.light_share)
    painted = _with_hatch(ink * dark[..., None], column)
    pixels = np.where((seen | outline)[..., None], painted, _PAPER)
    return View(np.rint(pixels).astype(np.uint8), _ids(surfaces, number))


def hatch(surface_class: SurfaceClass, height: int, width: int) -> ByteArray:
    """Paint a field with the colour and the hatch of a class, for a legend.

    Parameters
    ----------
    surface_class : SurfaceClass
        The class.
    height, width : int
        Pixels.

    Returns
    -------
    ndarray of int, shape (height, width, 3)
        Red, green and blue.

    Examples
    --------
    >>> hatch(SurfaceClass.SHOW_FACE, 2, 2)[0, 0].tolist()
    [221, 170, 51]
    """
    column = np.full((height, width), list(SurfaceClass).index(surface_class))
    ink = np.broadcast_to(np.array(PALETTE[surface_class], dtype=np.float64), (height, width, 3))
    return np.rint(_with_hatch(ink, column)).astype(np.uint8)


def _with_hatch(ink: FloatArray, column: IntArray) -> FloatArray:
    """Draw the lines and dots of the hatches over the ink."""
    over = np.where(_hatched(column), _HATCH_SHARE, 0.0)[..., None]
    hatched: FloatArray = ink * (1.0 - over) + _HATCH_INK[column][..., None] * over
    return hatched


def _hatched(column: IntArray) -> NDArray[np.bool_]:
    """Tell the pixels that lie on a line or a dot of the hatch of their class."""
    row, place = np.indices(column.shape)
    patterns = (
        np.zeros(column.shape, dtype=np.bool_),
        row % 6 == 0,
        (row + place) % 8 < 2,
        (row % 8 < 2) & (place % 8 < 2),
    )
    return np.choose(column, patterns)


def _numbers(surfaces: Surfaces) -> IntArray:
    """Give the number of the surface that each facet belongs to."""
    numbers = np.full(len(surfaces.mesh.triangles), -2, dtype=np.int64)
    for number, surface in enumerate(surfaces.surfaces):
        numbers[surface.facets] = number
    return numbers


def _outlines(number: IntArray) -> NDArray[np.bool_]:
    """Tell the pixels at which another surface begins."""
    outline = np.zeros(number.shape, dtype=np.bool_)
    outline[:, 1:] |= number[:, 1:] != number[:, :-1]
    outline[1:] |= number[1:] != number[:-1]
    return outline


def _ids(surfaces: Surfaces, number: IntArray) -> tuple[tuple[str, int, int], ...]:
    """Place the id of each surface in the middle of its longest row of pixels."""
    placed = []
    for surface_number, surface in enumerate(surfaces.surfaces):
        own = number == surface_number
        if int(own.sum()) >= _LEAST_PIXELS:
            placed.append((surface.id, *_middle(own)))
    return tuple(placed)


def _middle(own: NDArray[np.bool_]) -> tuple[int, int]:
    """Column and row in the middle of the longest run of pixels; of equal ones the middle one."""
    padded = np.pad(own, ((0, 0), (1, 1)))
    change = np.diff(padded.astype(np.int8), axis=1)
    rows, starts = np.nonzero(change == 1)
    _, ends = np.nonzero(change == -1)
    lengths = ends - starts
    longest = np.flatnonzero(lengths >= lengths.max() * 0.9)
    best = int(longest[len(longest) // 2])
    return int(starts[best] + ends[best] - 1) // 2, int(rows[best])
