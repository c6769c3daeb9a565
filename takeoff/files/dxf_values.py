"""Figures out of the tags of one record, each refused with its line where it cannot be read."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from takeoff.errors import UnreadableError
from takeoff.files.dxf_tags import Record, exact_number

Array = NDArray[np.float64]


def number_in(record: Record, value: bytes, code: int) -> float:
    """Read one value of a record as a number.

    Parameters
    ----------
    record : Record
        The record that the value stands in, for the message.
    value : bytes
        The value.
    code : int
        Its group code, for the message.

    Returns
    -------
    float
        The number.

    Raises
    ------
    UnreadableError
        If it is no finite number, or one beyond all sense.

    Examples
    --------
    >>> number_in(Record("LINE", (), 7), b"0,5", 10)
    0.5
    """
    try:
        number = exact_number(value)
    except ValueError:
        number = np.inf
    if abs(number) > 1e30:  # no length, angle, knot or weight is: its square would overflow
        shown = value[:40].decode("latin-1").strip()
        raise UnreadableError(
            f"{record.place}: {shown!r} at group code {code} is no number; correct it, or export "
            "the drawing again"
        )
    return number


def number_of(record: Record, code: int, default: float | None = None) -> float:
    """Read the number at a group code.

    Parameters
    ----------
    record : Record
        The record.
    code : int
        The group code.
    default : float, optional
        What holds where the code is not there; none given means that it has to be.

    Returns
    -------
    float
        The number.

    Raises
    ------
    UnreadableError
        If it is missing or no finite number.

    Examples
    --------
    >>> number_of(Record("CIRCLE", ((40, b"80.0"),), 7), 40)
    80.0
    """
    for at, value in record.tags:
        if at == code:
            return number_in(record, value, code)
    if default is None:
        raise UnreadableError(
            f"{record.place} lacks group code {code}; the file is damaged: export the drawing again"
        )
    return default


def whole_of(record: Record, code: int, default: int = 0) -> int:
    """Read the whole number at a group code.

    Parameters
    ----------
    record : Record
        The record.
    code : int
        The group code.
    default : int, default 0
        What holds where the code is not there.

    Returns
    -------
    int
        The number.

    Raises
    ------
    UnreadableError
        If it is no finite number.

    Examples
    --------
    >>> whole_of(Record("LWPOLYLINE", ((70, b" 129"),), 7), 70)
    129
    """
    return int(number_of(record, code, float(default)))


def numbers_of(record: Record, code: int) -> Array:
    """Read all numbers at a group code, in order.

    Parameters
    ----------
    record : Record
        The record.
    code : int
        The group code.

    Returns
    -------
    ndarray of float, shape (n,)
        The numbers.

    Raises
    ------
    UnreadableError
        If one is no finite number.

    Examples
    --------
    >>> numbers_of(Record("SPLINE", ((40, b"0"), (40, b"1")), 7), 40).tolist()
    [0.0, 1.0]
    """
    return np.array([number_in(record, value, at) for at, value in record.tags if at == code])


def point_of(record: Record, code: int, default: Sequence[float] | None = None) -> Array:
    """Read the point at a group code: x there, y ten further, z twenty further, 0 where missing.

    Parameters
    ----------
    record : Record
        The record.
    code : int
        Group code of x.
    default : sequence of float, optional
        What holds where x is not there; none given means that it has to be.

    Returns
    -------
    ndarray of float, shape (3,)
        The point, in the unit of the drawing.

    Raises
    ------
    UnreadableError
        If x or y is missing or a number cannot be read.

    Examples
    --------
    >>> point_of(Record("LINE", ((10, b"1"), (20, b"2")), 7), 10).tolist()
    [1.0, 2.0, 0.0]
    """
    if default is not None and all(at != code for at, _ in record.tags):
        return np.array(default, dtype=np.float64)
    x, y = number_of(record, code), number_of(record, code + 10)
    return np.array([x, y, number_of(record, code + 20, 0.0)])


def points_of(record: Record, code: int) -> Array:
    """Read all points at a group code, in order.

    Parameters
    ----------
    record : Record
        The record.
    code : int
        Group code of x.

    Returns
    -------
    ndarray of float, shape (n, 3)
        The points, in the unit of the drawing.

    Raises
    ------
    UnreadableError
        If the counts of x and y differ, or a number cannot be read.

    Examples
    --------
    >>> points_of(Record("SPLINE", ((10, b"1"), (20, b"2"), (30, b"3")), 7), 10).tolist()
    [[1.0, 2.0, 3.0]]
    """
    x, y, z = (numbers_of(record, at) for at in (code, code + 10, code + 20))
    if len(x) != len(y) or len(z) not in (0, len(x)):
        raise UnreadableError(
            f"{record.place} has {len(x)} x, {len(y)} y and {len(z)} z coordinates at group code "
            f"{code}; the file is damaged: export the drawing again"
        )
    return np.column_stack([x, y, z if len(z) else np.zeros(len(x))])


@dataclass(frozen=True, slots=True, eq=False)
class Vertices:
    """The corners of a flat polyline as they stand in its tags.

    Parameters
    ----------
    points : ndarray of float, shape (n, 2)
        Corners, in the unit of the drawing.
    bulges : ndarray of float, shape (n,)
        Bulge of the arc that leaves each corner. [-]
    widest : float
        Largest width that the line is drawn with, in the unit of the drawing.
    """

    points: Array
    bulges: Array
    widest: float


def vertices_of(record: Record, tags: Sequence[tuple[int, bytes]]) -> Vertices:
    """Read corners, bulges and widths that follow one another in the tags of a record.

    Parameters
    ----------
    record : Record
        The record, for messages.
    tags : sequence of (int, bytes)
        Those of its tags that hold the corners.

    Returns
    -------
    Vertices
        The corners in order.

    Raises
    ------
    UnreadableError
        If a corner lacks a coordinate or a number cannot be read.

    Examples
    --------
    >>> tags = ((10, b"1"), (20, b"2"), (42, b"0.5"), (10, b"3"), (20, b"4"))
    >>> vertices_of(Record("LWPOLYLINE", tags, 7), tags).bulges.tolist()
    [0.5, 0.0]
    """
    xs: list[float] = []
    ys: list[float] = []
    bulges: list[float] = []
    widest = 0.0
    for code, value in tags:
        if code == 10:
            xs.append(number_in(record, value, code))
            bulges.append(0.0)
        elif code == 20:
            ys.append(number_in(record, value, code))
        elif code == 42 and bulges:
            bulges[-1] = number_in(record, value, code)
        elif code in (40, 41, 43):
            widest = max(widest, number_in(record, value, code))
    if len(xs) != len(ys):
        raise UnreadableError(
            f"{record.place} has {len(xs)} x and {len(ys)} y coordinates; the file is damaged: "
            "export the drawing again"
        )
    return Vertices(np.column_stack([xs, ys]).reshape(-1, 2), np.array(bulges), widest)
