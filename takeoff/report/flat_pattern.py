"""The flat pattern of pieces as a drawing file: true size, on layers, dimensioned."""

from __future__ import annotations

import io
import re
from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager
from typing import TYPE_CHECKING

import numpy as np

from takeoff.piece.developing import Pattern
from takeoff.piece.surfaces import SurfaceClass
from takeoff.report.figures import System
from takeoff.report.painting import PALETTE
from takeoff.report.pattern_layout import (
    Block,
    Cell,
    PieceLayout,
    PiecePattern,
    beside_m,
    dimension_text,
    laid_out,
)

if TYPE_CHECKING:
    from ezdxf.document import Drawing
    from ezdxf.layouts.layout import Modelspace

OUTLINE_ONLY, OPENING, TEXT, DIMENSIONS = "OUTLINE_ONLY", "OPENING", "TEXT", "DIMENSIONS"

_PER_METRE: Mapping[System, float] = {System.METRIC: 1000.0, System.US: 1.0 / 0.0254}
_INSUNITS: Mapping[System, int] = {System.METRIC: 4, System.US: 1}  # DXF: 4 millimetres, 1 inches
_MEASUREMENT: Mapping[System, int] = {System.METRIC: 1, System.US: 0}  # DXF: 1 metric, 0 imperial
_BACK = (0x80, 0x80, 0x80)  # the grey of the back is too light for lines
_STYLE = "PATTERN"
_OVER_LINE, _UNDER_LINE = 1, 4  # where the text of a dimension stands, as DXF counts
_MOST_DIMENSIONED = 60  # sheets of a piece with dimensions a program can edit; the rest as text
_LEAST_HOLE = 1.5  # heights of a line that a hole must be wide to have its id written in

# What a drawing program reads as a command in a text, and what stands for it.
_COMMANDS = ((re.compile(r"%(?=%)"), "% "), (re.compile(r"\\"), "/"), (re.compile(r"\^"), "'"))
_UNSEEN = re.compile("[\u0000-\u001f\u007f-\u009f\u2028\u2029\ud800-\udfff]+")


def layer_of(pattern: Pattern) -> str:
    """Give the layer that the outlines of a surface are on.

    Parameters
    ----------
    pattern : Pattern
        The surface, laid into the plane.

    Returns
    -------
    str
        That of its class; another where the outlines have not the area of the surface.

    Examples
    --------
    >>> from takeoff.piece.developing import Development
    >>> bowl = Pattern("F1", SurfaceClass.SHOW_FACE, None, 1.0, 0.0, Development.PROJECTED, ())
    >>> layer_of(bowl)
    'OUTLINE_ONLY'
    """
    return pattern.surface_class.name if pattern.is_true() else OUTLINE_ONLY


def pattern_dxf(pieces: Sequence[PiecePattern], *, system: System = System.METRIC) -> bytes:
    """Draw the flat pattern of pieces as DXF.

    Parameters
    ----------
    pieces : sequence of PiecePattern
        The pieces.
    system : System, default System.METRIC
        Millimetres or inches, in the file and in what is written.

    Returns
    -------
    bytes
        A DXF file of release 2010. Outlines and holes are closed polylines on the layer of
        their class: SHOW_FACE, RETURN, UPRIGHT, BACK. What does not develop is on OUTLINE_ONLY,
        so that the area of every other layer is that of its class. Ids of openings are on
        OPENING, all other words on TEXT, overall dimensions on DIMENSIONS. The same pieces
        give the same bytes.

    Examples
    --------
    >>> import numpy as np
    >>> import trimesh
    >>> from takeoff.geometry.mesh import Mesh
    >>> from takeoff.piece.classifying import classify
    >>> from takeoff.piece.developing import patterns_of
    >>> from takeoff.piece.surfaces import ModelKind
    >>> slab = Mesh.from_trimesh(trimesh.creation.box((0.4, 0.3, 0.05)), unit="m")
    >>> told = classify(slab, kind=ModelKind.PIECE, show_direction=np.array([0.0, 0.0, 1.0]))
    >>> drawn = pattern_dxf([PiecePattern("slab", patterns_of(told))])
    >>> b"SHOW_FACE" in drawn, drawn.count(b"AcDbPolyline")
    (True, 6)
    """
    with _without_clock():
        document = _new_document(system)
        space = document.modelspace()
        for layout in laid_out(pieces, system=system):
            _draw_piece(space, layout, system)
        # The library would list them in the order of a set, which differs from run to run.
        for kind in sorted(document.entitydb.dxf_types_in_use()):
            document.classes.add_class(kind)
        written = io.StringIO()
        document.write(written)
    return written.getvalue().encode("utf-8")


@contextmanager
def _without_clock() -> Iterator[None]:
    """Have the library write neither the time nor random ids."""
    from ezdxf._options import options

    before = options.write_fixed_meta_data_for_testing
    options.write_fixed_meta_data_for_testing = True
    try:
        yield
    finally:
        options.write_fixed_meta_data_for_testing = before


def _new_document(system: System) -> Drawing:
    """Begin a drawing: unit, layers, styles."""
    from ezdxf.filemanagement import new

    document = new("R2010", setup=False)
    document.header["$INSUNITS"] = _INSUNITS[system]
    document.header["$MEASUREMENT"] = _MEASUREMENT[system]
    for surface_class in SurfaceClass:
        document.layers.add(surface_class.name).rgb = _ink(surface_class)
    for name in (OUTLINE_ONLY, OPENING, TEXT, DIMENSIONS):
        document.layers.add(name)
    document.styles.add(_STYLE, font="arial.ttf")
    style = document.dimstyles.new(_STYLE)
    style.dxf.dimtxsty = _STYLE
    style.dxf.dimblk = ""
    style.dxf.dimtix = 1
    style.dxf.dimclrd = style.dxf.dimclre = style.dxf.dimclrt = 256
    return document


