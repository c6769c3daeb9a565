"""What a drawing holds once it has been read, whatever its format."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path
from typing import Literal

from takeoff.geometry.mending import MendedMesh
from takeoff.geometry.mesh import Mesh
from takeoff.geometry.outlines import Outline
from takeoff.geometry.solids import MeshReport
from takeoff.notes import Note


@dataclass(frozen=True, slots=True)
class DrawingUnit:
    """The unit a drawing is in, and who said so.

    Parameters
    ----------
    name : str
        ``"mm"``, ``"in"`` ...
    metres_per_unit : float
        Exact factor to metres. [m]
    source : str
        ``"told"`` by the user or ``"declared"`` in the file itself.
    """

    name: str
    metres_per_unit: float
    source: Literal["told", "declared"]


@dataclass(frozen=True, slots=True)
class Tally:
    """Something counted while reading: a defect mended, or an entity left out.

    Parameters
    ----------
    what : str
        The defect, or the kind of entity, in words of the format.
    count : int
        How many.
    why : str, default ""
        Why it was left out.
    """

    what: str
    count: int
    why: str = ""


@dataclass(frozen=True, slots=True, eq=False)
class DrawnPiece:
    """One piece of a drawing.

    Parameters
    ----------
    name : str
        Name in the file (solid, layer text), else the file's stem, numbered when there are several.
    shape : Mesh or Outline
        The geometry in metres, mended.
    layer : str or None
        Drawing layer it came from; None in formats without layers.
    report : MeshReport or None
        Counts and measures of a mesh, taken while it was mended; None for an outline.
    mended : MendedMesh or None
        The same mesh with the tables that mending made; None for an outline.
    """

    name: str
    shape: Mesh | Outline
    layer: str | None = None
    report: MeshReport | None = None
    mended: MendedMesh | None = None


@dataclass(frozen=True, slots=True)
class DrawnLayer:
    """What one layer of a drawing holds when it is measured alone.

    Parameters
    ----------
    name : str
        Its name.
    outlines : int
        Closed outlines on it, those of openings too; 0 where it holds faces in space.
    pieces : int
        Pieces that they make.
    area_m2 : float or None
        Area of these, net of openings; None where outlines cross. [m²]
    """

    name: str
    outlines: int
    pieces: int
    area_m2: float | None


@dataclass(frozen=True, slots=True, eq=False)
class Drawing:
    """A file as read: unit, pieces, and all that was skipped or mended on the way.

    Parameters
    ----------
    path : Path
        The file.
    sha256 : str
        Hash of its bytes; empty where it was not asked for.
    unit : DrawingUnit
        The unit in force.
    pieces : tuple of DrawnPiece
        What it holds.
    skipped : tuple of Tally
        Entities left out, named and counted.
    mended : tuple of Tally
        Defects put right, named and counted.
    notes : tuple of Note
        Doubts a person must see.
    layers : tuple of DrawnLayer
        Layers that hold something, in order of their names; none in formats without layers.
    """

    path: Path
    sha256: str
    unit: DrawingUnit
    pieces: tuple[DrawnPiece, ...]
    skipped: tuple[Tally, ...] = ()
    mended: tuple[Tally, ...] = ()
    notes: tuple[Note, ...] = ()
    layers: tuple[DrawnLayer, ...] = ()
