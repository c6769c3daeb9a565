"""Which way is right and which is up on a surface that is laid into the plane."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

FloatArray = NDArray[np.float64]

_LEAST_SHARE = 0.3  # how much of a direction must lie in a plane to be up on it


def plane_axes(normals: FloatArray, show_direction: FloatArray) -> FloatArray:
    """Give axes to the right and up in each of some planes, seen from outside.

    Parameters
    ----------
    normals : ndarray of float, shape (n, 3)
        Unit normals of the planes. [-]
    show_direction : ndarray of float, shape (3,)
        Unit vector out of the show face. [-]

    Returns
    -------
    ndarray of float, shape (n, 2, 3)
        Unit vectors. Up is the show direction on a wall, else +Z of the drawing, else +Y. [-]

    Examples
    --------
    >>> front = np.array([[0.0, -1.0, 0.0]])
    >>> plane_axes(front, np.array([0.0, 0.0, 1.0]))[0].tolist()
    [[1.0, 0.0, 0.0], [0.0, 0.0, 1.0]]
    """
    up = np.empty_like(normals)
    open_yet = np.ones(len(normals), dtype=np.bool_)
    for wanted in (show_direction, np.eye(3)[2], np.eye(3)[1], np.eye(3)[0]):
        within = wanted - (normals @ wanted)[:, None] * normals
        length = np.linalg.norm(within, axis=1)
        taken = open_yet & (length > _LEAST_SHARE)
        up[taken] = within[taken] / length[taken, None]
        open_yet &= ~taken
    right = np.cross(up, normals)
    return np.stack([right, up], axis=1) + 0.0
