"""The bid: pieces, lots, materials and lines, and the documents and files made of them."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal
from pathlib import Path
from typing import TYPE_CHECKING

from takeoff.documents import BidDocument, SettingValue
from takeoff.errors import TakeoffError
from takeoff.files.drawing import Tally
from takeoff.files.order import Order
from takeoff.files.order_parts import Portion
from takeoff.job.cast_pieces import CastPiece
from takeoff.job.day_plan import DayPlan
from takeoff.job.lot_making import LayerLot
from takeoff.job.quantities import FormWork
from takeoff.job.weighed_pieces import WeighedPiece
from takeoff.measuring.rows import error_rows, head_of
from takeoff.mix.mixes import Mix
from takeoff.notes import Note
from takeoff.pricing.bill import Bill
from takeoff.pricing.materials import Material
from takeoff.pricing.stakes import Stake
from takeoff.report.blank_bid import blank_bid

if TYPE_CHECKING:
    from takeoff.report.notebook_frame import PageView


@dataclass(frozen=True, slots=True, eq=False)
class BidPiece:
    """A piece of a bid.

    Parameters
    ----------
    cast : CastPiece
        What of it is cast, how often.
    weighed : WeighedPiece
        What it weighs.
    """

    cast: CastPiece
    weighed: WeighedPiece


@dataclass(frozen=True, slots=True, eq=False)
class Bid:
    """A whole job, priced.

    Parameters
    ----------
    order : Order
        The job as written.
    mixes : mapping of Portion to Mix
        Its mixes.
    pieces : tuple of BidPiece
        What is cast after its drawings.
    besides : tuple of CastPiece
        Samples and test boards.
    lots : tuple of LayerLot
        What is mixed, where no clock says it batch by batch.
    pour : DayPlan or None
        The pour day; None where the job does not tell pot lives and rates.
    materials : tuple of Material
        What is needed of every ingredient, and how it is had.
    work : FormWork
        What the forms take.
    bill : Bill
        Every line, and the total.
    total_range : tuple of Decimal or None
        The total at the least and the most thickness; None where there is no total.
    stakes : tuple of Stake
        What is taken for granted, most money first.
    skipped : tuple of Tally
        What of the drawings was left out.
    notes : tuple of Note
        Doubts about the job as a whole; each piece has its own besides.
    cautions : tuple of str
        What to mind, each with its source.
    mix_cautions : mapping of str to tuple of str
        What of it concerns who mixes and places each mix, by name.
    settings : mapping of str
        Every value in force.
    """

    order: Order
    mixes: Mapping[Portion, Mix]
    pieces: tuple[BidPiece, ...]
    besides: tuple[CastPiece, ...]
    lots: tuple[LayerLot, ...]
    pour: DayPlan | None
    materials: tuple[Material, ...]
    work: FormWork
    bill: Bill
    total_range: tuple[Decimal, Decimal] | None
    stakes: tuple[Stake, ...]
    skipped: tuple[Tally, ...]
    notes: tuple[Note, ...]
    cautions: tuple[str, ...]
    mix_cautions: Mapping[str, tuple[str, ...]]
    settings: Mapping[str, SettingValue]

    @property
    def total(self) -> Decimal | None:
        """Sum of all lines; None while no labour is priced."""
        return self.bill.total

    @property
    def material_total(self) -> Decimal:
        """Price of all packs and items: to the cent the sum of their printed lines."""
        return self.bill.material_total

    def to_dict(self) -> BidDocument:
        """Give the bid as its JSON document.

        Returns
        -------
        BidDocument
            The document.
        """
        from takeoff.job.bid_rows import bid_document

        return bid_document(self)

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

    def view(self) -> PageView:
        """Give the page of the bid for a notebook: 3-D view, tables, pour day.

        Returns
        -------
        PageView
            What a notebook shows as a frame.

        Raises
        ------
        MissingExtraError
            If the extra ``[report]`` is not installed.
        """
        from takeoff.job.bid_files import page_of
        from takeoff.report.notebook_frame import PageView

        return PageView(page_of(self))

    def write(self, folder: str | Path) -> tuple[Path, ...]:
        """Write page, workbook, batch sheets, flat pattern, pictures and tables.

        Parameters
        ----------
        folder : str or Path
            Where to; made if it is not there.

        Returns
        -------
        tuple of Path
            The files; those that need the extra ``[report]`` only where it is installed.

        Raises
        ------
        OutputError
            If the folder cannot be written to.
        """
        from takeoff.files.writing import write_files
        from takeoff.job.bid_files import bid_files

        return write_files(folder, bid_files(self))


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
    return blank_bid(head, job=str(path))
