"""Examine the meshes of a drawing: soundness, counts and measures, nothing of concrete."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from takeoff.errors import MeshError
from takeoff.files.drawing import DrawingUnit, Tally
from takeoff.geometry.mesh import Mesh
from takeoff.geometry.outlines import Outline
from takeoff.geometry.solids import MeshReport
from takeoff.measuring.reading import read_drawing
from takeoff.notes import Note


@dataclass(frozen=True, slots=True, eq=False)
class ExaminedMesh:
    """One mesh of a drawing, mended, with all that is known of it.

    Parameters
    ----------
    name : str
        Its name.
    mesh : Mesh
        The mended mesh, in metres.
    report : MeshReport
        Counts and measures.
    """

    name: str
    mesh: Mesh
    report: MeshReport


@dataclass(frozen=True, slots=True, eq=False)
class Examination:
    """The meshes of a drawing, examined.

    Parameters
    ----------
    unit : DrawingUnit
        The unit in force.
    pieces : tuple of ExaminedMesh
        One entry per piece.
    mended : tuple of Tally
        Defects put right, named and counted.
    skipped : tuple of Tally
        What was left out, named and counted.
    notes : tuple of Note
        Doubts a person must see.
    """

    unit: DrawingUnit
    pieces: tuple[ExaminedMesh, ...]
    mended: tuple[Tally, ...]
    skipped: tuple[Tally, ...]
    notes: tuple[Note, ...]

    @property
    def area_m2(self) -> float:
        """Whole surface of all pieces, in [m²]."""
        return float(sum(piece.report.area_m2 for piece in self.pieces))

    @property
    def volume_m3(self) -> float | None:
        """Volume of all pieces, in [m³]; None where one of them encloses none."""
        volumes = [piece.report.volume_m3 for piece in self.pieces]
        known = [volume for volume in volumes if volume is not None]
        return float(sum(known)) if len(known) == len(volumes) else None

    @property
    def closed(self) -> bool:
        """True where every piece is closed."""
        return all(piece.report.closed for piece in self.pieces)

    @property
    def triangles(self) -> int:
        """Facets of all pieces, after mending."""
        return sum(piece.report.triangles for piece in self.pieces)

    @property
    def edges(self) -> int:
        """Edges of all pieces, after mending."""
        return sum(piece.report.edges for piece in self.pieces)

    @property
    def patches(self) -> int:
        """Smooth patches of all pieces."""
        return sum(piece.report.patches for piece in self.pieces)

    @property
    def bodies(self) -> int:
        """Connected parts of all pieces, cavities included."""
        return sum(piece.report.bodies for piece in self.pieces)


def examine(path: str | Path, unit: str | None = None) -> Examination:
    """Examine the meshes of a drawing.

    Parameters
    ----------
    path : str or Path
        An STL file, or a DXF file that holds meshes.
    unit : str, optional
        Unit of the drawing; needed where the file does not declare it.

    Returns
    -------
    Examination
        Soundness, counts, areas and patches of each piece.

    Raises
    ------
    DrawingError
        If the drawing cannot be used as it stands.
    MeshError
        If it holds outlines instead of meshes.

    Examples
    --------
    >>> examine("no-such.stl", unit="mm")
    Traceback (most recent call last):
    takeoff.errors.UnreadableError: no-such.stl: there is no such file
    """
    drawing = read_drawing(path, unit=unit)
    pieces = []
    for piece in drawing.pieces:
        if isinstance(piece.shape, Outline) or piece.report is None:
            raise MeshError(
                f"{piece.name} is an outline, no mesh; takeoff check gives its areas and edges",
                where=str(path),
            )
        pieces.append(ExaminedMesh(piece.name, piece.shape, piece.report))
    return Examination(drawing.unit, tuple(pieces), drawing.mended, drawing.skipped, drawing.notes)
