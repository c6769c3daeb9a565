"""The result of measuring a drawing: its pieces, their surfaces and layers."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import cast

from takeoff.documents import (
    AreaRow,
    ErrorRow,
    LayerRow,
    LayerVolumeRow,
    MeasureDocument,
    MeasuredPieceRow,
    SettingValue,
    SurfaceRow,
    layer_row,
    surface_row,
)
from takeoff.files.drawing import DrawingUnit, Tally
from takeoff.measuring.rows import head_of, note_row, skipped_rows
from takeoff.notes import Note
from takeoff.piece.layers import LaidLayers, Layer, LayerVolume
from takeoff.piece.surfaces import Surface, SurfaceClass, Surfaces


@dataclass(frozen=True, slots=True, eq=False)
class MeasuredPiece:
    """One piece of a drawing, measured.

    Parameters
    ----------
    name : str
        Its name.
    file : str
        The drawing, as it was named.
    sha256 : str
        Hash of the drawing's bytes.
    unit : DrawingUnit
        Unit of the drawing.
    kind : str
        ``"piece"``, ``"open"`` or ``"outline"``.
    surfaces : Surfaces
        Its surfaces by class.
    layers : LaidLayers
        The layers laid on them.
    solid_m3 : float or None
        Volume of a closed piece as modelled. [m³]
    notes : tuple of Note
        Doubts a person must see.
    """

    name: str
    file: str
    sha256: str
    unit: DrawingUnit
    kind: str
    surfaces: Surfaces
    layers: LaidLayers
    solid_m3: float | None
    notes: tuple[Note, ...]

    @property
    def form_area_m2(self) -> float:
        """Area cast against the form: show face, returns and uprights, in [m²]."""
        areas = self.surfaces.area_m2
        return float(sum(areas[kind] for kind in SurfaceClass if kind is not SurfaceClass.BACK))

    def row(self) -> MeasuredPieceRow:
        """Give the piece as a row of the documents.

        Returns
        -------
        MeasuredPieceRow
            The row.
        """
        surfaces, layers = self.surfaces, self.layers
        return MeasuredPieceRow(
            name=self.name,
            file=self.file,
            sha256=self.sha256,
            unit=self.unit.name,
            kind=self.kind,
            show_direction=[float(part) for part in surfaces.show_direction],
            direction_source="told",
            surfaces=[_surface_row(surface) for surface in surfaces.surfaces],
            area_m2=cast("AreaRow", {kind.value: surfaces.area_m2[kind] for kind in SurfaceClass}),
            opening_wall_m2=surfaces.opening_wall_m2,
            undercut_m2=surfaces.undercut_m2,
            arris_m=surfaces.arris_m,
            inside_corner_m=surfaces.inside_corner_m,
            form_area_m2=self.form_area_m2,
            layers=[_layer_row(row) for row in layers.rows],
            layer_volume_m3=LayerVolumeRow(
                face_coat=layers.volume_m3(Layer.FACE_COAT), backer=layers.volume_m3(Layer.BACKER)
            ),
            flat_volume_m3=LayerVolumeRow(
                face_coat=layers.flat_m3.get(Layer.FACE_COAT, 0.0),
                backer=layers.flat_m3.get(Layer.BACKER, 0.0),
            ),
            solid_volume_m3=self.solid_m3,
            notes=[note_row(note) for note in self.notes],
        )


@dataclass(frozen=True, slots=True, eq=False)
class Measurement:
    """A drawing measured.

    Parameters
    ----------
    pieces : tuple of MeasuredPiece
        Its pieces.
    skipped : tuple of Tally
        What of the drawing was left out.
    notes : tuple of Note
        Doubts about the drawing as a whole.
    settings : mapping of str
        Every value in force.
    """

    pieces: tuple[MeasuredPiece, ...]
    skipped: tuple[Tally, ...]
    notes: tuple[Note, ...]
    settings: Mapping[str, SettingValue]

    @property
    def area_m2(self) -> dict[str, float]:
        """Area of each class over all pieces, in [m²]."""
        return {
            kind.value: float(sum(piece.surfaces.area_m2[kind] for piece in self.pieces))
            for kind in SurfaceClass
        }

    @property
    def layer_volume_m3(self) -> dict[str, float]:
        """Volume of each layer over all pieces, in [m³]."""
        return {
            layer.value: float(sum(piece.layers.volume_m3(layer) for piece in self.pieces))
            for layer in Layer
        }

    def to_dict(self, *, errors: Sequence[ErrorRow] = ()) -> MeasureDocument:
        """Give the measurement as its JSON document.

        Parameters
        ----------
        errors : sequence of ErrorRow, optional
            Why other drawings could not be measured.

        Returns
        -------
        MeasureDocument
            The document.
        """
        head = head_of("takeoff.measure/1", settings=self.settings, notes=self.notes, errors=errors)
        return MeasureDocument(
            **head,
            pieces=[piece.row() for piece in self.pieces],
            skipped=skipped_rows(self.skipped),
        )

    def rows(self) -> list[dict[str, str | float | None]]:
        """Give one flat row per surface, ready for a data frame.

        Returns
        -------
        list of dict
            Piece, surface, class, area, depth, draft and opening.
        """
        from takeoff.report.surface_rows import surface_table

        return surface_table(self.to_dict()["pieces"])

    def _repr_html_(self) -> str:
        """Give a small table for notebooks."""
        from takeoff.report.html_table import html_table

        return html_table(self.rows())

    def write(self, folder: str | Path) -> tuple[Path, ...]:
        """Write ``measure.json`` and ``surfaces.csv``.

        Parameters
        ----------
        folder : str or Path
            Where to; made if it is not there.

        Returns
        -------
        tuple of Path
            The files.

        Raises
        ------
        OutputError
            If the folder cannot be written to.
        """
        from takeoff.files.writing import write_files

        return write_files(folder, self.contents(self.to_dict()))

    def contents(self, document: MeasureDocument) -> dict[str, bytes]:
        """Give the bytes of the files that `write` writes.

        Parameters
        ----------
        document : MeasureDocument
            The document to write.

        Returns
        -------
        dict of str to bytes
            Bytes of each file by its name.
        """
        from takeoff.report.csv_text import csv_bytes
        from takeoff.report.json_text import json_bytes
        from takeoff.report.surface_rows import SURFACE_COLUMNS

        return {
            "measure.json": json_bytes(document),
            "surfaces.csv": csv_bytes(self.rows(), columns=SURFACE_COLUMNS),
        }


def _surface_row(surface: Surface) -> SurfaceRow:
    return surface_row(
        surface.id,
        surface.surface_class.value,
        area_m2=surface.area_m2,
        depth_m=surface.depth_m,
        draft_deg=surface.draft_deg,
        opening=surface.opening,
        why=surface.why,
    )


def _layer_row(row: LayerVolume) -> LayerRow:
    return layer_row(
        row.layer.value,
        row.surface_class.value,
        thickness_m=row.thickness_m,
        area_m2=row.area_m2,
        volume_m3=row.volume_m3,
    )
