"""Small DXF files written, read and measured in millimetres, for tests."""

from takeoff.files.dxf import read_dxf
from takeoff.geometry.outlines import opening_perimeter_m, outline_area_m2, perimeter_m
from tests.unit.files.dxf_text import dxf, saved


def read(folder, entities, *, unit="mm", asked=(), name="piece.dxf", **parts):
    """Read a file that holds these entities."""
    return read_dxf(saved(folder, dxf(entities, **parts), name), unit=unit, layers=asked)


def areas_mm2(drawing):
    """Areas of the outlines of a drawing, largest first."""
    return [outline_area_m2(piece.shape) * 1e6 for piece in drawing.pieces]


def outer_mm(drawing):
    """Lengths around the outlines of a drawing."""
    return [perimeter_m(piece.shape) * 1e3 for piece in drawing.pieces]


def openings_mm(drawing):
    """Lengths around the openings of a drawing, all together."""
    return sum(opening_perimeter_m(piece.shape) * 1e3 for piece in drawing.pieces)


def codes(drawing):
    """Codes of the notes of a drawing."""
    return [note.code for note in drawing.notes]


def left_out(drawing):
    """What a drawing left out, and how often."""
    return {tally.what: tally.count for tally in drawing.skipped}
