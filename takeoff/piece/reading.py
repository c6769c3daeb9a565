"""One way to read a mesh: as what, from which side, and what speaks for it."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from takeoff.piece.evidence import Sign
from takeoff.piece.reading_rules import ReadingRules
from takeoff.piece.surfaces import ModelKind

FloatArray = NDArray[np.float64]


@dataclass(frozen=True, slots=True, eq=False)
class Reading:
    """One way to read a mesh.

    Parameters
    ----------
    id : str
        ``S1``, ``S2`` ...: the likeliest first, whatever was told.
    kind : ModelKind
        As what.
    show_direction : ndarray of float, shape (3,)
        Unit vector out of the finished show face. [-]
    points_count : float
        How much speaks for it. [-]
    signs : tuple of Sign
        What speaks for it and against it.
    """

    id: str
    kind: ModelKind
    show_direction: FloatArray
    points_count: float
    signs: tuple[Sign, ...]


def reading_of(
    kind: ModelKind,
    direction: FloatArray,
    signs: tuple[Sign, ...],
    *,
    rules: ReadingRules = ReadingRules(),
) -> Reading:
    """Make a reading, not numbered yet.

    Parameters
    ----------
    kind : ModelKind
        As what the mesh is read.
    direction : ndarray of float, shape (3,)
        Unit vector; along an axis of the drawing but for rounding, it is made exact. [-]
    signs : tuple of Sign
        What speaks for it and against it.
    rules : ReadingRules, optional
        What is rounding.

    Returns
    -------
    Reading
        With the sum of its points.

    Examples
    --------
    >>> reading = reading_of(ModelKind.OPEN, np.array([1e-9, 0.0, 1.0]), ())
    >>> reading.show_direction.tolist()
    [0.0, 0.0, 1.0]
    """
    whole = np.rint(direction)
    on_axis = np.abs(whole).sum() == 1.0 and np.abs(direction - whole).max() < rules.rounding_share
    exact = (whole if on_axis else direction) + 0.0
    points = sum(sign.points_count for sign in signs)
    return Reading("", kind, exact, points, signs)


def numbered(
    readings: list[Reading], *, rules: ReadingRules = ReadingRules()
) -> tuple[Reading, ...]:
    """Give readings their numbers.

    Parameters
    ----------
    readings : list of Reading
        In any order.
    rules : ReadingRules, optional
        How many are listed.

    Returns
    -------
    tuple of Reading
        The likeliest first; of equal ones up first, then front, then right.

    Examples
    --------
    >>> down, up = (reading_of(ModelKind.OPEN, np.array([0, 0, z]), ()) for z in (-1.0, 1.0))
    >>> [(one.id, float(one.show_direction[2])) for one in numbered([down, up])]
    [('S1', 1.0), ('S2', -1.0)]
    """

    def place(reading: Reading) -> tuple[float, ...]:
        x, y, z = reading.show_direction.round(6).tolist()
        return (-round(reading.points_count, 3), -z, y, -x, float(reading.kind is ModelKind.FORM))

    ordered = sorted(readings, key=place)[: rules.listed_count]
    return tuple(replace(one, id=f"S{number}") for number, one in enumerate(ordered, 1))
