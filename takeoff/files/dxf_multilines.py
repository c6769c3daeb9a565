"""The reader of multilines: parallel lines drawn in one go."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np
from numpy.typing import NDArray

from takeoff.errors import UnreadableError
from takeoff.files.dxf_gathered import Gathered
from takeoff.files.dxf_tags import Record
from takeoff.files.dxf_values import number_in, whole_of
from takeoff.files.dxf_walk import Placed

Array = NDArray[np.float64]

OPEN_MULTILINE = "an open, broken or more than twofold multiline; explode it in CAD"

_CLOSED = 2
_VERTEX, _MITER, _COUNT, _ALONG_MITER = 11, 13, 74, 41


def read_mline(here: Placed, gathered: Gathered) -> None:
    """Read a closed MLINE of one line or two: each line is a closed outline.

    Raises
    ------
    UnreadableError
        If a figure of it cannot be read.

    Notes
    -----
    How an open one ends stands in a style that is not read, and of three lines or more it cannot
    be told which ones bound the piece: those are left out and named.
    """
    record = here.entity.record
    corners = list(_corners(record))
    lines = {len(offsets) for _, _, offsets in corners}
    is_plain = len(lines) == 1 and lines <= {1, 2} and len(corners) >= 3
    if not (is_plain and whole_of(record, 71) & _CLOSED):
        gathered.skip(here, OPEN_MULTILINE)
        return
    points = np.array([point for point, _, _ in corners])
    miters = np.array([miter for _, miter, _ in corners])
    offsets = np.array([offsets for _, _, offsets in corners])
    for along in offsets.T:
        line = points + along[:, None] * miters
        closed = np.concatenate([line, line[:1]])
        gathered.add_run(closed, np.zeros(len(line)), here.matrix, here)


def _corners(record: Record) -> Iterator[tuple[Array, Array, list[float]]]:
    """Give the corners: a point, the direction of the miter, and how far along it each line is.

    A corner whose lines are broken has no offsets.
    """
    starts = [place for place, (code, _) in enumerate(record.tags) if code == _VERTEX]
    for start, end in zip(starts, [*starts[1:], len(record.tags)], strict=True):
        numbers = [(code, number_in(record, value, code)) for code, value in record.tags[start:end]]
        first = dict(reversed(numbers))
        point, miter = (
            [first.get(code + step) for step in (0, 10, 20)] for code in (_VERTEX, _MITER)
        )
        if None in point or None in miter:
            raise UnreadableError(
                f"{record.place} has a corner without all its coordinates; the file is damaged: "
                "export the drawing again"
            )
        yield np.array(point), np.array(miter), _offsets(numbers)


def _offsets(numbers: list[tuple[int, float]]) -> list[float]:
    """Give the offsets of the lines at a corner; none where a line is broken."""
    lines: list[list[float]] = []
    for code, number in numbers:
        if code == _COUNT:
            lines.append([])
        elif code == _ALONG_MITER and lines:
            lines[-1].append(number)
    whole = all(line and not any(line[1:]) and len(line) <= 2 for line in lines)
    return [line[0] for line in lines] if whole else []
