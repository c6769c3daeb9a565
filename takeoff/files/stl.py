"""STL drawings, binary or in text, as mended pieces in metres."""

from __future__ import annotations

import hashlib
from dataclasses import dataclass
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from takeoff.errors import MeshError
from takeoff.files.drawing import Drawing, DrawingUnit, Tally
from takeoff.files.drawing_unit import told_unit, unit_missing
from takeoff.files.mesh_pieces import DrawnMesh, mesh_pieces
from takeoff.files.stl_binary import binary_facets
from takeoff.files.stl_kind import StlFile, StlKind, recognised
from takeoff.files.stl_text import text_facets
from takeoff.geometry.mesh import Mesh
from takeoff.geometry.mesh_rules import MeshRules
from takeoff.geometry.welding import weld_exact
from takeoff.notes import Note, NoteCode

Points = NDArray[np.float32] | NDArray[np.float64]


@dataclass(frozen=True, slots=True, eq=False)
class _Solid:
    """One solid as stored: distinct points, and the point of every corner of a facet.

    Its largest coordinate is nan where one is no number.
    """

    name: str
    points: Points
    number: NDArray[np.int32]
    farthest: float

    @classmethod
    def of(cls, name: str, corners: NDArray[np.float64]) -> _Solid:
        """Find the distinct points, and the largest coordinate."""
        points, number = weld_exact(corners)
        farthest = np.maximum(points.max(initial=0.0), -points.min(initial=0.0))
        return cls(name, points, number, float(farthest))

    @property
    def step(self) -> float:
        """Step of single precision at the far end, where the coordinates were stored in it."""
        single = self.points.dtype == np.float32
        single = single or bool((self.points.astype(np.float32) == self.points).all())
        return float(np.spacing(np.float32(self.farthest))) if single else 0.0

    def first_facet(self, marked: NDArray[np.bool_]) -> int:
        """Give the first facet with a point that has a marked coordinate, counted from 0."""
        return int(marked.take(self.number, axis=0).argmax()) // 9


@dataclass(frozen=True, slots=True, eq=False)
class _Stored:
    """What the file holds, before any unit."""

    solids: tuple[_Solid, ...]
    sha256: str
    mended: tuple[Tally, ...]
    skipped: tuple[Tally, ...]
    notes: tuple[Note, ...]


def read_stl(
    path: Path, *, unit: str | None, rules: MeshRules = MeshRules(), with_hash: bool = True
) -> Drawing:
    """Read an STL and mend what it holds.

    Parameters
    ----------
    path : Path
        The file.
    unit : str or None
        Unit of its coordinates; an STL never says so itself.
    rules : MeshRules, optional
        Tolerances.
    with_hash : bool, default True
        Whether to hash the file, which takes longer than to read it.

    Returns
    -------
    Drawing
        Its pieces with what was mended, and doubts.

    Raises
    ------
    QuantityError
        If the unit is not a unit of length.
    UnitMissingError
        If no unit is told.
    UnreadableError
        If the file cannot be read, or is no STL.
    MeshError
        If it holds no facets, a coordinate is not a finite number, or bodies overlap.

    Examples
    --------
    >>> read_stl(Path("no-such.stl"), unit="mm")
    Traceback (most recent call last):
    takeoff.errors.UnreadableError: no-such.stl: there is no such file
    """
    path = Path(path)
    told = told_unit(unit) if unit is not None else None
    file = recognised(path)
    read = _binary if file.kind is StlKind.BINARY else _text
    stored = read(file, with_hash=with_hash)
    _refuse_no_numbers(stored, path)
    if told is None:
        points = np.concatenate([solid.points for solid in stored.solids])
        extents = points.max(axis=0).astype(np.float64) - points.min(axis=0)
        raise unit_missing([float(extent) for extent in extents], where=str(path))
    return _drawing(path, stored, told, rules)


