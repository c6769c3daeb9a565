"""Strokes and closed chains for tests, in metres."""

import numpy as np

from takeoff.geometry.chaining import Chain
from takeoff.geometry.strokes import Stroke


def stroke(points, *, bulges=None, source=0, curve=False):
    """Draw a stroke through points."""
    points_m = np.array(points, dtype=float)
    bulges = np.zeros(len(points_m) - 1) if bulges is None else np.array(bulges, dtype=float)
    return Stroke(points_m, bulges, source, curve)


def sides(points, *, source=0):
    """Draw a closed polygon as one line a side."""
    ends = [*points[1:], points[0]]
    return [
        stroke([a, b], source=source + k) for k, (a, b) in enumerate(zip(points, ends, strict=True))
    ]


def loop(points, *, bulges=None, curves=None, sources=(0,)):
    """Draw a closed chain; the first point is repeated at its end."""
    points_m = np.array([*points, points[0]], dtype=float)
    bulges = np.zeros(len(points)) if bulges is None else np.array(bulges, dtype=float)
    curves = np.full(len(points), -1) if curves is None else np.array(curves)
    return Chain(points_m, bulges, curves.astype(np.int32), sources)


def open_chain(points, *, bulges=None, sources=(0,)):
    """Draw a chain that does not close."""
    drawn = stroke(points, bulges=bulges)
    none = np.full(len(drawn.bulges), -1, dtype=np.int32)
    return Chain(drawn.points_m, drawn.bulges, none, sources)


def rectangle(x, y, width, height):
    """Give the corners of a rectangle, counter-clockwise from the lowest, leftmost."""
    return [(x, y), (x + width, y), (x + width, y + height), (x, y + height)]


def ring(count, radius, *, centre=(0.0, 0.0)):
    """Give points evenly round a circle."""
    turn = 2 * np.pi * np.arange(count) / count
    return np.column_stack(
        [centre[0] + radius * np.cos(turn), centre[1] + radius * np.sin(turn)]
    ).tolist()
