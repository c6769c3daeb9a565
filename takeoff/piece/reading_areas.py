"""The ways to read a mesh with the areas that each of them comes to."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from takeoff.errors import SurfaceError
from takeoff.geometry.mesh import Mesh
from takeoff.piece.casting import areas_cast_m2
from takeoff.piece.flats import Flats, flats_of
from takeoff.piece.noise import noise_of
from takeoff.piece.reading import Reading
from takeoff.piece.readings import readings_of, readings_towards
from takeoff.piece.rules import SurfaceRules
from takeoff.piece.smoothing import smooth_scan
from takeoff.piece.surfaces import ModelKind, SurfaceClass


@dataclass(frozen=True, slots=True, eq=False)
class ReadAreas:
    """A reading and what it comes to.

    Parameters
    ----------
    reading : Reading
        The reading.
    area_m2 : mapping of SurfaceClass to float
        Area of each class. [m²]
    """

    reading: Reading
    area_m2: Mapping[SurfaceClass, float]


def read_areas(
    mesh: Mesh,
    *,
    kind: ModelKind | None = None,
    show_direction: NDArray[np.float64] | None = None,
    rules: SurfaceRules = SurfaceRules(),
) -> tuple[ReadAreas, ...]:
    """List the readings a person chooses from, with their areas.

    Parameters
    ----------
    mesh : Mesh
        The mended mesh; the noise is taken off a scan.
    kind : ModelKind, optional
        What it shows, if that was told.
    show_direction : ndarray of float, shape (3,), optional
        Unit vector out of the finished show face, if that was told. [-]
    rules : SurfaceRules, optional
        How surfaces are told apart.

    Returns
    -------
    tuple of ReadAreas
        The likeliest first; those without a show face are left out.

    Examples
    --------
    >>> import trimesh
    >>> plate = Mesh.from_trimesh(trimesh.creation.box((2.0, 0.5, 0.04)), unit="m")
    >>> first = read_areas(plate)[0]
    >>> first.reading.id, first.area_m2[SurfaceClass.SHOW_FACE]
    ('S1', 1.0)
    """
    flats = flats_of(mesh, rules=rules)
    if noise_of(flats).scan:
        flats = flats_of(smooth_scan(flats).mesh, rules=rules)
    listed = (
        readings_of(flats).listed
        if show_direction is None
        else readings_towards(flats, show_direction)
    )
    read = [_read(flats, one, rules) for one in listed if kind is None or one.kind is kind]
    return tuple(one for one in read if one is not None)


def shown_areas_m2(
    flats: Flats, reading: Reading, *, rules: SurfaceRules = SurfaceRules()
) -> Mapping[SurfaceClass, float] | None:
    """Give the areas of a reading that has a show face.

    Parameters
    ----------
    flats : Flats
        Flats of the mended mesh.
    reading : Reading
        The reading.
    rules : SurfaceRules, optional
        How surfaces are told apart.

    Returns
    -------
    mapping of SurfaceClass to float or None
        Area of each class; None where no surface faces the direction, or so little of it is show
        face that it is within the accuracy of all else. [m²]

    Examples
    --------
    >>> import trimesh
    >>> from takeoff.piece.reading import reading_of
    >>> plate = flats_of(Mesh.from_trimesh(trimesh.creation.box((2.0, 0.5, 0.04)), unit="m"))
    >>> up = reading_of(ModelKind.PIECE, np.array([0.0, 0.0, 1.0]), ())
    >>> shown_areas_m2(plate, up)[SurfaceClass.SHOW_FACE]
    1.0
    """
    try:
        areas_m2 = areas_cast_m2(
            flats, kind=reading.kind, show_direction=reading.show_direction, rules=rules
        )
    except SurfaceError:
        return None
    least_m2 = rules.chord_share * sum(areas_m2.values())
    return areas_m2 if areas_m2[SurfaceClass.SHOW_FACE] > least_m2 else None


def _read(flats: Flats, reading: Reading, rules: SurfaceRules) -> ReadAreas | None:
    """Take the areas of a reading; None where it has no show face."""
    areas_m2 = shown_areas_m2(flats, reading, rules=rules)
    return None if areas_m2 is None else ReadAreas(reading, areas_m2)
