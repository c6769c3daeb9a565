"""The result of measuring a drawing: its pieces, their surfaces and layers."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, cast

from takeoff.documents import ErrorRow, MeasureDocument, MeasuredPieceRow, SettingValue
from takeoff.files.drawing import DrawingUnit, Tally
from takeoff.measure_documents import (
    AreaRow,
    ExactRow,
    LayerRow,
    LayerVolumeRow,
    NeighbourRow,
    OpeningRow,
    SurfaceRow,
    WallRow,
    layer_row,
    surface_row,
)
from takeoff.measuring.rows import head_of, note_row, skipped_rows
from takeoff.notes import Note
from takeoff.piece.exact_layers import ExactVolume
from takeoff.piece.finding import Source
from takeoff.piece.layers import LaidLayers, Layer, LayerVolume, WallLayer
from takeoff.piece.surfaces import Opening, Surface, SurfaceClass, Surfaces

if TYPE_CHECKING:
    from takeoff.report.notebook_frame import PageView


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
        ``"piece"``, ``"form"``, ``"open"`` or ``"outline"``.
    surfaces : Surfaces
        Its surfaces by class.
    layers : LaidLayers
        The layers laid on them.
    solid_m3 : float or None
        Volume of a closed piece as modelled. [m³]
    notes : tuple of Note
        Doubts a person must see.
    direction_source : Source
        Whether the show direction was told or found.
    exact : ExactVolume or None
        Volume of both layers by another method, where that was asked for.
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
    direction_source: Source = Source.TOLD
    exact: ExactVolume | None = None

    @property
    def form_area_m2(self) -> float:
        """Area cast against the form: show face, returns and uprights, bare walls left out."""
        return self.surfaces.form_area_m2

    def row(self, *, also: Sequence[Note] = ()) -> MeasuredPieceRow:
        """Give the piece as a row of the documents.

        Parameters
        ----------
        also : sequence of Note, default ()
            What is to be said of it besides.

        Returns
        -------
        MeasuredPieceRow
            The row.
        """
        surfaces, layers, written = self.surfaces, self.layers, _length_writer(self.unit)
        lengths = surfaces.edge_lengths
        return MeasuredPieceRow(
            name=self.name,
            file=self.file,
            sha256=self.sha256,
            unit=self.unit.name,
            kind=self.kind,
            show_direction=[float(part) for part in surfaces.show_direction],
            direction_source="found" if self.direction_source is Source.FOUND else "told",
            surfaces=[_surface_row(surface, written) for surface in surfaces.surfaces],
            openings=[_opening_row(opening) for opening in surfaces.openings],
            area_m2=cast("AreaRow", {kind.value: surfaces.area_m2[kind] for kind in SurfaceClass}),
            opening_wall_m2=surfaces.opening_wall_m2,
            bare_wall_m2=surfaces.bare_wall_m2,
            undercut_m2=surfaces.undercut_m2,
            arris_m=surfaces.arris_m,
            sharp_arris_m=lengths.sharp_arris_m,
            rounded_arris_m=lengths.rounded_arris_m,
            inside_corner_m=surfaces.inside_corner_m,
            sharp_inside_corner_m=lengths.sharp_inside_corner_m,
            rounded_inside_corner_m=lengths.rounded_inside_corner_m,
            min_radius_m=surfaces.min_radius_m,
            form_area_m2=self.form_area_m2,
            layers=[_layer_row(row) for row in layers.rows],
            layer_volume_m3=_volumes({layer: layers.volume_m3(layer) for layer in Layer}),
            flat_volume_m3=_volumes(layers.flat_m3),
            volume_uncertainty_share=layers.uncertainty_share,
            exact=_exact_row(self.exact),
            solid_volume_m3=self.solid_m3,
            inner_form_m2=layers.inner_form_m2,
            filled_m3=layers.filled_m3,
            walls=[_wall_row(wall) for wall in layers.walls],
            notes=[note_row(note) for note in (*self.notes, *also)],
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
            Piece, surface, class, area, depths, draft, undercut, opening, neighbours and reason.
        """
        from takeoff.report.surface_rows import surface_table

        return surface_table(self.to_dict()["pieces"])

    def _repr_html_(self) -> str:
        """Give a small table for notebooks."""
        from takeoff.report.html_table import html_table

        return html_table(self.rows())

    def view(self) -> PageView:
        """Give the measurement as a page for a notebook: pieces in 3-D, surfaces, layers, notes.

        Returns
        -------
        PageView
            What a notebook shows as a frame.

        Raises
        ------
        MissingExtraError
            If the extra ``[report]`` is not installed.
        """
        from takeoff.report.measure_page import measure_html
        from takeoff.report.notebook_frame import PageView
        from takeoff.report.page_frame import PieceShape
        from takeoff.report.system_choice import system_of_unit

        shapes = [PieceShape(piece.surfaces) for piece in self.pieces]
        unit = self.pieces[0].unit.name if self.pieces else None
        page = measure_html(self.to_dict(), shapes=shapes, system=system_of_unit(unit))
        return PageView(page, title="measurement")

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


def _length_writer(unit: DrawingUnit) -> Callable[[float], str]:
    """Write lengths as the people who made the drawing do."""
    from takeoff.report.figures import written_length
    from takeoff.report.system_choice import system_of_unit

    system = system_of_unit(unit.name)
    return lambda length_m: written_length(length_m, system)


def _surface_row(surface: Surface, written: Callable[[float], str]) -> SurfaceRow:
    return surface_row(
        surface.id,
        surface.surface_class.value,
        found_class=surface.found_class.value,
        area_m2=surface.area_m2,
        depth_m=surface.depth_m,
        mean_depth_m=surface.mean_depth_m,
        draft_deg=surface.draft_deg,
        undercut_m2=surface.undercut_area_m2,
        opening=surface.opening,
        neighbours=[
            NeighbourRow(id=name, length_m=shared_m)
            for name, shared_m in surface.neighbours_m.items()
        ],
        why=surface.explanation.text(written),
    )


def _opening_row(opening: Opening) -> OpeningRow:
    return OpeningRow(
        id=opening.id,
        wall_area_m2=opening.wall_area_m2,
        width_m=opening.width_m,
        depth_m=opening.depth_m,
        bare=opening.bare,
    )


def _layer_row(row: LayerVolume) -> LayerRow:
    return layer_row(
        row.layer.value,
        row.surface_class.value,
        thickness_m=row.thickness_m,
        area_m2=row.area_m2,
        volume_m3=row.volume_m3,
        centroid_m=row.centroid_m,
        thickness_range_m=row.thickness_range_m,
        volume_range_m3=row.volume_range_m3,
    )


def _volumes(by_layer_m3: Mapping[Layer, float]) -> LayerVolumeRow:
    return LayerVolumeRow(
        face_coat=by_layer_m3.get(Layer.FACE_COAT, 0.0), backer=by_layer_m3.get(Layer.BACKER, 0.0)
    )


def _wall_row(wall: WallLayer) -> WallRow:
    return WallRow(
        id=wall.surface,
        layer_m3=wall.layer_m3,
        inner_form_m2=wall.inner_form_m2,
        filled_m3=wall.filled_m3,
    )


def _exact_row(exact: ExactVolume | None) -> ExactRow | None:
    return None if exact is None else ExactRow(method=exact.method, volume_m3=exact.volume_m3)
