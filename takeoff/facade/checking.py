"""Check drawings: are they sound, and how large are they."""

from __future__ import annotations

import hashlib
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from takeoff.documents import (
    CheckDocument,
    CheckedFileRow,
    CheckedPieceRow,
    DrawnLayerRow,
    EdgeRow,
    FileErrorRow,
)
from takeoff.errors import DrawingError, TakeoffError, UnreadableError
from takeoff.files.drawing import Drawing, DrawnPiece
from takeoff.geometry.bearings import bearing_of
from takeoff.geometry.mending import mend
from takeoff.geometry.mesh import Mesh
from takeoff.geometry.outlines import (
    Outline,
    Side,
    bounds_m,
    is_straight,
    opening_perimeter_m,
    outline_area_m2,
    perimeter_m,
    side_length_m,
)
from takeoff.geometry.solids import examine_mesh
from takeoff.measuring.reading import read_drawing
from takeoff.measuring.rows import (
    error_row,
    head_of,
    mended_rows,
    note_row,
    skipped_rows,
    unit_row,
)


@dataclass(frozen=True, slots=True, eq=False)
class CheckedDrawing:
    """One drawing checked: as read, or the refusal.

    Parameters
    ----------
    path : Path
        The file.
    drawing : Drawing or None
        What it holds.
    error : TakeoffError or None
        Why it could not be used.
    """

    path: Path
    drawing: Drawing | None
    error: TakeoffError | None


@dataclass(frozen=True, slots=True, eq=False)
class Check:
    """Drawings checked, in the order given.

    Parameters
    ----------
    drawings : tuple of CheckedDrawing
        One entry per file, refused ones too.
    unit : str or None
        Unit as told.
    layers : tuple of str
        Drawing layers asked for.
    """

    drawings: tuple[CheckedDrawing, ...]
    unit: str | None
    layers: tuple[str, ...]

    @property
    def refused(self) -> bool:
        """True where at least one file could not be used."""
        return any(checked.error is not None for checked in self.drawings)

    def to_dict(self) -> CheckDocument:
        """Give the check as its JSON document.

        Returns
        -------
        CheckDocument
            The document.
        """
        head = head_of(
            "takeoff.check/1",
            settings=dict(unit=self.unit, layers=list(self.layers)),
            errors=[
                error_row(checked.error, file=str(checked.path))
                for checked in self.drawings
                if checked.error is not None
            ],
        )
        return CheckDocument(**head, files=[_file_row(checked) for checked in self.drawings])


def check(
    paths: str | Path | Sequence[str | Path],
    *,
    unit: str | None = None,
    layers: Sequence[str] = (),
) -> Check:
    """Check drawings; one that cannot be used never stops the others.

    Parameters
    ----------
    paths : str, Path or sequence of them
        The files, or patterns like ``drawings/**/*.dxf``; a file named twice counts once.
    unit : str, optional
        Unit of the drawings, for those that do not declare it.
    layers : sequence of str, optional
        Drawing layers to take; all if empty.

    Returns
    -------
    Check
        Raw areas, volumes, perimeters and edges, or the refusal, of each file.

    Examples
    --------
    >>> checked = check("no-such.stl", unit="mm")
    >>> checked.refused, str(checked.drawings[0].error)
    (True, 'no-such.stl: there is no such file')
    """
    several = [paths] if isinstance(paths, str | Path) else list(paths)
    chosen = tuple(layers)
    checked = tuple(_checked(path, unit, chosen) for path in _named(several))
    return Check(checked, unit, chosen)


def _named(patterns: Sequence[str | Path]) -> list[Path]:
    """Give the files that names and patterns stand for, each once, in the order given."""
    import glob

    files: dict[Path, Path] = {}
    for pattern in patterns:
        plain = Path(pattern)
        found = [plain]
        if glob.has_magic(str(plain)) and not _exists(plain):
            names = glob.glob(str(plain), recursive=True)  # noqa: PTH207
            found = [path for path in map(Path, sorted(names)) if path.is_file()] or [plain]
        for path in found:
            files.setdefault(_same_file(path), path)
    return list(files.values())


def _same_file(path: Path) -> Path:
    """Give what is the same for all names of one file."""
    try:
        return path.resolve()
    except (OSError, ValueError, RuntimeError):
        return path


