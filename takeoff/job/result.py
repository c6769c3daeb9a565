"""The bid: pieces, lots and materials, and the documents and files made of them."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal
from pathlib import Path

from takeoff.documents import (
    BatchIngredientRow,
    BatchPart,
    BidDocument,
    BidPieceRow,
    FormWorkRow,
    LineRow,
    LotRow,
    MaterialRow,
    MixerRow,
    SettingValue,
)
from takeoff.errors import TakeoffError
from takeoff.files.drawing import Tally
from takeoff.files.order import Order
from takeoff.job.day_plan import DayPlan
from takeoff.job.lot_making import LayerLot
from takeoff.job.poured_lots import poured_lot_rows
from takeoff.measuring.measurement import MeasuredPiece
from takeoff.measuring.rows import error_rows, head_of, skipped_rows
from takeoff.notes import Note
from takeoff.pricing.materials import Material, material_total
from takeoff.pricing.packs import Pack


@dataclass(frozen=True, slots=True, eq=False)
class BidPiece:
    """A measured piece with its count and weight.

    Parameters
    ----------
    measured : MeasuredPiece
        Surfaces and layers.
    count : int
        How many are cast.
    wet_kg : float
        Mass of fresh mix in one of them. [kg]
    """

    measured: MeasuredPiece
    count: int
    wet_kg: float


@dataclass(frozen=True, slots=True, eq=False)
class Bid:
    """A whole job, materials priced.

    Parameters
    ----------
    order : Order
        The job as written.
    pieces : tuple of BidPiece
        What is cast.
    lots : tuple of LayerLot
        What is mixed, where no clock says it batch by batch.
    pour : DayPlan or None
        The pour day; None where the job does not tell pot lives and rates.
    materials : tuple of Material
        What is bought.
    skipped : tuple of Tally
        What of the drawings was left out.
    notes : tuple of Note
        Doubts about the job as a whole; each piece has its own besides.
    cautions : tuple of str
        What to mind, each with its source.
    settings : mapping of str
        Every value in force.
    """

    order: Order
    pieces: tuple[BidPiece, ...]
    lots: tuple[LayerLot, ...]
    pour: DayPlan | None
    materials: tuple[Material, ...]
    skipped: tuple[Tally, ...]
    notes: tuple[Note, ...]
    cautions: tuple[str, ...]
    settings: Mapping[str, SettingValue]

    @property
    def material_total(self) -> Decimal:
        """Price of all packs: to the cent the sum of the printed lines."""
        return material_total(self.materials)

    def to_dict(self) -> BidDocument:
        """Give the bid as its JSON document.

        Returns
        -------
        BidDocument
            The document.
        """
        head = head_of("takeoff.bid/1", settings=self.settings, notes=self.notes)
        return BidDocument(
            **head,
            job=self.order.name,
            date=self.order.date,
            currency=self.order.currency,
            pieces=[_piece_row(piece) for piece in self.pieces],
            skipped=skipped_rows(self.skipped),
            materials=[_material_row(material) for material in self.materials],
            form_work=self._form_work(),
            batch=self._batch(),
            pour_day=None if self.pour is None else self.pour.to_dict(),
            lines=[_line_row(row, row.pack) for row in self.materials if row.pack is not None],
            material_total=f"{self.material_total:.2f}",
            total=None,
            cautions=list(self.cautions),
        )

    def rows(self) -> list[dict[str, str | float | None]]:
        """Give one flat row per ingredient.

        Returns
        -------
        list of dict
            Net, loss, order, packs and cost of each.
        """
        from takeoff.report.material_rows import material_table

        return material_table(self.to_dict()["materials"])

    def _repr_html_(self) -> str:
        """Give a small table for notebooks."""
        from takeoff.report.html_table import html_table

        return html_table(self.rows())

    def write(self, folder: str | Path) -> tuple[Path, ...]:
        """Write ``bid.json``, ``materials.csv`` and ``surfaces.csv``.

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
        from takeoff.report.csv_text import csv_bytes
        from takeoff.report.json_text import json_bytes
        from takeoff.report.material_rows import MATERIAL_COLUMNS
        from takeoff.report.surface_rows import SURFACE_COLUMNS, surface_table

        document = self.to_dict()
        return write_files(
            folder,
            {
                "bid.json": json_bytes(document),
                "materials.csv": csv_bytes(self.rows(), columns=MATERIAL_COLUMNS),
                "surfaces.csv": csv_bytes(
                    surface_table(document["pieces"]), columns=SURFACE_COLUMNS
                ),
            },
        )

    def _form_work(self) -> FormWorkRow:
        """Add up form area and bead over all castings."""
        return FormWorkRow(
            form_m2=sum(piece.measured.form_area_m2 * piece.count for piece in self.pieces),
            bead_m=sum(piece.measured.surfaces.arris_m * piece.count for piece in self.pieces),
        )

    def _batch(self) -> BatchPart:
        lots = [_lot_row(one) for one in self.lots]
        if self.pour is not None:
            lots += poured_lot_rows(self.pour)
        return BatchPart(
            batch_count=sum(row["batch_count"] for row in lots),
            mixers=[
                MixerRow(
                    name=mixer.name, capacity_m3=mixer.capacity_m3, residue_kg=mixer.residue_kg
                )
                for mixer in self.order.shop.mixers
            ],
            lots=lots,
        )


