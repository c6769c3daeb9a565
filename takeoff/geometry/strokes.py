"""Strokes: what a drawing program draws in one go, open or closed."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from takeoff.geometry.runs import lengths_of_runs_m, runs_of


@dataclass(frozen=True, slots=True, eq=False)
class Stroke:
    """A run of lines and arcs as drawn.

    Parameters
    ----------
    points_m : ndarray of float, shape (k + 1, 2)
        Points of the run. [m]
    bulges : ndarray of float, shape (k,)
        Bulge between each two points, 0 for a line. [-]
    source : int
        Number of the entity it came from, for whoever reads the drawing.
    curve : bool, default False
        True where the whole run stands for one smooth curve.
    """

    points_m: NDArray[np.float64]
    bulges: NDArray[np.float64]
    source: int
    curve: bool = False


def stroke_lengths_m(strokes: Sequence[Stroke]) -> NDArray[np.float64]:
    """Give the length of each of some strokes, along its arcs.

    Parameters
    ----------
    strokes : sequence of Stroke
        At least one.

    Returns
    -------
    ndarray of float, shape (n,)
        Lengths. [m]

    Examples
    --------
    >>> line = Stroke(np.array([[0.0, 0.0], [2.0, 0.0]]), np.zeros(1), 0)
    >>> stroke_lengths_m([line, line]).tolist()
    [2.0, 2.0]
    """
    drawn = [stroke.points_m for stroke in strokes], [stroke.bulges for stroke in strokes]
    return lengths_of_runs_m(runs_of(*drawn))