def _binary(file: StlFile, *, with_hash: bool) -> _Stored:
    """Read a binary file; its header is no name."""
    facets = binary_facets(file, with_hash=with_hash)
    notes = []
    if facets.extra:
        text = f"{facets.extra} extra bytes follow the last facet; they were not read"
        notes.append(Note(NoteCode.TRAILING_BYTES, text, str(file.path)))
    solid = _Solid("", facets.points, facets.number, facets.farthest)
    return _Stored((solid,), facets.sha256, (), (), tuple(notes))


def _text(file: StlFile, *, with_hash: bool) -> _Stored:
    """Read a file in text, with the names of its solids."""
    where = str(file.path)
    data = file.path.read_bytes()
    facets = text_facets(data, where=where)
    notes, mended = [], []
    if facets.unclosed:
        text = "the line that closes the last solid is missing, though every facet is whole"
        notes.append(Note(NoteCode.MENDED, text, where))
    if facets.leftover:
        text = f"{facets.leftover} extra characters outside the solids were not read"
        notes.append(Note(NoteCode.TRAILING_BYTES, text, where))
    if facets.decimal_commas:
        mended.append(Tally("files with decimal commas read", 1))
        text = "the numbers have decimal commas, which were read as points"
        notes.append(Note(NoteCode.MENDED, text, where))
    solids = [_Solid.of(_clean(solid.name), solid.corners) for solid in facets.solids]
    empty = sum(not len(solid.points) for solid in solids)
    skipped = (Tally("empty solid", empty, "it has no facets"),) if empty else ()
    return _Stored(
        tuple(solid for solid in solids if len(solid.points)),
        hashlib.sha256(data).hexdigest() if with_hash else "",
        tuple(mended),
        skipped,
        tuple(notes),
    )


def _clean(name: str) -> str:
    """Make a name fit to print."""
    return " ".join("".join(char if char.isprintable() else " " for char in name).split())[:80]


def _refuse_no_numbers(stored: _Stored, path: Path) -> None:
    """Refuse a file without facets, or with a coordinate that is no number."""
    if not any(len(solid.points) for solid in stored.solids):
        raise MeshError("there are no facets in it; export it again", where=str(path))
    before = 0
    for solid in stored.solids:
        if not np.isfinite(solid.farthest):
            facet = before + solid.first_facet(~np.isfinite(solid.points)) + 1
            raise MeshError(
                f"a coordinate of facet {facet} is not a finite number (nan or inf); "
                "repair the part in CAD and export it again",
                where=f"{path}: facet {facet}",
            )
        before += len(solid.number) // 3


def _drawing(path: Path, stored: _Stored, unit: DrawingUnit, rules: MeshRules) -> Drawing:
    """Mend the solids and make pieces of them."""
    meshes = [_in_metres(solid, unit, path, rules) for solid in stored.solids]
    found = mesh_pieces(meshes, unit, stem=path.stem, where=str(path), rules=rules)
    return Drawing(
        path=path,
        sha256=stored.sha256,
        unit=unit,
        pieces=found.pieces,
        skipped=stored.skipped,
        mended=(*stored.mended, *found.mended),
        notes=(*stored.notes, *found.notes),
    )


def _in_metres(solid: _Solid, unit: DrawingUnit, path: Path, rules: MeshRules) -> DrawnMesh:
    """Give the solid over its distinct points."""
    farthest_m = solid.farthest * unit.metres_per_unit
    if farthest_m > rules.farthest_m:
        facet = solid.first_facet(np.abs(solid.points) == solid.farthest) + 1
        raise MeshError(
            f"facet {facet} of {solid.name or path.stem} lies {farthest_m:.3g} m from the origin; "
            "the file is damaged, or the unit is wrong",
            where=f"{path}: facet {facet}",
        )
    points_m = solid.points.astype(np.float64)
    points_m *= unit.metres_per_unit
    return DrawnMesh(
        name=solid.name,
        mesh=Mesh(points_m, solid.number.reshape(-1, 3)),
        resolution_m=solid.step * unit.metres_per_unit,
        welded=True,
    )
