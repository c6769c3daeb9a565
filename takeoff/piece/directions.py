"""Show directions: written ones, and what to say where none was told."""

from __future__ import annotations

from collections.abc import Mapping

import numpy as np
from numpy.typing import NDArray

from takeoff.errors import DirectionMissingError, SurfaceError
from takeoff.geometry.mesh import Mesh
from takeoff.piece.classifying import class_areas_m2, refuse_open
from takeoff.piece.flats import Flats, flats_of
from takeoff.piece.rules import SurfaceRules
from takeoff.piece.surfaces import ModelKind

DIRECTIONS: Mapping[str, tuple[float, float, float]] = {
    "up": (0.0, 0.0, 1.0),
    "down": (0.0, 0.0, -1.0),
    "front": (0.0, -1.0, 0.0),
    "back": (0.0, 1.0, 0.0),
    "left": (-1.0, 0.0, 0.0),
    "right": (1.0, 0.0, 0.0),
}
"""The six directions along the axes of the drawing."""


def show_vector(text: str) -> NDArray[np.float64]:
    """Read a show direction.

    Parameters
    ----------
    text : str
        ``up`` (+Z of the drawing), ``down``, ``front`` (-Y), ``back``, ``left`` (-X),
        ``right``, or three numbers ``x,y,z`` of any length.

    Returns
    -------
    ndarray of float, shape (3,)
        Unit vector out of the finished show face. [-]

    Raises
    ------
    SurfaceError
        If it is neither, or has no length.

    Examples
    --------
    >>> show_vector("front").tolist(), show_vector("0,3,4").tolist()
    ([0.0, -1.0, 0.0], [0.0, 0.6, 0.8])
    """
    word = text.strip().lower()
    if word in DIRECTIONS:
        return np.array(DIRECTIONS[word])
    try:
        vector = np.array([float(part) for part in word.split(",")])
    except ValueError:
        vector = np.empty(0)
    length = float(np.linalg.norm(vector))
    if vector.shape != (3,) or not 0.0 < length < np.inf:
        raise SurfaceError(
            f"cannot read {text!r} as a show direction; write {', '.join(DIRECTIONS)}, or three "
            "numbers x,y,z that are not all 0"
        )
    unit: NDArray[np.float64] = vector / length
    return unit


def direction_missing(
    mesh: Mesh,
    *,
    kind: ModelKind | None,
    rules: SurfaceRules = SurfaceRules(),
    where: str = "",
) -> DirectionMissingError:
    """Say that nobody told the show direction, with what each axis would give.

    Parameters
    ----------
    mesh : Mesh
        The mended mesh.
    kind : ModelKind or None
        What it shows, if that was told; else both the direction and the kind are asked for.
    rules : SurfaceRules, optional
        The limits.
    where : str, optional
        The drawing.

    Returns
    -------
    DirectionMissingError
        To be raised: the readings along the axes that have a show face, with their areas.

    Raises
    ------
    SurfaceError
        If it was told to be a closed piece and is open.

    Examples
    --------
    >>> import trimesh
    >>> slab = Mesh.from_trimesh(trimesh.creation.box((2000, 600, 40)), unit="mm")
    >>> print(direction_missing(slab, kind=ModelKind.PIECE).text.splitlines()[1])
      --show up     show face 1.200 m², return 0.208 m², upright 0.000 m², back 1.200 m²
    """
    flats = flats_of(mesh, rules=rules)
    if kind is ModelKind.PIECE:
        refuse_open(flats)
    closed = not len(flats.open_edges.flat)
    read_as = kind or (ModelKind.PIECE if closed else ModelKind.OPEN)
    option = "" if kind else f" --kind {read_as.value}"
    lines = [
        f"  {f'--show {word}':<13}{option} {areas}"
        for word, areas in _readings(flats, read_as, rules).items()
    ]
    asked = "which side is the show face" if kind else "what is drawn and where its show face is"
    head = (
        f"nobody told {asked}; give one of these (up is +Z of the drawing, front is -Y, right is "
        "+X), or any other direction as --show x,y,z:"
    )
    return DirectionMissingError("\n".join([head, *lines]), where=where)


def _readings(flats: Flats, kind: ModelKind, rules: SurfaceRules) -> dict[str, str]:
    """Areas along each axis that has a show face."""
    readings = {}
    for word, vector in DIRECTIONS.items():
        try:
            areas_m2 = class_areas_m2(
                flats, kind=kind, show_direction=np.array(vector), rules=rules
            )
        except SurfaceError:
            continue
        readings[word] = ", ".join(
            f"{name.value.replace('_', ' ')} {area_m2:.3f} m²" for name, area_m2 in areas_m2.items()
        )
    return readings
