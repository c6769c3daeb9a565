"""Many runs of lines and arcs measured at once."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from takeoff.geometry.arcs import chords_along, run_lengths_m, segment_areas_m2


@dataclass(frozen=True, slots=True, eq=False)
class Runs:
    """Runs laid one behind the other.

    Parameters
    ----------
    points_m : ndarray of float, shape (n, 2)
        Points of all runs. [m]
    bulges : ndarray of float, shape (n - 1,)
        Bulge between each two points, 0 on the way from one run to the next. [-]
    drawn : ndarray of bool, shape (n - 1,)
        False on the way from one run to the next.
    starts : ndarray of int, shape (m,)
        Number of the first point of each run.
    """

    points_m: NDArray[np.float64]
    bulges: NDArray[np.float64]
    drawn: NDArray[np.bool_]
    starts: NDArray[np.intp]


def runs_of(points_m: Sequence[NDArray[np.float64]], bulges: Sequence[NDArray[np.float64]]) -> Runs:
    """Lay runs one behind the other.

    Parameters
    ----------
    points_m : sequence of ndarray of float, shape (k + 1, 2)
        Points of each run; at least one run. [m]
    bulges : sequence of ndarray of float, shape (k,)
        Bulges of each run. [-]

    Returns
    -------
    Runs
        All of them.

    Examples
    --------
    >>> line = np.array([[0.0, 0.0], [2.0, 0.0]])
    >>> runs_of([line, line], [np.zeros(1)] * 2).drawn.tolist()
    [True, False, True]
    """
    counts = np.array([len(run) for run in points_m])
    starts = np.cumsum(counts) - counts
    drawn = np.ones(int(counts.sum()) - 1, dtype=np.bool_)
    drawn[starts[1:] - 1] = False
    spread = np.zeros(len(drawn))
    spread[drawn] = np.concatenate(bulges)
    return Runs(np.concatenate(points_m), spread, drawn, starts)


def lengths_of_runs_m(runs: Runs) -> NDArray[np.float64]:
    """Give the length of each run, along its arcs.

    Parameters
    ----------
    runs : Runs
        The runs.

    Returns
    -------
    ndarray of float, shape (m,)
        Lengths. [m]

    Examples
    --------
    >>> line = np.array([[0.0, 0.0], [2.0, 0.0]])
    >>> lengths_of_runs_m(runs_of([line, line + 9.0], [np.zeros(1)] * 2)).tolist()
    [2.0, 2.0]
    """
    return _sums(runs, run_lengths_m(runs.points_m, runs.bulges))


def areas_of_runs_m2(runs: Runs) -> NDArray[np.float64]:
    """Give the signed area of each closed run, positive when it runs counter-clockwise.

    Parameters
    ----------
    runs : Runs
        Runs whose last point is their first.

    Returns
    -------
    ndarray of float, shape (m,)
        Areas. [m²]

    Examples
    --------
    >>> circle = np.array([[0.0, 0.0], [2.0, 0.0], [0.0, 0.0]])
    >>> areas_of_runs_m2(runs_of([circle] * 2, [np.ones(2), -np.ones(2)])).round(6).tolist()
    [3.141593, -3.141593]
    """
    counts = np.diff(np.append(runs.starts, len(runs.points_m)))
    x, y = (runs.points_m - np.repeat(runs.points_m[runs.starts], counts, axis=0)).T
    chorded = 0.5 * (x[:-1] * y[1:] - x[1:] * y[:-1])
    return _sums(runs, chorded + segment_areas_m2(runs.points_m, runs.bulges))


def _sums(runs: Runs, values: NDArray[np.float64]) -> NDArray[np.float64]:
    """Add up, run by run, what belongs to its lines and arcs."""
    own = np.append(np.where(runs.drawn, values, 0.0), 0.0)
    sums: NDArray[np.float64] = np.add.reduceat(own, runs.starts)
    return sums


def flattened_runs_m(runs: Runs, *, chord_m: float) -> tuple[NDArray[np.float64], NDArray[np.intp]]:
    """Give all runs as points alone, with the number of points of each.

    Parameters
    ----------
    runs : Runs
        The runs.
    chord_m : float
        Furthest that a chord may lie from its arc. [m]

    Returns
    -------
    flat_m : ndarray of float, shape (n, 2)
        Points of all runs, one behind the other. [m]
    counts : ndarray of int, shape (m,)
        Number of points of each run. [-]

    Examples
    --------
    >>> line = np.array([[0.0, 0.0], [2.0, 0.0]])
    >>> runs = runs_of([line, line], [np.ones(1), np.zeros(1)])
    >>> flattened_runs_m(runs, chord_m=0.1)[1].tolist()
    [5, 2]
    """
    flat_m, chords = chords_along(runs.points_m, runs.bulges, chord_m=chord_m)
    counts: NDArray[np.intp] = np.add.reduceat(np.append(chords, 1), runs.starts)
    return flat_m, counts
