"""Show directions as they are written."""

from __future__ import annotations

from collections.abc import Mapping

import numpy as np
from numpy.typing import NDArray

from takeoff.errors import SurfaceError

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
            f"cannot read {text!r} as a show direction; write {', '.join(DIRECTIONS)}, the "
            "number of a reading like S2, or three numbers x,y,z that are not all 0"
        )
    unit: NDArray[np.float64] = vector / length
    return unit


def reading_number(text: str) -> int | None:
    """Read the number of a reading.

    Parameters
    ----------
    text : str
        A show direction as it is written.

    Returns
    -------
    int or None
        2 for ``S2``; None for everything else.

    Examples
    --------
    >>> reading_number(" s12 "), reading_number("up")
    (12, None)
    """
    word = text.strip().lower()
    number = word.removeprefix("s")
    return int(number) if word != number and number.isdecimal() else None


def direction_text(direction: NDArray[np.float64]) -> str:
    """Write a show direction so that it can be told.

    Parameters
    ----------
    direction : ndarray of float, shape (3,)
        Unit vector. [-]

    Returns
    -------
    str
        A word where it lies along an axis of the drawing, else ``x,y,z``.

    Examples
    --------
    >>> direction_text(np.array([0.0, -1.0, 0.0])), direction_text(np.array([0.0, 0.6, 0.8]))
    ('front', '0.000000,0.600000,0.800000')
    """
    for word, vector in DIRECTIONS.items():
        if direction.tolist() == list(vector):
            return word
    return ",".join(f"{part:.6f}" for part in direction + 0.0)
