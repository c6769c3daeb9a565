"""Readers of texts, which may name the piece they stand in."""

from __future__ import annotations

import numpy as np

from takeoff.files.dxf_document import decoded
from takeoff.files.dxf_gathered import DrawnText, Gathered
from takeoff.files.dxf_placing import moved, object_axes
from takeoff.files.dxf_values import number_of, point_of, whole_of
from takeoff.files.dxf_walk import Placed

ANNOTATION = "annotation, no outline"


def read_text(here: Placed, gathered: Gathered) -> None:
    """Read a TEXT or ATTRIB at the point that it is set by."""
    record = here.entity.record
    set_by_second = whole_of(record, 72) or whole_of(record, 73) or whole_of(record, 74)
    at = point_of(record, 10, (0.0, 0.0, 0.0))
    if set_by_second:
        at = point_of(record, 11, at.tolist())
    said = b"".join(value for code, value in record.tags if code == 1)
    _take_up(here, gathered, said, at, matrix=here.matrix @ object_axes(record))


def read_mtext(here: Placed, gathered: Gathered) -> None:
    """Read an MTEXT, its formatting left out."""
    record = here.entity.record
    said = b"".join(value for code, value in record.tags if code in (1, 3))
    at = point_of(record, 10, (0.0, 0.0, 0.0))
    _take_up(here, gathered, said, at, matrix=here.matrix)


def _take_up(
    here: Placed, gathered: Gathered, said: bytes, at: np.ndarray, *, matrix: np.ndarray
) -> None:
    """Keep a text with its place, and count it as left out of the outlines."""
    text = " ".join(_plain(decoded(said, gathered.codec), here.entity.record.kind).split())
    at_m = (moved(at[None, :], matrix) * gathered.metres_per_unit)[0]
    height_m = number_of(here.entity.record, 40, 0.0) * gathered.metres_per_unit
    gathered.texts.append(DrawnText(text, (float(at_m[0]), float(at_m[1])), height_m))
    gathered.skip(here, ANNOTATION)


def _plain(text: str, kind: str) -> str:
    """Leave out the formatting of a text."""
    if not any(mark in text for mark in ("%%", "\\", "{", "^")):
        return text
    from ezdxf.tools.text import fast_plain_mtext, plain_text

    return str(fast_plain_mtext(text) if kind == "MTEXT" else plain_text(text))
