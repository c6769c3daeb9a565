"""The ways a mesh can be read: as what, and from which side."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from takeoff.errors import SurfaceError
from takeoff.piece.axes import Axis, axes_of
from takeoff.piece.cavities import cavities_of
from takeoff.piece.evidence import Sign, signs_of
from takeoff.piece.flats import Flats
from takeoff.piece.open_readings import is_open, open_readings
from takeoff.piece.reading import Reading, numbered, reading_of
from takeoff.piece.reading_rules import ReadingRules
from takeoff.piece.sampling import Samples, samples_of
from takeoff.piece.surfaces import ModelKind
from takeoff.piece.viewing import sides_of

FloatArray = NDArray[np.float64]


@dataclass(frozen=True, slots=True, eq=False)
class Readings:
    """All ways to read a mesh.

    Parameters
    ----------
    listed : tuple of Reading
        The likeliest first.
    plate : bool
        True where one axis stands out, so that readings from its two sides are all there are.
    """

    listed: tuple[Reading, ...]
    plate: bool


def readings_of(flats: Flats, *, rules: ReadingRules = ReadingRules()) -> Readings:
    """Find the ways to read a mesh.

    Parameters
    ----------
    flats : Flats
        The mesh.
    rules : ReadingRules, optional
        What counts for what.

    Returns
    -------
    Readings
        An open mesh is an open surface; a closed one a piece, and a form too where a cavity
        opens.

    Examples
    --------
    >>> import trimesh
    >>> from takeoff.geometry.mesh import Mesh
    >>> from takeoff.piece.flats import flats_of
    >>> from takeoff.piece.flats import flats_of
    >>> slab = flats_of(Mesh.from_trimesh(trimesh.creation.box((2.0, 0.6, 0.04)), unit="m"))
    >>> for reading in readings_of(slab).listed[:2]:
    ...     print(reading.id, reading.kind.value, reading.show_direction.tolist())
    S1 piece [0.0, 0.0, 1.0]
    S2 piece [0.0, 0.0, -1.0]
    """
    samples = samples_of(flats, rules.sample_count)
    axes = axes_of(flats, samples, rules=rules)
    if is_open(flats, rules=rules):
        return Readings(numbered(open_readings(flats, axes, rules=rules), rules=rules), plate=True)
    found = [reading for axis in axes for reading in _both_sides(flats, samples, axis, rules)]
    others = [_weighed_ratio(axis, rules) for axis in axes[1:]]
    return Readings(
        numbered(found, rules=rules), plate=max(others, default=0.0) <= rules.plate_ratio
    )


def readings_towards(
    flats: Flats, direction: FloatArray, *, rules: ReadingRules = ReadingRules()
) -> tuple[Reading, ...]:
    """Find as what a mesh can be read, its show direction being told.

    Parameters
    ----------
    flats : Flats
        The mesh.
    direction : ndarray of float, shape (3,)
        Unit vector out of the finished show face. [-]
    rules : ReadingRules, optional
        What counts for what.

    Returns
    -------
    tuple of Reading
        The likeliest first: an open surface; or a piece, and a form too where a cavity opens.

    Examples
    --------
    >>> import trimesh
    >>> from takeoff.geometry.mesh import Mesh
    >>> from takeoff.piece.flats import flats_of
    >>> slab = flats_of(Mesh.from_trimesh(trimesh.creation.box((2.0, 0.6, 0.04)), unit="m"))
    >>> [one.kind.value for one in readings_towards(slab, np.array([0.0, 1.0, 0.0]))]
    ['piece']
    """
    if is_open(flats, rules=rules):
        return (reading_of(ModelKind.OPEN, direction, (), rules=rules),)
    samples = samples_of(flats, rules.sample_count)
    both = _both_sides(flats, samples, Axis(direction, 1.0, flat=True), rules)
    towards = [one for one in both if float(one.show_direction @ direction) > 0.0]
    return numbered(towards, rules=rules)


def _weighed_ratio(axis: Axis, rules: ReadingRules) -> float:
    """Size of the face of an axis beside the largest, less where it is not flat."""
    return axis.face_ratio * (1.0 if axis.flat else rules.curved_axis_ratio)


def _both_sides(flats: Flats, samples: Samples, axis: Axis, rules: ReadingRules) -> list[Reading]:
    """Read a mesh along an axis, both ways, as a piece and where it can be as a form."""
    ratio = _weighed_ratio(axis, rules) if axis.face_ratio < 1.0 else 1.0
    lost = rules.axis_count * min((1.0 - ratio) / (1.0 - rules.axis_ratio), 1.0)
    small = Sign(-lost, "it shows a smaller face than another side") if lost > 0.0 else None
    if ratio < rules.least_axis_ratio:
        signs: tuple[Sign, ...] = (small,) if small else ()
        return [
            reading_of(ModelKind.PIECE, way * axis.direction, signs, rules=rules)
            for way in (1.0, -1.0)
        ]
    one, other = sides_of(flats, samples, axis.direction, rules=rules)
    found = []
    for direction, shown, behind in ((axis.direction, one, other), (-axis.direction, other, one)):
        kinds = [ModelKind.PIECE]
        if behind.enclosed_share > 0.0 and _is_form(flats, direction):
            kinds.append(ModelKind.FORM)
        for kind in kinds:
            signs = signs_of(kind, shown, behind, rules=rules) + ((small,) if small else ())
            found.append(reading_of(kind, direction, signs, rules=rules))
    return found


def _is_form(flats: Flats, direction: FloatArray) -> bool:
    """Whether a cavity opens away from a direction."""
    try:
        cavities_of(flats, direction)
    except SurfaceError:
        return False
    return True
