"""Cells of an octree round a skin: the wide ones first, then those that a front passes through."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from takeoff.geometry.spread import spread_shares

FloatArray = NDArray[np.float64]
IntArray = NDArray[np.int64]
BoolArray = NDArray[np.bool_]

_OCTANTS = np.array([(i, j, k) for i in (0, 1) for j in (0, 1) for k in (0, 1)])


@dataclass(frozen=True, slots=True, eq=False)
class Cells:
    """Cubes of one size.

    Parameters
    ----------
    number : ndarray of int, shape (n, 3)
        Number of each cube along the three axes.
    origin_m : ndarray of float, shape (3,)
        Low corner of the cube numbered 0, 0, 0. [m]
    side_m : float
        Side of the cubes. [m]
    """

    number: IntArray
    origin_m: FloatArray
    side_m: float

    @property
    def volume_m3(self) -> float:
        """Volume of one cube, in [m³]."""
        return self.side_m**3

    @property
    def reach_m(self) -> float:
        """From the middle of a cube to its corners, in [m]."""
        return self.side_m * float(np.sqrt(3.0)) / 2.0

    def middles_m(self) -> FloatArray:
        """Give the middle of every cube.

        Returns
        -------
        ndarray of float, shape (n, 3)
            The middles. [m]
        """
        return self.origin_m + (self.number + 0.5) * self.side_m

    def strewn_m(self, lattice: int) -> FloatArray:
        """Give one point in every cube, so that no plane falls in with them.

        Parameters
        ----------
        lattice : int
            Number of the lattice; each has points of its own.

        Returns
        -------
        ndarray of float, shape (n, 3)
            The points. [m]

        Notes
        -----
        Where in its cube a point lies goes on by an irrational step from cube to cube along
        each axis. So the points beside any front are spread evenly over their distances from
        it, and a count is five to fifteen times closer than with points by chance; and it
        depends on the place of a cube alone, not on which others are there.
        """
        steps = np.sqrt([[2.0, 3.0, 5.0], [7.0, 11.0, 13.0], [17.0, 19.0, 23.0]])
        shares = np.repeat(spread_shares(lattice, 1, 3), len(self.number), axis=0)
        for number, step in zip(self.number.T, steps, strict=True):
            shares += number[:, None] * step
        shares -= np.floor(shares)
        return self.origin_m + (self.number + shares) * self.side_m

    def halved(self, chosen: BoolArray) -> Cells:
        """Cut the chosen cubes into eight.

        Parameters
        ----------
        chosen : ndarray of bool, shape (n,)
            The cubes to cut.

        Returns
        -------
        Cells
            Their eighths.
        """
        eighths = 2 * self.number[chosen][:, None, :] + _OCTANTS
        return Cells(eighths.reshape(-1, 3), self.origin_m, self.side_m / 2.0)


def cells_round(
    points_m: FloatArray,
    side_m: float,
    reach_m: float,
    *,
    lattice: int = 0,
    low_m: FloatArray | None = None,
) -> Cells:
    """Give all cubes within reach of some points.

    Parameters
    ----------
    points_m : ndarray of float, shape (m, 3)
        Points, closer together than a cube is wide. [m]
    side_m : float
        Side of the cubes. [m]
    reach_m : float
        How far from the points. [m]
    lattice : int, default 0
        Number of the lattice: each lies elsewhere.
    low_m : ndarray of float, shape (3,), optional
        Where the lattice is laid from: the low corner of what the points are on; that of the
        points themselves where it is left out. [m]

    Returns
    -------
    Cells
        The cubes, in the order of their numbers.

    Examples
    --------
    >>> len(cells_round(np.zeros((1, 3)), 1.0, 1.0).number)
    27
    """
    layers = int(np.ceil(reach_m / side_m))
    shift_m = spread_shares(lattice, 1, 3)[0] * side_m
    least_m = points_m.min(axis=0) if low_m is None else low_m
    origin_m = least_m - (layers + 1) * side_m - shift_m
    number = np.floor((points_m - origin_m) / side_m).astype(np.int64)
    across = number.max(axis=0) + layers + 1
    rows = np.unique((number[:, 0] * across[1] + number[:, 1]) * across[2] + number[:, 2])
    steps = np.arange(-layers, layers + 1)
    for pitch in (across[1] * across[2], across[2], 1):
        rows = np.unique((rows[:, None] + steps * pitch).ravel())
    columns = rows // across[2]
    return Cells(
        np.stack([columns // across[1], columns % across[1], rows % across[2]], axis=1),
        origin_m,
        side_m,
    )
