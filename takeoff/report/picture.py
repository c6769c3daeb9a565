"""Still pictures of classified pieces: from the show side and from behind, as PNG."""

from __future__ import annotations

import io
from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import NDArray

from takeoff.piece.surfaces import ModelKind, SurfaceClass, Surfaces
from takeoff.report.painting import View, hatch, view_of
from takeoff.report.picture_type import picture_font, write_line

if TYPE_CHECKING:
    from PIL.Image import Image
    from PIL.ImageDraw import ImageDraw

FloatArray = NDArray[np.float64]

_WIDTH, _HEIGHT = 560, 380  # pixels of one view
_LINE = 22  # pixels of a line of text
_TEXT_SIZE, _ID_SIZE = 15, 14
_INK, _PAPER = (20, 20, 20), (255, 255, 255)
_QUIET, _FAINT = (70, 75, 83), (150, 150, 150)
_ASIDE, _ABOVE = 0.45, 0.55  # how far the eye stands beside and above the show direction
_BEHIND = {ModelKind.FORM: "from behind: into the form, from its open side"}


@dataclass(frozen=True, slots=True, eq=False)
class Panel:
    """One row of a picture: a piece from both sides.

    Parameters
    ----------
    title : str
        What it is.
    surfaces : Surfaces
        The classified piece.
    """

    title: str
    surfaces: Surfaces


def picture_png(panels: Sequence[Panel]) -> bytes:
    r"""Draw pieces, painted by class, with the ids of their surfaces.

    Parameters
    ----------
    panels : sequence of Panel
        One row each; at least one.

    Returns
    -------
    bytes
        A PNG file, the same every time.

    Notes
    -----
    Needs the extra ``[report]``.

    Examples
    --------
    >>> import trimesh
    >>> from takeoff.geometry.mesh import Mesh
    >>> from takeoff.piece.classifying import classify
    >>> slab = Mesh.from_trimesh(trimesh.creation.box((0.4, 0.3, 0.05)), unit="m")
    >>> up = np.array([0.0, 0.0, 1.0])
    >>> told = classify(slab, kind=ModelKind.PIECE, show_direction=up)
    >>> picture_png([Panel("slab", told)])[:8]
    b'\x89PNG\r\n\x1a\n'
    """
    from PIL import Image, ImageDraw

    row_height = _HEIGHT + 2 * _LINE
    image = Image.new("RGB", (2 * _WIDTH, len(panels) * row_height + 2 * _LINE), _PAPER)
    pen = ImageDraw.Draw(image)
    for number, panel in enumerate(panels):
        _draw_panel(image, pen, panel, number * row_height)
    _draw_legend(image, pen, len(panels) * row_height)
    written = io.BytesIO()
    image.save(written, format="PNG", optimize=False, compress_level=6)
    return written.getvalue()


def _draw_panel(image: Image, pen: ImageDraw, panel: Panel, top: int) -> None:
    """Draw one piece from both sides, with its title above."""
    show_direction = panel.surfaces.show_direction
    behind = _BEHIND.get(panel.surfaces.kind, "from behind")
    pen.line([(0, top), (2 * _WIDTH, top)], fill=_FAINT)
    _write(pen, (8, top + 3), panel.title, room=2 * _WIDTH - 16)
    for left, direction, words in (
        (0, show_direction, "from the show side"),
        (_WIDTH, -show_direction, behind),
    ):
        view = view_of(panel.surfaces, eye_beside(direction), width=_WIDTH, height=_HEIGHT)
        _paste(image, pen, view, (left, top + 2 * _LINE))
        _write(pen, (left + 8, top + _LINE + 3), words, colour=_QUIET)


def eye_beside(direction: FloatArray) -> FloatArray:
    """Give the direction to an eye a little beside and above another, so that walls are seen too.

    Parameters
    ----------
    direction : ndarray of float, shape (3,)
        Unit vector, such as the show direction. [-]

    Returns
    -------
    ndarray of float, shape (3,)
        Unit vector from the piece to the eye. [-]

    Examples
    --------
    >>> eye_beside(np.array([0.0, 0.0, 1.0])).round(2).tolist()
    [-0.37, -0.45, 0.82]
    """
    upright = np.array([0.0, 0.0, 1.0])
    if abs(float(direction @ upright)) > 0.9:
        upright = np.array([0.0, -1.0, 0.0])
    beside = np.cross(upright, direction)
    beside /= np.linalg.norm(beside)
    above = np.cross(direction, beside)
    eye: FloatArray = direction + _ASIDE * beside + _ABOVE * above
    return eye / np.linalg.norm(eye)


def _paste(image: Image, pen: ImageDraw, view: View, corner: tuple[int, int]) -> None:
    """Put a view into the picture and write its ids on."""
    from PIL import Image as Images

    image.paste(Images.fromarray(view.pixels), corner)
    for text, column, row in view.ids:
        at = (corner[0] + column, corner[1] + row)
        pen.text(
            at,
            text,
            fill=_INK,
            font=picture_font(_ID_SIZE),
            anchor="mm",
            stroke_width=2,
            stroke_fill=_PAPER,
        )


def _draw_legend(image: Image, pen: ImageDraw, top: int) -> None:
    """Say what the colours and hatches are."""
    from PIL import Image as Images

    pen.line([(0, top), (2 * _WIDTH, top)], fill=_FAINT)
    for number, surface_class in enumerate(SurfaceClass):
        left = 8 + number * 150
        image.paste(Images.fromarray(hatch(surface_class, _LINE, 2 * _LINE)), (left, top + 11))
        name = surface_class.value.replace("_", " ")
        _write(pen, (left + 2 * _LINE + 8, top + 13), name)


def _write(
    pen: ImageDraw,
    corner: tuple[int, int],
    text: str,
    *,
    room: int = _WIDTH,
    colour: tuple[int, int, int] = _INK,
) -> None:
    """Write a line of text."""
    write_line(pen, corner, text, size=_TEXT_SIZE, room=room, colour=colour)
