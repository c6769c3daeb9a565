"""Readers of faces in space: 3-D faces, polyface meshes, face grids and mesh entities."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import numpy as np
from numpy.typing import NDArray

from takeoff.errors import UnreadableError
from takeoff.files.dxf_gathered import DrawnFaces, Gathered
from takeoff.files.dxf_placing import moved
from takeoff.files.dxf_tags import Record
from takeoff.files.dxf_values import number_in, point_of, points_of, whole_of
from takeoff.files.dxf_walk import Placed

Array = NDArray[np.float64]
Faces = Sequence[tuple[int, ...]]

_CLOSED_ALONG = 1
_CLOSED_ACROSS = 32
_CORNER = 64
_FRAME_VERTEX = 16
_FACE_CODES = (71, 72, 73, 74)


def read_3dface(here: Placed, gathered: Gathered) -> None:
    """Read a 3DFACE of four corners, or of three where it repeats one."""
    record = here.entity.record
    corners = [point_of(record, code) for code in (10, 11, 12)]
    corners.append(point_of(record, 13, corners[-1].tolist()))
    points = np.array(corners)
    _add_faces(here, gathered, points, [face_round(points)])


def face_round(points: Array) -> tuple[int, ...]:
    """Give the face round four corners, without those that only repeat the one before.

    Parameters
    ----------
    points : ndarray of float, shape (4, 3)
        Corners in turn.

    Returns
    -------
    tuple of int
        Three or four corner numbers.

    Examples
    --------
    >>> face_round(np.array([[0.0, 0.0, 0.0], [1.0, 0.0, 0.0], [0.0, 1.0, 0.0], [0.0, 1.0, 0.0]]))
    (0, 1, 2)
    """
    apart = tuple(k for k in range(4) if (points[k] != points[k - 1]).any())
    return apart if len(apart) >= 3 else (0, 1, 2, 3)


def read_polyface(here: Placed, gathered: Gathered) -> None:
    """Read a polyface POLYLINE; negative corner numbers only hide edges."""
    corners = [part for part in here.entity.parts if whole_of(part, 70) & _CORNER]
    points = np.array([point_of(part, 10) for part in corners]).reshape(-1, 3)
    faces = []
    for part in here.entity.parts:
        if not whole_of(part, 70) & _CORNER:
            numbers = [abs(whole_of(part, code)) for code in _FACE_CODES]
            faces.append(tuple(number - 1 for number in numbers if number))
    _add_faces(here, gathered, points, faces)


def read_face_grid(here: Placed, gathered: Gathered) -> None:
    """Read a POLYLINE that is a grid of faces, smoothed or not.

    Raises
    ------
    UnreadableError
        If its corners are not as many as it says.
    """
    record = here.entity.record
    flags, smooth = whole_of(record, 70), whole_of(record, 75) != 0
    along, across = (whole_of(record, code) for code in ((73, 74) if smooth else (71, 72)))
    drawn = [part for part in here.entity.parts if not whole_of(part, 70) & _FRAME_VERTEX]
    points = np.array([point_of(part, 10) for part in drawn]).reshape(-1, 3)
    if along < 2 or across < 2 or along * across != len(points):
        raise UnreadableError(
            f"{here.place}: a grid of {along} by {across} faces has {len(points)} corners; export "
            "the drawing again"
        )
    number = np.arange(along * across).reshape(along, across)
    if flags & _CLOSED_ALONG:
        number = np.concatenate([number, number[:1]])
    if flags & _CLOSED_ACROSS:
        number = np.concatenate([number, number[:, :1]], axis=1)
    corners = [number[:-1, :-1], number[1:, :-1], number[1:, 1:], number[:-1, 1:]]
    faces = np.stack([corner.ravel() for corner in corners], axis=1)
    _add_faces(here, gathered, points, [tuple(face) for face in faces.tolist()])


def read_mesh(here: Placed, gathered: Gathered) -> None:
    """Read a MESH entity that is not smoothed.

    Raises
    ------
    UnreadableError
        If it has more or fewer corners than it says, or a figure cannot be read.
    """
    record = here.entity.record
    if whole_of(record, 91) > 0:
        gathered.skip(
            here, "is smoothed: its faces are not those shown; convert it to faces in CAD"
        )
        return
    points = points_of(record, 10)
    told = whole_of(record, 92, len(points))
    if told != len(points):
        raise UnreadableError(
            f"{here.place} says it has {told} corners, and has {len(points)}; the file is damaged: "
            "export the drawing again"
        )
    _add_faces(here, gathered, points, list(_listed_faces(record)))


def _listed_faces(record: Record) -> Iterator[tuple[int, ...]]:
    """Give the faces of a MESH: each a count, then that many corner numbers."""
    codes = [code for code, _ in record.tags]
    start = codes.index(93) if 93 in codes else len(codes)
    stop = codes.index(94) if 94 in codes else len(codes)
    numbers = [
        int(number_in(record, value, code)) for code, value in record.tags[start:stop] if code == 90
    ]
    at = 0
    while at < len(numbers):
        count = numbers[at]
        if count < 3 or at + count >= len(numbers):
            raise UnreadableError(
                f"{record.place}: a face has {count} corners, or fewer than it says; export the "
                "drawing again"
            )
        yield tuple(numbers[at + 1 : at + 1 + count])
        at += count + 1


def _add_faces(here: Placed, gathered: Gathered, points: Array, faces: Faces) -> None:
    """Take up faces in metres; refuse corner numbers that are not there."""
    if any(not 0 <= number < len(points) for face in faces for number in face):
        raise UnreadableError(
            f"{here.place} has a face with a corner number that is not there; its {len(points)} "
            "corners do not reach; export the drawing again"
        )
    points_m = moved(points.reshape(-1, 3), here.matrix) * gathered.metres_per_unit
    if not (np.abs(points_m) <= gathered.rules.meshes.farthest_m).all():
        raise UnreadableError(
            f"{here.place} has a coordinate beyond {gathered.rules.meshes.farthest_m / 1000.0:g} "
            "km; the file is damaged, or its unit is not the one told"
        )
    kept = tuple(face for face in faces if len(face) >= 3)
    if len(kept) < len(faces):
        gathered.skipped[here.entity.record.kind + " edges", "are no faces"] += len(faces) - len(
            kept
        )
    if kept:
        gathered.faces.append(DrawnFaces(points_m, kept, here.layer))
