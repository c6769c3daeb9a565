"""Examine the meshes of a drawing: soundness, counts and measures, nothing of concrete."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from takeoff.errors import MeshError
from takeoff.files.drawing import DrawingUnit, Tally
from takeoff.geometry.bodies import Bodies
from takeoff.geometry.dihedrals import edge_lengths_m, turns_deg
from takeoff.geometry.edges import EdgeTable
from takeoff.geometry.mending import MendedMesh
from takeoff.geometry.mesh import Mesh
from takeoff.geometry.solids import MeshReport
from takeoff.measuring.reading import read_drawing
from takeoff.notes import Note


@dataclass(frozen=True, slots=True, eq=False)
class ExaminedMesh:
    """One mesh of a drawing, mended, with all that is known of it.

    The arrays were made while it was mended, and cost nothing more; those that are measured
    when asked for are methods.

    Parameters
    ----------
    name : str
        Its name.
    report : MeshReport
        Counts and measures.
    mended : MendedMesh
        The mended mesh with the tables of its facets, edges, patches and bodies.

    Examples
    --------
    >>> surround = examine("samples/ferry-hall/hearth-surround.stl", unit="in").pieces[0]
    >>> surround.normals.shape, len(surround.edges.left), len(set(surround.patch.tolist()))
    ((28, 3), 42, 10)
    >>> arrises = surround.turns_deg() > 20.0
    >>> round(float(surround.edge_lengths_m()[arrises].sum()), 3)
    13.106
    """

    name: str
    report: MeshReport
    mended: MendedMesh

    @property
    def mesh(self) -> Mesh:
        """The mended mesh: points in metres, and triangles wound outward."""
        return self.mended.mesh

    @property
    def facet_area_m2(self) -> NDArray[np.float64]:
        """Area of every facet, shape (k,), in [m²]."""
        return self.mended.facets.area_m2

    @property
    def normals(self) -> NDArray[np.float64]:
        """Unit normal of every facet, shape (k, 3); outward of a closed body."""
        return self.mended.facets.normals

    @property
    def patch(self) -> NDArray[np.int32]:
        """Smooth patch of every facet, shape (k,), from 0."""
        return self.mended.parts.patch

    @property
    def body(self) -> NDArray[np.int32]:
        """Connected body of every facet, shape (k,), from 0."""
        return self.mended.parts.body

    @property
    def bodies(self) -> Bodies:
        """Closedness, area, volume and bounds of every body."""
        return self.mended.bodies

    @property
    def cavity(self) -> NDArray[np.bool_]:
        """True for every body that is a void in another, shape (b,)."""
        return self.mended.roles.cavity

    @property
    def edges(self) -> EdgeTable:
        """The two facets and the two points of every edge, and the open edges."""
        return self.mended.edges

    def turns_deg(self) -> NDArray[np.float64]:
        """Measure the signed dihedral turn at every edge between two facets.

        Returns
        -------
        ndarray of float, shape (e,)
            In the order of ``edges``: above 0 at an arris, below 0 at an inside corner, 0 on
            a flat. [°]
        """
        return turns_deg(self.mended.mesh, self.mended.facets, self.mended.edges)

    def edge_lengths_m(self) -> NDArray[np.float64]:
        """Measure every edge between two facets.

        Returns
        -------
        ndarray of float, shape (e,)
            Lengths in the order of ``edges``. [m]
        """
        return edge_lengths_m(self.mended.mesh, self.mended.edges)


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
        Soundness, counts and measures of each piece, and the arrays they come from: normals,
        edges and their dihedral turns, smooth patches, bodies.

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
    drawing = read_drawing(path, unit=unit, with_hash=False)
    pieces = []
    for piece in drawing.pieces:
        if piece.report is None or piece.mended is None:
            raise MeshError(
                f"{piece.name} is an outline, no mesh; takeoff check gives its areas and edges",
                where=str(path),
            )
        pieces.append(ExaminedMesh(piece.name, piece.report, piece.mended))
    return Examination(drawing.unit, tuple(pieces), drawing.mended, drawing.skipped, drawing.notes)