def _exists(path: Path) -> bool:
    """Tell whether a file is there; False for names that no file can have."""
    try:
        return path.exists()
    except (OSError, ValueError):
        return False


def _checked(path: Path, unit: str | None, layers: tuple[str, ...]) -> CheckedDrawing:
    import glob

    if glob.has_magic(str(path)) and not _exists(path):
        text = "no file has a name of this pattern; see that the folder and the ending are right"
        return CheckedDrawing(path, None, UnreadableError(text, where=str(path)))
    try:
        return CheckedDrawing(path, read_drawing(path, unit=unit, layers=layers), None)
    except TakeoffError as error:
        return CheckedDrawing(path, None, error.at(str(path)))
    except (RecursionError, MemoryError) as error:
        text = f"the drawing is too deeply nested or too large to be read ({type(error).__name__})"
        return CheckedDrawing(path, None, DrawingError(text, where=str(path)))


def _file_row(checked: CheckedDrawing) -> CheckedFileRow:
    drawing, error = checked.drawing, checked.error
    if drawing is None or error is not None:
        return CheckedFileRow(
            file=str(checked.path),
            sha256=_sha256(checked.path),
            unit=None,
            pieces=[],
            layers=[],
            skipped=[],
            mended=[],
            notes=[],
            error=None if error is None else FileErrorRow(kind=error.kind.value, text=error.text),
        )
    return CheckedFileRow(
        file=str(checked.path),
        sha256=drawing.sha256,
        unit=unit_row(drawing.unit),
        pieces=[_piece_row(piece) for piece in drawing.pieces],
        layers=[
            DrawnLayerRow(
                layer=layer.name,
                outlines=layer.outlines,
                pieces=layer.pieces,
                area_m2=layer.area_m2,
            )
            for layer in drawing.layers
        ],
        skipped=skipped_rows(drawing.skipped),
        mended=mended_rows(drawing.mended),
        notes=[note_row(note) for note in drawing.notes],
        error=None,
    )


def _sha256(path: Path) -> str | None:
    """Hash a file that was refused; None where even its bytes cannot be read."""
    try:
        with path.open("rb") as file:
            return hashlib.file_digest(file, "sha256").hexdigest()
    except (OSError, ValueError):
        return None


def _piece_row(piece: DrawnPiece) -> CheckedPieceRow:
    if isinstance(piece.shape, Outline):
        return _outline_row(piece, piece.shape)
    return _mesh_row(piece, piece.shape)


def _outline_row(piece: DrawnPiece, outline: Outline) -> CheckedPieceRow:
    return CheckedPieceRow(
        name=piece.name,
        form="outline",
        area_m2=outline_area_m2(outline),
        volume_m3=None,
        bounds_m=[list(corner) for corner in bounds_m(outline)],
        closed=True,
        triangles=None,
        openings=len(outline.holes),
        perimeter_m=perimeter_m(outline),
        opening_perimeter_m=opening_perimeter_m(outline),
        layer=piece.layer,
        edges=[
            _edge_row(side, number or None)
            for number, loop in enumerate((outline.outer, *outline.holes))
            for side in loop
        ],
    )


def _edge_row(side: Side, opening: int | None) -> EdgeRow:
    start_m, end_m = side.points_m[[0, -1]].tolist()
    return EdgeRow(
        id=side.id,
        length_m=side_length_m(side),
        side=bearing_of(side, of_opening=opening is not None).value,
        curved=not is_straight(side),
        opening=opening,
        start_m=start_m,
        end_m=end_m,
    )


def _mesh_row(piece: DrawnPiece, mesh: Mesh) -> CheckedPieceRow:
    report = piece.report or examine_mesh(mend(mesh))
    return CheckedPieceRow(
        name=piece.name,
        form="mesh",
        area_m2=report.area_m2,
        volume_m3=report.volume_m3,
        bounds_m=[list(corner) for corner in report.bounds_m],
        closed=report.closed,
        triangles=len(mesh.triangles),
        openings=report.through_holes,
        perimeter_m=None,
        opening_perimeter_m=None,
        layer=piece.layer,
        edges=[],
    )