def _ink(surface_class: SurfaceClass) -> tuple[int, int, int]:
    """Give the colour of the lines of a class."""
    return _BACK if surface_class is SurfaceClass.BACK else PALETTE[surface_class]


def _draw_piece(space: Modelspace, layout: PieceLayout, system: System) -> None:
    """Draw one piece."""
    scale = _PER_METRE[system]
    for number, line in enumerate(layout.title):
        at = layout.title_at_m * scale
        down = 1.6 * number * layout.title_m * scale
        _write(space, line, (at[0], at[1] - down), layout.title_m * scale)
    blocks = [block for cell in layout.cells for block in cell.blocks]
    for block in blocks[:_MOST_DIMENSIONED]:
        _draw_dimensions(space, block, layout.text_m, system)
    for block in blocks[_MOST_DIMENSIONED:]:
        _write_dimensions(space, block, layout.text_m, system)
    for cell in layout.cells:
        for block in cell.blocks:
            _draw_outlines(space, cell, block, layout.text_m, scale)
        for number, line in enumerate(cell.lines):
            at = cell.text_at_m * scale
            down = number * layout.leading_m * scale
            _write(space, line, (at[0], at[1] - down), layout.text_m * scale)


def _draw_outlines(
    space: Modelspace, cell: Cell, block: Block, text_m: float, scale: float
) -> None:
    """Draw the outlines and holes of some sheets, and the ids of openings in their holes."""
    layer = layer_of(cell.pattern)
    ink = _ink(cell.pattern.surface_class)
    for sheet in block.sheets:
        for loop_m in (sheet.outer_m, *(hole.points_m for hole in sheet.holes)):
            line = space.add_lwpolyline((loop_m * scale).tolist(), close=True)
            line.dxf.layer = layer
            if layer == OUTLINE_ONLY:
                line.rgb = ink
        for hole in sheet.holes:
            low_m, high_m = hole.points_m.min(axis=0), hole.points_m.max(axis=0)
            if hole.opening and (high_m - low_m).min() > _LEAST_HOLE * text_m:
                at = ((low_m + high_m) / 2.0 * scale).tolist()
                _write(space, hole.opening, (at[0], at[1]), text_m * scale, layer=OPENING)


def _draw_dimensions(space: Modelspace, block: Block, text_m: float, system: System) -> None:
    """Draw the overall width below and the height on the left of some sheets."""
    scale = _PER_METRE[system]
    text = text_m * scale
    (left, foot), (right, top) = (block.low_m * scale).tolist(), (block.high_m * scale).tolist()
    override = {
        "dimtxt": text,
        "dimtsz": 0.3 * text,
        "dimexo": 0.3 * text,
        "dimexe": 0.2 * text,
        "dimgap": 0.5 * text,
        "dimdle": 0.0,
        "dimtofl": 1,
    }
    width_m, height_m = (block.high_m - block.low_m).tolist()
    beside = (left - 2.2 * text, foot + beside_m(block, text_m, system) * scale / 2.0)
    for base, end, angle, side, length_m, location in (
        ((left, foot - 1.2 * text), (right, foot), 0.0, _UNDER_LINE, width_m, None),
        ((left - 1.2 * text, foot), (left, top), 90.0, _OVER_LINE, height_m, beside),
    ):
        drawn = space.add_linear_dim(
            base=base,
            p1=(left, foot),
            p2=end,
            angle=angle,
            text=dimension_text(length_m, system),
            dimstyle=_STYLE,
            location=location,
            override={**override, "dimtad": side},
        )
        drawn.dimension.dxf.layer = DIMENSIONS
        drawn.render()


def _write_dimensions(space: Modelspace, block: Block, text_m: float, system: System) -> None:
    """Write the overall width and height of some sheets below them."""
    sizes = [dimension_text(length_m, system) for length_m in (block.high_m - block.low_m).tolist()]
    x, y = ((block.low_m - np.array([0.0, 1.5 * text_m])) * _PER_METRE[system]).tolist()
    height = text_m * _PER_METRE[system]
    _write(space, " x ".join(sizes), (x, y), height, layer=DIMENSIONS)


def _write(
    space: Modelspace, text: str, at: tuple[float, float], height: float, *, layer: str = TEXT
) -> None:
    """Write a line of text; the id of an opening is set about its place."""
    from ezdxf.enums import TextEntityAlignment

    entity = space.add_text(dxf_text(text), height=height)
    entity.dxf.layer, entity.dxf.style = layer, _STYLE
    middle = TextEntityAlignment.MIDDLE_CENTER
    entity.set_placement(at, align=middle if layer == OPENING else TextEntityAlignment.LEFT)


def dxf_text(text: str) -> str:
    r"""Give a text so that a drawing program shows it and obeys nothing in it.

    Parameters
    ----------
    text : str
        Any text.

    Returns
    -------
    str
        The text on one line, signs that begin a command set apart or replaced.

    Examples
    --------
    >>> dxf_text("50%%u bench\\P^J"), dxf_text("one" + chr(10) + "two")
    ("50% %u bench/P'J", 'one two')
    """
    plain = _UNSEEN.sub(" ", text)
    for command, instead in _COMMANDS:
        plain = command.sub(instead, plain)
    return plain