def refused_bid(path: str | Path, error: TakeoffError) -> BidDocument:
    """Give the document of a bid that was refused: complete, and empty.

    Parameters
    ----------
    path : str or Path
        The job file.
    error : TakeoffError
        Why.

    Returns
    -------
    BidDocument
        The document.

    Examples
    --------
    >>> from takeoff.errors import PriceError
    >>> refused_bid("job.toml", PriceError("no price for sand"))["material_total"] is None
    True
    """
    head = head_of("takeoff.bid/1", settings={}, errors=error_rows(error, file=str(path)))
    return BidDocument(
        **head,
        job=str(path),
        date=None,
        currency="",
        pieces=[],
        skipped=[],
        materials=[],
        form_work=None,
        batch=None,
        pour_day=None,
        lines=[],
        material_total=None,
        total=None,
        cautions=[],
    )


def _piece_row(piece: BidPiece) -> BidPieceRow:
    return BidPieceRow(**piece.measured.row(), count=piece.count, wet_kg=piece.wet_kg)


def _material_row(material: Material) -> MaterialRow:
    return MaterialRow(
        ingredient=material.ingredient,
        net_kg=material.net_kg,
        loss_kg=material.loss_kg,
        order_kg=material.order_kg,
        pack=None if material.pack is None else material.pack.pack,
        packs=material.packs,
        cost=None if material.cost is None else f"{material.cost:.2f}",
    )


def _line_row(material: Material, pack: Pack) -> LineRow:
    return LineRow(
        what=material.ingredient,
        quantity=str(material.packs),
        unit=f"pack of {pack.pack}",
        price=f"{pack.price:.2f}",
        amount=f"{material.cost:.2f}",
    )


def _lot_row(one: LayerLot) -> LotRow:
    return LotRow(
        mix=one.mix.name,
        layer=one.layer.value,
        mixer=one.lot.mixer.name,
        bound=one.lot.bound.value,
        batch_count=one.lot.batch_count,
        mass_kg=one.weighed.mass_kg,
        volume_m3=one.weighed.volume_m3,
        placed_kg=one.placed_kg,
        loss_kg=one.overspray_kg,
        residue_kg=one.residue_kg,
        leftover_kg=one.leftover_kg,
        pot_life_s=one.pot_life_s,
        ingredients=[
            BatchIngredientRow(name=line.name, mass_kg=line.mass_kg, when=line.when)
            for line in one.weighed.lines
        ],
    )
