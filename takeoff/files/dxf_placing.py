"""Where a block reference or an extrusion puts what is drawn, by 4 x 4 matrices."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from takeoff.files.dxf_tags import Record
from takeoff.files.dxf_values import number_of, point_of
from takeoff.geometry.arcs import arc_centres_m
from takeoff.geometry.curves import Run, ellipse_run_m
from takeoff.geometry.outline_rules import OutlineRules

Array = NDArray[np.float64]

_UPRIGHT = (0.0, 0.0, 1.0)


def object_axes(record: Record) -> Array:
    """Give the matrix from the object coordinates of an entity to those it is drawn in.

    Parameters
    ----------
    record : Record
        The entity; its extrusion stands at group code 210.

    Returns
    -------
    ndarray of float, shape (4, 4)
        Matrix of a rotation. [-]

    Notes
    -----
    The x axis follows the arbitrary axis algorithm of the DXF reference: it is square to the
    world's y where the extrusion is within 1/64 of the world's z, else square to the world's z.

    Examples
    --------
    >>> facing_down = Record("ARC", ((210, b"0"), (220, b"0"), (230, b"-1")), 1)
    >>> object_axes(facing_down).diagonal().tolist()
    [-1.0, 1.0, -1.0, 1.0]
    """
    normal = point_of(record, 210, _UPRIGHT)
    length = float(np.linalg.norm(normal))
    if length == 0.0 or tuple(normal) == _UPRIGHT:
        return np.eye(4)
    normal = normal / length
    near_z = abs(normal[0]) < 1.0 / 64.0 and abs(normal[1]) < 1.0 / 64.0
    x = np.cross([0.0, 1.0, 0.0] if near_z else [0.0, 0.0, 1.0], normal)
    x /= np.linalg.norm(x)
    matrix = np.eye(4)
    matrix[:3, :3] = np.column_stack([x, np.cross(normal, x), normal])
    return matrix


def shifted(by: Array) -> Array:
    """Give the matrix of a shift.

    Parameters
    ----------
    by : ndarray of float, shape (3,)
        The shift, in the unit of the drawing.

    Returns
    -------
    ndarray of float, shape (4, 4)
        The matrix. [-]

    Examples
    --------
    >>> shifted(np.array([1.0, 2.0, 3.0]))[:3, 3].tolist()
    [1.0, 2.0, 3.0]
    """
    matrix = np.eye(4)
    matrix[:3, 3] = by
    return matrix


def reference_matrix(record: Record, base: Array) -> Array:
    """Give the matrix that a block reference places its block with.

    Parameters
    ----------
    record : Record
        The block reference.
    base : ndarray of float, shape (3,)
        Base point of the block, in the unit of the drawing.

    Returns
    -------
    ndarray of float, shape (4, 4)
        The matrix. [-]

    Raises
    ------
    UnreadableError
        If a figure of the reference cannot be read.

    Notes
    -----
    A z scale of 0, which flat exporters write, is taken for 1: the plan does not depend on it.

    Examples
    --------
    >>> tags = ((10, b"5"), (20, b"0"), (41, b"-1"), (43, b"0"))
    >>> reference_matrix(Record("INSERT", tags, 1), np.zeros(3))[:2].tolist()
    [[-1.0, 0.0, 0.0, 5.0], [0.0, 1.0, 0.0, 0.0]]
    """
    turn = np.radians(number_of(record, 50, 0.0))
    cos, sin = float(np.cos(turn).round(15)), float(np.sin(turn).round(15))
    scale_x, scale_y = number_of(record, 41, 1.0), number_of(record, 42, 1.0)
    scale_z = number_of(record, 43, 1.0) or 1.0
    turned = np.eye(4)
    turned[:2, :2] = [[cos * scale_x, -sin * scale_y], [sin * scale_x, cos * scale_y]]
    turned[2, 2] = scale_z
    placed: Array = object_axes(record) @ shifted(point_of(record, 10)) @ turned @ shifted(-base)
    return placed


def cell_steps(record: Record) -> tuple[Array, Array]:
    """Give the steps from one reference of a rectangular array to those beside and above it.

    Parameters
    ----------
    record : Record
        The block reference.

    Returns
    -------
    across, up : ndarray of float, shape (3,)
        The steps, in the unit of the drawing.

    Raises
    ------
    UnreadableError
        If a figure of the reference cannot be read.

    Examples
    --------
    >>> tags = ((44, b"360"), (50, b"90"))
    >>> cell_steps(Record("INSERT", tags, 1))[0].round(9).tolist()
    [0.0, 360.0, 0.0]
    """
    turn = np.radians(number_of(record, 50, 0.0))
    axes = object_axes(record)[:3, :3]
    across, up = number_of(record, 44, 0.0), number_of(record, 45, 0.0)
    return (
        axes @ (across * np.array([np.cos(turn), np.sin(turn), 0.0])),
        axes @ (up * np.array([-np.sin(turn), np.cos(turn), 0.0])),
    )


def moved(points: Array, matrix: Array) -> Array:
    """Give points under a matrix.

    Parameters
    ----------
    points : ndarray of float, shape (n, 3)
        The points.
    matrix : ndarray of float, shape (4, 4)
        The matrix. [-]

    Returns
    -------
    ndarray of float, shape (n, 3)
        The points moved.

    Examples
    --------
    >>> moved(np.zeros((1, 3)), shifted(np.array([1.0, 2.0, 3.0]))).tolist()
    [[1.0, 2.0, 3.0]]
    """
    placed: Array = points @ matrix[:3, :3].T + matrix[:3, 3]
    return placed


def is_similarity(plan: Array) -> bool:
    """Tell whether a plane matrix keeps circles round.

    Parameters
    ----------
    plan : ndarray of float, shape (2, 2)
        The matrix. [-]

    Returns
    -------
    bool
        True where it turns, mirrors and scales alike both ways only.

    Examples
    --------
    >>> is_similarity(np.diag([2.0, -2.0])), is_similarity(np.diag([2.0, 1.0]))
    (True, False)
    """
    first, second = np.hypot(*plan)
    cross = abs(float(plan[:, 0] @ plan[:, 1]))
    largest = max(float(first), float(second))
    slack = 16.0 * float(np.finfo(np.float64).eps) ** 0.5
    return bool(abs(first - second) <= slack * largest and cross <= slack * largest**2)


def stretched_runs(points: Array, bulges: Array, plan: Array, rules: OutlineRules) -> list[Run]:
    """Give a run of lines and arcs under a matrix that does not keep circles round.

    Parameters
    ----------
    points : ndarray of float, shape (k + 1, 2)
        Points of the run before the matrix.
    bulges : ndarray of float, shape (k,)
        Bulge between each two points. [-]
    plan : ndarray of float, shape (2, 2)
        The matrix, to metres. [-]
    rules : OutlineRules
        How near arcs must keep to the ellipses.

    Returns
    -------
    list of Run
        One run for each line and each stretch of an ellipse, in metres, about the same origin.

    Examples
    --------
    >>> run = np.array([[0.0, 0.0], [2.0, 0.0]]), np.array([1.0])
    >>> [found] = stretched_runs(*run, np.diag([1.0, 2.0]), OutlineRules())
    >>> round(float(found[0][:, 1].min()), 3)
    -2.0
    """
    runs: list[Run] = []
    centres = arc_centres_m(points, bulges)
    for start, end, bulge, centre in zip(points[:-1], points[1:], bulges, centres, strict=True):
        if bulge == 0.0:
            runs.append((np.array([start, end]) @ plan.T, np.zeros(1)))
            continue
        spoke = start - centre
        axes = np.array([spoke, [-spoke[1], spoke[0]]]) @ plan.T
        turn_deg = float(np.degrees(4.0 * np.arctan(bulge)))
        runs.append(ellipse_run_m(plan @ centre, axes, 0.0, turn_deg, rules=rules))
    return runs
