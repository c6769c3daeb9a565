"""Sizes that no shop casts are not priced: the unit of the drawing is wrong."""

from __future__ import annotations

from takeoff.errors import DrawingError
from takeoff.files.drawing import Drawing, DrawnPiece
from takeoff.files.drawing_unit import SizeRules, size_note
from takeoff.geometry.outlines import Outline, bounds_m


def refuse_absurd(drawing: Drawing) -> None:
    """Refuse to price a drawing whose largest piece has a size that nobody casts.

    Parameters
    ----------
    drawing : Drawing
        The drawing as read; all its pieces are in one unit.

    Raises
    ------
    DrawingError
        If it is absurd, with the units that would give a sensible size.

    Examples
    --------
    >>> from takeoff.files.drawing_unit import told_unit
    >>> from takeoff.geometry.outlines import rectangle
    >>> top = DrawnPiece("top", rectangle(1500.0, 450.0))
    >>> drawing = Drawing("top.dxf", "", told_unit("m"), (top,), (), (), ())
    >>> refuse_absurd(drawing)
    Traceback (most recent call last):
    takeoff.errors.DrawingError: top.dxf: 1500 x 450 m overall is absurd; the unit is m (told); \
it would be 1.5 m in mm, 15 m in cm; nothing is priced at that size: correct the unit of its \
[[piece]]
    """
    rules = SizeRules()
    size_m = max((_size_m(piece) for piece in drawing.pieces), key=max, default=None)
    if size_m is None or rules.least_priced_m <= max(size_m) <= rules.largest_m:
        return
    where = str(drawing.path)
    note = size_note(size_m, drawing.unit, where=where, rules=rules)
    if note is not None:
        text = f"{note.text}; nothing is priced at that size: correct the unit of its [[piece]]"
        raise DrawingError(text, where=where)


def _size_m(piece: DrawnPiece) -> tuple[float, ...]:
    shape = piece.shape
    if isinstance(shape, Outline):
        (left_m, low_m), (right_m, high_m) = bounds_m(shape)
        return float(right_m - left_m), float(high_m - low_m)
    extents_m = shape.points_m.max(axis=0) - shape.points_m.min(axis=0)
    return tuple(float(extent_m) for extent_m in extents_m)
