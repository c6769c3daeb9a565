"""Two axes across the show direction: the piece in plan."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

FloatArray = NDArray[np.float64]


def across_m(points_m: FloatArray, direction: FloatArray) -> tuple[FloatArray, FloatArray]:
    """Give two coordinates of points across a direction.

    Parameters
    ----------
    points_m : ndarray of float, shape (n, 3)
        Points. [m]
    direction : ndarray of float, shape (3,)
        Unit vector. [-]

    Returns
    -------
    tuple of ndarray of float, shape (n,)
        Coordinates on two axes square to the direction and to each other. [m]

    Examples
    --------
    >>> u_m, v_m = across_m(np.eye(3), np.array([0.0, 0.0, 1.0]))
    >>> u_m.tolist(), v_m.tolist()
    ([0.0, 1.0, 0.0], [-1.0, 0.0, 0.0])
    """
    u, v = axes_across(direction)
    return heights_m(points_m, u), heights_m(points_m, v)


def heights_m(points_m: FloatArray, direction: FloatArray) -> FloatArray:
    """Give the position of points along a direction.

    Parameters
    ----------
    points_m : ndarray of float, shape (n, 3)
        Points. [m]
    direction : ndarray of float, shape (3,)
        Unit vector. [-]

    Returns
    -------
    ndarray of float, shape (n,)
        Positions. [m]

    Notes
    -----
    As a sum over rows of three, not as a matrix product: the threads of that cost more than
    so small a product does.

    Examples
    --------
    >>> heights_m(np.eye(3), np.array([0.0, 0.6, 0.8])).tolist()
    [0.0, 0.6, 0.8]
    """
    return np.asarray(np.einsum("ij,j->i", points_m, direction))


def cosines_ratio(normals: FloatArray, direction: FloatArray) -> FloatArray:
    """Give the cosines of the angles between unit vectors and a direction.

    Parameters
    ----------
    normals : ndarray of float, shape (n, 3)
        Unit vectors. [-]
    direction : ndarray of float, shape (3,)
        Unit vector. [-]

    Returns
    -------
    ndarray of float, shape (n,)
        Cosines, taken as `heights_m` takes positions. [-]

    Examples
    --------
    >>> cosines_ratio(np.eye(3), np.array([0.0, 0.6, 0.8])).tolist()
    [0.0, 0.6, 0.8]
    """
    return heights_m(normals, direction)


def axes_across(direction: FloatArray) -> tuple[FloatArray, FloatArray]:
    """Give two unit vectors square to a direction and to each other.

    Parameters
    ----------
    direction : ndarray of float, shape (3,)
        Unit vector. [-]

    Returns
    -------
    tuple of ndarray of float, shape (3,)
        The two, right-handed with the direction. [-]

    Examples
    --------
    >>> u, v = axes_across(np.array([0.0, 0.0, 1.0]))
    >>> u.tolist(), v.tolist()
    ([0.0, 1.0, 0.0], [-1.0, 0.0, 0.0])
    """
    other = np.zeros(3)
    other[0 if abs(direction[0]) < 0.9 else 1] = 1.0
    u = _cross(direction, other)
    u /= np.linalg.norm(u)
    return u, _cross(direction, u)


def _cross(one: FloatArray, other: FloatArray) -> FloatArray:
    """Vector product of two vectors; that of numpy is made for many."""
    (ax, ay, az), (bx, by, bz) = one.tolist(), other.tolist()
    return np.array([ay * bz - az * by, az * bx - ax * bz, ax * by - ay * bx])
