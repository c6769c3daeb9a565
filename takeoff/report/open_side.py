"""A still picture of one piece as the caster sees its form: from the open side."""

from __future__ import annotations

import io

from takeoff.piece.surfaces import Surfaces
from takeoff.report.painting import view_of
from takeoff.report.picture import eye_beside
from takeoff.report.picture_type import picture_font

_WIDTH, _HEIGHT = 480, 420  # pixels; about as wide as the room beside a plan is
_ID_SIZE, _HALO = 26, 3
_INK, _PAPER = (20, 20, 20), (255, 255, 255)


def open_side_png(surfaces: Surfaces) -> bytes:
    r"""Draw a piece from behind its show face: into its form, from the open side.

    Parameters
    ----------
    surfaces : Surfaces
        The classified piece.

    Returns
    -------
    bytes
        A PNG file, the same every time; surfaces painted and hatched by class, with their ids.

    Notes
    -----
    Needs the extra ``[report]``.

    Examples
    --------
    >>> import numpy as np
    >>> import trimesh
    >>> from takeoff.geometry.mesh import Mesh
    >>> from takeoff.piece.classifying import classify
    >>> from takeoff.piece.surfaces import ModelKind
    >>> slab = Mesh.from_trimesh(trimesh.creation.box((0.4, 0.3, 0.05)), unit="m")
    >>> up = np.array([0.0, 0.0, 1.0])
    >>> open_side_png(classify(slab, kind=ModelKind.PIECE, show_direction=up))[:8]
    b'\x89PNG\r\n\x1a\n'
    """
    from PIL import Image, ImageDraw

    eye_direction = eye_beside(-surfaces.show_direction)
    view = view_of(surfaces, eye_direction, width=_WIDTH, height=_HEIGHT)
    image = Image.fromarray(view.pixels)
    pen, font = ImageDraw.Draw(image), picture_font(_ID_SIZE)
    for name, column, row in view.ids:
        pen.text(
            (column, row),
            name,
            fill=_INK,
            font=font,
            anchor="mm",
            stroke_width=_HALO,
            stroke_fill=_PAPER,
        )
    written = io.BytesIO()
    image.save(written, format="PNG", optimize=False, compress_level=6)
    return written.getvalue()
