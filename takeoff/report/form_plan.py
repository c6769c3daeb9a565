"""A small plan of one form, seen from its open side, with what one batch puts where."""

from __future__ import annotations

from takeoff.report.sheet_batches import SheetPlace
from takeoff.report.sheet_layout import BLACK, GREY, Colour, Pen, line_mm
from takeoff.report.sheet_weights import Weights

_WHITE: Colour = (255, 255, 255)
_RIM_MM, _SIDE_MM = 5.0, 2.0  # a ring is wide where its label stands
_LABEL_PT, _FACE_PT = 9.5, 12.0

# From the rim of the form to its bottom, with the colour of each class and of words on it: P. Tol,
# colour schemes, SRON/EPS/TN/09-002, scheme high-contrast (from memory).
_RINGS: tuple[tuple[str, Colour, Colour], ...] = (
    ("upright", (0xBB, 0x55, 0x66), _WHITE),
    ("return", (0x00, 0x44, 0x88), _WHITE),
)
_RING_NAMES = frozenset(name for name, _, _ in _RINGS)
_FACE = "show face"
_FACE_FILL: Colour = (0xDD, 0xAA, 0x33)


def has_plan(place: SheetPlace) -> bool:
    """Tell whether a plan says where a batch goes: it does for whatever lies on a form.

    Parameters
    ----------
    place : SheetPlace
        Where some of the batch goes.

    Returns
    -------
    bool
        False for samples and other castings without classes of surface.

    Examples
    --------
    >>> has_plan(SheetPlace("sample", "1 to cast", "", (("sample", 0.75),), None))
    False
    """
    return any(name == _FACE or name in _RING_NAMES for name, _ in place.classes)


def draw_plan(
    pen: Pen,
    place: SheetPlace,
    at: tuple[float, float],
    size: tuple[float, float],
    *,
    weights: Weights,
) -> None:
    """Draw the form of a place: what is filled from this batch in colour, the rest white.

    Parameters
    ----------
    pen : Pen
        What draws.
    place : SheetPlace
        The place.
    at : tuple of float
        Left and top. [mm]
    size : tuple of float
        Width and height. [mm]
    weights : Weights
        How masses are written.

    Examples
    --------
    >>> from takeoff.report.figures import System
    >>> from takeoff.report.sheet_layout import Paper
    >>> pen = Pen(Paper.A4)
    >>> place = SheetPlace("slab", "copy 1", "", (("show face", 12.0), ("return", 0.0)), None)
    >>> draw_plan(pen, place, (10.0, pen.new_page()), (60.0, 30.0),
    ...           weights=Weights(System.METRIC, ()))
    """
    (left, top), (width, height) = at, size
    masses = dict(place.classes)
    for name, fill, ink in _RINGS:
        if name in masses:
            filled = masses[name] > 0.0
            pen.box((left, top), (width, height), fill=fill if filled else _WHITE)
            label = _label(name, masses[name], weights)
            at_label = (left + 1.5, top + (_RIM_MM - line_mm(_LABEL_PT)) / 2)
            colour = ink if filled else GREY
            pen.write(label, at_label, width - 3.0, size=_LABEL_PT, bold=filled, colour=colour)
            left, top = left + _SIDE_MM, top + _RIM_MM
            width, height = width - 2 * _SIDE_MM, height - _RIM_MM - _SIDE_MM
    face_kg = masses.get(_FACE, 0.0)
    pen.box((left, top), (width, height), fill=_FACE_FILL if face_kg > 0.0 else _WHITE)
    label = _label(_FACE, face_kg, weights) if _FACE in masses else ""
    at_label = (left + 1.0, top + (height - line_mm(_FACE_PT)) / 2)
    pen.write(
        label, at_label, width - 2.0, size=_FACE_PT, bold=face_kg > 0.0, align="C",
        colour=BLACK if face_kg > 0.0 else GREY,
    )  # fmt: skip


def _label(name: str, mass_kg: float, weights: Weights) -> str:
    return f"{name} {weights.rounded(mass_kg)}" if mass_kg > 0.0 else f"{name}: none of this batch"
